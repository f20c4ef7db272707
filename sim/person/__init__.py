"""The diver's body: measures, density, lungs and sixteen segments in a pose. Depends on ``meshes`` only."""
