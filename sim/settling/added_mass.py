r"""Water that must be set moving with the diver.

Each part is taken as an ellipsoid alone in deep, unbounded water without friction (Lamb 1932, Hydrodynamics,
art. 114 and 115), its added mass acting at its CB. With the integrals

    alpha_i = abc \int_0^\infty dl / ((s_i^2 + l) sqrt((a^2 + l)(b^2 + l)(c^2 + l))),   alpha + beta + gamma = 2,

which are Carlson's R_D, the coefficients are k_i = alpha_i / (2 - alpha_i) along axis i and, about axis a,

    k'_a = (b^2 - c^2)^2 (gamma - beta) / ((b^2 + c^2) (2 (b^2 - c^2) + (b^2 + c^2) (beta - gamma))).

Good for some 20 % of a diver's added inertia: neighbours (thigh to trunk, cylinder to back) shield each other, and
two fins side by side carry more together (8 % where 5 cm lie between them, by a vortex lattice), which is left out,
and so is the suit around the body. It changes how long a swing takes, never where it ends.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.special import elliprd

from meshes.mesh import Floats
from sim.settling.extent import Extent

ROUND: Final = 1e-5  # two semi-axes closer than this, as a share, are equal: no added inertia about the third


@dataclass(frozen=True, eq=False)
class AddedMass:
    """Added inertia about a point, in body axes; kinetic energy of the water with the body turning at omega and
    the point moving at v: (omega.rotation.omega + 2 omega.coupling.v + v.translation.v) / 2.

    rotation : (3, 3) [kg m^2];  coupling : (3, 3) [kg m];  translation : (3, 3) [kg]
    """

    rotation: Floats
    coupling: Floats
    translation: Floats


def ellipsoid_coefficients(semi: Floats) -> tuple[Floats, Floats]:
    """Lamb's coefficients of an ellipsoid with semi-axes ``semi`` (3,) [m], all > 0.

    Returns (3,) added mass over the mass of water displaced, and (3,) added inertia about the centre over the
    inertia of the water displaced. Raises ValueError unless all semi-axes are > 0.
    """
    axes = np.asarray(semi, dtype=float)
    if axes.shape != (3,) or not (axes > 0.0).all():
        raise ValueError(f"an ellipsoid needs three semi-axes > 0 m, got {semi}")
    a2, b2, c2 = axes**2
    product = float(np.prod(axes))
    alpha = (2.0 / 3.0) * product * np.array([elliprd(b2, c2, a2), elliprd(c2, a2, b2), elliprd(a2, b2, c2)])
    turning = np.array([_turning(b2, c2, alpha[1], alpha[2]), _turning(c2, a2, alpha[2], alpha[0]),
                        _turning(a2, b2, alpha[0], alpha[1])])  # fmt: skip
    return np.asarray(alpha / (2.0 - alpha)), turning


def _turning(b2: float, c2: float, beta: float, gamma: float) -> float:
    difference, total = b2 - c2, b2 + c2
    if abs(difference) < ROUND * total:
        return 0.0
    return float(difference**2 * (gamma - beta) / (total * (2.0 * difference + total * (beta - gamma))))


def added_mass(shapes: Sequence[Extent], point: Floats, density: float) -> AddedMass:
    """Added inertia of the ``shapes`` about ``point`` (3,) [m], body axes, in water of ``density`` [kg/m^3]."""
    total = sum((_about(s, point, density) for s in shapes), np.zeros((3, 3, 3)))
    return AddedMass(total[0], total[1], total[2])


def _about(extent: Extent, point: Floats, density: float) -> Floats:
    """Rotation, coupling and translation (3, 3, 3) of one ellipsoid about ``point``, body axes."""
    along, about = ellipsoid_coefficients(extent.semi)
    displaced = density * extent.volume
    squares = extent.semi**2
    inertia = displaced / 5.0 * (squares.sum() - squares)
    translation = extent.axes.T @ np.diag(displaced * along) @ extent.axes
    own = extent.axes.T @ np.diag(about * inertia) @ extent.axes
    lever = cross_matrix(extent.centre - point)
    return np.stack([own + lever @ translation @ lever.T, lever @ translation, translation])


def cross_matrix(r: Floats) -> Floats:
    """Matrix (3, 3) with ``cross_matrix(r) @ v`` = r x v."""
    x, y, z = r
    return np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
