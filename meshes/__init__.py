"""Shapes and their mass properties. Depends on numpy, scipy and (to read a file) trimesh; on nothing of ours."""
