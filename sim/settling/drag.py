"""What brings a swinging diver to rest besides the gas: pressure drag and the viscous layer.

Each part is cut into strips of the elliptic cylinder, or the plate, that its extent stands for. A strip moving at v
feels

    along each of its axes i:   - (rho/2 C_i A_i s + B_i) v_i,     s = speed across the cylinder (or along it)

so that it can only take energy out. Pressure drag (the first term) is by the cross-flow principle with drag
coefficients of cylinders and plates at Reynolds numbers of 1e4 to 3e5 (Hoerner 1965, as printed in the Aeronautical
Engineer's Data Book, p. 95). The linear term is that of the viscous layer on an oscillating cylinder (Stokes 1851;
leading term as in Wang 1968, J. Fluid Mech. 32:55), B = 2 pi^1.5 rho D sqrt(nu/T) a metre, which rules when the
swing is down to millimetres. Good for perhaps a third: shielding, hoses and straps are left out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.settling.added_mass import cross_matrix
from sim.settling.extent import Extent
from sim.settling.sheet import FLAT

SLENDERNESS: Final = (1.0, 2.0, 5.0, 10.0, 40.0)  # length over diameter of a cylinder across the flow ...
ACROSS: Final = (0.63, 0.68, 0.74, 0.82, 0.98)  # ... and its drag coefficient on length times diameter
ENDWAYS: Final = 0.87  # cylinder along the flow, l/d = 4, on the end's area
PLATE: Final = 1.17  # square plate across the flow; 1.20 where it is five times as long as broad, 1.5 at ten
FRICTION: Final = 0.0042  # of one side of a plate in flow along it, laminar, Reynolds number 1e5 (Blasius 1908)
VISCOSITY: Final = 1.35e-6  # m^2/s, sea water at 10 C (IAPWS value of fresh water and 4 % more)
SWING: Final = 10.0  # s, period for which the viscous layer is worked out; a diver's swings take 4 to 20 s


@dataclass(frozen=True, eq=False)
class Strips:
    """Strips of all parts, each in its own axes (long axis, breadth, thickness), about the held point.

    by_spin, by_drift : (3 n, 3) strip velocities for unit omega [rad/s] and unit velocity [m/s], body axes; first all
        along the long axes, then along the breadths, then along the thicknesses
    quadratic : (3, n) rho C A / 2 [kg/m]
    viscous : (6, 6) linear torque [N m] and force [N] of the viscous layer for omega and velocity
    """

    by_spin: Floats
    by_drift: Floats
    quadratic: Floats
    viscous: Floats


def strips_of(shapes: Sequence[Extent], point: Floats, density: float) -> Strips:
    """Strips of the ``shapes``, levers from ``point`` (3,) [m], body axes, in water of ``density`` [kg/m^3]."""
    pieces = [_strips(shape, point, density) for shape in shapes]
    if not pieces:
        return Strips(np.zeros((0, 3)), np.zeros((0, 3)), np.zeros((3, 0)), np.zeros((6, 6)))
    return Strips(
        by_spin=np.concatenate([p.by_spin.reshape(3, -1, 3) for p in pieces], axis=1).reshape(-1, 3),
        by_drift=np.concatenate([p.by_drift.reshape(3, -1, 3) for p in pieces], axis=1).reshape(-1, 3),
        quadratic=np.concatenate([p.quadratic for p in pieces], axis=1),
        viscous=np.asarray(sum((p.viscous for p in pieces), np.zeros((6, 6)))),
    )


def drag(strips: Strips, omega: Floats, velocity: Floats | None) -> tuple[Floats, Floats]:
    """Torque about the held point [N m] and force [N] (body axes) on a rig turning at ``omega`` [rad/s].

    velocity : of the held point through the water (3,) [m/s], body axes; None for a point that stays
    """
    local, viscous = strips.by_spin @ omega, strips.viscous[:, :3] @ omega
    if velocity is not None:
        local += strips.by_drift @ velocity
        viscous += strips.viscous[:, 3:] @ velocity
    force = _pressure(strips, local)
    return -(force @ strips.by_spin) - viscous[:3], -(force @ strips.by_drift) - viscous[3:]


def turning_drag(strips: Strips, omega: Floats) -> Floats:
    """Torque alone (3,) [N m] on a rig that turns at ``omega`` about a held point that stays."""
    return -(_pressure(strips, strips.by_spin @ omega) @ strips.by_spin) - strips.viscous[:3, :3] @ omega


def drag_about(strips: Strips, axis: Floats) -> tuple[float, float]:
    """What brakes a turn about ``axis`` (3,): [N m s^2] with the rate's square and [N m s] with the rate itself."""
    quadratic = _pressure(strips, strips.by_spin @ axis) @ strips.by_spin
    return float(axis @ quadratic), float(axis @ strips.viscous[:3, :3] @ axis)


