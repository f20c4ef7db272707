"""How much of the spread of an answer comes from one unknown, and how much of it would go if that were known.

First-order share of the variance (Sobol' 1993, Math Modelling Comput Exp 1:407): Var(E[y | x]) / Var(y), with
E[y | x] fitted as a cubic in x by least squares over the draws. What is left of y when E[y | x] is taken off is the
spread that would remain with x known, on average over what x may turn out to be.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats

DEGREE: Final = 3
LOW, HIGH = 0.05, 0.95


@dataclass(frozen=True)
class Share:
    """One unknown's part in the spread of the moment.

    share : of the variance, first order, 0 to 1;  band_saved : of the 5 to 95 % band's width, were it known
    together : stands for several unknowns that are also listed one by one
    """

    name: str
    basis: str
    share: float
    band_saved: float
    together: bool = False


def width(values: Floats) -> float:
    """Width of the band from the 5th to the 95th percentile of values (n,)."""
    low, high = np.quantile(values, [LOW, HIGH])
    return float(high - low)


def share_of(name: str, basis: str, x: Floats, y: Floats, *, together: bool = False) -> Share:
    """Share of the unknowns ``x`` (n,) or (n, j) in the spread of ``y`` (n,); nil where nothing spreads."""
    columns = x.reshape(len(y), -1)
    columns = columns[:, columns.std(axis=0) > 0.0]
    variance = float(y.var())
    # a spread that is no more than rounding is none
    if not variance > (1e-9 * (1.0 + float(np.abs(y).max()))) ** 2 or columns.shape[1] == 0:
        return Share(name, basis, 0.0, 0.0, together)
    scaled = (columns - columns.mean(axis=0)) / columns.std(axis=0)
    powers = np.concatenate([np.ones((len(y), 1)), *(scaled**p for p in range(1, DEGREE + 1))], axis=1)
    left = y - powers @ np.linalg.lstsq(powers, y, rcond=None)[0]
    saved = 1.0 - width(left) / width(y)
    return Share(name, basis, float(max(0.0, 1.0 - left.var() / variance)), float(max(0.0, saved)), together)
