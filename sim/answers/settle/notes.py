"""What a careful colleague would add to the numbers, as plain sentences."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from sim.rig import Rig
from sim.said import amount, capital, note
from sim.settling.course import NUDGE
from sim.settling.settle import Settled
from sim.settling.words import outcome_words
from sim.statics.equilibria import Equilibria
from sim.statics.flat import FlatAnswer
from sim.statics.venting import TRACE, unsqueezed_gas

NEUTRAL: Final = 0.01  # kg: closer than this nobody can tell from neutral
HARD_SQUEEZE: Final = 3000.0  # Pa at the highest place: 0.3 m of water, which nobody dives on with (assumed)
SMALL_STIFFNESS: Final = 0.05  # N m/rad: half a newton metre at the vertical; below it the balance is even


def notes_of(
    rig: Rig, flat: FlatAnswer, rest: Equilibria, settled: Settled | None, free: Settled | None
) -> tuple[str, ...]:
    """Sentences on saturation, indifference, turning over and doubtful inputs of one rig."""
    return (
        *_buoyancy(rig, flat),
        *_squeeze(rig, flat),
        *_balance(rig, flat, rest),
        *_motion(flat, settled, free),
        *_gas_weight(rig),
    )


def _buoyancy(rig: Rig, flat: FlatAnswer) -> Iterator[str]:
    off = flat.net_buoyancy
    if not abs(off) > NEUTRAL:
        return
    if rig.wing is None:
        why = note("there is no wing to make it neutral")
    elif rig.wing.gas is not None:
        why = note("the wing was given {gas} and is not adjusted", gas=amount(rig.wing.gas * 1e3, "l", 1))
    elif off > 0.0:
        why = note("even with the wing empty")
    else:
        why = note("even with the wing full at {wing_gas}", wing_gas=amount(flat.wing_gas * 1e3, "l", 1))
    size = amount(abs(off), "kg", 2)
    if off > 0.0:
        yield note(
            "The whole cannot be neutral: {size} light, {why}; left alone it rises. "
            "The answers here hold the depth and take moments about the centre of mass.",
            size=size,
            why=why,
        )
    else:
        yield note(
            "The whole cannot be neutral: {size} heavy, {why}; left alone it sinks. "
            "The answers here hold the depth and take moments about the centre of mass.",
            size=size,
            why=why,
        )


def _squeeze(rig: Rig, flat: FlatAnswer) -> Iterator[str]:
    """A suit with far too little gas, or none."""
    if rig.suit is None:
        return
    enough = unsqueezed_gas(rig.suit, rig)
    state = flat.field.suit
    if state is None:
        yield (
            note(
                "The suit holds no gas: it is squeezed flat and lifts nothing. With {enough} nothing "
                "would be squeezed at its highest place.",
                enough=amount(enough * 1e3, "l", 1),
            )
        )
    elif (rig.suit.gas or 0.0) <= TRACE:
        yield note(
            "The suit holds no gas: it is squeezed to the {open} that stay open in it under all the water's "
            "pressure. With {enough} nothing would be squeezed at its highest place.",
            open=amount(flat.suit_gas * 1e3, "l", 2),
            enough=amount(enough * 1e3, "l", 1),
        )
    elif not -float(state.difference[0].max()) < HARD_SQUEEZE:
        squeeze, given = -float(state.difference[0].max()), rig.suit.gas or 0.0
        yield (
            note(
                "The suit holds far too little gas, {given}: even its highest place is squeezed by "
                "{squeeze}, as by {water} of water. With {enough} nothing would be squeezed there.",
                given=amount(given * 1e3, "l", 2),
                squeeze=amount(squeeze / 1e3, "kPa", 1),
                water=amount(squeeze / (rig.water.density * rig.water.gravity), "m", 2),
                enough=amount(enough * 1e3, "l", 1),
            )
        )


def _balance(rig: Rig, flat: FlatAnswer, rest: Equilibria) -> Iterator[str]:
    if rest.indifferent:
        yield note("Indifferent: the moment is nil in every attitude, so that the diver stays however they are put.")
        return
    if flat.pitch_stiffness < -SMALL_STIFFNESS:
        yield (
            note(
                "Held flat, a small turn head-up or head-down grows by itself: the moment when flat says "
                "more than the angle of rest."
            )
        )
    if any(e.degenerate for e in rest.found):
        yield note(
            "Some attitudes of rest form a ring: along it nothing turns the diver; one of each ring is listed."
        )
    if not rest.complete:
        yield note("The search for attitudes of rest may have missed some: their count does not close.")


def _motion(flat: FlatAnswer, settled: Settled | None, free: Settled | None) -> Iterator[str]:
    if settled is not None and not settled.reached and settled.outcome != "past the vertical":
        yield note("{The_outcome}.", The_outcome=capital(outcome_words(settled)))
    if settled is not None and settled.outlasted:
        yield (
            note(
                "The diver would swing on for more than {time:.0f} s, the water hardly slowing it; where "
                "the swing ends was found by slowing it artificially.",
                time=settled.time,
            )
        )
    if free is not None and free.time_to_30_roll is not None:
        yield (
            note(
                "Face down is not stable in roll: left alone the diver would turn over; 30 degrees in "
                "{time_to_30_roll:.0f} s after a nudge of {nudge:.1f} degrees. The answers for a diver "
                "kept from rolling stand first.",
                time_to_30_roll=free.time_to_30_roll,
                nudge=math.degrees(NUDGE),
            )
        )
    elif free is not None and flat.roll_stiffness < -SMALL_STIFFNESS:
        yield (
            note(
                "Face down is not stable in roll: held flat, a small roll grows by itself. Free to roll, a nudge of "
                "{nudge:.1f} degrees does not come to 30 degrees here: before that the diver has pitched away from "
                "flat, or comes to rest. The answers for a diver kept from rolling stand first.",
                nudge=math.degrees(NUDGE),
            )
        )


def _gas_weight(rig: Rig) -> Iterator[str]:
    pockets = [p for p in (rig.suit, rig.wing) if p is not None]
    if pockets and all(p.gas_density == 0.0 for p in pockets):
        yield note("The weight of the gas in suit and wing is left out (about 3 g a litre at 15 m).")
