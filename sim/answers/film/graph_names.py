"""Where names stand inside a graph: on no curve and on no other name; it grows where there is no such place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.drawing.free_space import Box
from sim.drawing.label_places import spaced
from sim.drawing.letters import set_width

CLEAR: Final = 12.0  # reference pixels from a name to a curve: the point on it is as large
TALL: Final = 1.25  # of a letter's size, how high a line of words is
OFF: Final = 3.0  # pixels from a name to the line that it names
EDGE: Final = 6.0  # pixels to the sides of the graph
COLUMNS: Final = 25  # places tried along the graph


@dataclass(frozen=True)
class Name:
    """Words wanted at a height of the graph: at its lower or upper end, or beside a line across it.

    side : +1 over the height, -1 under it;  at : None for the end of the graph on the other side of ``side``
    """

    words: str
    side: int
    at: float | None = None


@dataclass(frozen=True)
class Names:
    """Limits of the graph in its own unit, and each name's box [pixels from its lower left], None for no room."""

    limits: tuple[float, float]
    boxes: tuple[Box | None, ...]


def named(
    names: Sequence[Name], curves: Sequence[Floats], limits: tuple[float, float], size: tuple[float, float],
    letters: float,
) -> Names:  # fmt: skip
    """Places for names, the first ones first; where one finds none, the graph grows by its height.

    curves : each (n, 2), 0..1 across the graph and in its unit up;  size : of the graph [pixels];  letters : [pixels]
    """
    bottom, top = limits
    high = TALL * letters + OFF
    for _ in range(2 * len(names) + 1):
        boxes = _placed(names, curves, (bottom, top), size, letters)
        lacking = next((n for n, box in zip(names, boxes, strict=True) if box is None), None)
        more = (high + CLEAR) * (top - bottom) / max(size[1] - high - CLEAR, high)
        if lacking is None or (top - bottom) > 2.5 * (limits[1] - limits[0]):
            break
        down = lacking.side > 0 if lacking.at is None else lacking.at < 0.5 * (bottom + top)
        bottom, top = (bottom - more, top) if down else (bottom, top + more)
    return Names((bottom, top), tuple(boxes))


def _placed(
    names: Sequence[Name], curves: Sequence[Floats], limits: tuple[float, float], size: tuple[float, float],
    letters: float,
) -> list[Box | None]:  # fmt: skip
    bottom, top = limits
    scale = size[1] / (top - bottom)
    drawn = np.concatenate(
        [spaced(np.stack([c[:, 0] * size[0], (c[:, 1] - bottom) * scale], axis=1)) for c in curves]
    )
    taken = [n.at for n in names if n.at is not None]
    lines = [(v - bottom) * scale for v in (0.0, *taken) if bottom < v < top]
    found: list[Box | None] = []
    for name in names:
        wide, high = set_width(name.words, letters) * 1.05, TALL * letters
        sides = (name.side,) if name.at is None else (name.side, -name.side)
        best: tuple[float, Box] | None = None
        for side in sides:
            level = (0.0 if side > 0 else size[1]) if name.at is None else (name.at - bottom) * scale
            low = level + (OFF if side > 0 else -OFF - high)
            for left in np.linspace(EDGE, max(size[0] - wide - EDGE, EDGE), COLUMNS).tolist():
                box = Box(left, low, left + wide, low + high)
                inside = low >= 0.0 and box.top <= size[1]
                crossed = any(low < line < box.top for line in lines)
                if not inside or crossed or any(b is not None and box.overlaps(b) for b in found):
                    continue
                gap = _gap(drawn, box)
                if gap >= CLEAR and (best is None or gap > best[0] + 1.0):
                    best = gap, box
            if best is not None:
                break
        found.append(best[1] if best else None)
    return found


def _gap(points: Floats, box: Box) -> float:
    """Pixels from points (n, 2) to the nearest of a box; 0 inside."""
    off = np.maximum(np.maximum([box.left, box.bottom] - points, points - [box.right, box.top]), 0.0)
    return float(np.hypot(off[:, 0], off[:, 1]).min())
