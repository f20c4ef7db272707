"""What holds cylinders: the pair of bands of a twin set, cam straps, the rail under a single one, rubber boots."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.gear.weighed import evened, weighed
from meshes.loft import lathe
from meshes.memoized import memoized
from meshes.mesh import Floats, Mesh, joined, moved
from meshes.primitives import rounded_box, rounded_rectangle
from meshes.revolved import elliptic_arc
from meshes.solid import Solid, combined, solid_of
from meshes.sweep import rod, swept_loop

STAINLESS: Final = 8000.0  # [kg/m^3] 304 and 316, handbook table
BOOT_RUBBER: Final = 1150.0  # [kg/m^3] EPDM 1100-1250, from memory
WEBBING: Final = 1140.0  # [kg/m^3] nylon 1130-1150, from memory
BOLT_SPACING: Final = 0.279  # [m] 11 in between the bolts of the two bands, common practice


@memoized
def twin_bands(
    outer_diameter: float,
    spacing: float,
    *,
    mass: float | None = None,
    width: float = 0.045,
    thickness: float = 0.0015,
    bolt_length: float = 0.060,
) -> Solid:
    """Pair of stainless bands with bolts round two cylinders of ``outer_diameter``, axes ``spacing`` [m] apart.

    Frame: +x along the cylinders toward the valves, y left, z away from the diver; origin midway between the axes
    and between the bands, which sit at x = +-139.5 mm. A bolt (M8) runs through each waist and sticks out
    ``bolt_length`` [m] beyond the cylinders' front, toward -z.
    mass : weighed [kg]; None takes what width and thickness make (0.8-1.3 is usual, +-20 %, from memory)
    """
    radius = 0.5 * outer_diameter
    if not (radius > 0.0 and spacing >= outer_diameter):
        raise ValueError(f"the axes must be at least a diameter apart, got {spacing} m for {outer_diameter} m")
    front = -(radius + bolt_length)
    section = rounded_rectangle(thickness, width, 0.45 * thickness, 3)
    path = _round_two(radius + 0.5 * thickness, 0.5 * spacing)
    # path in the y-z plane, anticlockwise seen from +x, which is the section's y axis
    loop = swept_loop(np.column_stack([np.zeros(len(path)), path]), section, [1.0, 0.0, 0.0])
    waist = float(np.abs(path[np.abs(path[:, 0]).argmin(), 1]))
    bolt = joined([
        rod([0.0, 0.0, waist + 0.012], [0.0, 0.0, front], 0.004, 16),
        rod([0.0, 0.0, waist + thickness + 0.007], [0.0, 0.0, waist + thickness], 0.0075, 6),
        rod([0.0, 0.0, -waist - thickness], [0.0, 0.0, -waist - thickness - 0.007], 0.0075, 6),
    ])  # fmt: skip
    one = joined([loop, bolt])
    pair = joined(
        [moved(one, None, [0.5 * BOLT_SPACING, 0.0, 0.0]), moved(one, None, [-0.5 * BOLT_SPACING, 0.0, 0.0])]
    )
    natural = solid_of(pair, STAINLESS)
    return evened(natural if mass is None else weighed(pair, mass, STAINLESS))


def _round_two(radius: float, offset: float, gap: float = 0.022) -> Floats:
    """Closed path (k, 2) of (y, z) [m], anticlockwise, round circles at y = +-offset, pinched to |z| = gap.

    Each side follows its circle to where the straight run to the waist touches it.
    """
    # tangent from the waist point (0, gap) to the circle about (offset, 0), touching it on its upper side
    away = np.hypot(offset, gap)
    if not away > radius:
        gap = float(np.sqrt(max(radius**2 - offset**2, 0.0))) + 0.6 * gap
        away = np.hypot(offset, gap)
    touch = np.arctan2(gap, -offset) - np.arccos(radius / away)
    arc = np.linspace(-touch, touch, 41)
    left = np.column_stack([offset + radius * np.cos(arc), radius * np.sin(arc)])
    right = -left
    # waists rounded over a few points: the band is bent there, not folded
    upper = _bend(left[-1], np.array([0.0, gap]), right[0])
    lower = _bend(right[-1], np.array([0.0, -gap]), left[0])
    return np.vstack([left, upper, right, lower])


def _bend(start: Floats, corner: Floats, end: Floats, points: int = 9) -> Floats:
    """Quadratic curve (points, 2) from near ``start`` past ``corner`` to near ``end``."""
    t = np.linspace(0.0, 1.0, points)[:, None]
    a, b = corner + 0.6 * (start - corner), corner + 0.6 * (end - corner)
    return np.asarray((1 - t) ** 2 * a + 2 * t * (1 - t) * corner + t**2 * b)


@memoized
def cylinder_boot(outer_diameter: float, *, height: float = 0.09, mass: float = 0.30) -> Solid:
    """Rubber cup on a cylinder's base, near neutral; 0.2-0.4 kg (from memory).

    Frame: the cylinder's own, +x toward the valve, origin at the base's outermost point on the axis; the boot
    reaches 4 mm below it and ``height`` [m] above.
    """
    radius, wall = 0.5 * outer_diameter, 0.004
    if not (radius > 0.02 and height > 0.03):
        raise ValueError(f"needs a diameter > 40 mm and a height > 30 mm, got {outer_diameter} and {height} m")
    corner = min(0.6 * radius, 0.7 * height)
    outer_r = radius + wall
    outer = elliptic_arc((corner - wall, outer_r - corner), (corner, corner), np.pi, 0.5 * np.pi, 12)
    inner = elliptic_arc((corner, radius - corner), (corner, corner), 0.5 * np.pi, np.pi, 12)
    rim = [[height - 0.002, outer_r], [height, outer_r - 0.002], [height, radius]]
    profile = np.vstack([[[-wall, 0.0]], outer, rim, inner, [[0.0, 0.0]]])
    return weighed(lathe(profile, 64), mass, BOOT_RUBBER)


def cam_bands(outer_diameter: float, *, spacing: float = BOLT_SPACING, mass: float = 0.5) -> Solid:
    """Pair of webbing straps with cam buckles round a single cylinder; ``mass`` of both [kg] (0.4-0.6, from memory).

    Frame: +x along the cylinder toward the valve, y left, z away from the diver; origin on the cylinder's axis
    midway between the straps, which are ``spacing`` [m] apart.
    """
    radius = 0.5 * outer_diameter
    if not (radius > 0.0 and spacing > 0.0):
        raise ValueError(f"diameter and spacing must be > 0 m, got {outer_diameter} and {spacing}")
    angle = 2.0 * np.pi * np.arange(64) / 64
    path = (radius + 0.0015) * np.column_stack([np.zeros(64), np.cos(angle), np.sin(angle)])
    strap = swept_loop(path, rounded_rectangle(0.003, 0.050, 0.0012, 3), [1.0, 0.0, 0.0])
    pairs = [moved(strap, None, [sign * 0.5 * spacing, 0.0, 0.0]) for sign in (1.0, -1.0)]
    buckles = [_cam_buckle(radius, sign * 0.5 * spacing) for sign in (1.0, -1.0)]
    # webbing a third of the mass, the buckles the rest
    return combined(
        [weighed(joined(pairs), mass / 3.0, WEBBING), weighed(joined(buckles), 2.0 * mass / 3.0, STAINLESS)]
    )


@memoized
def single_adapter(mass: float = 0.8, *, length: float = 0.33, breadth: float = 0.075) -> Solid:
    """Bent stainless rail that carries a single cylinder on a plate made for two; 0.6-1.0 kg (from memory).

    Frame: x up the back, y left, z away from the diver; origin on the plate's channel, midway between the bolts
    length, breadth : [m]
    """
    if not (length > 0.1 and breadth > 0.02):
        raise ValueError(f"needs a length > 0.1 m and a breadth > 0.02 m, got {length} and {breadth} m")
    floor = rounded_box([length, breadth, 0.003], 0.001, [0.0, 0.0, 0.0015])
    wings = [rounded_box([length, 0.003, 0.018], 0.001, [0.0, sign * 0.5 * breadth, 0.009]) for sign in (1.0, -1.0)]
    return evened(weighed(joined([floor, *wings]), mass, STAINLESS))


def _cam_buckle(radius: float, x: float) -> Mesh:
    """Bent lever lying on the strap at the cylinder's left."""
    return moved(rounded_box([0.056, 0.012, 0.060], 0.004), None, [x, radius + 0.008, 0.0])
