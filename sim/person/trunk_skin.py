"""The skin of trunk, neck and shoulders, for what lies on it: where a plane cuts it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.body.topology import SEGMENTS, skin_topology
from meshes.mesh import Floats, Ints
from sim.person.person import FINENESS, Person

TRUNK: Final = ("lower trunk", "middle trunk", "upper trunk", "head")
ABOVE_ARMPIT: Final = 0.01  # m: of the arms only what lies so far above the armpit counts as shoulder


@dataclass(frozen=True, eq=False)
class TrunkSkin:
    """Skin of the trunk with the tops of the shoulders, without arms, legs and face.

    points, normals : (n, 3) [m, body axes], outward unit;  faces : (m, 3)
    """

    points: Floats
    normals: Floats
    faces: Ints

    def cut(self, through: ArrayLike, normal: ArrayLike) -> tuple[Floats, Floats]:
        """Points (k, 3) where a plane cuts the triangles' edges, and the outward unit normals (k, 3) there."""
        height = (self.points - np.asarray(through, dtype=float)) @ np.asarray(normal, dtype=float)
        edges = np.concatenate([self.faces[:, [0, 1]], self.faces[:, [1, 2]], self.faces[:, [2, 0]]])
        a, b = edges[(height[edges[:, 0]] < 0.0) & (height[edges[:, 1]] >= 0.0)].T
        share = (height[a] / (height[a] - height[b]))[:, None]
        points = self.points[a] + share * (self.points[b] - self.points[a])
        normals = self.normals[a] + share * (self.normals[b] - self.normals[a])
        return points, normals / np.linalg.norm(normals, axis=1, keepdims=True)


@lru_cache(maxsize=4)
def trunk_skin(person: Person) -> TrunkSkin:
    """Skin of a person's trunk, standing; kept for the next straps on it."""
    return posed_trunk_skin(person, person.standing)


def posed_trunk_skin(person: Person, skin: Floats) -> TrunkSkin:
    """Skin of a person's trunk posed so that the whole skin's points are ``skin`` (n, 3) (``PosedBody.drawing``)."""
    topology = skin_topology(FINENESS)
    heights = person.skeleton.heights
    segment = np.array(SEGMENTS)[topology.segment]
    standing = person.standing[topology.faces, 0]
    shoulder = np.char.find(segment, "upper arm") >= 0
    shoulder &= standing.min(axis=1) > heights["axilla"] + ABOVE_ARMPIT
    kept = (np.isin(segment, TRUNK) | shoulder) & (standing.max(axis=1) < heights["chin"])
    return TrunkSkin(skin, _normals(skin, topology.faces), topology.faces[kept])


def _normals(points: Floats, faces: Ints) -> Floats:
    """Unit normals (n, 3) of the points, by the area of the faces around them."""
    a, b, c = points[faces].transpose(1, 0, 2)
    area = np.cross(b - a, c - a)
    total = np.zeros_like(points)
    for corner in faces.T:
        np.add.at(total, corner, area)
    return np.asarray(total / np.linalg.norm(total, axis=1, keepdims=True))
