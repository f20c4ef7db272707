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
from sim.telling.language import quantity, say, told
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
        *rows(say("How the diver comes to rest"), _rest_rows(answer)),
        *rows(_freeze_heading(answer.settled), _freeze_rows(answer.settled)),
        *rows(say("How stable, when flat"), _stiffness_rows(answer.flat)),
        *rows(say("Weight and gas, when flat"), _weight_rows(answer)),
        *rows(say("If the suit were otherwise"), _sensitivity_rows(answer)),
        *surface_lines(answer.surface),
        *uncertain_lines(answer.uncertain),
        *ending_lines(notes_not_told(answer.notes, answer.drawn_plate), answer.estimated, answer.caution),
    ]
    return "\n".join(lines)


def _rest_rows(answer: SettleAnswer) -> Iterator[tuple[str, str]]:
    for held in answer.held:
        stays = "" if held.stable else say(" (would not stay there)")
        yield say("kept from rolling"), f"{pitch_words(math.degrees(held.pitch))}{stays}"
    if answer.indifferent:
        yield say("kept from rolling"), say("at any pitch: nothing turns the diver")
        yield say("free to roll"), say("in any attitude")
        return
    if not answer.held:
        yield say("kept from rolling"), say("no rest between standing upright and standing on the head")
    stable = [e for e in answer.rest if e.kind == "stable"]
    for rest in stable:
        yield say("free to roll"), _attitude(rest.pitch, rest.roll)
    if not stable:
        yield say("free to roll"), say("no attitude of rest stands out")
    asked, free = answer.settled, answer.settled_roll_free
    if asked is not None:
        yield say("after stopping flat"), settled_words(asked)
    if free is not None and (asked is None or free.roll_rule != asked.roll_rule):
        yield say("after stopping flat"), settled_words(free)


def _attitude(pitch: float, roll: float) -> str:
    return attitude_words(math.degrees(pitch), math.degrees(roll))


def settled_words(settled: ComesToRest) -> str:
    """How the motion from flat ends, and when."""
    how = say("kept from rolling") if settled.roll_rule == "held" else say("free to roll")
    where = _attitude(settled.pitch, settled.roll)
    after = (
        say("at least {time:.0f} s", time=settled.time)
        if settled.time_is_least
        else say("{time:.0f} s", time=settled.time)
    )
    if settled.reached:
        return say("{how}: at rest after {after}, {where}", how=how, after=after, where=where)
    if settled.outcome == "past the vertical":
        if settled.pitch > 0:
            return say(
                "{how}: tips head-up, past upright, onto the back; after {after} {where}",
                how=how,
                after=after,
                where=where,
            )
        return say(
            "{how}: tips head-down, past standing on the head, onto the back; after {after} {where}",
            how=how,
            after=after,
            where=where,
        )
    return say("{how}: still moving after {time:.0f} s, {where}", how=how, time=settled.time, where=where)


def _freeze_heading(settled: ComesToRest | None) -> str:
    rolling = settled is not None and settled.roll_rule == "free"
    if rolling:
        return say("Freeze test: flat, then motionless (free to roll)")
    return say("Freeze test: flat, then motionless (kept from rolling)")


def _freeze_rows(settled: ComesToRest | None) -> Iterator[tuple[str, str]]:
    for drift in () if settled is None else settled.freeze_test:
        yield say("after {time:.0f} s", time=drift.time), _attitude(drift.pitch, drift.roll)


def _stiffness_rows(flat: HeldFlat) -> Iterator[tuple[str, str]]:
    for axis, stiffness, taken in (
        (say("pitch"), flat.pitch_stiffness, flat.gas_takes_from_pitch_stiffness),
        (say("roll"), flat.roll_stiffness, flat.gas_takes_from_roll_stiffness),
    ):
        turn = abs(stiffness) * math.radians(10.0)
        if abs(stiffness) < SMALL_STIFFNESS:
            meaning = say("neither: turned by 10 degrees, the diver stays so")
        elif stiffness > 0:
            meaning = say(
                "stable: turned by 10 degrees, {turn}{like_lead} turn back",
                turn=quantity(turn, "N m", 1),
                like_lead=like_lead(turn),
            )
        else:
            meaning = say(
                "unstable: turned by 10 degrees, {turn}{like_lead} turn further",
                turn=quantity(turn, "N m", 1),
                like_lead=like_lead(turn),
            )
        gas = (
            say(" (moving gas takes {taken})", taken=quantity(taken, "N m/rad", 1)) if taken > SMALL_STIFFNESS else ""
        )
        yield axis, f"{quantity(stiffness, 'N m/rad', 1, sign=True)}, {meaning}{gas}"


def _weight_rows(answer: SettleAnswer) -> Iterator[tuple[str, str]]:
    whole, water = answer.whole, answer.water
    yield say("mass"), say("{mass} with all gear and gas", mass=quantity(whole.mass, "kg", 1))
    yield (
        say("water displaced"),
        say(
            "{volume} of {density}",
            volume=quantity(1e3 * whole.volume, "l", 1),
            density=quantity(water.density, "kg/m^3", 0),
        ),
    )
    yield say("net buoyancy"), heavy_or_light(whole.net_buoyancy)
    yield say("gas in the wing"), quantity(1e3 * whole.wing_gas, "l", 1)
    yield say("gas in the suit"), f"{quantity(1e3 * whole.suit_gas, 'l', 1)}{_suit_words(answer)}"
    yield say("pressure"), say("{pressure} absolute", pressure=quantity(water.pressure / 1e5, "bar", 2))


def _suit_words(answer: SettleAnswer) -> str:
    """What the suit's gas comes from, and what it leaves of the squeeze on the back, as a depth of water."""
    suit = answer.suit
    if suit is None:
        return ""
    if suit.back_squeeze is None:
        return f", {told(suit.gas_from)}"
    squeeze = 100.0 * suit.back_squeeze / (answer.water.density * answer.water.gravity)
    if abs(squeeze) < 0.5:
        back = say("not squeezed")
    else:
        back = (
            say("squeezed as by {squeeze} of water", squeeze=quantity(squeeze, "cm", 0))
            if squeeze > 0.0
            else say("lifted as by {squeeze} of water", squeeze=quantity(-squeeze, "cm", 0))
        )
    return say(", {gas_from}; the back is {back}", gas_from=told(suit.gas_from), back=back)


def _sensitivity_rows(answer: SettleAnswer) -> Iterator[tuple[str, str]]:
    for case in answer.sensitivity:
        moment = case.pitch_moment
        yield (
            told(case.change),
            say(
                "{moment_words}{like_lead}; pitch {pitch_stiffness}",
                moment_words=moment_words(moment),
                like_lead=like_lead(moment),
                pitch_stiffness=quantity(case.pitch_stiffness, "N m/rad", 1, sign=True),
            ),
        )
