"""Canister light (battery canister and light head; its cord is in hose.py), back-up light, and line cutter."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.gear.weighed import weighed
from meshes.loft import lathe, loft
from meshes.memoized import memoized
from meshes.mesh import Mesh, joined, moved
from meshes.primitives import rounded_box, superellipse
from meshes.solid import Solid, volume_integrals
from meshes.sweep import rod, smooth_path, swept

CUTTER: Final = 3000.0  # [kg/m^3] steel blade 8000 with a plastic handle and sheath 1100; from memory, +-30 %


@memoized
def battery_canister(mass: float = 1.4, *, length: float = 0.20, diameter: float = 0.065) -> Solid:
    """Sealed canister: displaces all that it encloses. Frame: origin at its middle, +x to its lid.

    mass : [kg] (0.8-2.2, from memory);  length, diameter : over all [m]
    """
    if not (diameter > 0.02 and length > diameter):
        raise ValueError(f"needs length > diameter > 20 mm, got {length} and {diameter} m")
    r, e = 0.5 * diameter, 0.5 * length
    profile = [
        (-e, 0.0), (-e, r - 0.006), (-e + 0.006, r - 0.002), (e - 0.034, r - 0.002), (e - 0.032, r), (e - 0.012, r),
        (e - 0.008, r - 0.003), (e - 0.008, 0.35 * r), (e, 0.30 * r), (e, 0.0),
    ]  # fmt: skip
    return _sealed(lathe(profile, 48), mass)


@memoized
def light_head(mass: float = 0.40) -> Solid:
    """Light head with its hand mount. Frame: origin at the middle of the head's body, +x the way it shines, z up.

    Sealed; the mount is counted as part of it. mass : [kg] (0.25-0.6, from memory)
    """
    body = lathe([
        (-0.050, 0.0), (-0.050, 0.010), (-0.046, 0.014), (-0.030, 0.016), (-0.028, 0.0225), (0.022, 0.0225),
        (0.026, 0.0270), (0.048, 0.0300), (0.050, 0.0285), (0.050, 0.0260), (0.046, 0.0255), (0.046, 0.0),
    ], 48)  # fmt: skip
    through = [[0.010, -0.055, -0.030], [0.010, -0.048, -0.052], [0.010, 0.0, -0.058], [0.010, 0.044, -0.050],
               [0.010, 0.050, -0.020], [0.010, 0.022, 0.0]]  # fmt: skip
    mount = swept(smooth_path(through, 0.006), superellipse(16, 0.026, 0.004, 4.0), [1.0, 0.0, 0.0])
    return _sealed(joined([body, mount]), mass)


@memoized
def backup_light(mass: float = 0.25, *, length: float = 0.17) -> Solid:
    """Hand torch. Frame: origin at its middle, +x the way it shines; sealed. mass : [kg] (0.15-0.4, from memory)"""
    e = 0.5 * length
    profile = [
        (-e, 0.0), (-e, 0.010), (-e + 0.004, 0.0135), (e - 0.045, 0.0135), (e - 0.030, 0.0190), (e - 0.002, 0.0200),
        (e, 0.0185), (e, 0.0165), (e - 0.003, 0.0160), (e - 0.003, 0.0),
    ]  # fmt: skip
    return _sealed(lathe(profile, 40), mass)


@memoized
def line_cutter(mass: float = 0.20, *, length: float = 0.20) -> Solid:
    """Small knife in its sheath. Frame: origin at its middle, +x to the handle's end, y across, z its thickness.

    mass : with sheath [kg] (0.1-0.4, common practice)
    """
    half = 0.5 * length
    x = np.array([-1.0, -0.9, -0.2, 0.0]) * half
    width = np.array([0.016, 0.026, 0.034, 0.036])
    sheath = loft(
        np.stack(
            [
                np.column_stack([np.full(24, s), superellipse(24, w, 0.009, 4.0)])
                for s, w in zip(x, width, strict=True)
            ]
        )
    )
    guard = rounded_box([0.008, 0.044, 0.014], 0.003, [0.004, 0.0, 0.0])
    grip = moved(rounded_box([half - 0.008, 0.024, 0.015], 0.006), None, [0.5 * half + 0.004, 0.0, 0.0])
    pommel = rod([half - 0.004, 0.0, -0.006], [half - 0.004, 0.0, 0.006], 0.013)
    return weighed(joined([sheath, guard, grip, pommel]), mass, CUTTER)


def _sealed(mesh: Mesh, mass: float) -> Solid:
    """Thing of stated mass that keeps water out of all its mesh encloses."""
    if not mass > 0.0:
        raise ValueError(f"the mass must be > 0 kg, got {mass}")
    return weighed(mesh, mass, mass / volume_integrals(mesh).volume)
