"""Rigid bodies and their gas set moving: against closed forms, another engine, and what must be conserved."""

from __future__ import annotations

from functools import cache
from typing import Final

import numpy as np

from meshes.mesh import Floats
from meshes.solid import Solid
from sim.answers.evidence.check import Check, Compared, near, table
from sim.fill_laws import garment_law, logistic_law
from sim.rig import Part, Rig, SuitPocket, Water, WingPocket, rig_of
from sim.settling.course import Course, Limits, follow
from sim.settling.gas_flow import filling
from sim.settling.motion import Model, energy, model_of
from sim.settling.settle import settle, starting_state
from sim.statics.field import field, soft_rig
from sim.statics.sphere import direction

THEME: Final = "Motion"
WATER: Final = Water(1025.0, 9.81, 2.5e5)
FINE: Final = 1e-9  # relative tolerance of the solver; settling itself uses 1e-5
SPIN: Final = (2.0, 0.3, 0.0)  # rad/s, of the free top
TOP: Final = np.diag([4.0, 9.0, 9.0])  # kg m^2


def checks() -> tuple[Check, ...]:
    euler = "Euler's equations in closed form"
    engine = "MuJoCo 4.0.0, RK4, steps of 0.5 ms"
    law = "conservation laws"
    return (
        Check(
            THEME, "torque-free precession of a top, error in 20 s", euler, "computed elsewhere", "mrad/s", 4,
            _precession,
        ),
        Check(
            THEME, "path of a rig without gas, error in 20 s", engine, "computed elsewhere", "mrad", 3, _path,
            doubt="water set moving and drag left out on both sides",
        ),
        Check(
            THEME, "the same rig come to rest, roll free: error", "CB over CM, closed form", "computed elsewhere",
            "degrees", 2, _rest,
        ),
        Check(THEME, "energy kept without drag or gas, 20 s", law, "computed elsewhere", "mJ", 3, _energy_kept),
        Check(THEME, "energy never rises with gas and drag", law, "computed elsewhere", "mJ", 3, _energy_falls),
        Check(THEME, "suit gas p V on the way to rest", law, "computed elsewhere", "J", 1, _suit_gas),
        Check(THEME, "gas of a wing left alone on the way", law, "computed elsewhere", "ml", 2, _wing_gas),
    )  # fmt: skip


def swinging_rig() -> Rig:
    """A neutral triaxial ellipsoid of 120 kg whose CB lies 20 mm above its CM, 10 mm headward and 4 mm left of it."""
    semi = np.array([0.7, 0.2, 0.15])
    inertia = 120.0 / 5.0 * np.diag((semi**2).sum() - semi**2)
    cm = np.array([0.1, 0.0, 0.05])
    solid = Solid(120.0, cm, inertia, 120.0 / WATER.density, cm + np.array([0.010, 0.004, 0.020]))
    return rig_of([Part("whole", "body", solid)], WATER)


def swinging_model() -> tuple[Model, Floats]:
    """The swinging rig's equations, no water set moving, no drag; its start: pitch 0.5, roll 0.8 rad, still."""
    rig = swinging_rig()
    model = model_of(rig, roll_held=False, heaves=False, wing_volume=None, added_water=False, with_drag=False)
    return model, starting_state(model, soft_rig(rig), direction(0.5, 0.8))


@cache
def _swing() -> Course:
    model, start = swinging_model()
    return follow(model, start, Limits(time=20.0, tolerance=FINE, frame=0.5))


def _precession() -> list[Compared]:
    solid = Solid(100.0, np.zeros(3), TOP, 100.0 / WATER.density, np.zeros(3))
    rig = rig_of([Part("top", "body", solid)], WATER)
    model = model_of(rig, roll_held=False, heaves=False, wing_volume=None, added_water=False, with_drag=False)
    course = follow(model, np.concatenate([direction(0.2, 0.1), SPIN]), Limits(time=20.0, tolerance=FINE, frame=1.0))
    rate = (TOP[0, 0] - TOP[1, 1]) / TOP[1, 1] * SPIN[0]
    t = course.time
    theirs = np.stack([np.full(len(t), SPIN[0]), SPIN[1] * np.cos(rate * t), SPIN[1] * np.sin(rate * t)], axis=1)
    # the solver's 1e-9 a step, over some thousand steps
    return [near(1e3 * float(np.abs(course.states[:, 3:6] - theirs).max()), 0.0, 1e-3)]


