"""Harness parts: webbing along a path, D-rings, buckles, and the rigging of a stage cylinder."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.gear.weighed import weighed
from meshes.loft import loft
from meshes.memoized import memoized
from meshes.mesh import Mesh, joined, moved
from meshes.primitives import rounded_box, rounded_rectangle, superellipse
from meshes.solid import Solid, combined, solid_of
from meshes.sweep import path_length, rod, smooth_path, swept, swept_loop, tangents, tube

NYLON: Final = 1140.0  # [kg/m^3] 1130-1150, from memory
STAINLESS: Final = 8000.0  # [kg/m^3] 304 and 316, handbook table
STEP: Final = 0.012  # m between the sections of a drawn ribbon
WEBBING_MASS: Final = 0.0675  # [kg/m] 50 mm nylon webbing 60-75 g/m, from memory


def webbing(
    points: ArrayLike,
    *,
    side: ArrayLike,
    width: float = 0.050,
    thickness: float = 0.0025,
    mass_per_metre: float = WEBBING_MASS,
    density: float = NYLON,
) -> Solid:
    """Ribbon along a smooth curve through ``points`` (n >= 2, 3) [m], in their frame.

    side : (3,) the way its width points at the start; from there it turns as little as the curve allows
    mass : mass_per_metre [kg/m] times the curve's length; it displaces that over the fibre's ``density`` [kg/m^3]
    """
    if not (width > thickness > 0.0 and mass_per_metre > 0.0):
        raise ValueError(f"needs width > thickness > 0 and a mass, got {width}, {thickness} m, {mass_per_metre} kg/m")
    path = smooth_path(points, 0.012)
    ribbon = swept(path, rounded_rectangle(width, thickness, 0.45 * thickness, 3), side)
    return weighed(ribbon, mass_per_metre * path_length(path), density)


def webbing_lying(
    points: ArrayLike,
    normals: ArrayLike,
    *,
    width: float = 0.050,
    thickness: float = 0.0025,
    mass_per_metre: float = WEBBING_MASS,
    density: float = NYLON,
) -> Solid:
    """Ribbon along a polyline (n >= 2, 3) [m] that lies flat on a surface with outward ``normals`` (n, 3) there.

    The normals are evened out over twice the width, as a ribbon bridges what is smaller than itself.
    mass : mass_per_metre [kg/m] times the line's length; it displaces that over the fibre's ``density`` [kg/m^3]
    """
    line, outward = np.asarray(points, dtype=float), np.asarray(normals, dtype=float)
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(line, axis=0), axis=1))])
    if not along[-1] > 0.0:
        raise ValueError("webbing needs two ends that differ")
    at = np.linspace(0.0, along[-1], max(2, int(np.ceil(along[-1] / STEP))) + 1)
    path = np.stack([np.interp(at, along, c) for c in line.T], axis=1)
    even = np.exp(-(((at[:, None] - at[None]) / width) ** 2))
    up = (even / even.sum(axis=1, keepdims=True)) @ np.stack([np.interp(at, along, c) for c in outward.T], axis=1)
    forward = tangents(path)
    across = np.cross(up, forward)
    across /= np.linalg.norm(across, axis=1, keepdims=True)
    up = np.cross(forward, across)
    section = rounded_rectangle(width, thickness, 0.45 * thickness, 3)
    rings = path[:, None] + section[:, :1] * across[:, None] + section[:, 1:] * up[:, None]
    return weighed(loft(rings), mass_per_metre * float(along[-1]), density)


@memoized
def d_ring(*, width: float = 0.055, wire: float = 0.006) -> Solid:
    """Stainless D-ring. Frame: origin at the middle of its straight bar, x to the top of the bow, y along the bar.

    width : inside length of the bar [m];  wire : diameter [m]
    """
    if not width > 2.0 * wire > 0.0:
        raise ValueError(f"needs width > 2 wire > 0, got {width} and {wire} m")
    half = 0.5 * (width + wire)
    bow = np.linspace(-0.5 * np.pi, 0.5 * np.pi, 25)
    curve = np.column_stack([0.010 + half * np.cos(bow), half * np.sin(bow), np.zeros(25)])
    bar = np.column_stack([np.zeros(7), np.linspace(half - 0.004, -half + 0.004, 7), np.zeros(7)])
    path = np.vstack([curve, bar])
    return solid_of(swept_loop(path, superellipse(12, wire, wire), [0.0, 0.0, 1.0]), STAINLESS)


@memoized
def belt_buckle(mass: float = 0.14) -> Solid:
    """Stainless lever buckle for 50 mm webbing. Frame: origin at its middle, x along the webbing, z outward."""
    frame = [rounded_box([0.005, 0.066, 0.004], 0.0015, [x, 0.0, 0.0]) for x in (-0.033, -0.012, 0.033)] + [
        rounded_box([0.071, 0.005, 0.004], 0.0015, [0.0, y, 0.0]) for y in (-0.0305, 0.0305)
    ]
    lever = rounded_box([0.052, 0.054, 0.003], 0.0012, [0.006, 0.0, 0.006])
    return weighed(joined([*frame, lever]), mass, STAINLESS)


def stage_rigging(outer_diameter: float, *, neck_x: float, band_x: float, mass: float = 0.45) -> Solid:
    """Band, leash and two clips of a cylinder slung at the side; its regulator is a thing of its own.

    Frame: the cylinder's own (+x to the valve, origin at the base on the axis), leash on its +y side.
    neck_x, band_x : where the upper clip and the band sit [m];  mass : all [kg] (0.35-0.6, from memory), three
    quarters of it the steel of band and clips
    """
    radius = 0.5 * outer_diameter
    if not (radius > 0.0 and neck_x > band_x):
        raise ValueError(f"the neck must lie above the band, got neck {neck_x} m and band {band_x} m")
    angle = 2.0 * np.pi * np.arange(64) / 64
    loop = (radius + 0.0008) * np.column_stack([np.zeros(64), np.cos(angle), np.sin(angle)])
    band = moved(swept_loop(loop, rounded_rectangle(0.0012, 0.014, 0.0005, 3), [1.0, 0.0, 0.0]), None, [band_x, 0, 0])
    leash = tube(
        smooth_path([[band_x, radius + 0.004, 0.0], [0.5 * (band_x + neck_x), radius + 0.022, 0.0],
                     [neck_x - 0.05, radius + 0.012, 0.0], [neck_x, 0.35 * radius, 0.0]]),
        0.005,
    )  # fmt: skip
    clips = [_clip([band_x + 0.02, radius + 0.014, 0.0]), _clip([neck_x - 0.07, radius + 0.026, 0.0])]
    return combined([weighed(joined([band, *clips]), 0.75 * mass, STAINLESS), weighed(leash, 0.25 * mass, NYLON)])


def _clip(at: list[float]) -> Mesh:
    """Bolt snap: an eye, a stem and a hook, 100 mm long along y outward from ``at``."""
    bow = 2.0 * np.pi * np.arange(20) / 20
    eye = np.column_stack([0.011 * np.cos(bow), 0.011 * np.sin(bow), np.zeros(20)])
    hook = np.column_stack([0.014 * np.cos(bow), 0.078 + 0.018 * np.sin(bow), np.zeros(20)])
    wire = superellipse(10, 0.006, 0.006)
    parts = [swept_loop(p, wire, [0.0, 0.0, 1.0]) for p in (eye, hook)]
    return moved(joined([*parts, rod([0.0, 0.012, 0.0], [0.0, 0.062, 0.0], 0.006, 12)]), None, at)
