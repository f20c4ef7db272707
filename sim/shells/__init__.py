"""Thin shells folded from a flat sheet: meshes, stiffness, loads and stresses, in SI floats and arrays."""
