"""Divers of each cause, drawn and played: how they hang in each sight, and what they do when they are tested.

``drawn_divers`` draws everything about many divers once; ``play`` gives them one cause. The same draws serve all
causes, so that what differs between causes is the cause alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, Final, Literal

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from meshes.mesh import Floats
from sim.answers.posture.drift import drifted, time_to_turn
from sim.answers.seen import causes as c
from sim.answers.seen.causes import CauseName
from sim.answers.seen.diver import WORKED, SeenDiver, evenly
from sim.answers.seen.levers import TO_ANKLES, TO_SHOULDERS
from sim.answers.seen.typed import Doing, Sight, TestName

Flags = NDArray[np.bool_]
Part = Literal["balance", "sight", "over-correction", "feet", "shoulders", "lead or gas", "rig high"]

# a cause's parts: gas at either end, half and half
PARTS: Final[dict[Part, tuple[CauseName, float]]] = {
    "balance": ("balance", 1.0),
    "sight": ("sight", 1.0),
    "over-correction": ("over-correction", 1.0),
    "feet": ("gas", 0.5),
    "shoulders": ("gas", 0.5),
    "lead or gas": ("lead or gas", 1.0),
    "rig high": ("rig high", 1.0),
}
OWN: Final = 20  # numbers drawn of a diver besides the file's unknowns


@dataclass(frozen=True, eq=False)
class Divers:
    """n divers before any cause: (n,) each, see ``causes`` for the widths.

    moment : (n, s) [N m] in each situation;  raised : of the rig, as drawn [m];  own : (n, OWN) even between 0 and 1
    when : (n, times) even, of each time that they are seen still
    """

    moment: Floats
    raised: Floats
    own: Floats
    when: Floats

    def between(self, column: int, span: tuple[float, float]) -> Floats:
        """Evenly between two values (n,)."""
        return span[0] + (span[1] - span[0]) * self.own[:, column]

    def normal(self, column: int, sd: float) -> Floats:
        """Gaussian about nil (n,)."""
        return np.asarray(sd * ndtri(np.clip(self.own[:, column], 1e-9, 1.0 - 1e-9)))


def drawn_divers(diver: SeenDiver, samples: int, times: int, seed: int) -> Divers:
    """``samples`` divers, each seen ``times`` times."""
    d = len(diver.unknown.variates)
    every = evenly(samples, d + OWN + 1 + times, seed)
    z, even = diver.unknowns(every[:, :d]), every[:, d:]
    which = np.minimum((WORKED * even[:, OWN]).astype(int), WORKED - 1)
    moment, raised = diver.moments.at(z, which)
    return Divers(moment, raised, even[:, :OWN], even[:, OWN + 1 :])


@dataclass(frozen=True, eq=False)
class Played:
    """n divers with one cause.

    moment : (n, s) flat [N m];  raised : of the rig [m];  missing : to see ahead, flat [rad];  lift : of the trunk
    for it [rad];  gas : too much of it [m^3];  able : (n,) whether the cause can be at work in them
    kept : what they looked like and what came of tests, once worked out
    """

    part: Part
    divers: Divers
    moment: Floats
    raised: Floats
    lift: Floats
    gas: Floats
    able: Flags
    kept: dict[object, Any] = field(default_factory=dict, repr=False)


def play(diver: SeenDiver, divers: Divers, part: Part) -> Played:
    """Give every diver one cause."""
    moment, levers = divers.moment.copy(), diver.levers
    n = len(moment)
    raised, gas, lift = divers.raised.copy(), np.zeros(n), np.zeros(n)
    able: Flags = np.ones(n, dtype=bool)
    if part in ("feet", "shoulders"):
        able[:] = diver.dry
        gas = divers.between(8, c.GAS_TOO_MANY)
        shut = np.where(np.array(diver.gaiters) & (part == "feet"), c.PAST_GAITERS, 1.0)
        moment += gas[:, None] * shut * (levers.feet if part == "feet" else levers.shoulders)
    elif part == "lead or gas":
        lead, moved, pressure = misstated(diver, divers)
        moment += (levers.lead_mass * lead + levers.lead_place * moved + levers.pressure * pressure)[:, None]
        able[:] = levers.full > 0.0 or levers.lead > 0.0
    elif part == "rig high":
        higher = divers.between(9, c.RAISED)
        able[:] = diver.rig
        moment += (higher * levers.raise_rig)[:, None]
        raised = raised + higher
    elif part == "over-correction":
        able = np.asarray((moment < c.LIGHT).any(axis=1))
    if part in ("sight", "rig high"):
        missing = _missing(diver, divers, raised)
        lift = np.where(missing > c.SHORT_OF_SIGHT, missing * divers.between(7, c.LIFTED), 0.0)
        if part == "sight":
            able = lift > 0.0
    return Played(part, divers, moment, raised, lift, gas, able)


def misstated(diver: SeenDiver, divers: Divers) -> tuple[Floats, Floats, Floats]:
    """Lead [kg], its place [m headward, as if all that is told were moved] and pressure [Pa] other than told, (n,).

    No lead or cylinder holds less than nothing.
    """
    levers = diver.levers
    lead = divers.normal(10, c.LEAD_SD)
    lead = np.where(lead < -levers.lead, np.abs(lead), lead)
    moved = divers.normal(11, c.LEAD_PLACE_SD) * (1.0 + lead / levers.lead if levers.lead > 0.0 else 0.0)
    pressure = divers.normal(12, c.PRESSURE_SD)
    beyond = (levers.full + pressure < 0.0) | (levers.full + pressure > c.FULL)
    pressure = np.where(beyond, -pressure, pressure)
    return lead, moved, pressure


def _missing(diver: SeenDiver, divers: Divers, raised: Floats) -> Floats:
    """By how much the eyes fall short of what shows who is there (n,) [rad]."""
    from sim.answers.fit.limits import EYES_UP_SD_DEG, SEES_AHEAD_DEG

    if diver.head is None:
        return np.zeros(len(raised))
    neck, eyes = divers.normal(5, c.NECK_SD), divers.normal(6, float(np.radians(EYES_UP_SD_DEG)))
    short = diver.head.missing(raised, neck, eyes)
    return np.asarray(np.maximum(short + np.radians(SEES_AHEAD_DEG), 0.0))


@dataclass(frozen=True, eq=False)
class View:
    """How n divers look: pitch (n,) [rad] and how high the fins are over the hips (n,) [m], NaN without fins."""

    pitch: Floats
    fins: Floats


def seen_as(
    diver: SeenDiver, played: Played, situation: int, doing: Doing, time: int, *, looking_down: bool = False
) -> View:
    """How the divers look in a situation, the ``time``-th time that they are seen."""
    key = ("seen", situation, doing, time if doing == "still" else None, looking_down)
    if key not in played.kept:
        played.kept[key] = _seen_as(diver, played, situation, doing, time, looking_down)
    found: View = played.kept[key]
    return found


def _seen_as(diver: SeenDiver, played: Played, situation: int, doing: Doing, time: int, looking_down: bool) -> View:
    d = played.divers
    flat = played.moment[:, situation]
    lift = np.zeros(len(flat)) if looking_down else played.lift
    wish = d.normal(0, c.FLAT_SD) + lift
    left = _left(diver, d, flat, wish)
    sag = np.clip(d.between(4, c.FEET_SAG) * left, *c.LEGS)
    presses = (flat < c.LIGHT) & (played.part == "over-correction")
    if doing == "finning":
        most = d.between(3, c.KICK_MOMENT)
        kicked = np.clip(-d.between(2, c.KICKED_AGAINST) * left, -most, most)
        pressed = np.minimum(d.between(13, c.OVERDONE) * np.abs(flat), d.between(14, c.PRESS_MOMENT))
        left = left + np.where(presses, pressed, kicked)
        sag = np.where(presses, d.between(15, c.PRESSED_LEGS), sag)
        after = d.between(18, c.GLIDE)
    else:
        after = c.STOPPED[0] + (c.STOPPED[1] - c.STOPPED[0]) * d.when[:, time]
    pitch = drifted(diver.turning, flat, left, wish, after)
    behind = d.own[:, 16] * np.clip(lift, 0.0, c.LEGS_STAY)
    return View(pitch, _fins_over_hips(diver, pitch + sag - behind))


def _left(diver: SeenDiver, d: Divers, flat: Floats, wish: Floats) -> Floats:
    """Moment (n,) [N m] that posture leaves over, held at ``wish`` [rad]."""
    stiffness = diver.posture.stiffness
    there = flat * np.cos(wish) - stiffness * np.sin(wish)
    used = d.between(1, c.POSTURE_USED)
    return np.asarray(there + np.clip(-there, used * diver.posture.all_down, used * diver.posture.all_up))


def _fins_over_hips(diver: SeenDiver, leaned: Floats) -> Floats:
    """Height (n,) [m] of the fins over the hips, the legs' line ``leaned`` [rad], plus is knees below the trunk."""
    if diver.fins is None:
        return np.full(len(leaned), np.nan)
    x, z = diver.fins
    return np.asarray(x * np.sin(leaned) + z * np.cos(leaned))


