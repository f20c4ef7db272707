"""A plate on paper: the flat sheet with its measures at full size, and the bent plate as it looks.

Depends on ``plate``, ``meshes.plate`` and ``sim.drawing``.
"""
