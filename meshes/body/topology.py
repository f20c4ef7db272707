"""Which points of a body's skin make which triangles and segments; it depends on the fineness alone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from meshes.body.grid import Grid
from meshes.mesh import Floats, Ints

ARM: Final = ("upper arm", "forearm", "hand")
LEG: Final = ("thigh", "shank", "foot")
TRUNK: Final = ("lower trunk", "middle trunk", "upper trunk", "head")
SEGMENTS: Final = (*TRUNK, *(f"{side} {limb}" for side in ("left", "right") for limb in (*ARM, *LEG)))
# What a segment is called without its side, and the left segment of which a right one is the mirror image
KIND_OF: Final[Mapping[str, str]] = {s: s for s in TRUNK} | {
    f"{side} {limb}": limb for side in ("left", "right") for limb in (*ARM, *LEG)
}
TWIN_OF: Final[Mapping[str, str]] = {f"right {limb}": f"left {limb}" for limb in (*ARM, *LEG)}
TRUNK_SECTORS: Final = 3  # of each half, front, side and back
LIMB_SECTORS: Final = 4


@dataclass(frozen=True, eq=False)
class Halves:
    """How a skin comes from the points of its left half: trunk, vertex, crotch, arm with its tip, leg with its toe.

    source : (n,) for each kept point, its number in the list of a half
    side : (n,) 1 on the left, -1 on the right, 0 on the midline
    faces : (3, m / 2) corners of the left half's triangles by numbers of that list
    """

    source: Ints
    side: Floats
    faces: Ints


@dataclass(frozen=True, eq=False)
class SkinTopology:
    """Triangles of the skin.

    kept : of the points of both sides in their packed order, those that are used
    faces : (m, 3) indices into the kept points, anticlockwise seen from outside
    segment : (m,) index into SEGMENTS;  along : (m,) 0 to 1 from one end of its segment to the other;  sector : (m,)
    twin : (n,) for each kept point, the one that is its mirror image;  halves : where each half's points go
    caps : by segment, the loops of points that close it, anticlockwise seen from outside the segment
    """

    kept: Ints
    faces: Ints
    segment: Ints
    along: Floats
    sector: Ints
    twin: Ints
    halves: Halves
    caps: Mapping[str, tuple[Ints, ...]]


@dataclass(frozen=True, eq=False)
class _Strip:
    """Some faces of one segment."""

    faces: Ints
    name: str
    along: Floats
    sector: Ints


@lru_cache(maxsize=4)
def skin_topology(q: int) -> SkinTopology:
    """Topology of the skin at fineness q >= 1."""
    grid = Grid(q)
    trunk = np.arange(grid.rows * 2 * grid.half).reshape(grid.rows, 2 * grid.half)
    top = trunk.size
    crotch = top + 1 + np.arange(grid.crotch)
    strips = _trunk_strips(grid, trunk, top)
    caps = _trunk_caps(grid, trunk, crotch)
    start = top + 1 + grid.crotch
    twin = np.arange(start)
    twin[trunk] = trunk[:, -np.arange(2 * grid.half) % (2 * grid.half)]
    for side in ("left", "right"):
        arm_loop, leg_loop = _loops(grid, trunk, crotch, side)
        for names, loop, counts in ((ARM, arm_loop, grid.arm_rows), (LEG, leg_loop, grid.leg_rows)):
            body = start + np.arange(sum(counts) * len(loop)).reshape(-1, len(loop))
            tip = start + body.size
            start = tip + 1
            rings = np.vstack([loop, body])
            strips += _limb_strips(rings, tip, names, side, counts)
            caps |= _limb_caps(rings, names, side, counts)
    limbs = (start - len(twin)) // 2
    ahead = np.arange(limbs) + len(twin)
    return _compacted(strips, caps, np.concatenate([twin, ahead + limbs, ahead]), _in_half(grid, limbs))


def _in_half(grid: Grid, limbs: int) -> Ints:
    """For each packed point, its number in the list of a half; ``limbs`` points are of a half's arm and leg."""
    width = grid.half + 1
    column = np.arange(2 * grid.half)
    trunk = np.arange(grid.rows)[:, None] * width + np.minimum(column, 2 * grid.half - column)
    middle = grid.rows * width + np.arange(1 + grid.crotch)
    limb = middle[-1] + 1 + np.arange(limbs)
    return np.concatenate([trunk.ravel(), middle, limb, limb])


def _halves(grid: Grid) -> tuple[Ints, Ints]:
    """Ring columns from the front midline round either side to the back midline."""
    left = np.arange(grid.half + 1)
    return left, (2 * grid.half - left) % (2 * grid.half)


def _loops(grid: Grid, trunk: Ints, crotch: Ints, side: str) -> tuple[Ints, Ints]:
    """Points of the armhole and of the groin of one side."""
    columns = _halves(grid)[0 if side == "left" else 1]
    half = trunk[:, columns]
    (i0, i1), (j0, j1) = grid.hole_rows, grid.hole_columns
    hole = np.concatenate([half[i0, j0:j1], half[i0:i1, j1], half[i1, j1:j0:-1], half[i1:i0:-1, j0]])
    return hole, np.concatenate([half[0], crotch])


