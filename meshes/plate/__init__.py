"""The plate that carries the cylinders: by its dimensions, from a drawing, or as a finished solid.

Depends on ``meshes.drawings``. ``back_plate`` is what all ways lead to; ``shape`` and ``catalogue`` describe one
by numbers, ``from_drawing`` reads one, ``solid`` takes one as it is. ``sheet`` bends a flat sheet; ``holes``,
``slots`` and ``openings`` say which hole is what; ``edges`` and ``reading`` say where things are, as people
measure: from the top edge and the middle line.
"""
