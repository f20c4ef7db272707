"""What to change in the drawing of a plate: by how much each dimension moves each answer.

Depends on ``plate`` and on ``divers``, whose answers it takes the differences of.
"""
