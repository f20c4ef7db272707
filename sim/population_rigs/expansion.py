"""Numbers of a body expanded in what makes it: a regression with its error on people it has not seen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats

RIDGES: Final = (1e-6, 1e-3, 1e-2, 0.1, 0.3, 1.0, 3.0, 10.0, 30.0)  # of features of unit variance; the best is taken


@dataclass(frozen=True, eq=False)
class Expansion:
    """y = middle + ((features - shift) / scale) @ slopes.

    shift, scale : (p,);  middle : (q,);  slopes : (p, q);  ridge : what the slopes were held back by
    """

    shift: Floats
    scale: Floats
    middle: Floats
    slopes: Floats
    ridge: float

    def __call__(self, features: Floats) -> Floats:
        """Numbers (B, q) at features (B, p)."""
        return np.asarray(((features - self.shift) / self.scale) @ self.slopes + self.middle)


def expanded(features: Floats, numbers: Floats) -> tuple[Expansion, Floats]:
    """Expansion of numbers (n, q) in features (n, p), and what it says (n, q) of each row when that row is left out.

    Ridge regression on standardised features; of RIDGES the one with the least error on rows left out is taken, each
    number counting by its own spread. Leaving out is exact by the hat matrix: no refitting (Allen 1974, PRESS).
    Raises ValueError for fewer than three rows.
    """
    if not len(features) > 2:
        raise ValueError(f"an expansion needs at least three people, got {len(features)}")
    shift, spread = features.mean(axis=0), features.std(axis=0)
    scale = np.where(spread > 1e-9 * (1.0 + np.abs(shift)), spread, np.inf)  # what never varies says nothing
    middle = numbers.mean(axis=0)
    u, s, vt = np.linalg.svd((features - shift) / scale, full_matrices=False)
    along = u.T @ (numbers - middle)
    own = numbers.std(axis=0)
    weight = np.divide(1.0, own, out=np.zeros_like(own), where=own > 1e-12)
    best: tuple[float, float, Floats] | None = None
    for ridge in RIDGES:
        kept = s**2 / (s**2 + ridge)
        hat = (u**2 * kept).sum(axis=1) + 1.0 / len(features)
        left_out = (numbers - middle - u @ (kept[:, None] * along)) / np.maximum(1.0 - hat, 1e-9)[:, None]
        error = float(np.square(left_out * weight).sum())
        if best is None or error < best[0]:
            best = error, ridge, left_out
    assert best is not None  # RIDGES is not empty
    _, ridge, left_out = best
    slopes = vt.T @ ((s / (s**2 + ridge))[:, None] * along)
    return Expansion(shift, scale, middle, slopes, ridge), numbers - left_out
