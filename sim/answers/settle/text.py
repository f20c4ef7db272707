"""What an instructor reads of how the diver comes to rest, as plain text, 100 columns wide."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from sim.answers.settle.afloat.text import surface_lines
from sim.answers.settle.answer import ComesToRest, HeldFlat, SettleAnswer
from sim.answers.settle.uncertain_text import uncertain_lines
from sim.telling.common_lines import diver_lines, ending_lines, moment_lines
from sim.telling.drawn_plate import drawn_plate_lines, notes_not_told
from sim.telling.lead_words import like_lead
from sim.telling.words import attitude_words, heavy_or_light, moment_words, pitch_words, rows, wrapped

SMALL_STIFFNESS: Final = 0.05  # N m/rad, below the shown digits


def settle_text(answer: SettleAnswer, held: str = "") -> str:
    """A drawn plate and the trimming moment first, the caution last.

    held : what that moment asks of the diver's posture, as a sentence
    """
    lines = [
        *drawn_plate_lines(answer.drawn_plate),
        *moment_lines(answer.flat.pitch_moment),
        *wrapped(held),
        *diver_lines(answer.title),
        *rows("How the diver comes to rest", _rest_rows(answer)),
        *rows(_freeze_heading(answer.settled), _freeze_rows(answer.settled)),
        *rows("How stable, when flat", _stiffness_rows(answer.flat)),
        *rows("Weight and gas, when flat", _weight_rows(answer)),
        *rows("If the suit were otherwise", _sensitivity_rows(answer)),
        *surface_lines(answer.surface),
        *uncertain_lines(answer.uncertain),
        *ending_lines(notes_not_told(answer.notes, answer.drawn_plate), answer.estimated, answer.caution),
    ]
    return "\n".join(lines)


def _rest_rows(answer: SettleAnswer) -> Iterator[tuple[str, str]]:
    for held in answer.held:
        stays = "" if held.stable else " (would not stay there)"
        yield "kept from rolling", f"{pitch_words(math.degrees(held.pitch))}{stays}"
    if answer.indifferent:
        yield "kept from rolling", "at any pitch: nothing turns the diver"
        yield "free to roll", "in any attitude"
        return
    if not answer.held:
        yield "kept from rolling", "no rest between standing upright and standing on the head"
    stable = [e for e in answer.rest if e.kind == "stable"]
    for rest in stable:
        yield "free to roll", _attitude(rest.pitch, rest.roll)
    if not stable:
        yield "free to roll", "no attitude of rest stands out"
    asked, free = answer.settled, answer.settled_roll_free
    if asked is not None:
        yield "after stopping flat", settled_words(asked)
    if free is not None and (asked is None or free.roll_rule != asked.roll_rule):
        yield "after stopping flat", settled_words(free)


def _attitude(pitch: float, roll: float) -> str:
    return attitude_words(math.degrees(pitch), math.degrees(roll))


def settled_words(settled: ComesToRest) -> str:
    """How the motion from flat ends, and when."""
    how = "kept from rolling" if settled.roll_rule == "held" else "free to roll"
    where = _attitude(settled.pitch, settled.roll)
    after = f"{'at least ' if settled.time_is_least else ''}{settled.time:.0f} s"
    if settled.reached:
        return f"{how}: at rest after {after}, {where}"
    if settled.outcome == "past the vertical":
        way = "head-up" if settled.pitch > 0 else "head-down"
        vertical = "upright" if way == "head-up" else "standing on the head"
        return f"{how}: tips {way}, past {vertical}, onto the back; after {after} {where}"
    return f"{how}: still moving after {settled.time:.0f} s, {where}"


def _freeze_heading(settled: ComesToRest | None) -> str:
    rolling = settled is not None and settled.roll_rule == "free"
    return f"Freeze test: flat, then motionless ({'free to roll' if rolling else 'kept from rolling'})"


def _freeze_rows(settled: ComesToRest | None) -> Iterator[tuple[str, str]]:
    for drift in () if settled is None else settled.freeze_test:
        yield f"after {drift.time:.0f} s", _attitude(drift.pitch, drift.roll)


def _stiffness_rows(flat: HeldFlat) -> Iterator[tuple[str, str]]:
    for axis, stiffness, taken in (
        ("pitch", flat.pitch_stiffness, flat.gas_takes_from_pitch_stiffness),
        ("roll", flat.roll_stiffness, flat.gas_takes_from_roll_stiffness),
    ):
        turn = abs(stiffness) * math.radians(10.0)
        if abs(stiffness) < SMALL_STIFFNESS:
            meaning = "neither: turned by 10 degrees, the diver stays so"
        elif stiffness > 0:
            meaning = f"stable: turned by 10 degrees, {turn:.1f} N m{like_lead(turn)} turn back"
        else:
            meaning = f"unstable: turned by 10 degrees, {turn:.1f} N m{like_lead(turn)} turn further"
        gas = f" (moving gas takes {taken:.1f} N m/rad)" if taken > SMALL_STIFFNESS else ""
        yield axis, f"{stiffness:+.1f} N m/rad, {meaning}{gas}"


def _weight_rows(answer: SettleAnswer) -> Iterator[tuple[str, str]]:
    whole, water = answer.whole, answer.water
    yield "mass", f"{whole.mass:.1f} kg with all gear and gas"
    yield "water displaced", f"{1e3 * whole.volume:.1f} l of {water.density:.0f} kg/m^3"
    yield "net buoyancy", heavy_or_light(whole.net_buoyancy)
    yield "gas in the wing", f"{1e3 * whole.wing_gas:.1f} l"
    yield "gas in the suit", f"{1e3 * whole.suit_gas:.1f} l{_suit_words(answer)}"
    yield "pressure", f"{water.pressure / 1e5:.2f} bar absolute"


def _suit_words(answer: SettleAnswer) -> str:
    """What the suit's gas comes from, and what it leaves of the squeeze on the back, as a depth of water."""
    suit = answer.suit
    if suit is None:
        return ""
    if suit.back_squeeze is None:
        return f", {suit.gas_from}"
    squeeze = 100.0 * suit.back_squeeze / (answer.water.density * answer.water.gravity)
    if abs(squeeze) < 0.5:
        back = "not squeezed"
    else:
        back = (
            f"squeezed as by {squeeze:.0f} cm of water"
            if squeeze > 0.0
            else f"lifted as by {-squeeze:.0f} cm of water"
        )
    return f", {suit.gas_from}; the back is {back}"


def _sensitivity_rows(answer: SettleAnswer) -> Iterator[tuple[str, str]]:
    for case in answer.sensitivity:
        moment = case.pitch_moment
        yield case.change, f"{moment_words(moment)}{like_lead(moment)}; pitch {case.pitch_stiffness:+.1f} N m/rad"
