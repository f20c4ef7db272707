"""From evenly spread numbers between 0 and 1 to the values of a factor, by the inverse of its distribution."""

from __future__ import annotations

from typing import Final

import numpy as np
from scipy.special import log_ndtr, ndtr, ndtri

from meshes.mesh import Floats, Ints
from scenarios.study_axes import TAIL, NumberAxis

EDGE: Final = float(ndtr(-TAIL))  # share of cases beyond which none is drawn, on either side


def spread_value(axis: NumberAxis, u: Floats) -> Floats:
    """Values (n,) in the axis's unit whose distribution function is ``u`` (n,), 0 <= u < 1."""
    return _WAYS[axis.way](axis, u)


def picked(count: int, u: Floats) -> Floats:
    """Which of ``count`` equally likely things (n,), as floats 0 to count - 1, for ``u`` (n,)."""
    return np.minimum(np.floor(u * count), count - 1.0)


def at_levels(axis: NumberAxis, index: Ints) -> Floats:
    """Values (n,) of the levels of a list or a range, ``index`` (n,) counting from 0."""
    if axis.way == "values":
        return np.asarray(np.array(axis.numbers)[index])
    low, high = axis.numbers
    return np.asarray(np.linspace(low, high, axis.levels)[index])


def _listed(axis: NumberAxis, u: Floats) -> Floats:
    return at_levels(axis, picked(len(axis.numbers), u).astype(np.int64))


def _even(axis: NumberAxis, u: Floats) -> Floats:
    low, high = axis.numbers
    return np.asarray(low + (high - low) * u)


def _normal(axis: NumberAxis, u: Floats) -> Floats:
    mean, sd = axis.numbers
    z = cut_normal(u, (axis.least - mean) / sd, (axis.most - mean) / sd)
    return np.asarray(np.clip(mean + sd * z, *axis.ends()))


def _lognormal(axis: NumberAxis, u: Floats) -> Floats:
    median, factor = axis.numbers
    step = np.log(factor)
    low = np.log(axis.least / median) / step if axis.least > 0.0 else -np.inf
    z = cut_normal(u, low, np.log(axis.most / median) / step)
    return np.asarray(np.clip(median * np.exp(step * z), *axis.ends()))


def _triangular(axis: NumberAxis, u: Floats) -> Floats:
    low, mode, high = axis.numbers
    rising = low + np.sqrt(u * (high - low) * (mode - low))
    falling = high - np.sqrt((1.0 - u) * (high - low) * (high - mode))
    return np.where(u * (high - low) < mode - low, rising, falling)


def cut_normal(u: Floats, low: float, high: float) -> Floats:
    """Standard normal z (n,) cut off at ``low`` and ``high`` (or infinity), and a millionth out in any case."""
    if low > 0.0:  # the upper tail keeps its digits when it is looked at from the other side
        return -cut_normal(1.0 - u, -high, -low)
    below, above = (float(np.exp(log_ndtr(np.clip(z, -TAIL, TAIL)))) for z in (low, high))
    return np.asarray(ndtri(np.clip(below + (above - below) * u, EDGE, 1.0 - EDGE)))


_WAYS: Final = {
    "values": _listed,
    "range": _even,
    "uniform": _even,
    "normal": _normal,
    "lognormal": _lognormal,
    "triangular": _triangular,
}
