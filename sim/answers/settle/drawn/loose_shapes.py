"""Shapes for a rig told by numbers alone: balls of the right volume in the right place."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from meshes.mesh import Floats, Mesh, moved
from meshes.primitives import ellipsoid
from sim.rig import Part

SMALLEST = 0.02  # radius [m] of a ball for a part that displaces nothing


def ball(volume: float, centre: Floats) -> Mesh:
    """Sphere of ``volume`` [m^3] about ``centre`` (3,) [m]."""
    radius = float(np.cbrt(0.75 * max(volume, 0.0) / np.pi))
    return moved(ellipsoid([1.0, 1.0, 1.0], rings=28, points=48), max(radius, 1e-4) * np.eye(3), centre)


def balls_for(parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """The parts, those without a shape as balls of their displaced volume about their CB."""
    least = 4.0 / 3.0 * np.pi * SMALLEST**3
    return tuple(
        p
        if p.solid.mesh is not None
        else replace(p, solid=replace(p.solid, mesh=ball(max(p.solid.volume, least), p.solid.cb)))
        for p in parts
    )
