"""The skin in patches, for suits that cover it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from meshes.body.topology import SEGMENTS, SkinTopology
from meshes.mesh import Floats, Ints, corners_of
from sim.person.tissue import kind_of

# Patches along each kind of segment; times the sectors round it (trunk 6, head 4, limbs 4)
BINS: Final[Mapping[str, int]] = {
    "lower trunk": 2, "middle trunk": 2, "upper trunk": 2, "head": 2,
    "upper arm": 2, "forearm": 2, "hand": 1, "thigh": 2, "shank": 2, "foot": 1,
}  # fmt: skip


@dataclass(frozen=True, eq=False)
class SkinPatches:
    """Pieces of skin: centre (n, 3) [m], outward unit normal (n, 3), area (n,) [m^2], segment (n,) of names, and
    along (n,), where on its segment a patch's middle is: 0 at the lower end of a trunk's, the upper end of a limb's.

    Positions and normals are those of the pose; areas are the standing body's (a suit neither grows nor shrinks
    when a knee bends), shared out within each segment as the posed skin is.
    """

    centre: Floats
    normal: Floats
    area: Floats
    segment: tuple[str, ...]
    along: Floats


def skin_patches(posed: Floats, standing_area: Floats, topology: SkinTopology) -> SkinPatches:
    """Patches from posed points (n, 3) of a skin and its standing faces' areas (m,) [m^2].

    Segment by segment, footward to headward.
    """
    label, owner = _labels(topology)
    count = len(owner)

    def sums(of_faces: Floats) -> Floats:
        return np.asarray(np.bincount(label, of_faces, count), dtype=float)

    vector, total = _faces(posed, topology)
    area = np.sqrt((vector * vector).sum(axis=0))
    share, rest_share = sums(area), sums(standing_area)
    normal = np.stack([sums(v) for v in vector], axis=1)
    rest_total = np.bincount(owner, rest_share, len(SEGMENTS))
    posed_total = np.bincount(owner, share, len(SEGMENTS))
    return SkinPatches(
        centre=np.stack([sums(area * t) for t in total], axis=1) / (3.0 * share)[:, None],
        normal=normal / np.linalg.norm(normal, axis=1)[:, None],
        area=share * (rest_total / posed_total)[owner],
        segment=tuple(SEGMENTS[i] for i in owner),
        along=sums(standing_area * topology.along) / rest_share,
    )


def face_areas(points: Floats, topology: SkinTopology) -> Floats:
    """Area (m,) [m^2] of each face of a skin with points (n, 3)."""
    vector, _ = _faces(points, topology)
    return np.asarray(np.sqrt((vector * vector).sum(axis=0)))


def _faces(points: Floats, topology: SkinTopology) -> tuple[Floats, Floats]:
    """Area vectors (3, m) of the faces and the sums (3, m) of their corners."""
    a, b, c = corners_of(points, topology.faces)
    (ux, uy, uz), (vx, vy, vz) = b - a, c - a
    return 0.5 * np.stack([uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx]), a + b + c


@lru_cache(maxsize=2)
def _labels(topology: SkinTopology) -> tuple[Ints, Ints]:
    """Number of the patch of each face, and of the segment that each patch belongs to."""
    bins = np.array([BINS[kind_of(name)] for name in SEGMENTS])[topology.segment]
    step = np.minimum((topology.along * bins).astype(int), bins - 1)
    key = (topology.segment * 100 + step) * 100 + topology.sector
    kinds, label = np.unique(key, return_inverse=True)
    return label, kinds // 10_000
