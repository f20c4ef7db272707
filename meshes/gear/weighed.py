"""A thing put on the scales: its mass is known, its material says how much water it displaces."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from meshes.mesh import Mesh
from meshes.solid import MIRROR, Solid, volume_integrals


def weighed(mesh: Mesh, mass: float, density: float, held_gas: float = 0.0) -> Solid:
    """Solid of stated ``mass`` [kg] whose material has ``density`` [kg/m^3], spread evenly over a drawn shape.

    The water displaced is mass/density + held_gas [m^3], not what the drawn outside encloses: bores, foot pockets
    and folds flood. CM, CB and inertia are those of the shape filled evenly. Shells of the mesh that overlap
    count twice where they do, which shifts the centre by a share of the overlap only.
    """
    if not (mass > 0.0 and density > 0.0 and held_gas >= 0.0):
        raise ValueError(f"needs mass > 0, density > 0 and held gas >= 0, got {mass}, {density}, {held_gas}")
    shape = volume_integrals(mesh)
    if not shape.volume > 0.0:
        raise ValueError(f"the mesh is inside out (volume {shape.volume} m^3)")
    return Solid(
        mass=mass,
        cm=shape.centroid,
        inertia=np.asarray(shape.second * (mass / shape.volume)),
        volume=mass / density + held_gas,
        cb=shape.centroid,
        mesh=mesh,
    )


def evened(solid: Solid) -> Solid:
    """A thing that is its own mirror image, left to right, with what its triangles' diagonals leave of skew removed.

    CM and CB are put on y = 0 and the products of inertia with y to 0; a mesh alone gets there to a micrometre only.
    """
    half = 0.5 * (np.eye(3) + MIRROR)
    return replace(
        solid,
        cm=half @ solid.cm,
        cb=half @ solid.cb,
        inertia=np.asarray(0.5 * (solid.inertia + MIRROR @ solid.inertia @ MIRROR)),
    )
