"""From what was worked out to what is told: ``SettleAnswer``."""

from __future__ import annotations

from sim.answers.settle.afloat.answer import Surface
from sim.answers.settle.answer import (
    ComesToRest,
    FreeRest,
    HeldFlat,
    HeldRest,
    Item,
    Otherwise,
    SettleAnswer,
    SuitThere,
    WaterThere,
    Whole,
)
from sim.answers.settle.freeze import freeze_test
from sim.answers.settle.report import SettleReport
from sim.answers.settle.uncertain import Uncertain
from sim.rig import Water
from sim.settling.settle import Settled
from sim.statics.equilibria import Equilibrium
from sim.statics.flat import FlatAnswer, ItemMoment
from sim.telling.attitude import pitch_and_roll
from sim.telling.drawn_plate import told_drawn_plate


def settle_answer(
    report: SettleReport, surface: Surface | None = None, uncertain: Uncertain | None = None
) -> SettleAnswer:
    """A report as it is told, with what was asked for besides."""
    assembled, flat = report.assembled, report.flat
    return SettleAnswer(
        title=assembled.title,
        drawn_plate=told_drawn_plate(assembled),
        water=water_told(assembled.rig.water),
        whole=whole_told(flat),
        suit=_suit(report),
        flat=HeldFlat(
            pitch_moment=flat.pitch_moment,
            roll_moment=flat.roll_moment,
            pitch_stiffness=flat.pitch_stiffness,
            roll_stiffness=flat.roll_stiffness,
            gas_takes_from_pitch_stiffness=flat.pitch_gas,
            gas_takes_from_roll_stiffness=flat.roll_gas,
            held_point=assembled.rig.held,
        ),
        held=tuple(HeldRest(h.pitch, h.stable) for h in report.held),
        indifferent=report.rest.indifferent,
        rest=tuple(_rest(e, b) for e, b in zip(report.rest.found, report.barriers, strict=True)),
        settled=_settled(report.settled),
        settled_roll_free=_settled(report.free),
        items=tuple(item_told(i) for i in report.items),
        sensitivity=tuple(Otherwise(c.change, c.pitch_moment, c.pitch_stiffness) for c in report.sensitivity),
        estimated=tuple(assembled.estimated),
        notes=tuple(report.notes),
        surface=surface,
        uncertain=uncertain,
    )


def water_told(water: Water) -> WaterThere:
    """The water of a rig."""
    return WaterThere(water.density, water.gravity, water.pressure)


def whole_told(flat: FlatAnswer) -> Whole:
    """All together, held flat."""
    return Whole(flat.mass, flat.volume, flat.net_buoyancy, flat.wing_gas, flat.suit_gas, flat.cm, flat.cb)


def item_told(i: ItemMoment) -> Item:
    """One line of the moment budget."""
    return Item(i.name, i.kind, i.mass, i.volume, i.apparent_weight, i.arm, i.moment, i.couple)


def _suit(report: SettleReport) -> SuitThere | None:
    """What the suit's gas comes from, and how far it leaves the back squeezed; None without such a suit."""
    looks = report.assembled.looks
    if looks is None or looks.suit is None:
        return None
    return SuitThere(looks.suit.gas_from, report.back_squeeze)


def _rest(e: Equilibrium, barrier: float | None) -> FreeRest:
    pitch, roll = pitch_and_roll(e.up)
    return FreeRest(pitch, roll, e.up, e.kind, e.energy, barrier, e.wing_gas, e.net_buoyancy, e.stiffness)


def _settled(settled: Settled | None) -> ComesToRest | None:
    if settled is None:
        return None
    # a diver who went over with roll held lies on the back: pitch within 90 degrees, roll 180
    pitch, roll = pitch_and_roll(settled.up)
    return ComesToRest(
        pitch=pitch,
        roll=roll,
        time=settled.time,
        time_is_least=settled.outlasted,
        reached=settled.reached,
        roll_rule=settled.roll_rule,
        outcome=settled.outcome,
        time_to_30_deg_roll=settled.time_to_30_roll,
        freeze_test=freeze_test(settled),
    )