def tested(diver: SeenDiver, played: Played, test: TestName, sight: Sight, time: int) -> Floats:
    """What comes of a test in the first situation (n,).

    Signed time to 30 degrees [s] for a test of drifting (after vented gas or a moved kilogram they trim anew, then
    freeze), infinite for none; pitch [rad] of who fins on or looks down; 1 where what is checked is as told, else 0.
    """
    if test == "count":
        return np.full(len(played.moment), 0.0 if played.part == "lead or gas" else 1.0)
    if test == "rig down":
        return np.where(played.raised > c.COMES_DOWN, 0.0, 1.0)
    if test == "feel":
        there = diver.levers.legs_gas * np.exp(played.divers.normal(19, c.FELT_SD))
        shut = c.PAST_GAITERS if diver.gaiters[0] else 1.0
        return np.where(there + (shut * played.gas if played.part == "feet" else 0.0) > c.FELT_FULL, 0.0, 1.0)
    if test == "fin on":
        return seen_as(diver, played, 0, "finning", time).pitch
    if test == "look down":
        return seen_as(diver, played, 0, sight.doing, time, looking_down=True).pitch
    key = (test, kilogram_goes(sight) if test == "kilogram" else None)
    if key not in played.kept:
        played.kept[key] = _drift(diver, played, test, kilogram_goes(sight))
    found: Floats = played.kept[key]
    return found