def _pressure(strips: Strips, local: Floats) -> Floats:
    """Pressure drag (3 n,) [N] against the strips' velocities ``local`` (3 n,) [m/s]."""
    v = local.reshape(3, -1)
    force = strips.quadratic * v
    force[0] *= abs(v[0])
    force[1:] *= np.sqrt(v[1] * v[1] + v[2] * v[2])
    return force.ravel()


def _strips(extent: Extent, point: Floats, density: float) -> Strips:
    """Four strips along a part (Gauss points), each in two halves as far apart as its section is flat."""
    length, breadth, thickness = cylinder_size(extent)
    gauss, weights = np.polynomial.legendre.leggauss(4)
    flatness = np.sqrt(max(breadth**2 - thickness**2, 0.0) / 12.0)
    along, across = (m.ravel() for m in np.meshgrid(0.5 * length * gauss, [-flatness, flatness], indexing="ij"))
    share = np.repeat(0.25 * weights, 2)
    centre = extent.centre - point
    positions = centre + along[:, None] * extent.axes[0] + across[:, None] * extent.axes[1]
    spin = np.stack([extent.axes @ cross_matrix(r).T for r in positions], axis=1)
    drift = np.repeat(extent.axes[:, None], len(positions), axis=1)
    moving = np.concatenate([spin, drift], axis=2)
    mean = 0.5 * (breadth + thickness)
    layer = np.pi**1.5 * density * mean * np.sqrt(VISCOSITY / SWING) * length
    viscous = np.einsum("i,j,ija,ijb->ab", [layer, 2.0 * layer, 2.0 * layer], share, moving, moving)
    viscous[:3, :3] += layer * (0.5 * mean) ** 2 * np.outer(extent.axes[0], extent.axes[0])
    return Strips(
        by_spin=spin.reshape(-1, 3),
        by_drift=drift.reshape(-1, 3),
        quadratic=0.5 * density * drag_areas(length, breadth, thickness)[:, None] * share,
        viscous=viscous,
    )


def cylinder_size(extent: Extent) -> tuple[float, float, float]:
    """Length, breadth and thickness [m] of the elliptic cylinder with the ellipsoid's second moments and volume.

    Of a sheet, those of the rectangular plate with its area, aspect and volume.
    """
    if extent.flat:
        length, breadth = (float(s) for s in np.sqrt(np.pi) * extent.semi[:2])
        return length, breadth, extent.volume / (length * breadth)
    # variances s^2/5 against L^2/12 and B^2/16; the cylinder would then hold 7 % less than the ellipsoid
    a, b, c = extent.semi
    size = np.array([np.sqrt(12.0 / 5.0) * a, np.sqrt(16.0 / 5.0) * b, np.sqrt(16.0 / 5.0) * c])
    scale = np.cbrt(extent.volume / (np.pi / 4.0 * np.prod(size)))
    length, breadth, thickness = (float(s) for s in scale * size)
    return length, breadth, thickness


def drag_areas(length: float, breadth: float, thickness: float) -> Floats:
    """Drag coefficient times area (3,) [m^2] for flow along the length, the breadth and the thickness [m].

    A plate has friction on both sides as well as pressure on edges as thick as it is.
    """
    slender = np.log([length / breadth, length / thickness])
    edge_on, broad = np.interp(slender[::-1], np.log(SLENDERNESS), ACROSS)
    ends = ENDWAYS * np.pi / 4.0 * breadth * thickness
    if not breadth >= FLAT * thickness:
        return np.array([ends, edge_on * length * thickness, broad * length * breadth])
    friction = 2.0 * FRICTION * length * breadth
    return np.array([ends + friction, edge_on * length * thickness + friction, PLATE * length * breadth])
