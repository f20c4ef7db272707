"""Mass integrals of bodies of revolution from their profile, free of the error of an n-sided mesh."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats
from meshes.solid import VolumeIntegrals

# three-point Gauss-Legendre on [0, 1]: exact to degree 5, and r^4 and x^2 r^2 are of degree 4 on a straight piece
_NODES, _WEIGHTS = np.array([0.5 - np.sqrt(0.15), 0.5, 0.5 + np.sqrt(0.15)]), np.array([5.0, 8.0, 5.0]) / 18.0


def revolved_integrals(profile: ArrayLike) -> VolumeIntegrals:
    """Volume, centroid and second moments about +x of a profile (k, 2) of (x, radius) [m], exact for straight pieces.

    The profile is walked as for ``lathe``; it may turn back in x (a concave base), where volume is taken away again.
    Raises ValueError when it encloses nothing.
    """
    outline = np.asarray(profile, dtype=float)
    steps = np.diff(outline, axis=0)
    x = outline[:-1, :1] + steps[:, :1] * _NODES
    r = outline[:-1, 1:] + steps[:, 1:] * _NODES
    weight = np.pi * steps[:, :1] * _WEIGHTS
    volume = float((weight * r**2).sum())
    if not volume > 0.0:
        raise ValueError(f"the profile encloses no volume (got {volume} m^3)")
    centre = float((weight * r**2 * x).sum()) / volume
    axial = 0.5 * float((weight * r**4).sum())
    across = 0.5 * axial + float((weight * r**2 * (x - centre) ** 2).sum())
    return VolumeIntegrals(volume, np.array([centre, 0.0, 0.0]), np.diag([axial, across, across]))


def elliptic_arc(
    centre: tuple[float, float], semi_axes: tuple[float, float], start: float, end: float, n: int
) -> Floats:
    """Points (n + 1, 2) of (x, radius) [m] on an ellipse, ``start`` to ``end`` [rad] from +x toward +radius."""
    angle = np.linspace(start, end, n + 1)
    points = np.stack([centre[0] + semi_axes[0] * np.cos(angle), centre[1] + semi_axes[1] * np.sin(angle)], axis=1)
    # sin(pi) is not quite 0, and a pole must be
    points[np.abs(points[:, 1]) < 1e-12, 1] = 0.0
    return np.asarray(points)
