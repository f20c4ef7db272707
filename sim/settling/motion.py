r"""Equations of motion of a rig turning about its held point, which may also rise and sink.

The attitude is u, the world's up in body axes; turning about u itself changes nothing and is left out. With
p = J omega + c w and q = c.omega + m w the momenta (J inertia about the held point, m = mass, both with the added
water; c = C u their coupling; w the speed upward), and T the kinetic energy,

    du/dt = u x omega
    dp/dt = p x omega + u x d - u x dT/du + (drag torque)        dT/du = C^T omega w + A u w^2
    dq/dt = lift + u.(drag force)                                q contains m(u) = mass + u.A u

(Lamb 1932, art. 124; the w^2 term is what turns a sinking plate broadside.) d is the weight and buoyancy vector of
the statics, with the gas where it is now.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Final, NamedTuple

import numpy as np

from meshes.mesh import Floats
from meshes.solid import parallel_axis
from sim.rig import Rig
from sim.settling.added_mass import added_mass, cross_matrix
from sim.settling.drag import Strips, drag, drag_about, strips_of, turning_drag
from sim.settling.extent import extents
from sim.settling.gas_flow import STATES, Bag, Filling, Flow, bag_energy, bag_in_motion, filling, flow, within

THINNEST: Final = 0.02  # m, least radius of gyration


@dataclass(frozen=True, eq=False)
class Model:
    """What does not change while a rig moves. State vector: u (3), spins (k), [height, speed], suit and wing gas (4).

    rigid : (3,) g (sum m r - rho sum V c) about the held point [N m];  sinking : g (m - rho V) [N]
    axes : (3, k) directions about which it may turn, in body axes
    nimbleness : (k, k) inverse of the inertia about ``axes``, for a point that does not heave
    rotation (3, 3), coupling (3, 3), translation (3, 3) : of mass and added mass together, see ``AddedMass``
    damping : (3, 3) torque for each unit of omega that brings it to rest besides the water's drag [N m s], nil
        until a swing is of no more interest, see ``course``
    wing_volume : [m^3] given, or None to keep the whole neutral
    """

    rigid: Floats
    sinking: float
    axes: Floats
    heaves: bool
    rotation: Floats
    coupling: Floats
    translation: Floats
    nimbleness: Floats
    strips: Strips | None
    damping: Floats
    suit: Bag | None
    wing: Bag | None
    wing_volume: float | None
    water_weight: float
    gravity: float
    ambient: float

    @cached_property
    def spins(self) -> slice:
        return slice(3, 3 + int(self.axes.shape[1]))

    @cached_property
    def along(self) -> Floats:
        """The first of the axes (3,)."""
        return self.axes[:, 0]

    @cached_property
    def braking(self) -> tuple[float, float]:
        """What brakes a turn about ``along`` [N m s^2] with the rate's square and [N m s] with the rate itself."""
        square, linear = (0.0, 0.0) if self.strips is None else drag_about(self.strips, self.along)
        return square, linear + float(self.along @ self.damping @ self.along)

    @cached_property
    def mechanical(self) -> int:
        """Number of states before the gas."""
        return 3 + int(self.axes.shape[1]) + 2 * int(self.heaves)

    @cached_property
    def suit_gas(self) -> slice:
        return slice(self.mechanical, self.mechanical + (STATES if self.suit else 0))

    @cached_property
    def wing_gas(self) -> slice:
        start = self.suit_gas.stop
        return slice(start, start + (STATES if self.wing else 0))


class Instant(NamedTuple):
    """A state taken apart: up (3,), omega (3,), height, speed; gas; d (3,) [N m] and lift [N] of weight and water."""

    up: Floats
    omega: Floats
    height: float
    speed: float
    suit: Flow | None
    wing: Flow | None
    d: Floats
    lift: float


