"""One thing lost at a time: what is left to swim up or to hold down once the wing has done what it can."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sim.answers.weigh.answer import Failure, Left
from sim.answers.weigh.ballast import net_buoyancy, with_lead
from sim.assembly.refilled import GasSource, refilled
from sim.rig import Part, Rig


def failures(start: Rig, end: Rig, lead: Sequence[Part], sources: Sequence[GasSource]) -> tuple[Failure, ...]:
    """Each failure of the diver at the start and at the end; both rigs wear ``lead``."""
    cases = zip(_each(start, lead, sources), _each(end, lead, sources), strict=True)
    return tuple(Failure(name, left(a), left(b)) for (name, a), (_, b) in cases)


def _each(rig: Rig, lead: Sequence[Part], sources: Sequence[GasSource]) -> Iterator[tuple[str, Rig]]:
    yield "nothing", rig
    if rig.wing is not None:
        yield "wing", replace(rig, wing=None)
    if rig.suit is not None and rig.suit.gas:
        yield "suit", replace(rig, suit=None)
    if lead:
        yield "lead", with_lead(rig, [])
    for source in sources:
        if source.handed_over:
            yield source.name, refilled(rig, {}, [source])


def left(rig: Rig) -> Left:
    """What the rig sinks with [kg], minus floats up, its wing as full as it helps, and the wing's gas [m^3]."""
    heavy = -net_buoyancy(rig)
    wing = rig.wing
    if wing is None:
        return Left(heavy, None)
    each = rig.water.density - wing.gas_density
    gas = min(max(heavy / each, 0.0), float(wing.law.most.sum()))
    return Left(heavy - gas * each, gas)
