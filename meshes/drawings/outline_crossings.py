"""How often lines cross one another, counted before anyone takes them apart where they do."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

import numpy as np

from meshes.drawings.shape_file import ShapeFileError
from meshes.mesh import Floats

MOST_CROSSINGS: Final = 20_000
MOST_NEAR: Final = 5_000_000  # pairs of pieces whose boxes overlap: what it takes to look
AT_ONCE: Final = 4_000_000  # pairs, so that memory stays small whatever is drawn


def check_crossings(chains: Sequence[Floats], file: str) -> None:
    """Raise ShapeFileError when the pieces of chains (n, 2) cross or lie along one another too often."""
    import shapely

    a, b = np.concatenate([c[:-1] for c in chains]), np.concatenate([c[1:] for c in chains])
    boxes = shapely.box(*np.minimum(a, b).T, *np.maximum(a, b).T)
    tree = shapely.STRtree(boxes)
    step = max(1, AT_ONCE // len(a))
    near = crossings = 0
    for start in range(0, len(a), step):
        one, other = tree.query(boxes[start : start + step])
        one = one + start
        once = one < other
        one, other = one[once], other[once]
        near += len(one)
        crossings += int(_crossing(a[one], b[one], a[other], b[other]).sum())
        if near > MOST_NEAR or crossings > MOST_CROSSINGS:
            raise ShapeFileError(
                f"{file}: its lines cross or lie over one another more than {MOST_CROSSINGS} times; delete hatching, "
                "grids and doubled lines, and keep the plate's outline and holes"
            )


def _crossing(a: Floats, b: Floats, c: Floats, d: Floats) -> Any:
    """Whether each piece from a to b crosses that from c to d inside both."""

    def side(p: Floats, q: Floats, r: Floats) -> Floats:
        (ux, uy), (vx, vy) = (q - p).T, (r - p).T
        return np.asarray(np.sign(ux * vy - uy * vx))

    return (side(a, b, c) * side(a, b, d) < 0.0) & (side(c, d, a) * side(c, d, b) < 0.0)
