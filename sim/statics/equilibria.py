r"""Every attitude in which a free rig can rest.

The tangent part of d(u) is a field on the sphere of directions, and the attitudes sought are its zeros. They are
found by bracketing (a zero of the field interpolated over each triangle of an even grid) and polished by Newton
with the exact Jacobian. The search checks itself: for any such field the indices of its zeros, the signs of the
Jacobian's determinant, add up to 2 (Poincare-Hopf theorem), so a sum that is not 2 says that some are missing.
They are looked for close by those found, then with a finer grid.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal, Protocol

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Ints
from sim.statics.energy import energy
from sim.statics.field import Field, Pressures, SoftRig, field, foreseen, stiffness, tangent_basis
from sim.statics.gas import bending_angle
from sim.statics.sphere import edge_middles, icosphere, in_four

Stability = Literal["stable", "saddle", "unstable"]

INDIFFERENT: Final = 1e-3  # N m: a moment smaller than this in every attitude turns nobody (0.1 g at 1 m)
SAME: Final = 1e-5  # rad: closer than this, two zeros are one; Newton leaves less than 1e-9
MARGIN: Final = 0.35  # how far outside its triangle a linearised zero may lie and still be tried
COARSE: Final = 2  # subdivisions of the icosahedron: 162 directions ...
SHARP: Final = (0.03, 0.015)  # rad: one more, or two, where a cell fills within less of a turn than this
RINGS: Final = (0.003, 0.12)  # rad: a pair is missed where it lies closer than the grid, most often beside a third
FINE: Final = 5  # and 10,242
SPLITS: Final = 9  # halvings of a triangle: down to 1e-3 rad
LOOSE: Final = 1e-5  # of a pocket's capacity: gas solved thus far, the rest to first order, is off by its square
STEPS: Final = 40  # of Newton's
ARRIVED: Final = 1e-6  # rad: a step of Newton's after which the next would be nothing (its square)
FLAT_STIFFNESS: Final = 1e-7  # of the largest stiffness: below, a direction counts as free (a ring of rests)


@dataclass(frozen=True, eq=False)
class Equilibrium:
    """One attitude of rest of a free rig.

    up : (3,) world's up in body axes;  kind : minimum, saddle or maximum of the energy, wing volume frozen here
    energy : [J] above the lowest equilibrium;  stiffness : (2,) principal [N m/rad], smallest first
    soft_axis : (3,) the direction in which ``up`` moves along the smallest stiffness
    wing_gas : [m^3];  net_buoyancy : [kg], plus floats;  degenerate : one of a continuous ring of rests
    """

    up: Floats
    kind: Stability
    energy: float
    stiffness: Floats
    soft_axis: Floats
    wing_gas: float
    net_buoyancy: float
    degenerate: bool


@dataclass(frozen=True, eq=False)
class Equilibria:
    """All attitudes of rest, lowest energy first.

    indifferent : the moment is nil in every attitude, so that each is a rest and none is listed
    complete : the indices of those found add up to 2, as they must
    """

    found: tuple[Equilibrium, ...]
    indifferent: bool
    complete: bool


class Solver(Protocol):
    """How the field is worked out for the search; what is found is the same to 1e-9 rad whichever does it."""

    def moments(self, soft: SoftRig, up: Floats) -> Floats:
        """d (k, 3) [N m] at ``up`` (k, 3), near enough to bracket its zeros."""

    def polished(self, soft: SoftRig, starts: Floats, size: Floats) -> tuple[Floats, NDArray[np.bool_]]:
        """Newton from ``starts`` (m, 3), and whether each arrived without straying over two ``size`` (m,) [rad]."""

    def settled(self, soft: SoftRig, up: Floats) -> Field:
        """The field at ``up`` (k, 3), gas wholly at rest."""


class ByArrays:
    """By numpy: what every single rig's published numbers come from."""

    def moments(self, soft: SoftRig, up: Floats) -> Floats:
        """All directions at once."""
        return field(soft, up, close=LOOSE).d

    def polished(self, soft: SoftRig, starts: Floats, size: Floats) -> tuple[Floats, NDArray[np.bool_]]:
        """All starts at once.

        One whose moment is not half of what it was two steps before goes round in circles and is given up.
        """
        up = starts.copy()
        arrived = np.zeros(len(up), dtype=bool)
        going = np.arange(len(up))
        before, last = np.full((2, len(up)), np.inf)
        gas: Pressures | None = None
        for _ in range(STEPS):
            if not len(going):
                break
            values = field(soft, up[going], near=gas, close=LOOSE)
            here, length, moment = _stepped(values)
            up[going] = here
            near = np.linalg.norm(here - starts[going], axis=1) < 2.0 * size[going]
            arrived[going] = near & (length < ARRIVED)
            on = near & ~arrived[going] & (moment < 0.5 * before)
            gas = Pressures(*(None if p is None else p[on] for p in foreseen(values, here)))
            before, last, going = last[on], moment[on], going[on]
        return up, arrived

    def settled(self, soft: SoftRig, up: Floats) -> Field:
        """From no pressure known."""
        return field(soft, up)


