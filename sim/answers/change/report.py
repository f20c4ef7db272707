"""``hangflat change``: every change worked out on the diver of a file, and the best set of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from scenarios.errors import ScenarioError
from scenarios.models import Scenario
from scenarios.quantities import SI
from scenarios.settings import SAME_THING, Setting, setting_of
from sim.answers.change.candidate import AT_HAND, WITH_GEAR, Candidate, Kind
from sim.answers.change.candidates import candidates
from sim.answers.change.together import HEAVY, SMALLEST, Outcome, Tried, together
from sim.answers.fit.answer import failing
from sim.answers.fit.limits import TRIMMED
from sim.answers.later.empty_report import FOAM, NEARLY_EMPTY
from sim.answers.weigh.weighing import surplus_lead
from sim.assembly.assembled import Assembled
from sim.case import Case
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

PROVED: Final = 12  # sets of changes that are worked out in full before the best of them is told
NEUTRAL: Final = 0.05  # kg that a diver may float or sink more than before (assumed)
WORTH: Final = 1.0  # N m that each change has to bring where balance is not reached (assumed)
LESS_GAS: Final = 1e-4  # m^3 that the wing holds less where a diver became lighter: 0.1 kg (assumed)
LIGHT: Final = 0.1  # kg that a diver may be lighter than before with the cylinders nearly empty (assumed)

Track = Callable[[Sequence[Candidate]], Iterable[Candidate]]


@dataclass(frozen=True, eq=False)
class Advice:
    """A set of changes worked out in full.

    then : what it comes to;  empty : with the cylinders nearly empty; None without any, or with emptier ones
    surplus_lead : worn then beyond what the last stop asks for, below 0 is missing [kg]
    notes : sentences on it that are not said of the rig as it is
    """

    changes: tuple[Candidate, ...]
    then: Outcome
    empty: Outcome | None
    surplus_lead: float
    notes: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class ChangeReport:
    """The rig as it is, every change by itself, and the best set of them; None where nothing betters it.

    now, empty : as it is, and with the cylinders nearly empty
    advice : with what is at hand;  with_gear : with other gear, where that does not reach balance
    surplus_lead : worn now beyond what the last stop asks for, below 0 is missing [kg]
    left_out : words of changes that cannot be made on this rig, and why
    """

    case: Case
    now: Outcome
    empty: Outcome | None
    tried: tuple[Tried, ...]
    advice: Advice | None
    with_gear: Advice | None
    surplus_lead: float
    left_out: tuple[tuple[str, str], ...]


@dataclass(frozen=True, eq=False)
class _Diver:
    """The diver on whom changes are worked out; ``failing`` : what of the fit fails as it is."""

    case: Case
    scenario: Scenario
    now: Outcome
    empty: Outcome | None
    failing: tuple[str, ...]

    def with_changes(self, changes: Sequence[Candidate]) -> Case:
        """The diver so changed. Raises ScenarioError where it cannot be."""
        return self.case.vary([s for c in changes for s in c.settings])


def settings_with(asked: Sequence[Setting], changes: Sequence[Candidate]) -> tuple[str, ...]:
    """What-ifs that the user gave with those of the changes, as KEY=VALUE for one command; what a change says in
    other words is left out of the user's."""
    new = [s for c in changes for s in c.settings]
    said = {setting_of(s).path for s in new} & SAME_THING.keys()
    anew = said | {SAME_THING[path] for path in said}
    return (*(s.text for s in asked if s.path not in anew), *new)


def change_report(case: Case, track: Track = iter) -> ChangeReport:
    """Try every change on the diver of a scenario.

    track : goes over the changes, showing how far it got
    Raises ScenarioError for what cannot be built, and for a parts file, which says nothing of gear.
    """
    scenario = case.scenario("a parts file has no gear to change: give a scenario file")
    diver = _diver(case, scenario)
    suit_gas = flat_answer(soft_rig(case.rig)).suit_gas
    tried, left_out = [], []
    drop = None if case.worn is None else case.worn.drop
    for what in track(candidates(scenario, case.told.document, suit_gas, drop)):
        try:
            tried.append(_tried(diver, what))
        except ScenarioError as wrong:
            left_out.append((what.words, wrong.problems[0].message))
    advice = _advice(diver, tried, AT_HAND)
    balanced = abs((diver.now if advice is None else advice.then).moment) <= TRIMMED
    with_gear = None if balanced else _advice(diver, tried, WITH_GEAR)
    return ChangeReport(
        case=case, now=diver.now, empty=diver.empty, tried=tuple(tried), advice=advice,
        with_gear=with_gear if _betters(with_gear, advice) else None, surplus_lead=surplus_lead(case),
        left_out=tuple(left_out),
    )  # fmt: skip


