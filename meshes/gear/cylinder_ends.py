"""Bases of seamless cylinders by the shapes of ISO 9809-1 and ISO 7866: profiles of (x, radius) [m], pole to side.

x runs into the cylinder; a foot or a pole that stands outermost is at x = 0 outside.
"""

from __future__ import annotations

from typing import Final, Literal

import numpy as np

from meshes.mesh import Floats
from meshes.revolved import elliptic_arc

Base = Literal["convex", "concave", "flat"]

# Thickness in the middle of a base over that of the side. The standards ask for 1.5 least walls of a convex base and
# 2 of a concave one (from memory); real bases are thicker, these are estimates, +-20 %
BASE_OVER_SIDE: Final[dict[Base, float]] = {"convex": 2.5, "concave": 2.0, "flat": 2.0}
# Over the outer diameter: least rise of a concave base and least radius of its inner knuckle by ISO 9809-1, and the
# knuckle outside, which puts the foot on three quarters of the diameter; all from memory
RISE, INNER_KNUCKLE, OUTER_KNUCKLE = 0.12, 0.075, 0.12
FLAT_INNER_KNUCKLE: Final = 0.144  # over the outer diameter, left by the punch of an extruded base; assumed


def base_profiles(base: Base, radius: float, side: float, depth: float, n: int) -> tuple[Floats, Floats]:
    """Outer and inner profile (k, 2) of a base for an outer ``radius`` and a mean thickness ``side`` of the wall [m].

    depth : of a convex base outside, at least one and a half times its thickness [m];  n : chords to an arc
    """
    inner_radius, thick, diameter = radius - side, BASE_OVER_SIDE[base] * side, 2.0 * radius
    if base == "convex":
        deep = max(depth, 1.5 * thick)
        return domed_end(deep, deep, radius, n), domed_end(deep, deep - thick, inner_radius, n)
    knuckle = OUTER_KNUCKLE * diameter
    if base == "concave":
        # midway between side and base the corner is as thick as both on average
        rise, inner_knuckle = RISE * diameter, max(knuckle - 0.5 * (side + thick), INNER_KNUCKLE * diameter)
    else:
        rise, inner_knuckle = 0.0, FLAT_INNER_KNUCKLE * diameter
    outer = dished_end(0.0, rise, radius, knuckle, n)
    return outer, dished_end(thick, rise, inner_radius, min(inner_knuckle, 0.5 * inner_radius), n)


def domed_end(side_x: float, depth: float, radius: float, n: int) -> Floats:
    """Half an ellipsoid (n + 1, 2) that bulges out by ``depth`` from the side's end at ``side_x`` [m]."""
    return elliptic_arc((side_x, 0.0), (depth, radius), np.pi, 0.5 * np.pi, n)


def dished_end(foot: float, rise: float, radius: float, knuckle: float, n: int) -> Floats:
    """End domed inward: a spherical cap, then a round knuckle that it touches; flat with a knuckle for no rise.

    foot : x of the knuckle's outermost ring, which lies at radius - knuckle from the axis;  rise : of the pole above
    it;  all [m]. The cap's radius follows from its touching the knuckle.
    """
    reach = radius - knuckle
    if not rise > 0.0:
        quarter = elliptic_arc((foot + knuckle, reach), (knuckle, knuckle), np.pi, 0.5 * np.pi, n)
        return np.vstack([[[foot, 0.0]], quarter])
    # the centres lie as far apart as both radii together: (crown + knuckle - rise)^2 + reach^2 = (crown + knuckle)^2
    crown = (rise**2 + reach**2) / (2.0 * rise) - knuckle
    centre = foot + rise - crown
    touch = float(np.arctan2(reach, foot + knuckle - centre))
    cap = elliptic_arc((centre, 0.0), (crown, crown), 0.0, touch, n)
    # through the foot itself, the outermost ring
    down = elliptic_arc((foot + knuckle, reach), (knuckle, knuckle), np.pi + touch, np.pi, n)
    up = elliptic_arc((foot + knuckle, reach), (knuckle, knuckle), np.pi, 0.5 * np.pi, n)
    return np.vstack([cap, down[1:], up[1:]])
