"""The diver as a model to turn: a GLB with named parts for slide programs, and a page that needs nothing but itself.

``motion`` follows the diver from flat, ``page`` puts diver and motion into one HTML file, ``glb`` writes the parts.
Depends on the room ``settle``; the viewer itself is in ``sim/drawing/web``.
"""