def model_of(
    rig: Rig,
    *,
    roll_held: bool,
    heaves: bool,
    wing_volume: float | None,
    added_water: bool = True,
    with_drag: bool = True,
) -> Model:
    """Model of a rig; ``wing_volume`` [m^3] freezes the wing, None keeps the whole neutral."""
    g, rho, whole = rig.water.gravity, rig.water.density, rig.whole
    shapes = extents(rig) if added_water or with_drag else ()
    water = added_mass(shapes if added_water else (), rig.held, rho)
    lever = whole.cm - rig.held
    axes = np.array([[0.0], [1.0], [0.0]]) if roll_held else np.eye(3)
    rotation = rigid_inertia(rig) + water.rotation
    return Model(
        rigid=g * (whole.mass * lever - rho * whole.volume * (whole.cb - rig.held)),
        sinking=g * (whole.mass - rho * whole.volume),
        axes=axes,
        heaves=heaves,
        rotation=rotation,
        coupling=whole.mass * cross_matrix(lever) + water.coupling,
        translation=whole.mass * np.eye(3) + water.translation,
        nimbleness=np.linalg.inv(axes.T @ rotation @ axes),
        strips=strips_of(shapes, rig.held, rho) if with_drag else None,
        damping=np.zeros((3, 3)),
        suit=bag_in_motion(rig.suit, rig) if rig.suit is not None and (rig.suit.gas or 0.0) > 0.0 else None,
        wing=bag_in_motion(rig.wing, rig) if rig.wing is not None else None,
        wing_volume=wing_volume,
        water_weight=rho * g,
        gravity=g,
        ambient=rig.water.pressure,
    )


def rigid_inertia(rig: Rig) -> Floats:
    """Inertia (3, 3) [kg m^2] of the rigid parts about the held point, body axes.

    A part given without inertia counts as an even ball as large as the water it displaces; and no rig is taken as
    thinner than ``THINNEST`` about any axis, so that a row of point masses can be followed too.
    """
    whole = rig.whole
    balls = sum(
        0.4 * p.solid.mass * _ball_radius(p.solid.volume) ** 2 for p in rig.parts if not p.solid.inertia.any()
    )
    inertia = whole.inertia + balls * np.eye(3) + parallel_axis(whole.mass, whole.cm - rig.held)
    principal, axes = np.linalg.eigh(inertia)
    return np.asarray(axes * np.maximum(principal, whole.mass * THINNEST**2) @ axes.T)


def _ball_radius(volume: float) -> float:
    return float(np.cbrt(volume / (4.0 / 3.0 * np.pi)))


Fillings = tuple[Filling | None, Filling | None]


def fillings(model: Model, y: Floats) -> Fillings:
    """What suit and wing hold at the state vector ``y``: it depends on their gas alone."""
    suit = filling(model.suit, y[model.suit_gas]) if model.suit is not None else None
    wing = filling(model.wing, y[model.wing_gas]) if model.wing is not None else None
    return suit, wing


def instant(model: Model, y: Floats, held: Fillings | None = None) -> Instant:
    """The state vector ``y`` taken apart, up normalised, with moments and lift worked out."""
    in_suit, in_wing = fillings(model, y) if held is None else held
    up = y[:3]
    up = up / math.sqrt(up @ up)
    height, speed = (float(y[model.mechanical - 2]), float(y[model.mechanical - 1])) if model.heaves else (0.0, 0.0)
    d, lift, suit, wing = model.rigid, -model.sinking, None, None
    if model.suit is not None and in_suit is not None:
        suit = flow(model.suit, in_suit, up, height)
        d = d - in_suit.content[1:]
        lift += model.suit.weight * in_suit.total
    if model.wing is not None and in_wing is not None:
        wing = flow(model.wing, in_wing, up, height, wing_target(model, model.wing, suit, lift, height))
        d = d - in_wing.content[1:]
        lift += model.wing.weight * in_wing.total
    return Instant(up, model.axes @ y[model.spins], height, speed, suit, wing, d, lift)


def wing_target(model: Model, wing: Bag, suit: Flow | None, lift_without: float, height: float) -> float:
    """Volume [m^3] the wing is brought to: what makes the whole neutral, or its own, grown by Boyle's law.

    To keep neutral is to move as much gas as the suit swallows or gives, at once, not only to make good afterwards.
    """
    if model.wing_volume is not None:
        # the surface lies far short of a tenth of the pressure; the floor only keeps the solver's trial steps sane
        ambient = max(model.ambient - model.water_weight * height, 0.1 * model.ambient)
        return within(wing, model.wing_volume * model.ambient / ambient)
    needed = -lift_without / wing.weight
    if model.suit is not None and suit is not None:
        suit_rate = (suit.filling.give @ suit.toward).item() / model.suit.lag
        needed -= wing.lag * suit_rate * model.suit.weight / wing.weight
    return within(wing, needed)


