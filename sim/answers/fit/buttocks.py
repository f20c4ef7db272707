"""Cylinders and boots against the clothed buttocks."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from meshes.mesh import Floats, Mesh
from sim.assembly.back_cylinders import BackCylinders
from sim.person.posed_body import PosedBody

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
    """The back from crotch to hip bones kept at a grid (n, m) of heights and places beside the midline: z [m]."""

    body: PosedBody
    lowest: float
    z: Floats

    def off(self, points: Floats, clothing: float) -> float:
        """Least distance [m] of points (n, 3) from the buttocks under ``clothing`` [m], below 0 where they press in.

        inf where all lie above the hip bones or below the crotch. Within half a millimetre: the grid is one of 1 cm.
        """
        from scipy.ndimage import map_coordinates

        low = _beside_buttocks(points, self.body)
        at = np.stack([low[:, 0] - self.lowest, np.abs(low[:, 1])]) / GRID
        back = map_coordinates(self.z, at, order=1, mode="nearest")
        return float((low[:, 2] - back).min(initial=np.inf)) - clothing


@lru_cache(maxsize=4)
def buttocks(body: PosedBody) -> Buttocks:
    """The buttocks of a body, kept for the next rigs on it."""
    h = body.person.skeleton.heights
    x = np.arange(h["crotch"], h["iliac crest"] + GRID, GRID)
    y = np.arange(0.0, body.person.measures["hipbreadth"], GRID)
    return Buttocks(body, h["crotch"], body.back_surface(x[:, None], y[None]))


def _beside_buttocks(points: Floats, body: PosedBody) -> Floats:
    h = body.person.skeleton.heights
    return np.asarray(points[(points[:, 0] < h["iliac crest"]) & (points[:, 0] > h["crotch"])])


def _along_edges(mesh: Mesh) -> Floats:
    """Points (n, 3) on the edges of a mesh, long ones too: a cylinder has corners at its ends only."""
    edges = np.sort(np.concatenate([mesh.faces[:, [0, 1]], mesh.faces[:, [1, 2]]]), axis=1)
    length = np.linalg.norm(mesh.vertices[edges[:, 1]] - mesh.vertices[edges[:, 0]], axis=1)
    a, b = mesh.vertices[np.unique(edges[length > APART], axis=0).T]
    share = np.linspace(0.0, 1.0, ON_EDGE)[1:-1, None, None]
    return np.concatenate([mesh.vertices, (a + share * (b - a)).reshape(-1, 3)])
