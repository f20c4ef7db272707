"""How much of an answer hangs on what is least known: how soft the suit is and how much gas is in it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from sim.rig import Rig, SuitPocket
from sim.said import note
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

# No measured pressure-thickness curve of diving undergarments is known in the open literature; a factor of two
# either way spans thin to heavy garments, and a quarter of the gas is what divers differ by (both assumed).
SOFTNESS_FACTOR: Final = 2.0
GAS_SHARE: Final = 0.25


@dataclass(frozen=True, eq=False)
class Changed:
    """The flat answer with one input of the suit changed: moment [N m], plus turns head-up, stiffness [N m/rad]."""

    change: str
    pitch_moment: float
    pitch_stiffness: float


def suit_sensitivity(rig: Rig) -> tuple[Changed, ...]:
    """Flat moment and stiffness with the suit's fabric stiffer and softer, and with more and less gas in it.

    Empty for a rig without gas in the suit. The wing follows its own rule each time.
    """
    suit = rig.suit
    if suit is None or suit.gas is None or not suit.gas > 0.0:
        return ()
    cases: list[tuple[str, SuitPocket]] = [
        (note("suit twice as stiff"), replace(suit, law=suit.law.stiffened(SOFTNESS_FACTOR))),
        (note("suit twice as soft"), replace(suit, law=suit.law.stiffened(1.0 / SOFTNESS_FACTOR))),
        (note("a quarter more suit gas"), replace(suit, gas=(1.0 + GAS_SHARE) * suit.gas)),
        (note("a quarter less suit gas"), replace(suit, gas=(1.0 - GAS_SHARE) * suit.gas)),
    ]
    return tuple(_changed(rig, change, pocket) for change, pocket in cases)


def _changed(rig: Rig, change: str, suit: SuitPocket) -> Changed:
    answer = flat_answer(soft_rig(replace(rig, suit=suit)))
    return Changed(change, answer.pitch_moment, answer.pitch_stiffness)
