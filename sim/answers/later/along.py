"""The diver moment by moment: what has been breathed, what went into wing and suit and out of them, how they hang.

Gas for the wing and the suit comes from the cylinders on the back, or a rebreather's diluent, or the first side-hung
one; what the wing and the suit's valve let out goes into the water. The wing holds what makes the diver neutral, the
suit as much as the file's own rule says at that depth (what the last venting left, what is comfortable, or a volume):
it is added to on the way down and vented on the way up. All masses are kept account of, so that cylinders, wing,
suit, canister and water hold together what there was.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Final

from scenarios.errors import Problem, ScenarioError
from scenarios.quantities import SI
from scenarios.suit import DrySuit
from sim.answers.later.course import Course, Leg, breathed
from sim.answers.later.loop import LOOP, loop_of, oxygen_mass, with_caught
from sim.assembly.refilled import DILUENT, OXYGEN, GasSource, main_sources, refilled
from sim.case import Case
from sim.rig import Rig, Water
from sim.statics.field import SoftRig, soft_rig
from sim.statics.flat import FlatAnswer, flat_answer
from sim.telling.record import Told

ROUNDS: Final = 12  # gas taken for the wing changes what the wing must hold, by a four-hundredth a round
CLOSE: Final = 1e-13  # kg
BAR: Final = 1e5


@dataclass(frozen=True)
class Flows:
    """Gas since the beginning [kg]."""

    breathed: Annotated[float, Told("breathed, out into the water", "kg")] = 0.0
    wing_in: Annotated[
        float, Told("from the cylinders on the back, the diluent or the first side-hung, into the wing", "kg")
    ] = 0.0
    wing_out: Annotated[float, Told("out of the wing into the water", "kg")] = 0.0
    suit_in: Annotated[
        float, Told("from the cylinders on the back, the diluent or the first side-hung, into the suit", "kg")
    ] = 0.0
    suit_out: Annotated[float, Told("out of the suit into the water", "kg")] = 0.0
    suit_own: Annotated[
        float, Told("into the suit from a small cylinder of its own, which is not part of the rig", "kg")
    ] = 0.0
    oxygen_used: Annotated[
        float, Told("used by the body on a rebreather, caught in its canister as carbon dioxide", "kg")
    ] = 0.0
    loop_in: Annotated[float, Told("from the diluent into lungs and counterlungs", "kg")] = 0.0
    loop_out: Annotated[float, Told("out of lungs and counterlungs into the water", "kg")] = 0.0

    @property
    def taken(self) -> float:
        """From the cylinders [kg]."""
        return self.breathed + self.wing_in + self.suit_in + self.oxygen_used + self.loop_in


@dataclass(frozen=True, eq=False)
class Moment:
    """The diver at one moment.

    time : from the beginning [s];  depth : [m];  breathed_from : name of the source
    masses : gas in every source [kg], left behind or not;  away : names of stages left behind
    soft, flat : the rig held flat;  flows : since the beginning
    """

    time: float
    depth: float
    breathed_from: str
    masses: Mapping[GasSource, float]
    away: frozenset[str]
    soft: SoftRig
    flat: FlatAnswer
    flows: Flows

    @property
    def rig(self) -> Rig:
        return self.soft.rig

    def pressure(self, source: GasSource) -> float:
        """Of the gauge [Pa]."""
        return source.gauge(self.masses[source])


def moments(case: Case, course: Course, sources: Sequence[GasSource]) -> tuple[Moment, ...]:
    """Every moment of a course. Raises ScenarioError where a source holds too little, or a stage is not at hand."""
    return tuple(_Along(case, course, tuple(sources)).all())


class _Along:
    """The account that is kept from moment to moment."""

    def __init__(self, case: Case, course: Course, sources: tuple[GasSource, ...]) -> None:
        self.case, self.course, self.sources = case, course, sources
        self.by_name = {s.name: s for s in sources}
        self.loop = loop_of(case.scenario(""), sources)
        self.feeds = next(iter(main_sources(sources)), None) if self.loop is None else self.loop.diluent
        self.rigs: dict[float, Rig] = {}
        suit = case.scenario("").suit
        self.own_bottle = isinstance(suit, DrySuit) and suit.inflation.argon > 0.0

    def all(self) -> Iterator[Moment]:
        masses = {s: s.mass(s.pressure) for s in self.sources}
        away: frozenset[str] = frozenset()
        before: Moment | None = None
        begun = 0.0
        for number, leg in enumerate(self.course.legs):
            away = self._gone(away, leg, number)
            times = leg.times()
            if before is None:
                before = self._first(leg, masses, away)
                yield before
            elif leg.left or leg.taken:
                before = self._next(before, leg, number, (0.0, 0.0), begun, away)
                yield before
            for start, end in zip(times[:-1].tolist(), times[1:].tolist(), strict=True):
                before = self._next(before, leg, number, (start, end), begun, away)
                yield before
            begun += leg.lasts

    def _gone(self, away: frozenset[str], leg: Leg, number: int) -> frozenset[str]:
        for name in leg.left:
            if name in away:
                raise self._refused(number, "leave", f'"{name}" was left before; take it again first')
        for name in leg.taken:
            if name not in away:
                raise self._refused(number, "take", f'"{name}" is carried already')
        away = (away | set(leg.left)) - set(leg.taken)
        if leg.breathed in away:
            raise self._refused(number, "breathe", f'"{leg.breathed}" was left behind')
        return away

    def _first(self, leg: Leg, masses: Mapping[GasSource, float], away: frozenset[str]) -> Moment:
        soft = soft_rig(self._rig(leg.start, masses, away, 0.0))
        return Moment(0.0, leg.start, leg.breathed, masses, away, soft, flat_answer(soft), Flows())

    def _next(
        self, before: Moment, leg: Leg, number: int, span: tuple[float, float], begun: float, away: frozenset[str]
    ) -> Moment:
        end = span[1]
        depth = leg.depth(end)
        feeds = self.feeds if self.feeds is not None and self.feeds.name not in away else None
        masses, flat, soft = dict(before.masses), before.flat, before.soft
        inhaled = self._inhaled(before, leg, span, self._laid_out(depth).water)
        for name, lost in (
            (OXYGEN if leg.breathed == LOOP else leg.breathed,
             inhaled.breathed + inhaled.oxygen_used - before.flows.breathed - before.flows.oxygen_used),
            (DILUENT, inhaled.loop_in - before.flows.loop_in),
        ):  # fmt: skip
            if lost:
                masses[self.by_name[name]] -= lost
        self._check(masses, number)
        left, taken, flows = dict(masses), 0.0, inhaled
        for _ in range(ROUNDS):
            soft = soft_rig(self._rig(depth, left, away, inhaled.oxygen_used))
            flat = flat_answer(soft)
            flows = self._flows(before, inhaled, soft.rig, flat, own=self.own_bottle or feeds is None)
            now = flows.wing_in + flows.suit_in - before.flows.wing_in - before.flows.suit_in
            if feeds is None or abs(now - taken) <= CLOSE:
                break
            taken = now
            left = {**masses, feeds: masses[feeds] - taken}
        self._check(left, number)
        return Moment(begun + end, depth, leg.breathed, left, away, soft, flat, flows)

    def _inhaled(self, before: Moment, leg: Leg, span: tuple[float, float], water: Water) -> Flows:
        """What was breathed, used and let into or out of the loop, up to the end of ``span`` [s] of a leg."""
        was, (start, end) = before.flows, span
        if self.loop is not None:
            more = self.loop.gas(water.pressure) - self.loop.gas(before.rig.water.pressure)
            was = replace(was, loop_in=was.loop_in + max(more, 0.0), loop_out=was.loop_out + max(-more, 0.0))
        if leg.breathed == LOOP:
            used = oxygen_mass(self.course.oxygen_use) * (end - start)
            return replace(was, oxygen_used=was.oxygen_used + used)
        source, surface = self.by_name[leg.breathed], water.pressure - water.density * water.gravity * leg.depth(end)
        used = breathed(leg, start, end, self.course.gas_use, source.gas, source.temperature, water, surface)
        return replace(was, breathed=was.breathed + used)

    def _flows(self, before: Moment, inhaled: Flows, rig: Rig, flat: FlatAnswer, own: bool) -> Flows:
        """With what wing and suit took or let go since ``before``.

        own : the suit has a cylinder of its own
        """
        was, old = before.flows, before.flat
        wing = _held(rig, "wing") * flat.wing_gas - _held(before.rig, "wing") * old.wing_gas
        suit = _held(rig, "suit") * flat.suit_gas - _held(before.rig, "suit") * old.suit_gas
        return replace(
            inhaled,
            wing_in=was.wing_in + max(wing, 0.0),
            wing_out=was.wing_out + max(-wing, 0.0),
            suit_in=was.suit_in + (0.0 if own else max(suit, 0.0)),
            suit_out=was.suit_out + max(-suit, 0.0),
            suit_own=was.suit_own + (max(suit, 0.0) if own else 0.0),
        )

    def _rig(self, depth: float, masses: Mapping[GasSource, float], away: frozenset[str], caught: float) -> Rig:
        """caught : in a rebreather's canister [kg]"""
        rig = refilled(self._laid_out(depth), masses, [s for s in self.sources if s.name in away])
        return with_caught(rig, caught) if caught else rig

    def _laid_out(self, depth: float) -> Rig:
        key = round(depth, 6)
        if key not in self.rigs:
            self.rigs[key] = self.case.vary({"water.depth": SI(depth)}).rig
        return self.rigs[key]

    def _check(self, masses: Mapping[GasSource, float], number: int) -> None:
        for source, mass in masses.items():
            if not mass >= source.mass(0.0):
                name = "the cylinders on the back are" if source.on_back else f'"{source.name}" is'
                use = f", at {6e4 * self.course.gas_use:.0f} l/min"
                if source.name in (OXYGEN, DILUENT):
                    use = f", at {6e4 * self.course.oxygen_use:.1f} l/min of oxygen" if source.name == OXYGEN else ""
                raise self._refused(number, "lasts", f"{name} empty before its end{use}")

    def _refused(self, number: int, key: str, message: str) -> ScenarioError:
        where = f"later.stretch.{number}.{key}"
        if not self.course.told:
            of, where = (
                ("of the rebreather", "rebreather") if self.loop is not None
                else ("on the back", "cylinders.pressure") if any(s.on_back for s in self.sources)
                else ("along the flanks", "gear")
            )  # fmt: skip
            message = (
                f"the cylinders {of} do not last for the plain course "
                "down and up again; say more pressure, or less depth (water.depth), or tell depths and times in "
                "[later]"
            )
        return ScenarioError([Problem(str(self.case.path), message, where)])


def _held(rig: Rig, name: str) -> float:
    """Density [kg/m^3] of the gas in a pocket; 0 without one."""
    pocket = rig.wing if name == "wing" else rig.suit
    return 0.0 if pocket is None else pocket.gas_density
