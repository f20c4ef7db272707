"""Shapes and their mass properties. Depends on numpy, scipy and (where a file is read) trimesh; on nothing of ours."""
