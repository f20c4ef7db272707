"""What a user writes: checked models with units, the catalogue of generic gear, the demo scenarios.

Depends on ``meshes``.
"""