def equilibria(soft: SoftRig, solver: Solver | None = None) -> Equilibria:
    """Every free equilibrium of a rig, the wing neutral in each if that is the rig's rule; by arrays if not told."""
    by = solver or ByArrays()
    for subdivisions in range(_first_grid(soft), FINE + 1):
        grid, triangles = icosphere(subdivisions)
        d = by.moments(soft, grid)
        across = _tangent(grid, d)
        if not np.abs(across).max() > INDIFFERENT:
            return Equilibria((), indifferent=True, complete=True)
        corners, basis = _faces(subdivisions)
        first = _starts(corners, across[triangles], basis)
        zeros = _distinct(_zeros(by, soft, corners, d[triangles], first))
        found, index = _classified(by, soft, zeros)
        if index != 2 and len(zeros) and not any(e.degenerate for e in found):
            found, index = _classified(by, soft, _distinct(_beside(by, soft, zeros, subdivisions - 1)))
        degenerate = any(e.degenerate for e in found)
        if index == 2 or degenerate:
            break
    return Equilibria(found, indifferent=False, complete=index == 2 or degenerate)


def _first_grid(soft: SoftRig) -> int:
    """A pair of rests closer than the grid leaves the count right, so that only a finer grid finds it."""
    angle = min((bending_angle(b) for b in (soft.suit, soft.wing) if b is not None), default=np.inf)
    return COARSE + sum(angle < sharp for sharp in SHARP)


@lru_cache(maxsize=6)
def _faces(subdivisions: int) -> tuple[Floats, Floats]:
    """Corners (t, 3, 3) of the grid's triangles and tangent axes (t, 2, 3) at their middles, for any rig."""
    grid, triangles = icosphere(subdivisions)
    corners = grid[triangles]
    basis = _middle_basis(corners)
    corners.setflags(write=False)
    basis.setflags(write=False)
    return corners, basis


def _middle_basis(corners: Floats) -> Floats:
    middle = corners.mean(axis=1)
    return tangent_basis(middle / np.linalg.norm(middle, axis=1)[:, None])


def _tangent(up: Floats, d: Floats) -> Floats:
    """The part of ``d`` (..., 3) across ``up`` (..., 3)."""
    return np.asarray(d - (d * up).sum(axis=-1, keepdims=True) * up)


def _zeros(by: Solver, soft: SoftRig, corners: Floats, d: Floats, first: tuple[Floats, Ints]) -> Floats:
    """Zeros (m, 3) of the field over triangles with ``corners`` (t, 3, 3) where it is ``d`` (t, 3, 3).

    first : where to start in these, as ``_starts`` says
    A triangle whose interpolated zero Newton cannot confirm nearby is split in four and tried again: where nearly
    free gas changes ends the field has ridges far sharper than the grid.
    """
    zeros: list[Floats] = []
    starts, chosen = first
    for _ in range(SPLITS):
        corners = corners[chosen]
        if not len(corners):
            break
        size = np.linalg.norm(corners[:, 0] - corners[:, 1], axis=1)
        up, arrived = by.polished(soft, starts, size)
        zeros.append(up[arrived])
        if arrived.all():
            break
        corners, known = corners[~arrived], d[chosen][~arrived]
        middles = edge_middles(corners)
        new = by.moments(soft, middles.reshape(-1, 3)).reshape(middles.shape)
        corners, d = in_four(corners, middles), in_four(known, new)
        starts, chosen = _starts(corners, _tangent(corners, d), _middle_basis(corners))
    return np.concatenate(zeros) if zeros else np.zeros((0, 3))


def _beside(by: Solver, soft: SoftRig, zeros: Floats, fineness: int) -> Floats:
    """Zeros (m, 3) found from rings of directions round each of ``zeros`` (k, 3), themselves among them."""
    angle = 2.0 * np.pi * np.arange(12 * fineness) / (12 * fineness)
    radius = np.geomspace(*RINGS, 5 * fineness)[:, None]
    circle = np.stack([np.cos(angle), np.sin(angle)], axis=1) @ tangent_basis(zeros)
    starts = zeros[:, None, None, :] + radius[:, :, None] * circle[:, None]
    size = np.broadcast_to(2.0 * radius, starts.shape[:3]).ravel()
    starts = starts.reshape(-1, 3)
    up, arrived = by.polished(soft, starts / np.linalg.norm(starts, axis=1)[:, None], size)
    return np.concatenate([zeros, up[arrived]])