def _path() -> list[Compared]:
    course, errors = _swing(), []
    for row in table("swing_mujoco"):
        ours = course.states[int(np.argmin(np.abs(course.time - float(row["time[s]"])))), :3]
        errors.append(float(np.linalg.norm(ours - [float(row[f"up_{k}[-]"]) for k in "xyz"])))
    # the engine's way changes by less when its step is halved (see the test)
    return [near(1e3 * max(errors), 0.0, 1e-3, f"at {len(errors)} times")]


def _rest() -> list[Compared]:
    rig = swinging_rig()
    settled = settle(rig, roll="free", pitch_start=0.5, roll_start=0.8)
    over = rig.whole.cb - rig.whole.cm
    there = over / np.linalg.norm(over)
    apart = np.degrees(np.arccos(min(1.0, float(settled.up @ there))))
    # 0.05 degree: settling ends within 0.01 degree of rest by its own reckoning
    return [near(float(apart), 0.0, 0.05)]


def _energy_kept() -> list[Compared]:
    model, _ = swinging_model()
    energies = np.array([energy(model, y) for y in _swing().states])
    # of a swing of some 10 J
    return [near(1e3 * float(np.abs(energies - energies[0]).max()), 0.0, 0.01)]


def _gas_rig() -> Rig:
    """The swinging rig with a suit of twelve cells and a wing of eight, held neutral by the wing when flat."""
    body = swinging_rig().parts[0]
    at = np.array([[x, y, z] for x in (-0.7, -0.1, 0.4) for y in (-0.15, 0.15) for z in (-0.1, 0.1)])
    loft = np.full(12, 0.6e-3)
    suit = SuitPocket(at, garment_law(loft, 0.4 * loft, 800.0), 7e-3, 3.0, 2.0)
    back = np.array([[x, y, 0.2] for x in (-0.1, 0.1, 0.3, 0.4) for y in (-0.2, 0.2)])
    wing = WingPocket(back, logistic_law(np.zeros(8), np.full(8, 2e-3), 200.0), None, 3.0, 0.5)
    lead = Solid(15.0, np.array([0.0, 0.0, -0.1]), np.diag([0.02] * 3), 1.35e-3, np.array([0.0, 0.0, -0.1]))
    return rig_of([body, Part("lead", "lead", lead)], WATER, suit=suit, wing=wing)


@cache
def _gas_run() -> tuple[Model, Course, float]:
    """Model and course from 20 degrees head-up, roll free, wing left alone; and the wing's gas at the start [m^3]."""
    rig = _gas_rig()
    soft, up = soft_rig(rig), direction(0.35, 0.05)
    wing = float(field(soft, up[None]).wing_gas[0])
    model = model_of(rig, roll_held=False, heaves=False, wing_volume=wing)
    return model, follow(model, starting_state(model, soft, up), Limits(time=60.0, tolerance=1e-8)), wing


def _energy_falls() -> list[Compared]:
    model, course, _ = _gas_run()
    energies = np.array([energy(model, y) for y in course.states])
    rise = 1e3 * max(0.0, float(np.diff(energies).max()))
    # some 2 J are lost on the way
    return [near(rise, 0.0, 0.01, "largest rise of a step")]


def _suit_gas() -> list[Compared]:
    """p V of the suit's gas at rest, the common pressure by the cells' balance: what was put in at the start."""
    model, course, _ = _gas_run()
    rig = _gas_rig()
    if model.suit is None or rig.suit is None:
        raise ValueError("the rig of this check has lost its suit")
    put_in = float(rig.suit.gas or 0.0) * WATER.pressure
    y = course.states[-1]
    gas = y[model.suit_gas]
    inside = WATER.pressure + model.suit.basis @ (gas - np.append(0.0, y[:3]))
    volume = filling(model.suit, gas).total
    # 0.1 %: it is called at rest while pressures still differ by some pascals
    return [near(float(inside.mean()) * volume, put_in, 1e-3 * put_in)]


def _wing_gas() -> list[Compared]:
    model, course, wing = _gas_run()
    if model.wing is None:
        raise ValueError("the rig of this check has lost its wing")
    held = np.array([filling(model.wing, y[model.wing_gas]).total for y in course.states])
    worst = float(held[int(np.argmax(np.abs(held - wing)))])
    return [near(1e6 * worst, 1e6 * wing, 0.1)]
