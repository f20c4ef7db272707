"""Thin shells folded from a flat sheet: meshes, stiffness, loads and stresses, in SI floats and arrays.

``sheet_mesh`` makes triangles of a folded pattern, ``shell`` has their equations, ``solve`` their answer under
``loads``, ``stress`` what that does to the sheet. Depends on ``meshes`` and scipy.
"""