def _starts(corners: Floats, tangent: Floats, basis: Floats) -> tuple[Floats, Ints]:
    """Points (m, 3) where the field, linear over a triangle, is zero in or just beside it, and which triangles."""
    flat = np.einsum("tai,tci->tac", basis, tangent)
    edges = flat[:, :, 1:] - flat[:, :, :1]
    det = edges[:, 0, 0] * edges[:, 1, 1] - edges[:, 0, 1] * edges[:, 1, 0]
    safe = np.where(det == 0.0, 1.0, det)
    x, y = -flat[:, 0, 0], -flat[:, 1, 0]
    second = (x * edges[:, 1, 1] - y * edges[:, 0, 1]) / safe
    third = (y * edges[:, 0, 0] - x * edges[:, 1, 0]) / safe
    shares = np.stack([1.0 - second - third, second, third], axis=1)
    chosen = np.flatnonzero((shares > -MARGIN).all(axis=1) & (det != 0.0))
    points = np.einsum("tc,tci->ti", shares[chosen], corners[chosen])
    return points / np.linalg.norm(points, axis=1)[:, None], chosen


def _stepped(values: Field) -> tuple[Floats, Floats, Floats]:
    """One step of Newton's: where it leads (k, 3), its full length (k,) [rad], the moment before it (k,) [N m]."""
    basis = tangent_basis(values.up)
    moment = np.einsum("kai,ki->ka", basis, values.d)
    step = _solved(stiffness(values, basis, refilled=True), -moment)
    length = np.linalg.norm(step, axis=1)
    step *= np.minimum(1.0, 0.2 / np.maximum(length, 1e-300))[:, None]
    here = values.up + np.einsum("ka,kai->ki", step, basis)
    return here / np.linalg.norm(here, axis=1)[:, None], length, np.linalg.norm(moment, axis=1)


def _solved(matrix: Floats, right: Floats) -> Floats:
    """Least-squares solutions (k, 2) of 2 x 2 systems; along a ring of rests the free direction gets no step."""
    (a, b), (c, d) = matrix.transpose(1, 2, 0)
    x, y = right.T
    det = a * d - b * c
    poor = np.abs(det) <= FLAT_STIFFNESS * (a * a + b * b + c * c + d * d)
    safe = np.where(poor, 1.0, det)
    step = np.stack([(d * x - b * y) / safe, (a * y - c * x) / safe], axis=1)
    if poor.any():
        inverse = np.linalg.pinv(matrix[poor], rcond=FLAT_STIFFNESS)
        step[poor] = np.einsum("kij,kj->ki", inverse, right[poor])
    return np.asarray(step)


def _distinct(up: Floats) -> Floats:
    """Each direction once, in an order that does not depend on the search."""
    kept: list[Floats] = []
    for one in up:
        if all(np.linalg.norm(one - other) > SAME for other in kept):
            kept.append(one)
    return np.array(sorted(kept, key=lambda v: [round(float(x), 6) for x in v])).reshape(-1, 3)


def _classified(by: Solver, soft: SoftRig, up: Floats) -> tuple[tuple[Equilibrium, ...], int]:
    """Equilibria at ``up`` (k, 3), lowest energy first, and the sum of their indices."""
    if not len(up):
        return (), 0
    values = by.settled(soft, up)
    basis = tangent_basis(up)
    index = int(np.sign(np.linalg.det(stiffness(values, basis, refilled=True))).sum())
    level = energy(soft, values)
    principal, axes = np.linalg.eigh(stiffness(values, basis))
    soft_axis = np.einsum("ka,kai->ki", axes[:, :, 0], basis)
    largest = np.abs(principal).max()
    found = []
    for i in np.argsort(level, kind="stable"):
        low, high = principal[i]
        found.append(
            Equilibrium(
                up=up[i],
                kind="stable" if low > 0.0 else "unstable" if high < 0.0 else "saddle",
                energy=float(level[i] - level.min()),
                stiffness=principal[i],
                soft_axis=soft_axis[i],
                wing_gas=float(values.wing_gas[i]),
                net_buoyancy=float(values.net_buoyancy[i]),
                degenerate=bool(np.abs(principal[i]).min() < FLAT_STIFFNESS * largest),
            )
        )
    return tuple(_one_of_each_ring(found)), index


def _one_of_each_ring(found: list[Equilibrium]) -> list[Equilibrium]:
    """Of a ring of equal rests only the one nearest to flat is kept; the others differ from it in nothing."""
    kept: list[Equilibrium] = [e for e in found if not e.degenerate]
    rings: dict[tuple[int, int], Equilibrium] = {}
    for e in found:
        if e.degenerate:
            level = (round(e.energy * 1e6), round(float(e.stiffness[np.abs(e.stiffness).argmax()]) * 1e4))
            if level not in rings or e.up[2] > rings[level].up[2]:
                rings[level] = e
    return sorted(kept + list(rings.values()), key=lambda e: e.energy)