def right_hand_side(model: Model, y: Floats) -> Floats:
    """dy/dt of the state vector."""
    return rates(model, y, fillings(model, y))


def rates(model: Model, y: Floats, held: Fillings) -> Floats:
    """dy/dt of a state whose bags hold what is ``held``."""
    now = instant(model, y, held)
    rate = np.zeros(len(y))
    rate[:3] = cross(now.up, now.omega)
    _accelerate(model, now, rate)
    if model.suit is not None and now.suit is not None:
        rate[model.suit_gas] = now.suit.toward / model.suit.lag
    if model.wing is not None and now.wing is not None:
        rate[model.wing_gas] = now.wing.toward / model.wing.lag
    return rate


def _accelerate(model: Model, now: Instant, rate: Floats) -> None:
    """Fill in the accelerations (and the rise) of ``rate``."""
    if not model.heaves:
        rate[model.spins] = _pitched(model, now) if model.axes.shape[1] == 1 else _turned(model, now)
        return
    up, omega = now.up, now.omega
    torque = cross(up, now.d) + cross(model.rotation @ omega, omega) - model.damping @ omega
    force = np.zeros(3)
    if model.strips is not None:
        resisting, force = drag(model.strips, omega, now.speed * up)
        torque += resisting
    coupled, carried = model.coupling @ up, model.translation @ up
    turning = model.coupling @ rate[:3]
    torque += cross(coupled * now.speed, omega) - turning * now.speed
    torque -= cross(up, (omega @ model.coupling + carried * now.speed) * now.speed)
    push = now.lift + up @ force - turning @ omega - 2.0 * (carried @ rate[:3]) * now.speed
    accelerations = np.linalg.solve(mass_matrix(model, up), np.append(model.axes.T @ torque, push))
    rate[model.spins] = accelerations[:-1]
    rate[model.mechanical - 2] = now.speed
    rate[model.mechanical - 1] = accelerations[-1]


def _pitched(model: Model, now: Instant) -> float:
    """Acceleration about the one axis: the gyroscopic torque stands across it, and drag goes with rate and square."""
    rate = float(model.along @ now.omega)
    square, linear = model.braking
    torque = float(model.along @ cross(now.up, now.d)) - (square * abs(rate) + linear) * rate
    return torque * float(model.nimbleness[0, 0])


def _turned(model: Model, now: Instant) -> Floats:
    """Accelerations (k,) about the axes with the held point at rest."""
    omega = now.omega
    torque = cross(now.up, now.d) + cross(model.rotation @ omega, omega) - model.damping @ omega
    if model.strips is not None:
        torque += turning_drag(model.strips, omega)
    return np.asarray(model.nimbleness @ (model.axes.T @ torque))


def mass_matrix(model: Model, up: Floats) -> Floats:
    """Inertia (k + 1, k + 1) of the spins and of the speed upward together."""
    k = model.axes.shape[1]
    mass = np.empty((k + 1, k + 1))
    mass[:k, :k] = model.axes.T @ model.rotation @ model.axes
    mass[:k, k] = mass[k, :k] = (model.coupling @ up) @ model.axes
    mass[k, k] = up @ model.translation @ up
    return mass


def energy(model: Model, y: Floats) -> float:
    """Kinetic and potential energy [J] of rig, water and gas, up to a constant.

    It never rises, unless the wing is kept neutral (the diver's inflator does work) or, with heave, at all filled.
    """
    now = instant(model, y)
    total = 0.5 * now.omega @ model.rotation @ now.omega + model.rigid @ now.up + model.sinking * now.height
    if model.heaves:
        velocity = now.speed * now.up
        total += now.omega @ model.coupling @ velocity + 0.5 * velocity @ model.translation @ velocity
    for bag, gas in ((model.suit, model.suit_gas), (model.wing, model.wing_gas)):
        if bag is not None:
            total += bag_energy(bag, y[gas], now.up, now.height)
    return float(total)


def cross(a: Floats, b: Floats) -> Floats:
    """a x b of two vectors (3,); numpy's own costs twenty times as much."""
    (ax, ay, az), (bx, by, bz) = a.tolist(), b.tolist()
    return np.array([ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx])
