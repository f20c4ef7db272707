"""Smooth curves through a body's stations, and the sections the body is made of."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats

Curves = Callable[[Floats], Floats]


def station_curves(at: ArrayLike, values: ArrayLike) -> Curves:
    """Monotone cubic curves through stations, constant beyond the ends.

    at : (s,) rising stations;  values : (s, p) the p quantities there. The curves take x of any shape (...) and give
    (..., p). Slopes by Fritsch & Butland 1984 (SIAM J Sci Stat Comput 5:300): no overshoot between stations. The same
    as scipy's PCHIP, which takes a quarter of a second to import.
    """
    x, y = np.asarray(at, dtype=float), np.asarray(values, dtype=float)
    if x.ndim != 1 or y.shape[:1] != x.shape or not (np.diff(x) > 0.0).all():
        raise ValueError("stations must rise, with one row of values each")
    h = np.diff(x)[:, None]
    secant = np.diff(y, axis=0) / h
    slope = np.zeros_like(y)
    same = secant[:-1] * secant[1:] > 0.0
    w1, w2 = 2.0 * h[1:] + h[:-1], h[1:] + 2.0 * h[:-1]
    with np.errstate(divide="ignore", invalid="ignore"):
        harmonic = (w1 + w2) / (w1 / secant[:-1] + w2 / secant[1:])
    slope[1:-1] = np.where(same, harmonic, 0.0)
    slope[0], slope[-1] = secant[0], secant[-1]

    def curves(where: Floats) -> Floats:
        held = np.clip(where, x[0], x[-1])
        i = np.clip(np.searchsorted(x, held, side="right") - 1, 0, len(h) - 1)
        step = h[i, 0]
        t = ((held - x[i]) / step)[..., None]
        s = step[..., None]
        return np.asarray(
            (1.0 + 2.0 * t) * (1.0 - t) ** 2 * y[i]
            + t * (1.0 - t) ** 2 * s * slope[i]
            + t**2 * (3.0 - 2.0 * t) * y[i + 1]
            + t**2 * (t - 1.0) * s * slope[i + 1]
        )

    return curves


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


def superellipse_perimeter(half_breadth: float, half_depth: float, exponent: float) -> float:
    """Perimeter [m] of |y/a|^n + |z/b|^n = 1, to about 1e-4 of itself."""
    t = np.linspace(0.0, 0.5 * np.pi, 129)
    y = half_breadth * np.sin(t) ** (2.0 / exponent)
    z = half_depth * np.cos(t) ** (2.0 / exponent)
    return float(4.0 * np.hypot(np.diff(y), np.diff(z)).sum())


def exponent_of_girth(half_breadth: float, half_depth: float, girth: float) -> float:
    """Superellipse exponent that gives a section this girth; held between 1.7 and 4.5."""
    return _bisected(lambda n: superellipse_perimeter(half_breadth, half_depth, n) - girth, 1.7, 4.5)


def half_breadth_of_girth(half_depth: float, exponent: float, girth: float) -> float:
    """Half-breadth [m] that gives a section this girth; held between a fifth and twice the round section's."""
    round_radius = girth / (2.0 * np.pi)
    return _bisected(
        lambda a: superellipse_perimeter(a, half_depth, exponent) - girth, 0.2 * round_radius, 2.0 * round_radius
    )


def _bisected(rising: Callable[[float], float], low: float, high: float) -> float:
    """Root of a rising function; the nearer end when there is none between."""
    for _ in range(30):
        middle = 0.5 * (low + high)
        if rising(middle) < 0.0:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)