def _trunk_strips(grid: Grid, trunk: Ints, top: int) -> list[_Strip]:
    bounds = np.concatenate([[0], np.cumsum(grid.trunk_rows)])
    ends = (bounds[0], bounds[1], bounds[2], bounds[5], bounds[8] - 1)  # groin, navel, xiphoid, neck base, last ring
    (i0, i1), (j0, j1) = grid.hole_rows, grid.hole_columns
    strips = []
    for number, columns in enumerate(_halves(grid)):
        turn = slice(None, None, -1 if number else 1)
        half = trunk[:, columns]
        for name, first, last in zip(TRUNK, ends[:-1], ends[1:], strict=True):
            k, j = (g.ravel() for g in np.meshgrid(np.arange(first, last), np.arange(grid.half), indexing="ij"))
            keep = ~((k >= i0) & (k < i1) & (j >= j0) & (j < j1))
            k, j = k[keep], j[keep]
            a, b, c, d = half[k, j], half[k, j + 1], half[k + 1, j + 1], half[k + 1, j]
            sectors = 2 if name == "head" else TRUNK_SECTORS
            along = (k + 0.5 - first) / (last - first)
            sector = j * sectors // grid.half + number * sectors
            strips += [
                _Strip(np.stack(corners, axis=1)[:, turn], name, along, sector) for corners in ((a, b, c), (a, c, d))
            ]
        j = np.arange(grid.half)
        fan = np.stack([half[-1, j], half[-1, j + 1], np.full(grid.half, top)], axis=1)[:, turn]
        strips.append(_Strip(fan, "head", np.ones(grid.half), j * 2 // grid.half + number * 2))
    return strips


def _trunk_caps(grid: Grid, trunk: Ints, crotch: Ints) -> dict[str, tuple[Ints, ...]]:
    bounds = np.cumsum(grid.trunk_rows)
    navel, xiphoid, neck = trunk[bounds[0]], trunk[bounds[1]], trunk[bounds[4]]
    (left_hole, left_groin), (right_hole, right_groin) = (
        _loops(grid, trunk, crotch, side) for side in ("left", "right")
    )
    return {
        "lower trunk": (navel, left_groin[::-1], right_groin),
        "middle trunk": (navel[::-1], xiphoid),
        "upper trunk": (xiphoid[::-1], neck, left_hole, right_hole[::-1]),
        "head": (neck[::-1],),
    }


def _limb_strips(rings: Ints, tip: int, names: tuple[str, ...], side: str, counts: tuple[int, ...]) -> list[_Strip]:
    """Faces of an arm or leg. A left arm's rings run clockwise about its direction, a left leg's the other way."""
    turn = slice(None, None, 1 if (names is ARM) == (side == "left") else -1)
    n = rings.shape[1]
    here, ahead = np.arange(n), np.roll(np.arange(n), -1)
    sector = here * LIMB_SECTORS // n
    strips, first = [], 0
    for name, count in zip(names, counts, strict=True):
        for k in range(first, first + count):
            a, b, c, d = rings[k, here], rings[k, ahead], rings[k + 1, ahead], rings[k + 1, here]
            along = np.full(n, (k + 0.5 - first) / count)
            strips += [
                _Strip(np.stack(corners, axis=1)[:, turn], f"{side} {name}", along, sector)
                for corners in ((a, b, c), (a, c, d))
            ]
        first += count
    fan = np.stack([rings[-1], rings[-1, ahead], np.full(n, tip)], axis=1)[:, turn]
    strips.append(_Strip(fan, f"{side} {names[-1]}", np.ones(n), sector))
    return strips


def _limb_caps(
    rings: Ints, names: tuple[str, ...], side: str, counts: tuple[int, ...]
) -> dict[str, tuple[Ints, ...]]:
    distal = 1 if (names is ARM) == (side == "left") else -1
    ends = np.concatenate([[0], np.cumsum(counts)])
    caps: dict[str, tuple[Ints, ...]] = {}
    for i, name in enumerate(names):
        loops = [rings[ends[i]][::-distal]]
        if i < len(names) - 1:
            loops.append(rings[ends[i + 1]][::distal])
        caps[f"{side} {name}"] = tuple(loops)
    return caps


def _compacted(strips: list[_Strip], caps: dict[str, tuple[Ints, ...]], twin: Ints, source: Ints) -> SkinTopology:
    """Drop the trunk points inside the armholes and number the rest anew."""
    faces = np.concatenate([s.faces for s in strips])
    kept = np.unique(faces)
    number = np.full(len(twin), -1)
    number[kept] = np.arange(len(kept))
    faces = number[faces]
    faces.setflags(write=False)
    names = [np.full(len(s.faces), SEGMENTS.index(s.name)) for s in strips]
    own = number[twin[kept]]
    side = np.sign(own - np.arange(len(kept))).astype(float)
    of_left = faces[(side[faces] > 0.0).any(axis=1)]
    return SkinTopology(
        kept=kept,
        faces=faces,
        segment=np.concatenate(names),
        along=np.concatenate([s.along for s in strips]),
        sector=np.concatenate([s.sector for s in strips]),
        twin=own,
        halves=Halves(source[kept], side, np.ascontiguousarray(source[kept][of_left].T)),
        caps={name: tuple(number[loop] for loop in loops) for name, loops in caps.items()},
    )
