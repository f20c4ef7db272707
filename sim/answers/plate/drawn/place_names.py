"""Words that name a plate's holes in its picture: in a column beside it, with lines that lead there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats
from meshes.plate.back_plate import Plate
from sim.drawing.free_space import Box, around
from sim.drawing.letters import set_width
from sim.telling.language import say

LETTERS: Final = 17.0  # pixels, as all lengths below
HIGH: Final = 1.3 * LETTERS  # of a line of words
ROW: Final = 1.5 * LETTERS  # from one name to the next
AWAY: Final = 40.0  # from the plate to the names
GAP: Final = 5.0  # between a name and the end of its line
LEFT, MIDDLE, RIGHT, BOTTOM, TOP = 40.0, 800.0, 1560.0, 90.0, 880.0  # of the page's two views


@dataclass(frozen=True, eq=False)
class Label:
    """A name in its box; ``leader`` (2, 2) from what it names to the box; ``mark`` of the place, as pyplot has it."""

    name: str
    mark: str
    box: Box
    leader: Floats


def named_places(plate: Plate) -> tuple[tuple[str, Floats, str], ...]:
    """Names, places (3,) [m] in the plate's axes, and their marks."""
    return (
        (say("upper bolt"), plate.upper_bolt, "o"),
        (say("lower bolt"), plate.lower_bolt, "o"),
        (say("shoulder strap"), plate.shoulder_slots[1], "o"),
        (say("waist strap"), plate.waist_slots[1], "o"),
        (say("crotch strap"), plate.crotch_slot, "o"),
        (say("CM"), plate.loaded.cm, "P"),
    )


def column_width(names: Sequence[str]) -> float:
    """Of the names with their distance from the plate."""
    return AWAY + max(set_width(name, LETTERS) for name in names)


def rooms_beside(column: float) -> tuple[Box, Box]:
    """Of the two views, the names between them."""
    half = (RIGHT - LEFT - column) / 2 - 10.0
    return Box(LEFT, BOTTOM, LEFT + half, TOP), Box(RIGHT - half, BOTTOM, RIGHT, TOP)


def beside(named: Sequence[tuple[str, str]], spots: Floats, right: float) -> list[Label]:
    """Names (with marks) of spots (n, 2) in one column, right of the plate's edge at x = ``right``.

    Each as high as what it names where there is room; no two overlap, and no two lines cross.
    """
    from scipy.optimize import isotonic_regression

    order = np.argsort(spots[:, 1], kind="stable")
    spread = ROW * np.arange(len(order))
    lowest = isotonic_regression(spots[order, 1] - spread).x
    heights = np.clip(lowest, BOTTOM + ROW / 2, TOP - ROW / 2 - spread[-1]) + spread
    ends = np.empty_like(spots)
    ends[:, 0], ends[order, 1] = right + AWAY - GAP, heights
    while (crossing := _crossing(spots, ends)) is not None:  # each exchange makes the lines shorter in all
        ends[list(crossing)] = ends[list(crossing)[::-1]]
    return [
        Label(
            name,
            mark,
            around((end[0] + GAP + set_width(name, LETTERS) / 2, end[1]), set_width(name, LETTERS), HIGH),
            np.array([spot, end]),
        )
        for (name, mark), spot, end in zip(named, spots, ends, strict=True)
    ]


def seen_pieces(leader: Floats, triangles: Floats) -> list[Floats]:
    """Pieces (k, 2) of a line (2, 2) that are drawn: none over holes but that in which it begins.

    triangles : (n, 3, 2) of all that is seen. What is covered by none of them, and lies between covered places, is a
    hole.
    """
    count = max(int(np.hypot(*(leader[1] - leader[0]))), 2)
    places = leader[0] + np.linspace(0.0, 1.0, count)[:, None] * (leader[1] - leader[0])
    low, high = places.min(axis=0), places.max(axis=0)
    near = triangles[(triangles.max(axis=1) >= low).all(axis=1) & (triangles.min(axis=1) <= high).all(axis=1)]
    covered = _inside(places, near)
    if not covered.any():
        return [leader]
    first, last = np.flatnonzero(covered)[[0, -1]]
    drawn = covered | (np.arange(count) < first) | (np.arange(count) > last)
    ends = np.flatnonzero(np.diff(np.concatenate([[False], drawn, [False]]).astype(int)))
    return [places[[a, b - 1]] for a, b in zip(ends[::2], ends[1::2], strict=True) if b - a > 2]


def _inside(places: Floats, triangles: Floats) -> NDArray[np.bool_]:
    """(n,) whether places (n, 2) lie in any of triangles (m, 3, 2), whichever way these run."""
    found = np.zeros(len(places), dtype=bool)
    for part in np.array_split(triangles, len(triangles) // 2000 + 1):
        edges = np.roll(part, -1, axis=1) - part
        off = places[:, None, None] - part[None]
        sides = edges[..., 0] * off[..., 1] - edges[..., 1] * off[..., 0]
        within: NDArray[np.bool_] = np.all(sides >= 0.0, axis=2) | np.all(sides <= 0.0, axis=2)
        found |= np.any(within, axis=1)
    return found


def _crossing(spots: Floats, ends: Floats) -> tuple[int, int] | None:
    """Two lines from spots to ends that cross, if there are any."""
    for i, j in combinations(range(len(spots)), 2):
        sides = [
            (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
            for a, b, p in (
                (spots[i], ends[i], spots[j]), (spots[i], ends[i], ends[j]),
                (spots[j], ends[j], spots[i]), (spots[j], ends[j], ends[i]),
            )
        ]  # fmt: skip
        if sides[0] * sides[1] < 0.0 and sides[2] * sides[3] < 0.0:
            return i, j
    return None
