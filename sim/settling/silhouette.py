"""The silhouette of a mesh, as it is seen from far off along one direction: what pushes water when it moves that way.

The silhouette is cut into chords by evenly spaced lines, and the stretches that the triangles cover on a line are
joined where they overlap. So every layer counts once, whatever lies behind it: shells one inside the other,
surfaces that cross, and meshes that are not closed are taken as they look.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats, Ints, Mesh

LINES: Final = 96  # a fin's area is then within 0.1 %, its second moments within 0.3 %


@dataclass(frozen=True, eq=False)
class Silhouette:
    """Area [m^2], centroid (2,) [m] and central second moments over the area (2, 2) [m^2], in the plane seen."""

    area: float
    centre: Floats
    spread: Floats


def silhouette(mesh: Mesh, plane: Floats, lines: int = LINES) -> Silhouette:
    """Silhouette of a mesh on the plane of two unit vectors ``plane`` (2, 3), at right angles, cut by ``lines``.

    Raises ValueError for a mesh that has no width along the first of them.
    """
    seen = mesh.vertices @ plane.T
    left, right = float(seen[:, 0].min()), float(seen[:, 0].max())
    if not right > left:
        raise ValueError("a mesh without width has no silhouette")
    step = (right - left) / lines
    line, low, high = _covered(seen[mesh.faces], left, step)
    at = left + (line + 0.5) * step
    # integrals along each chord of 1, y and y^2
    length, first, second = high - low, (high**2 - low**2) / 2.0, (high**3 - low**3) / 3.0
    area = step * float(length.sum())
    centre = step * np.array([at @ length, first.sum()]) / area
    xx, xy, yy = step * np.array([at**2 @ length, at @ first, second.sum()]) / area
    spread = np.array([[xx + step**2 / 12.0, xy], [xy, yy]]) - np.outer(centre, centre)
    return Silhouette(area, centre, spread)


def _covered(triangles: Floats, left: float, step: float) -> tuple[Ints, Floats, Floats]:
    """Chords (n,): number of the line each lies on, and where it begins and ends [m].

    triangles : (m, 3, 2) corners seen;  line k stands at ``left`` + (k + 1/2) ``step``
    """
    order = np.argsort(triangles[:, :, 0], axis=1)
    x, y = (np.take_along_axis(triangles[:, :, i], order, axis=1).T for i in (0, 1))
    first, last = (np.ceil((c - left) / step - 0.5).astype(int) for c in (x[0], x[2]))
    count = last - first
    which = np.repeat(np.arange(len(triangles)), count)
    line = first[which] + np.arange(len(which)) - np.repeat(np.cumsum(count) - count, count)
    at = left + (line + 0.5) * step
    (xa, xb, xc), (ya, yb, yc) = x[:, which], y[:, which]
    long_side = ya + (at - xa) / (xc - xa) * (yc - ya)
    before = at < xb
    # the side between the two corners on this side of the middle one, which is not upright there
    x0, x1, y0, y1 = (np.where(before, p, q) for p, q in ((xa, xb), (xb, xc), (ya, yb), (yb, yc)))
    short_side = y0 + (at - x0) / np.where(x1 > x0, x1 - x0, 1.0) * (y1 - y0)
    return _joined(line, np.minimum(long_side, short_side), np.maximum(long_side, short_side))


def _joined(line: Ints, low: Floats, high: Floats) -> tuple[Ints, Floats, Floats]:
    """Stretches that overlap on a line made one."""
    # each line's stretches moved clear of the line before, so that one order and one running maximum serve all
    clear = (float(high.max()) - float(low.min()) + 1.0) * line
    order = np.argsort(low + clear)
    line, low, high, clear = line[order], low[order], high[order], clear[order]
    reach = np.maximum.accumulate(high + clear)
    starts = np.flatnonzero(np.concatenate([[True], low[1:] + clear[1:] > reach[:-1]]))
    ends = np.concatenate([starts[1:], [len(line)]]) - 1
    return line[starts], low[starts], (reach - clear)[ends]
