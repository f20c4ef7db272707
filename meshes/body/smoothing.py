"""Smooths the skin where limbs and neck grow out of the trunk."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Final

import numpy as np

from meshes.body.curves import smooth_step
from meshes.body.topology import SkinTopology, skin_topology
from meshes.mesh import Floats, Ints

if TYPE_CHECKING:
    from scipy.sparse import csr_array

REACH: Final = 3.0  # how far from the seam it smooths, in intervals per fineness
NECK_REACH: Final = 4.0  # likewise from the base of the neck
SPARED: Final = 2.0  # how far from the crotch it does not, likewise
STEPS: Final = 4  # pairs of steps per fineness squared, so that the smoothed width does not hang on the fineness
# Taubin 1995 (SIGGRAPH): a step in and a slightly longer step out smooth without shrinking
SHRINK: Final = 0.50
SWELL: Final = -0.52


@dataclass(frozen=True, eq=False)
class Seams:
    """The points near the seams and round them, and the steps on their coordinates, all x before all y before all z.

    points : (n,), of which all read and some move;  shrink, swell : sparse (3 n, 3 n), what a step adds
    """

    points: Ints
    shrink: csr_array
    swell: csr_array


def smoothed(points: Floats, q: int, *, half: bool = False) -> Floats:
    """Skin points (n, 3) with the seams of arms, legs and neck smoothed; the rest is untouched.

    ``half``: the points are those of the left half (``Halves.source``) of a skin whose sides are alike.
    """
    seams = _seams(q, half)
    near = points[seams.points].T.ravel()
    for _ in range(STEPS * q * q):
        near += seams.shrink @ near
        near += seams.swell @ near
    out = points.copy()
    out[seams.points] = near.reshape(3, -1).T
    return out


@lru_cache(maxsize=4)
def _seams(q: int, half: bool) -> Seams:
    from scipy.sparse import csr_array

    topology = skin_topology(q)
    a, b, c = topology.faces.T
    edges = np.stack([np.concatenate([a, b, c]), np.concatenate([b, c, a])], axis=1)  # each way from one face
    weight = _weights(topology, q, edges)
    edges = edges[weight[edges[:, 0]] > 0.0]
    # To the mean of as many as the busiest point has neighbours, itself in place of those that it lacks
    pull = weight[edges[:, 0]] / np.bincount(edges[:, 0]).max()
    sign = np.ones(len(edges))
    if half:
        kept = topology.halves.side[edges[:, 0]] >= 0.0
        edges, pull = edges[kept], pull[kept]
        sign = np.where(topology.halves.side[edges[:, 1]] < 0.0, -1.0, 1.0)  # of y of a mirrored neighbour
        edges = topology.halves.source[edges]
    points, number = np.unique(edges, return_inverse=True)
    n = len(points)
    here, there = number.reshape(edges.shape).T
    axis = n * np.repeat(np.arange(3), len(edges))
    row, column = axis + np.tile(here, 3), axis + np.tile(there, 3)
    onto = np.concatenate([pull, sign * pull, pull])
    value, at = np.concatenate([onto, -np.tile(pull, 3)]), (np.tile(row, 2), np.concatenate([column, row]))
    step = csr_array((value, at), shape=(3 * n, 3 * n))
    return Seams(points, SHRINK * step, SWELL * step)


def _weights(topology: SkinTopology, q: int, edges: Ints) -> Floats:
    """How much each point moves: 1 at the seams, 0 away from them."""
    loops = [topology.caps[f"{side} {limb}"][0] for side in ("left", "right") for limb in ("upper arm", "thigh")]
    limbs = _steps_from(np.concatenate(loops), edges, REACH * q) / (REACH * q)
    neck = _steps_from(topology.caps["head"][0], edges, NECK_REACH * q) / (NECK_REACH * q)
    crotch = _steps_from(loops[1][12 * q + 1 :], edges, SPARED * q)  # the fold between the legs is to stay
    return np.asarray(smooth_step(1.0 - np.minimum(limbs, neck)) * smooth_step(crotch / (SPARED * q)))


def _steps_from(points: Ints, edges: Ints, most: float) -> Floats:
    """Least number of edges from some points to every point, infinite beyond ``most``."""
    distance = np.full(int(edges.max()) + 1, np.inf)
    distance[points] = 0.0
    here, there = edges.T
    for step in range(1, int(most) + 1):
        near = here[np.isfinite(distance)[there]]
        distance[near] = np.minimum(distance[near], step)
    return distance
