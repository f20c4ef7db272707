"""Cylinders and boots against the clothed buttocks."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from meshes.mesh import Floats, Mesh
from sim.answers.fit.cloud import SLACKS
from sim.answers.fit.most_around import most_around
from sim.assembly.back_cylinders import BackCylinders
from sim.person.person import Person
from sim.person.posed_body import back_of_trunk

ON_EDGE: Final = 33  # points on an edge: under 2 cm apart on the longest cylinder
APART: Final = 0.02  # m, edges longer than this get points between their ends
PRESSING: Final = ("cylinder", "other")  # kinds of part that may press on them: cylinders and boots
GRID: Final = 0.01  # m between the heights and places beside the midline at which a back is kept


def edge_points(cylinders: BackCylinders) -> Floats:
    """Points (n, 3) [m, body axes] on the edges of cylinders and boots."""
    meshes = [p.solid.mesh for p in cylinders.parts if p.kind in PRESSING and p.solid.mesh is not None]
    return np.concatenate([_along_edges(m) for m in meshes])


@dataclass(frozen=True, eq=False)
class Buttocks:
    """The back from crotch to hip bones kept at a grid (n, m) of heights and places beside the midline: z [m].

    heights : of crotch and hip bones [m], between which points count
    farthest : for each size of a cloud's boxes (n, m), greatest z within half a box's diagonal of each place
    A cloud's measure is how far its points are off the bare buttocks, below 0 where they press in.
    """

    heights: tuple[float, float]
    z: Floats
    farthest: tuple[Floats, ...]

    def off(self, points: Floats, clothing: float) -> float:
        """Least distance [m] of points (n, 3) from the buttocks under ``clothing`` [m], below 0 where they press in.

        inf where all lie above the hip bones or below the crotch. Within half a millimetre: the grid is one of 1 cm.
        """
        return float(self.value(points).min(initial=np.inf)) - clothing

    def value(self, points: Floats) -> Floats:
        """Distance (m,) [m] of points (m, 3) from the bare back; inf above the hip bones and below the crotch."""
        low, high = self.heights
        x, y, z = points.T
        off = np.full(len(points), np.inf)
        beside = np.flatnonzero((x < high) & (x > low))
        off[beside] = z[beside] - self._back(x[beside], np.abs(y[beside]))
        return off

    def bound(self, level: int, middles: Floats) -> Floats:
        """Least distance (m,) that a point of each box could have."""
        slack, (low, high) = SLACKS[level], self.heights
        x, y, z = middles.T
        ends = np.array(self.z.shape)[:, None] - 1
        i, j = np.clip(np.rint(np.stack([x - low, np.abs(y)]) / GRID).astype(int), 0, ends)
        return np.where((x < high + slack) & (x > low - slack), z - slack - self.farthest[level][i, j], np.inf)

    def _back(self, x: Floats, y: Floats) -> Floats:
        """z (m,) at places, straight between those of the grid and the same beyond it."""
        at = np.clip(np.stack([x - self.heights[0], y]) / GRID, 0.0, np.array(self.z.shape)[:, None] - 1.0)
        i, j = np.minimum(at.astype(int), np.array(self.z.shape)[:, None] - 2)
        u, v = at - [i, j]
        here = (1.0 - v) * self.z[i, j] + v * self.z[i, j + 1]
        above = (1.0 - v) * self.z[i + 1, j] + v * self.z[i + 1, j + 1]
        return np.asarray((1.0 - u) * here + u * above)


@lru_cache(maxsize=4)
def buttocks(person: Person) -> Buttocks:
    """The buttocks of a person, kept for the next rigs on them."""
    h = person.skeleton.heights
    x = np.arange(h["crotch"], h["iliac crest"] + GRID, GRID)
    y = np.arange(0.0, person.measures["hipbreadth"], GRID)
    z = back_of_trunk(person, x[:, None], y[None])
    reach = [int(np.ceil(slack / GRID)) + 1 for slack in SLACKS]
    farthest = tuple(most_around(z, places, places) for places in reach)
    return Buttocks((h["crotch"], h["iliac crest"]), z, farthest)


def _along_edges(mesh: Mesh) -> Floats:
    """Points (n, 3) on the edges of a mesh, long ones too: a cylinder has corners at its ends only."""
    edges = np.sort(np.concatenate([mesh.faces[:, [0, 1]], mesh.faces[:, [1, 2]]]), axis=1)
    length = np.linalg.norm(mesh.vertices[edges[:, 1]] - mesh.vertices[edges[:, 0]], axis=1)
    a, b = mesh.vertices[np.unique(edges[length > APART], axis=0).T]
    share = np.linspace(0.0, 1.0, ON_EDGE)[1:-1, None, None]
    return np.concatenate([mesh.vertices, (a + share * (b - a)).reshape(-1, 3)])
