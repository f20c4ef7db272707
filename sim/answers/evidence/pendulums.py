"""Pendulums whose inertia and drag are mostly a plate's: swing and fall by published factors and closed form."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.mesh import Floats
from meshes.primitives import box
from meshes.solid import Solid, moved, solid_of
from sim.answers.evidence.check import Check, Compared, near, table
from sim.rig import Part, Rig, Water, rig_of
from sim.settling.course import Limits, follow
from sim.settling.motion import Model, model_of
from sim.settling.settle import starting_state
from sim.statics.field import soft_rig
from sim.statics.sphere import direction

THEME: Final = "Motion"
WATER: Final = Water(1025.0, 9.81, 2e5)
TURN: Final = float(np.radians(30.0))
LEAN: Final = 0.02  # rad, from which it swings: the period grows by a^2/16 = 3e-5 at most
FINE: Final = 1e-8  # relative tolerance of the solver
PLATE_DRAG: Final = 1.17  # square plate, Hoerner 1965
BALL: Final = (60.0, 5.0)  # mass [kg] and inertia [kg m^2] of the ball at the turning point
ARM: Final = 1.0  # m from the turning point to the plate's middle
THICK: Final = 0.004  # m
ABOVE: Final = 0.05  # m, CB over CM of the ball that swings
# CB of the ball that falls, headward and below its CM: over 30 degrees its moment stays within 2 % of the mean
BELOW: Final = float((1.0 - np.cos(TURN)) / np.sin(TURN))
FALLS: Final = ((5.0, 0), (20.0, 0), (2.0, 1), (5.0, 1), (20.0, 1), (5.0, 2), (20.0, 2))  # moment [N m], plates
# length, breadth [m] and which side points along the arm
PLATES: Final = ((0.35, 0.35, "length"), (0.5, 0.25, "length"), (0.5, 0.25, "breadth"), (0.6, 0.2, "length"))


def checks() -> tuple[Check, ...]:
    return (
        Check(
            THEME, "swing of a pendulum with a plate at its end", "DNV-RP-N103, table A-2 (quoted by others)",
            "published", "s", 2, _swings,
            doubt="published is the water that a plate moves; the period follows from it in closed form",
        ),
        Check(
            THEME, "time to turn 30 degrees, inertia and drag known",
            "ln cosh law by hand; DNV-RP-N103, Hoerner 1965", "computed elsewhere", "s", 2, _falls,
        ),
    )  # fmt: skip


def pendulum(cb: Floats, plates: int = 1, plate: tuple[float, float, str] = PLATES[0]) -> Rig:
    """A neutral ball held at its CM with its CB at ``cb`` (3,) [m], and neutral plates footward of it."""
    mass, inertia = BALL
    ball = Solid(mass, np.zeros(3), inertia * np.eye(3), mass / WATER.density, cb)
    length, breadth, radial = plate
    along, across = (length, breadth) if radial == "length" else (breadth, length)
    sheet = solid_of(box([along, across, THICK]), WATER.density)
    at = [[-ARM, y, 0.0] for y in np.arange(plates) * 1.0]
    parts = [Part("ball", "body", ball), *(Part("plate", "other", moved(sheet, shift=p)) for p in at)]
    return rig_of(parts, WATER, held=np.zeros(3))


def inertia_by_hand(plates: int, plate: tuple[float, float, str]) -> float:
    """Ball, plates and the water that they move [kg m^2] about the ball's CM, the ball's own water (half of its
    displacement, at its CB) left out."""
    length, breadth, radial = plate
    along = length if radial == "length" else breadth
    about_point = ARM**2 + along**2 / 12.0
    mass = WATER.density * length * breadth * THICK
    return BALL[1] + plates * (mass + plate_water(length, breadth)) * about_point


def plate_water(length: float, breadth: float) -> float:
    """Water [kg] that a rectangular plate moves broadside, by the published factor."""
    rows = table("rectangular_plates")
    ratios, factors = ([float(r[k]) for r in rows] for k in ("length_over_breadth[-]", "added_mass[-]"))
    factor = float(np.interp(length / breadth, ratios, factors))
    return factor * WATER.density * np.pi / 4.0 * breadth**2 * length


def plate_drag(breadth: float, inner: float, outer: float) -> float:
    """Torque over omega^2 [N m s^2] on a plate that reaches from ``inner`` to ``outer`` [m] of the turning point."""
    return 0.5 * WATER.density * PLATE_DRAG * breadth * (outer * abs(outer) ** 3 - inner * abs(inner) ** 3) / 4.0


def time_to_turn(angle: float, moment: float, inertia: float, resistance: float) -> float:
    """Time [s] in which a constant moment [N m] turns an inertia [kg m^2] by ``angle`` [rad] from rest, against a
    drag of ``resistance`` omega^2 [N m s^2]: theta = I/c ln cosh(sqrt(M c) t / I)."""
    if resistance == 0.0:
        return float(np.sqrt(2.0 * angle * inertia / moment))
    x = resistance * angle / inertia
    # arcosh e^x, which keeps its digits
    return float((x + np.log1p(np.sqrt(-np.expm1(-2.0 * x)))) * inertia / np.sqrt(moment * resistance))


def first_pass(model: Model, rig: Rig, pitch: float, angle: float, longest: float) -> float:
    """Time [s] at which a model let go at ``pitch`` [rad] has turned by ``angle`` [rad]; infinite if it does not."""
    start = starting_state(model, soft_rig(rig), direction(pitch, 0.0))
    course = follow(model, start, Limits(time=longest, tolerance=FINE, frame=0.01))
    turned = np.abs(np.arctan2(course.states[:, 0], course.states[:, 2]) - pitch)
    beyond = np.flatnonzero(turned >= angle)
    if not len(beyond):
        return float("inf")
    i = int(beyond[0])
    return float(np.interp(angle, turned[i - 1 : i + 1], course.time[i - 1 : i + 1]))


def _swings() -> list[Compared]:
    """Period: four times the time from a small lean to upright. Without drag."""
    found = []
    for plate in PLATES:
        rig = pendulum(np.array([0.0, 0.0, ABOVE]), plate=plate)
        model = model_of(rig, roll_held=True, heaves=False, wing_volume=None, with_drag=False)
        half_of_ball = 0.5 * BALL[0] * ABOVE**2
        inertia = inertia_by_hand(1, plate) + half_of_ball
        theirs = 2.0 * np.pi * np.sqrt(inertia / (BALL[0] * WATER.gravity * ABOVE))
        ours = 4.0 * first_pass(model, rig, LEAN, LEAN, theirs)
        name = f"{plate[0] / plate[1]:g} to 1, {plate[2]} along the arm"
        # 6 % of the plate's water, nearly all of the inertia, is the disc for the rectangle
        found.append(near(ours, theirs, 0.03 * theirs, name))
    return found


def _falls() -> list[Compared]:
    found = []
    for moment, plates in FALLS:
        headward = moment / (BALL[0] * WATER.gravity)
        rig = pendulum(np.array([headward, 0.0, -BELOW * headward]), plates)
        model = model_of(rig, roll_held=True, heaves=False, wing_volume=None)
        mean = moment * (np.sin(TURN) + BELOW * (1.0 - np.cos(TURN))) / TURN
        length, breadth, _ = PLATES[0]
        resistance = plates * plate_drag(breadth, ARM - 0.5 * length, ARM + 0.5 * length)
        theirs = time_to_turn(TURN, mean, inertia_by_hand(plates, PLATES[0]), resistance)
        ours = first_pass(model, rig, 0.0, TURN, 10.0 * theirs)
        # as with the swings
        found.append(near(ours, theirs, 0.03 * theirs, f"{moment:g} N m, plates {plates}"))
    return found
