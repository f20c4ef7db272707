"""Which heights of the rig answer every demand: waist strap, look-ahead, reach.

A demand is told by its margin at a row of drops, 0 or more where it is met, in a unit of its own; between them it is
taken as straight.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats
from sim.telling.record import Told


@dataclass(frozen=True)
class DropBand:
    """Drops from least to greatest at which every demand is met."""

    least: Annotated[float, Told("every demand is met from here", "m")]
    greatest: Annotated[float, Told("to here", "m")]


def feasible_drops(
    drops: ArrayLike, margins: Mapping[str, ArrayLike], within: Sequence[DropBand] | None = None
) -> tuple[DropBand, ...]:
    """The bands of drop in which all margins are 0 or more, lowest drop first; none where some demand always fails.

    drops : (n,) rising [m];  margins : (n,) of each demand. A margin that is not a number is not met.
    within : bands outside which nothing counts, as of other demands
    Raises ValueError for drops that do not rise or margins of another length.
    """
    x = np.asarray(drops, dtype=float)
    if not (x.ndim == 1 and len(x) > 0 and (np.diff(x) > 0.0).all()):
        raise ValueError("drops must rise")
    bands = [DropBand(float(x[0]), float(x[-1]))] if within is None else list(within)
    for name, values in margins.items():
        margin = np.asarray(values, dtype=float)
        if margin.shape != x.shape:
            raise ValueError(f"'{name}' has {margin.size} margins for {len(x)} drops")
        bands = _both(bands, _met(x, margin))
    return tuple(bands)


def _met(x: Floats, margin: Floats) -> list[DropBand]:
    """Bands in which one margin, straight between its points, is 0 or more."""
    bands: list[DropBand] = []
    start: float | None = float(x[0]) if margin[0] >= 0.0 else None
    for i in range(len(x) - 1):
        a, b = float(margin[i]), float(margin[i + 1])
        if (a >= 0.0) == (b >= 0.0):
            continue
        # beside a margin that is not a number the band ends at the last one that is
        known = np.isfinite(a) and np.isfinite(b)
        share = a / (a - b) if known else (0.0 if a >= 0.0 else 1.0)
        crossing = float(x[i] + share * (x[i + 1] - x[i]))
        if start is None:
            start = crossing
        else:
            bands.append(DropBand(start, crossing))
            start = None
    if start is not None:
        bands.append(DropBand(start, float(x[-1])))
    return bands


def _both(first: list[DropBand], second: list[DropBand]) -> list[DropBand]:
    """Where bands of either list overlap."""
    pairs = ((max(a.least, b.least), min(a.greatest, b.greatest)) for a in first for b in second)
    return sorted((DropBand(low, high) for low, high in pairs if low <= high), key=lambda band: band.least)
