"""Smooths the skin where limbs and neck grow out of the trunk."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from meshes.body_curves import smooth_step
from meshes.body_topology import skin_topology
from meshes.mesh import Floats, Ints

REACH: Final = 3.0  # how far from the seam it smooths, in intervals per fineness
NECK_REACH: Final = 4.0  # likewise from the base of the neck
SPARED: Final = 2.0  # how far from the crotch it does not, likewise
STEPS: Final = 4  # pairs of steps per fineness squared, so that the smoothed width does not hang on the fineness
# Taubin 1995 (SIGGRAPH): a step in and a slightly longer step out smooth without shrinking
SHRINK: Final = 0.50
SWELL: Final = -0.52


@dataclass(frozen=True, eq=False)
class Seams:
    """The points near the seams, their neighbours (padded with themselves) and how much they move."""

    points: Ints
    neighbours: Ints
    weight: Floats


def smoothed(points: Floats, q: int) -> Floats:
    """Skin points (n, 3) with the seams of arms, legs and neck smoothed; the rest is untouched."""
    seams = _seams(q)
    out = points.copy()
    for _ in range(STEPS * q * q):
        for share in (SHRINK, SWELL):
            around = out[seams.neighbours].sum(axis=0) / len(seams.neighbours)
            out[seams.points] += share * seams.weight * (around - out[seams.points])
    return out


@lru_cache(maxsize=4)
def _seams(q: int) -> Seams:
    topology = skin_topology(q)
    f = topology.faces
    edges = np.unique(np.concatenate([f[:, [0, 1]], f[:, [1, 2]], f[:, [2, 0]]]), axis=0)
    loops = [topology.caps[f"{side} {limb}"][0] for side in ("left", "right") for limb in ("upper arm", "thigh")]
    limbs = _steps_from(np.concatenate(loops), edges, REACH * q) / (REACH * q)
    neck = _steps_from(topology.caps["head"][0], edges, NECK_REACH * q) / (NECK_REACH * q)
    crotch = _steps_from(loops[1][12 * q + 1 :], edges, SPARED * q)  # the fold between the legs is to stay
    weight = smooth_step(1.0 - np.minimum(limbs, neck)) * smooth_step(crotch / (SPARED * q))
    chosen = np.flatnonzero(weight > 0.0)
    return Seams(chosen, _neighbours(edges, chosen), weight[chosen, None])


def _steps_from(points: Ints, edges: Ints, most: float) -> Floats:
    """Least number of edges from some points to every point, infinite beyond ``most``."""
    distance = np.full(int(edges.max()) + 1, np.inf)
    distance[points] = 0.0
    for _ in range(int(most)):
        np.minimum.at(distance, edges[:, 0], distance[edges[:, 1]] + 1.0)
    return distance


def _neighbours(edges: Ints, points: Ints) -> Ints:
    """Points at the other end of each point's edges (most, n), padded with the point itself; edges are sorted."""
    first, last = np.searchsorted(edges[:, 0], points), np.searchsorted(edges[:, 0], points, side="right")
    step = np.arange(int((last - first).max()))
    inside = step < (last - first)[:, None]
    at = np.minimum(first[:, None] + step, len(edges) - 1)
    return np.ascontiguousarray(np.where(inside, edges[at, 1], points[:, None]).T)