def _drift(diver: SeenDiver, played: Played, test: TestName, kilogram: str) -> Floats:
    """Signed time (n,) [s] to 30 degrees."""
    d, levers, flat = played.divers, diver.levers, played.moment[:, 0]
    wish = d.normal(0, c.FLAT_SD)
    if test == "legs straight":
        shut = c.PAST_GAITERS if diver.gaiters[0] else 1.0
        gas = played.gas * shut * (levers.feet_straight - levers.feet) if played.part == "feet" else 0.0
        there = flat + levers.straight + gas
        left = there * np.cos(wish) - diver.posture.stiffness * np.sin(wish)
        return time_to_turn(diver.turning, there, left, wish)
    if test == "gas out":
        flat = flat + _gas_let_out(diver, played) + levers.vented
    elif test == "kilogram":
        flat = flat + levers.kilogram[kilogram]
    start = wish + played.lift
    return time_to_turn(diver.turning, flat, _left(diver, d, flat, start), start)


def _gas_let_out(diver: SeenDiver, played: Played) -> Floats | float:
    if played.part not in ("feet", "shoulders"):
        return 0.0
    shut = c.PAST_GAITERS if diver.gaiters[0] and played.part == "feet" else 1.0
    lever = diver.levers.feet if played.part == "feet" else diver.levers.shoulders
    return -played.divers.between(17, c.VENTED) * played.gas * shut * lever


def kilogram_goes(sight: Sight) -> str:
    """Where a kilogram is moved to be tested: against what was seen."""
    return TO_SHOULDERS if sight.attitude > 0.0 else TO_ANKLES


def possible(diver: SeenDiver, doing: Doing) -> Sequence[TestName]:
    """Tests that this diver, seen so, can do, the easiest first."""
    names: list[TestName] = ["freeze", "look down", "legs straight"]
    names += ["fin on"] if doing == "still" else []
    names += ["feel"] if diver.dry else []
    names += ["count"]
    names += ["rig down"] if diver.rig else []
    names += ["gas out"] if diver.dry else []
    return (*names, "kilogram")


def play_all(diver: SeenDiver, divers: Divers) -> dict[Part, Played]:
    """The divers with each part of a cause."""
    return {part: play(diver, divers, part) for part in PARTS}
