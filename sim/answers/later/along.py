"""The diver moment by moment: what has been breathed, what went into wing and suit and out of them, how they hang.

Gas for the wing and the suit comes from the cylinders on the back, or the first side-hung one; what the wing and the
suit's valve let out goes into the water. The wing holds what makes the diver neutral, the suit as much as the file's
own rule says at that depth (what the last venting left, what is comfortable, or a volume): it is added to on the way
down and vented on the way up. All masses are kept account of, so that cylinders, wing, suit and water hold together
what there was.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Final

from scenarios.errors import Problem, ScenarioError
from scenarios.quantities import SI
from scenarios.suit import DrySuit
from sim.answers.later.course import Course, Leg, breathed
from sim.assembly.refilled import BACK, GasSource, main_sources, refilled
from sim.case import Case
from sim.rig import Rig
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
    wing_in: Annotated[float, Told("from the cylinders on the back, or the first side-hung, into the wing", "kg")] = (
        0.0
    )
    wing_out: Annotated[float, Told("out of the wing into the water", "kg")] = 0.0
    suit_in: Annotated[float, Told("from the cylinders on the back, or the first side-hung, into the suit", "kg")] = (
        0.0
    )
    suit_out: Annotated[float, Told("out of the suit into the water", "kg")] = 0.0
    suit_own: Annotated[
        float, Told("into the suit from a small cylinder of its own, which is not part of the rig", "kg")
    ] = 0.0

    @property
    def taken(self) -> float:
        """From the cylinders [kg]."""
        return self.breathed + self.wing_in + self.suit_in


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
        self.feeds = next(iter(main_sources(sources)), None)
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
        soft = soft_rig(self._rig(leg.start, masses, away))
        return Moment(0.0, leg.start, leg.breathed, masses, away, soft, flat_answer(soft), Flows())

    def _next(
        self, before: Moment, leg: Leg, number: int, span: tuple[float, float], begun: float, away: frozenset[str]
    ) -> Moment:
        start, end = span
        source, depth = self.by_name[leg.breathed], leg.depth(end)
        feeds = self.feeds if self.feeds is not None and self.feeds.name not in away else None
        told = self._laid_out(depth)
        surface = told.water.pressure - told.water.density * told.water.gravity * depth
        used = breathed(
            leg, start, end, self.course.gas_use, source.gas, source.temperature, told.water, surface
        )  # fmt: skip
        masses = {**before.masses, source: before.masses[source] - used}
        self._check(masses, number)
        flat, soft, flows = before.flat, before.soft, before.flows
        left, taken = dict(masses), 0.0
        for _ in range(ROUNDS):
            soft = soft_rig(self._rig(depth, left, away))
            flat = flat_answer(soft)
            flows = self._flows(before, soft.rig, flat, used, own=self.own_bottle or feeds is None)
            now = flows.wing_in + flows.suit_in - before.flows.wing_in - before.flows.suit_in
            if feeds is None or abs(now - taken) <= CLOSE:
                break
            taken = now
            left = {**masses, feeds: masses[feeds] - taken}
        self._check(left, number)
        return Moment(begun + end, depth, leg.breathed, left, away, soft, flat, flows)

    def _flows(self, before: Moment, rig: Rig, flat: FlatAnswer, used: float, own: bool) -> Flows:
        """``used`` [kg] breathed since ``before``, and what wing and suit took or let go since then.

        own : the suit has a cylinder of its own
        """
        was, old = before.flows, before.flat
        wing = _held(rig, "wing") * flat.wing_gas - _held(before.rig, "wing") * old.wing_gas
        suit = _held(rig, "suit") * flat.suit_gas - _held(before.rig, "suit") * old.suit_gas
        return Flows(
            was.breathed + used,
            was.wing_in + max(wing, 0.0),
            was.wing_out + max(-wing, 0.0),
            was.suit_in + (0.0 if own else max(suit, 0.0)),
            was.suit_out + max(-suit, 0.0),
            was.suit_own + (max(suit, 0.0) if own else 0.0),
        )

    def _rig(self, depth: float, masses: Mapping[GasSource, float], away: frozenset[str]) -> Rig:
        return refilled(self._laid_out(depth), masses, [s for s in self.sources if s.name in away])

    def _laid_out(self, depth: float) -> Rig:
        key = round(depth, 6)
        if key not in self.rigs:
            self.rigs[key] = self.case.vary({"water.depth": SI(depth)}).rig
        return self.rigs[key]

    def _check(self, masses: Mapping[GasSource, float], number: int) -> None:
        for source, mass in masses.items():
            if not mass >= source.mass(0.0):
                name = "the cylinders on the back are" if source.name == BACK else f'"{source.name}" is'
                raise self._refused(
                    number, "lasts", f"{name} empty before its end, at {1e3 * 60.0 * self.course.gas_use:.0f} l/min"
                )

    def _refused(self, number: int, key: str, message: str) -> ScenarioError:
        where = f"later.stretch.{number}.{key}"
        if not self.course.told:
            on_back = BACK in self.by_name
            where = "cylinders.pressure" if on_back else "gear"
            message = (
                f"the cylinders {'on the back' if on_back else 'along the flanks'} do not last for the plain course "
                "down and up again; say more pressure, or less depth (water.depth), or tell depths and times in "
                "[later]"
            )
        return ScenarioError([Problem(str(self.case.path), message, where)])


def _held(rig: Rig, name: str) -> float:
    """Density [kg/m^3] of the gas in a pocket; 0 without one."""
    pocket = rig.wing if name == "wing" else rig.suit
    return 0.0 if pocket is None else pocket.gas_density
