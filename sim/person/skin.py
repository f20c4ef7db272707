"""The skin in patches, for suits that cover it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.body_topology import SEGMENTS, SkinTopology
from meshes.mesh import Floats, Ints
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


def skin_patches(posed: Floats, standing: Floats, topology: SkinTopology) -> SkinPatches:
    """Patches from posed and standing points (n, 3) of one skin, segment by segment, footward to headward."""
    area_vector = _area_vectors(posed, topology)
    area = np.linalg.norm(area_vector, axis=1)
    rest_area = np.linalg.norm(_area_vectors(standing, topology), axis=1)
    label = _labels(topology)
    count = int(label.max()) + 1
    sums = np.bincount(label, area, count)
    middle = posed[topology.faces].mean(axis=1)
    centre = np.stack([np.bincount(label, area * middle[:, i], count) for i in range(3)], axis=1) / sums[:, None]
    normal = np.stack([np.bincount(label, area_vector[:, i], count) for i in range(3)], axis=1)
    owner = np.zeros(count, dtype=int)
    owner[label] = topology.segment
    rest_total = np.bincount(topology.segment, rest_area, len(SEGMENTS))
    posed_total = np.bincount(topology.segment, area, len(SEGMENTS))
    return SkinPatches(
        centre=centre,
        normal=normal / np.linalg.norm(normal, axis=1)[:, None],
        area=sums * (rest_total / posed_total)[owner],
        segment=tuple(SEGMENTS[i] for i in owner),
        along=np.bincount(label, rest_area * topology.along, count) / np.bincount(label, rest_area, count),
    )


def _area_vectors(points: Floats, topology: SkinTopology) -> Floats:
    a, b, c = (points[topology.faces[:, i]] for i in range(3))
    return np.asarray(0.5 * np.cross(b - a, c - a))


def _labels(topology: SkinTopology) -> Ints:
    """Number of the patch of each face."""
    bins = np.array([BINS[kind_of(name)] for name in SEGMENTS])[topology.segment]
    step = np.minimum((topology.along * bins).astype(int), bins - 1)
    key = (topology.segment * 100 + step) * 100 + topology.sector
    return np.asarray(np.unique(key, return_inverse=True)[1])
