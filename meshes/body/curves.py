"""Smooth curves through a body's stations, and the sections the body is made of."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats

NEWTON_ENDS: Final = 1e-8  # of the root: after a step so short, what is left is its square
_QUARTER: Final = np.linspace(0.0, 0.5 * np.pi, 129)
LOG_SINE: Final = np.log(np.maximum(np.sin(_QUARTER), 1e-300))  # at equal angles of a quarter turn
LOG_COSINE: Final = np.log(np.cos(_QUARTER))


@dataclass(frozen=True, eq=False)
class Curves:
    """Piecewise cubic curves of p quantities.

    knots : (k,) rising;  origin : (k + 1,) and coefficients : (4, p, k + 1), of the powers of the distance from the
        origin, in every interval: before the first knot, between knots and beyond the last
    """

    knots: Floats
    origin: Floats
    coefficients: Floats

    def __call__(self, where: ArrayLike) -> Floats:
        """The quantities (..., p) at any shape (...)."""
        x = np.asarray(where, dtype=float)
        i = np.searchsorted(self.knots, x, side="right")
        t = x - self.origin[i]
        c = self.coefficients[..., i]
        return np.asarray(np.moveaxis(((c[3] * t + c[2]) * t + c[1]) * t + c[0], 0, -1))


def station_curves(at: ArrayLike, values: ArrayLike) -> Curves:
    """Monotone cubic curves through stations, constant beyond the ends.

    at : (s,) rising stations;  values : (s, p) the p quantities there. Slopes by Fritsch & Butland 1984 (SIAM J Sci
    Stat Comput 5:300): no overshoot between stations. The same as scipy's PCHIP, which takes a quarter of a second to
    import.
    """
    x, y = np.asarray(at, dtype=float), np.asarray(values, dtype=float)
    if x.ndim != 1 or y.shape[:1] != x.shape or not (x[1:] > x[:-1]).all():
        raise ValueError("stations must rise, with one row of values each")
    h = (x[1:] - x[:-1])[:, None]
    secant = (y[1:] - y[:-1]) / h
    slope = np.zeros_like(y)
    same = secant[:-1] * secant[1:] > 0.0
    w1, w2 = 2.0 * h[1:] + h[:-1], h[1:] + 2.0 * h[:-1]
    with np.errstate(divide="ignore", invalid="ignore"):
        harmonic = (w1 + w2) / (w1 / secant[:-1] + w2 / secant[1:])
    slope[1:-1] = np.where(same, harmonic, 0.0)
    slope[0], slope[-1] = secant[0], secant[-1]
    coefficients = np.zeros((4, len(x) + 1, y.shape[1]))
    coefficients[0, 0], coefficients[0, 1:] = y[0], y
    coefficients[1, 1:-1] = slope[:-1]
    coefficients[2, 1:-1] = (3.0 * secant - 2.0 * slope[:-1] - slope[1:]) / h
    coefficients[3, 1:-1] = (slope[:-1] + slope[1:] - 2.0 * secant) / h**2
    return Curves(x, np.concatenate([x[:1], x]), np.ascontiguousarray(coefficients.transpose(0, 2, 1)))


def side_by_side(curves: Sequence[Curves]) -> Curves:
    """Several curves as one, which takes a single search for the interval: quantities one after another."""
    knots = np.unique(np.concatenate([c.knots for c in curves]))
    origin = np.concatenate([knots[:1], knots])
    parts = []
    for c in curves:
        own = np.concatenate([[0], np.searchsorted(c.knots, knots, side="right")])
        k0, k1, k2, k3 = c.coefficients[..., own]
        d = origin - c.origin[own]
        parts.append([((k3 * d + k2) * d + k1) * d + k0, (3.0 * k3 * d + 2.0 * k2) * d + k1, 3.0 * k3 * d + k2, k3])
    return Curves(knots, origin, np.concatenate(parts, axis=1))


def smooth_step(x: Floats) -> Floats:
    """0 below 0, 1 above 1, a smooth cubic between."""
    t = np.clip(x, 0.0, 1.0)
    return np.asarray(t * t * (3.0 - 2.0 * t))


def kept_above(low: ArrayLike, high: ArrayLike, nearest: float) -> Floats:
    """``high``, but always above ``low``: unchanged where far above, ``nearest`` above where level, smooth between.

    The root of d' - nearest^2 / d' = d, with d and d' the distances before and after: never nil, however far below
    ``high`` lies, and rising with it.
    """
    base = np.asarray(low, dtype=float)
    apart = np.asarray(high, dtype=float) - base
    root = np.hypot(apart, 2.0 * nearest)
    # for one that lies below, the same without the difference of two like numbers
    above = np.where(apart > 0.0, 0.5 * (apart + root), 2.0 * nearest**2 / (root + np.abs(apart)))
    return np.asarray(base + above)


def equal_area(points: int) -> float:
    """Factor on a round section's radius that gives the polygon of so many points the area of the smooth section."""
    step = 2.0 * np.pi / points
    return float(np.sqrt(step / np.sin(step)))


def exponent_of_girth(half_breadth: float, half_depth: float, girth: float) -> float:
    """Superellipse exponent that gives a section this girth; held between 1.7 and 4.5."""

    def over(exponent: float) -> tuple[float, float]:
        y, z = _corners(half_breadth, half_depth, exponent)
        dy, dz, length = _chords(y, z)
        along, down = y * LOG_SINE, z * LOG_COSINE
        stretch = (dy * (along[1:] - along[:-1]) + dz * (down[1:] - down[:-1])) / length
        return float(length.sum()) - girth, -32.0 / exponent**2 * float(stretch.sum())

    return _root(over, 1.7, 4.5)


def half_breadth_of_girth(half_depth: float, exponent: float, girth: float) -> float:
    """Half-breadth [m] that gives a section this girth; held between a fifth and twice the round section's."""

    def over(half_breadth: float) -> tuple[float, float]:
        dy, _, length = _chords(half_breadth * unit, z)
        return float(length.sum()) - girth, 16.0 / half_breadth * float((dy * dy / length).sum())

    unit, z = _corners(1.0, half_depth, exponent)
    round_radius = girth / (2.0 * np.pi)
    return _root(over, 0.2 * round_radius, 2.0 * round_radius)


def _corners(half_breadth: float, half_depth: float, exponent: float) -> tuple[Floats, Floats]:
    """y and z (129,) of a quarter of a superellipse."""
    power = 2.0 / exponent
    return half_breadth * np.exp(power * LOG_SINE), half_depth * np.exp(power * LOG_COSINE)


def _chords(y: Floats, z: Floats) -> tuple[Floats, Floats, Floats]:
    """The chords (128,) of a quarter of a superellipse in y and z, and four times their lengths."""
    dy, dz = y[1:] - y[:-1], z[1:] - z[:-1]
    return dy, dz, 4.0 * np.hypot(dy, dz)


def _root(rising: Callable[[float], tuple[float, float]], low: float, high: float) -> float:
    """Root of a rising function that gives its value and slope; the nearer end when there is none between.

    Newton's steps, held between the ends that are known, and halving where they do not halve the step.
    """
    x, last = low, np.inf
    for _ in range(100):
        value, slope = rising(x)
        if value < 0.0:
            low = x
        else:
            high = x
        nearer = min(max(x - value / slope, low), high)
        if abs(nearer - x) <= NEWTON_ENDS * abs(x):
            return nearer
        if abs(nearer - x) > 0.5 * last:
            nearer = 0.5 * (low + high)
        x, last = nearer, abs(nearer - x)
    return x
