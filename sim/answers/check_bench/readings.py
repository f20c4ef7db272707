"""What was measured in the water, as numbers with their spreads, each in its situation."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Final, Literal

import numpy as np

from meshes.mesh import Floats
from scenarios.by_key import told_otherwise
from scenarios.loose_gear import Lead, LeadPlace
from scenarios.models import Scenario
from sim.answers.check_bench.bench_file import Balance, BenchFile, Drift, Float, Freeze, Worn
from sim.answers.check_bench.situations import Situation
from sim.answers.check_bench.spreads import LEAD_SPREAD, MOMENT_SPREAD, READING, TIME_MODEL
from sim.assembly.posed_diver import KeptDivers
from sim.assembly.scenario_rig import scenario_rig
from sim.rig import Part, Rig, rig_of
from sim.said import Sentence, brief, known, note, word
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

Kind = Literal["float", "balance", "freeze"]
MOVED_AT_LEAST: Final = 0.05  # m: lead that hardly moves the CM balances nothing


@dataclass(frozen=True, eq=False)
class Reading:
    """One measurement.

    name : in plain words;  kind : "float" is the lead [kg] that makes the diver neutral with an empty wing, "balance"
        the moment [N m] with the lead in place, nil as measured, "freeze" the moment that turns the diver let go
    value, sd : of what is predicted, kg or N m;  assumed : the spread was not told
    added : (8,) mass and volume with their first moments that hang on the rig besides [kg, m, m^3]
    worn, per_lead : "float": all lead that the scenario wears [kg], and kg of lead for a kg of buoyancy
    drift, time, time_sd : "freeze": which way it turned, mean time to 30 degrees [s] and the SD of its reading
    """

    name: str
    kind: Kind
    situation: Situation
    value: float = 0.0
    sd: float = MOMENT_SPREAD
    assumed: bool = True
    added: Floats | None = None
    worn: float = 0.0
    per_lead: float = 1.0
    drift: Drift = "none"
    time: float | None = None
    time_sd: float = 0.0

    def by(self, rig: Rig) -> float:
        """What it should have been by one rig in its situation, in the unit of its value."""
        if self.kind == "float":
            emptied = rig if rig.wing is None else replace(rig, wing=replace(rig.wing, gas=0.0))
            return self.worn + self.per_lead * flat_answer(soft_rig(emptied)).net_buoyancy
        return flat_answer(soft_rig(rig if self.added is None else with_added(rig, self.added))).pitch_moment


@dataclass(frozen=True, eq=False)
class Pool:
    """A scenario to be put into the pool: its rigs there by situation, made as they are asked for."""

    scenario: Scenario
    people: KeptDivers = field(default_factory=KeptDivers)
    rigs: dict[Situation, Rig] = field(default_factory=dict)

    def rig(self, situation: Situation) -> Rig:
        """The rig in a situation. Raises ValueError where the scenario cannot be in it."""
        if situation not in self.rigs:
            self.rigs[situation] = self.parts_of(situation.of(self.scenario))
        return self.rigs[situation]

    def parts_of(self, there: Scenario) -> Rig:
        """The rig of a scenario in the pool, its person built once for each pose."""
        return scenario_rig(there, self.people.of(there))


def readings_of(file: BenchFile, pool: Pool) -> tuple[Reading, ...]:
    """All measurements in the water. Raises ScenarioError, naming line and key, for what the scenario cannot do."""
    bench = file.bench
    made: list[tuple[tuple[str | int, ...], Callable[[], Reading]]] = []
    for i, told in enumerate(bench.float):
        key = "lead" if told.pressure is None else "pressure"
        made.append((("float", i, key), partial(_float, told, file, pool)))
    for i, balance in enumerate(bench.balance):
        made.append((("balance", i, "worn"), partial(_balance, balance, file, pool)))
    if bench.freeze is not None:
        made.append((("freeze",), partial(_freeze, bench.freeze, file, pool)))
    found = []
    for where, read in made:
        try:
            found.append(read())
        except ValueError as error:
            raise file.fault(str(error), *where) from error
    return tuple(_named_apart(found))


def _float(told: Float, file: BenchFile, pool: Pool) -> Reading:
    if told.pressure is None and pool.scenario.cylinders is not None:
        raise ValueError('the pressure is missing: a full cylinder weighs kilograms more; add pressure = "50 bar"')
    situation = Situation(depth=told.depth, pressure=told.pressure, water=file.bench.water)
    rig = pool.rig(situation)
    sd, assumed = _stated(told.spreads.get("lead"), LEAD_SPREAD)
    worn = sum(lead.mass for lead in pool.scenario.lead)
    return Reading(
        word("neutral float"), "float", situation, told.lead, sd, assumed, None, worn,
        1.0 / (1.0 - rig.water.density / _lead_density(pool.scenario)),
    )  # fmt: skip


def _lead_density(scenario: Scenario) -> float:
    return scenario.lead[0].density if scenario.lead else float(Lead.model_fields["density"].default)


def _balance(told: Balance, file: BenchFile, pool: Pool) -> Reading:
    situation = Situation(told.worn, told.depth, told.pressure, file.bench.water)
    there = situation.of(pool.scenario)
    water = pool.rig(situation).water
    leads = told.between or (told.lead or 0.0,)
    name = _balance_name(leads, told.worn)
    added, half, slope = np.zeros(8), 0.0, 0.0
    if told.most_lead > 0.0:
        one = _hung(there, pool, _kilogram(told.place, told.at))
        if told.taken_from is not None:
            one = one - _hung(there, pool, _kilogram(told.taken_from))
        added = float(np.mean(leads)) * one
        arm = one[1] - one[0] * pool.rig(situation).whole.cm[0]
        slope = water.gravity * abs(float(arm))
        if not slope > water.gravity * MOVED_AT_LEAST:
            raise ValueError("lead there hardly turns the diver, so it balances nothing; put it at ankles or tail")
        half = 0.5 * slope * (leads[-1] - leads[0])
    stated = told.spreads.get("lead")
    sd, assumed = _stated(None if stated is None else stated * slope, MOMENT_SPREAD)
    # between two leads the balance may lie anywhere: the SD of an even spread
    return Reading(name, "balance", situation, 0.0, float(np.hypot(sd, half / np.sqrt(3.0))), assumed, added)


def _balance_name(leads: tuple[float, ...], worn: Worn) -> Sentence:
    if len(leads) == 1:
        return note("balance with {lead}, {worn}", lead=brief(leads[0], "kg"), worn=known(worn))
    return note(
        "balance with {least} to {most}, {worn}",
        least=brief(leads[0], "kg"),
        most=brief(leads[-1], "kg"),
        worn=known(worn),
    )


def _hung(there: Scenario, pool: Pool, lead: Lead) -> Floats:
    """Mass and volume with first moments (8,) of one kilogram of lead at its place."""
    with_it = told_otherwise(there, f"lead.{len(there.lead)}", lead)
    part = [p for p in pool.parts_of(with_it).parts if p.kind == "lead"][-1]
    return numbers_of_part(part)


def with_added(rig: Rig, numbers: Floats) -> Rig:
    """The rig with mass and volume and their first moments (8,) added; held at its CM if it was."""
    whole = rig.whole
    mass, volume = whole.mass + numbers[0], whole.volume + numbers[4]
    cm = (whole.mass * whole.cm + numbers[1:4]) / mass
    cb = (whole.volume * whole.cb + numbers[5:8]) / volume
    held = None if np.array_equal(rig.held, whole.cm) else rig.held
    one = Part("everything rigid", "other", replace(whole, mass=mass, cm=cm, volume=volume, cb=cb, mesh=None))
    return rig_of([one], rig.water, suit=rig.suit, wing=rig.wing, held=held)


def _kilogram(place: LeadPlace | None, at: tuple[float, float, float] | None = None) -> Lead:
    where = {"place": place} if at is None else {"at": list(at)}
    return Lead.model_validate({"mass": "1 kg", **where})


def numbers_of_part(part: Part) -> Floats:
    """Mass and volume with their first moments (8,)."""
    solid = part.solid
    return np.concatenate([[solid.mass], solid.mass * solid.cm, [solid.volume], solid.volume * solid.cb])


def _freeze(told: Freeze, file: BenchFile, pool: Pool) -> Reading:
    """A freeze test whose depth is told was done where the rest was tried; any other in the scenario's water."""
    water = None if told.depth is None else file.bench.water
    situation = Situation(depth=told.depth, pressure=told.pressure, water=water)
    pool.rig(situation)
    reading = Reading(word("freeze test"), "freeze", situation, drift=told.drift)
    if told.time is None:
        return reading
    spread, assumed = told.time_spread(READING["time_to_30"])
    return replace(reading, time=told.time, time_sd=float(np.hypot(spread, TIME_MODEL * told.time)), assumed=assumed)


def _stated(stated: float | None, usual: float) -> tuple[float, bool]:
    return (usual, True) if stated is None or not stated > 0.0 else (stated, False)


def _named_apart(found: list[Reading]) -> Iterator[Reading]:
    """Readings of one name told apart by number."""
    names = [r.name for r in found]
    for i, reading in enumerate(found):
        number = names[: i + 1].count(reading.name)
        one = reading.name if isinstance(reading.name, Sentence) else known(reading.name)
        told = note("{name} ({number})", name=one, number=number)
        yield reading if names.count(reading.name) == 1 else replace(reading, name=told)
