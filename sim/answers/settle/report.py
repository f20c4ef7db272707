"""Everything that one run says of a diver: computed once, then told as text, JSON or a picture."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sim.answers.settle.notes import notes_of
from sim.assembly.assembled import Assembled
from sim.settling.settle import Settled, settle
from sim.statics.barriers import barriers
from sim.statics.equilibria import Equilibria, equilibria
from sim.statics.field import SoftRig, soft_rig
from sim.statics.flat import FlatAnswer, ItemMoment, flat_answer, moment_budget
from sim.statics.held import HeldPitch, held_pitches
from sim.statics.suit_sensitivity import Changed, suit_sensitivity


@dataclass(frozen=True, eq=False)
class SettleReport:
    """The answers for one rig; see the classes of its fields for units, frames and signs.

    barriers : energy [J] to leave each of ``rest.found``; None but for minima
    settled : the motion from flat to rest as asked;  free : the same with roll free, where flat does not hold roll
    """

    assembled: Assembled
    soft: SoftRig
    flat: FlatAnswer
    items: tuple[ItemMoment, ...]
    held: tuple[HeldPitch, ...]
    rest: Equilibria
    barriers: tuple[float | None, ...]
    settled: Settled | None
    free: Settled | None
    sensitivity: tuple[Changed, ...]
    notes: tuple[str, ...]

    @property
    def back_squeeze(self) -> float | None:
        """By how much the water presses harder than the suit's gas on the highest of the trunk, held flat [Pa].

        Minus where the gas lifts the suit there; None without gas or without a body.
        """
        looks, pocket, gas = self.assembled.looks, self.assembled.rig.suit, self.flat.field.suit
        if looks is None or looks.suit is None or pocket is None or gas is None:
            return None
        trunk = looks.suit.on_trunk
        highest = pocket.cells[trunk, 2].argmax()
        return -float(gas.difference[0, trunk][highest])


def report_of(assembled: Assembled, roll: Literal["held", "free"] = "held") -> SettleReport:
    """All answers for an assembled rig."""
    rig = assembled.rig
    soft = soft_rig(rig)
    flat = flat_answer(soft)
    rest = equilibria(soft)
    settled = None if rest.indifferent else settle(rig, roll=roll)
    turns_over = not rest.indifferent and flat.roll_stiffness <= 0.0
    free = settled if roll == "free" else settle(rig, roll="free") if turns_over else None
    return SettleReport(
        assembled=assembled,
        soft=soft,
        flat=flat,
        items=moment_budget(soft, flat),
        held=held_pitches(soft),
        rest=rest,
        barriers=barriers(soft, rest.found),
        settled=settled,
        free=free,
        sensitivity=suit_sensitivity(rig),
        notes=(*assembled.notes, *notes_of(rig, flat, rest, settled, free)),
    )