def _diver(case: Case, scenario: Scenario) -> _Diver:
    diver = _Diver(case, scenario, _outcome(case.assembled), None, _failing(case.assembled))
    return replace(diver, empty=_nearly_empty(diver, case))


def _betters(found: Advice | None, other: Advice | None) -> bool:
    """Whether other gear does more than what is at hand."""
    if found is None or all(c.kind != "gear" for c in found.changes):
        return False
    return other is None or abs(found.then.moment) < abs(other.then.moment) - SMALLEST


def _outcome(assembled: Assembled) -> Outcome:
    flat = flat_answer(soft_rig(assembled.rig))
    return Outcome(flat.pitch_moment, flat.wing_gas, flat.net_buoyancy)


def _nearly_empty(diver: _Diver, case: Case) -> Outcome | None:
    cylinders = diver.scenario.cylinders
    if cylinders is None or not cylinders.fill > NEARLY_EMPTY:
        return None
    return _outcome(case.vary({"cylinders.pressure": SI(NEARLY_EMPTY)}).assembled)


def _tried(diver: _Diver, what: Candidate) -> Tried:
    made = diver.with_changes([what]).assembled
    then = _outcome(made)
    now = _failing(made) if what.fit else diver.failing
    return Tried(
        what=what,
        then=then,
        fails=tuple(name for name in now if name not in diver.failing),
        mends=tuple(name for name in diver.failing if name not in now),
        unbalanced=_unbalanced(diver.now, then),
    )


def _unbalanced(now: Outcome, then: Outcome) -> bool:
    """Whether a diver floats or sinks more than now; one who sinks may not float instead, nor the other way round."""
    least, most = min(now.net_buoyancy, 0.0) - NEUTRAL, max(now.net_buoyancy, 0.0) + NEUTRAL
    return not least <= then.net_buoyancy <= most


def _failing(assembled: Assembled) -> tuple[str, ...]:
    """What of the fit fails; nothing is said without a plate."""
    if assembled.worn is None:
        return ()
    return failing(assembled)


def _advice(diver: _Diver, tried: Sequence[Tried], kinds: Sequence[Kind]) -> Advice | None:
    """The first set that holds what it promises, else the nearest to nothing of those worked out."""
    if abs(diver.now.moment) <= TRIMMED:
        return None
    sets = together(diver.now, tried, TRIMMED, kinds)
    alone = [chosen for chosen in sets[PROVED:] if len(chosen) == 1]
    best: Advice | None = None
    for number, chosen in enumerate((*sets[:PROVED], *alone)):
        if number >= PROVED and best is not None:
            break
        worth = max(abs(diver.now.moment) - WORTH * len(chosen), TRIMMED)
        found = _proved(diver, chosen, worth, abs((diver.now if best is None else best.then).moment))
        if found is not None:
            best = found
            if abs(found.then.moment) <= TRIMMED:
                break
    return best


def _proved(diver: _Diver, chosen: Sequence[Tried], worth: float, below: float) -> Advice | None:
    """A set worked out in full; None where it cannot be made, breaks the fit, leaves the diver too light or heavy
    now or with the cylinders nearly empty, or a moment of more than ``worth``, or not ``below`` [N m]."""
    changes = tuple(t.what for t in chosen)
    try:
        changed = diver.with_changes(changes)
        made = changed.assembled
        then = _outcome(made)
        if not (abs(then.moment) <= worth and abs(then.moment) < below) or _unbalanced(diver.now, then):
            return None
        empty = _nearly_empty(diver, changed)
    except ScenarioError:
        return None
    if _ill_weighted(diver.empty, empty):
        return None
    if any(c.fit for c in changes) and set(_failing(made)) - set(diver.failing):
        return None
    notes = [*(c.note for c in changes if c.note), *(n for n in made.notes if n not in diver.case.assembled.notes)]
    suit = diver.scenario.suit
    if suit is not None and suit.foam_stiffness is not None and then.wing_gas < diver.now.wing_gas - LESS_GAS:
        notes.append(FOAM)
    return Advice(changes, then, empty, surplus_lead(changed), tuple(dict.fromkeys(notes)))


def _ill_weighted(before: Outcome | None, after: Outcome | None) -> bool:
    """Whether a diver with nearly empty cylinders is lighter, or much heavier, than before the changes."""
    if before is None or after is None:
        return False
    light = not after.net_buoyancy <= max(before.net_buoyancy, 0.0) + LIGHT
    return light or not after.wing_gas <= before.wing_gas + HEAVY
