"""Whether a plate holds the cylinders ashore: stress and deflection of the bent sheet, beside the catalogue's.

Depends on ``plate`` and ``sim.shells``; on scikit-fem, an extra, where a mesh is solved.
"""
