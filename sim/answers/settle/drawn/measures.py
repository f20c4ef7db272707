"""What may be laid over the diver besides what turns them: fit of plate and waist strap, reach, and sight."""

from __future__ import annotations

from dataclasses import dataclass
from math import degrees
from typing import Final

import numpy as np

from meshes.mesh import Floats
from meshes.solid import MIRROR
from sim.answers.fit import limits
from sim.answers.fit.demands.looks_ahead import LOOKS_AHEAD
from sim.answers.fit.demands.plate_bottom import PLATE_BOTTOM
from sim.answers.fit.demands.plate_top import PLATE_TOP
from sim.answers.fit.demands.plate_width import PLATE_WIDTH
from sim.answers.fit.demands.waist_strap import WAIST_STRAP
from sim.answers.fit.found import Found
from sim.answers.fit.look_ahead import LookAhead
from sim.answers.fit.reach import HandReach
from sim.answers.settle.drawn.words import ahead_words, hand_words, plate_words, strap_words
from sim.assembly.assembled import Assembled
from sim.assembly.placement import point_at
from sim.drawing.sheet_options import MEASURED, Layer, ViewName

SIGHT: Final = 0.55  # m of the line of sight that is drawn
OUTSIDE: Final = 0.035  # m off the plate at which its length is drawn
BEYOND: Final = 0.06  # m by which the strap's line sticks out


@dataclass(frozen=True, eq=False)
class Measure:
    """One thing measured on the diver.

    lines : each (n, 3) through body points [m], the first one drawn bold;  area : (n, 3) corners of what is tinted
    at : (3,) what its words name;  passes : None where nothing is asked of it
    view : from which it is seen best: on a sheet of all views it stands in that one alone
    """

    lines: tuple[Floats, ...]
    at: Floats
    words: tuple[str, ...]
    passes: bool | None
    view: ViewName
    area: Floats | None = None


def measures_of(assembled: Assembled, layers: frozenset[Layer]) -> tuple[Measure, ...]:
    """Of the layers chosen; none of a diver without a plate on the back, who has nothing to be measured."""
    if assembled.worn is None or not layers & MEASURED:
        return ()
    found = Found(assembled.worn, assembled.rig)
    measures: list[Measure] = []
    if "fit" in layers:
        measures += [_plate(found), _strap(found)]
    if "reach" in layers:
        measures += [_hand(h) for h in found.reach if h.valve != "isolator"]
    if "sight" in layers:
        measures.append(_sight(found.look_ahead, LOOKS_AHEAD.margin(found) >= 0.0))
    return tuple(measures)


def _plate(found: Found) -> Measure:
    """The plate's length along its back face, from edge to edge, and its outline, seen through all that hides it."""
    worn, back = found.worn, found.on_back
    ends = point_at(worn.seat, np.stack([worn.plate.bottom, worn.plate.top]))
    outward = worn.seat.rotation @ np.array([0.0, 0.0, 1.0])
    line = ends + OUTSIDE * outward
    ticks = [np.stack([end - 0.4 * OUTSIDE * outward, end + 0.4 * OUTSIDE * outward]) for end in line]
    words = plate_words(float(np.ptp(worn.plate.outline[:, 0])), back.c7 - back.top, PLATE_WIDTH.margin(found))
    passes = all(demand.margin(found) >= 0.0 for demand in (PLATE_TOP, PLATE_BOTTOM, PLATE_WIDTH))
    edge = worn.plate.outline
    outline = point_at(worn.seat, np.column_stack([edge, np.zeros(len(edge))])[[*range(len(edge)), 0]])
    return Measure((line, *ticks, outline), line.mean(axis=0), words, passes, "three-quarter")


def _strap(found: Found) -> Measure:
    """The waist strap's height, from the back to the belly."""
    worn, back = found.worn, found.on_back
    trunk = worn.body.person.shape.trunk
    angles = np.linspace(0.0, np.pi, 37)
    left = trunk.at(np.full(37, back.waist_strap), angles)
    belt = np.concatenate([left, left[::-1] @ MIRROR])
    middle = np.array([back.waist_strap, 0.0, float(belt[:, 2].mean())])
    out = (belt - middle) / np.linalg.norm(belt - middle, axis=1)[:, None]
    belt = belt + worn.clothing * out
    low = belt[belt[:, 2].argmin()]
    passes = WAIST_STRAP.margin(found) >= 0.0
    tail = np.stack([low, low - [0.0, 0.0, BEYOND]])
    return Measure(
        (belt, tail), tail[1], strap_words(back.waist_strap - back.waist, back.place), passes, "three-quarter"
    )


def _hand(hand: HandReach) -> Measure:
    """The arm where it reaches for its knob, and what it lacks."""
    p = hand.posture
    chain = np.stack([p.shoulder, p.elbow, p.wrist, p.grip])
    lacking = np.stack([p.grip, hand.at])
    passes = bool(hand.margin >= limits.EASY_REACH)
    return Measure((chain, lacking), hand.at, hand_words(hand.hand, hand.margin), passes, "top")


def _sight(look: LookAhead, passes: bool) -> Measure:
    """Straight ahead, the highest that the eyes look at, and what is between."""
    level = look.eyes + SIGHT * np.array([1.0, 0.0, 0.0])
    highest = look.eyes + SIGHT * look.sight
    between = np.linspace(0.0, look.ahead, 24)
    arc = look.eyes + SIGHT * np.stack([np.cos(between), 0.0 * between, np.sin(between)], axis=1)
    lines = (np.stack([look.eyes, highest]), np.stack([look.eyes, level]))
    words, area = ahead_words(degrees(look.ahead)), np.concatenate([look.eyes[None], arc])
    return Measure(lines, highest, words, passes, "three-quarter", area)
