"""What a designer's file holds, read within bounds: outlines from DXF and SVG, solids from mesh files.

Depends on the shapes of ``meshes`` and on the libraries that read these formats; knows no plate. Everything is
counted before it is built (``*_census``, ``outline_crossings``), since a file of a few bytes can ask for
gigabytes; what cannot be used is refused by the one error of ``shape_file``. ``outline_import`` and
``solid_import`` are the two ways in.
"""
