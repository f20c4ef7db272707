"""The skin of trunk, neck and shoulders, for what lies on it: where a plane cuts it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from meshes.body.topology import SEGMENTS, skin_topology
from meshes.mesh import Floats, Ints, corners_of
from sim.person.person import FINENESS, Person

Flags = NDArray[np.bool_]
TRUNK: Final = ("lower trunk", "middle trunk", "upper trunk", "head")
ABOVE_ARMPIT: Final = 0.01  # m: of the arms only what lies so far above the armpit counts as shoulder


@dataclass(frozen=True, eq=False)
class TrunkSkin:
    """Skin of the trunk with the tops of the shoulders, without arms, legs and face.

    points, normals : (n, 3) [m, body axes], outward unit;  faces : (m, 3)
    edges : (3 m, 2) of the faces, first sides, then second, then third ones
    """

    points: Floats
    normals: Floats
    faces: Ints
    edges: Ints

    def cut(self, through: ArrayLike, normal: ArrayLike) -> tuple[Floats, Floats]:
        """Points (k, 3) where a plane cuts the triangles' edges, and the outward unit normals (k, 3) there."""
        height = (self.points - np.asarray(through, dtype=float)) @ np.asarray(normal, dtype=float)
        below = height < 0.0
        a, b = self.edges[below[self.edges[:, 0]] & ~below[self.edges[:, 1]]].T
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
    heights = person.skeleton.heights
    shoulder, trunk = _faces_by_segment()
    height = person.standing[:, 0][skin_topology(FINENESS).faces]
    lowest, highest = (pick(pick(height[:, 0], height[:, 1]), height[:, 2]) for pick in (np.minimum, np.maximum))
    kept = (trunk | (shoulder & (lowest > heights["axilla"] + ABOVE_ARMPIT))) & (highest < heights["chin"])
    faces = skin_topology(FINENESS).faces
    used = np.zeros(len(skin), dtype=bool)
    used[faces[kept]] = True
    beside = used[faces[:, 0]] | used[faces[:, 1]] | used[faces[:, 2]]
    own = (np.cumsum(used) - 1)[faces[kept]]
    edges = np.concatenate([own[:, [0, 1]], own[:, [1, 2]], own[:, [2, 0]]])
    return TrunkSkin(skin[used], point_normals(skin, faces[beside])[used], own, edges)


@lru_cache(maxsize=1)
def _faces_by_segment() -> tuple[Flags, Flags]:
    """Which faces (m,) are an upper arm's, and which are the trunk's or the head's."""
    names = np.array(SEGMENTS)
    segment = skin_topology(FINENESS).segment
    return (np.char.find(names, "upper arm") >= 0)[segment], np.isin(names, TRUNK)[segment]


def point_normals(points: Floats, faces: Ints) -> Floats:
    """Unit normals (n, 3) of the points, by the area of the faces around them; nil where there are none."""
    a, b, c = corners_of(points, faces)
    (ux, uy, uz), (vx, vy, vz) = b - a, c - a
    area = (uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx)
    corners = faces.T.ravel()
    total = np.stack([np.bincount(corners, np.tile(along, 3), len(points)) for along in area], axis=1)
    return np.asarray(total / np.maximum(np.linalg.norm(total, axis=1, keepdims=True), 1e-300))
