"""Rectangular sheets in even triangles, for what has a closed form."""

import numpy as np

from sim.shells.planar_mesh import PlanarMesh
from sim.shells.shell import shell_of


def rectangle(long, wide, along, across, *, shaken=0.0):
    """The rectangle from (0, 0) in 2 x along x across triangles; ``shaken`` moves inner points by that share."""
    x, y = np.meshgrid(np.linspace(0.0, long, along + 1), np.linspace(0.0, wide, across + 1), indexing="ij")
    points = np.stack([x.ravel(), y.ravel()], axis=1)
    number = np.arange(len(points)).reshape(along + 1, across + 1)
    a, b, c, d = number[:-1, :-1], number[1:, :-1], number[1:, 1:], number[:-1, 1:]
    even = (np.add.outer(np.arange(along), np.arange(across)) % 2 == 0)[..., None]
    first = np.where(even, np.stack([a, b, c], -1), np.stack([a, b, d], -1))
    second = np.where(even, np.stack([a, c, d], -1), np.stack([b, c, d], -1))
    inner = (points > 1e-9).all(axis=1) & (points < np.array([long, wide]) - 1e-9).all(axis=1)
    off = np.random.default_rng(1).uniform(-shaken, shaken, points.shape) * [long / along, wide / across]
    return PlanarMesh(points + off * inner[:, None], np.concatenate([first, second]).reshape(-1, 3))


def plate(sheet, long, wide, along, across):
    return shell_of(rectangle(long, wide, along, across), sheet)


def on_edge(shell, axis, value):
    """Nodes (bool) of a flat shell with that coordinate."""
    return np.abs(shell.flat[:, axis] - value) < 1e-9


def nearest(shell, point):
    return int(np.argmin(np.linalg.norm(shell.flat - point, axis=1)))
