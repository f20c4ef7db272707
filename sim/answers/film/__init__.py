"""The diver on film: let go from flat, as the cylinders empty, along one choice, or before and after a correction.

``footage`` says what is filmed, picture by picture; ``let_go``, ``along`` and ``correction`` make it.
``filmed_diver`` has the shapes move, ``shots`` has them rendered, ``painter`` puts diver, marks and graphs together,
``written`` makes files of it. Depends on ``sim.drawing``, on the rooms ``settle`` and ``model``, and on ``later`` and
``change`` for two of its films.
"""
