"""``hangflat change``: every change worked out on the diver of a file, and the best set of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from scenarios.errors import ScenarioError
from scenarios.models import Scenario
from scenarios.settings import SAME_THING, Setting, setting_of
from sim.answers.change.ballasting import Ballasting, ballasting
from sim.answers.change.candidate import AT_HAND, WITH_GEAR, Candidate, Kind
from sim.answers.change.candidates import candidates
from sim.answers.change.costs import costs
from sim.answers.change.occasions import Met, Outcome, WaterKind, met
from sim.answers.change.together import (
    HEAVY,
    LIGHT,
    OUT_OF_REACH,
    SMALLEST,
    Chosen,
    Step,
    Tried,
    missing,
    rank,
    rightly_weighted,
    together,
)
from sim.answers.fit.answer import failing
from sim.answers.later.empty_report import FOAM
from sim.answers.posture.drift import balanced_moment
from sim.answers.posture.posture import Posture, posture_of
from sim.answers.posture.runaway import turning_of
from sim.answers.weigh.ballast import LeadParts, lead_parts
from sim.assembly.assembled import Assembled
from sim.case import Case
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

PROVED: Final = 12  # sets of changes that are worked out in full at most before the best of them is told
ADDS_UP: Final = 0.5  # N m by which a set is seldom off from what its changes add up to
FAR: Final = 2.0  # times what is balance, beyond which a changed rig's own need not be worked out (assumed)
NEUTRAL: Final = 0.05  # kg that a diver may float or sink more than before (assumed)
LESS_GAS: Final = 1e-4  # m^3 that the wing holds less where a diver became lighter: 0.1 kg (assumed)

Track = Callable[[Sequence[Candidate]], Iterable[Candidate]]


@dataclass(frozen=True, eq=False)
class Advice:
    """A set of changes worked out in full.

    steps : its changes;  met : what it comes to;  posture : of the diver so changed, at the start
    notes : sentences on it that are not said of the rig as it is;  costs : what it costs elsewhere, as sentences
    """

    steps: tuple[Step, ...]
    met: Met
    posture: Posture
    notes: tuple[str, ...]
    costs: tuple[str, ...]

    @property
    def changes(self) -> tuple[Candidate, ...]:
        """What is done."""
        return tuple(step.what for step in self.steps)


@dataclass(frozen=True, eq=False)
class ChangeReport:
    """The rig as it is, every change by itself, and the best set of them; None where nothing betters it.

    met, posture : as it is;  within : what counts as balance on every occasion [N m]
    advice : with what is at hand;  with_gear : with other gear, where that does not reach balance
    left_out : words of changes that cannot be made on this rig, and why
    """

    case: Case
    met: Met
    posture: Posture
    tried: tuple[Tried, ...]
    advice: Advice | None
    with_gear: Advice | None
    left_out: tuple[tuple[str, str], ...]

    @property
    def now(self) -> Outcome:
        """As it is, at the start."""
        return self.met.start

    @property
    def within(self) -> float:
        """Such a moment lets a diver hang by themselves: ``posture`` has why [N m]."""
        return self.posture.unseen


@dataclass(frozen=True, eq=False)
class _Diver:
    """The diver on whom changes are worked out.

    places : where lead could lie, if that is asked for;  failing : what of the fit fails as it is
    """

    case: Case
    scenario: Scenario
    waters: tuple[WaterKind, ...]
    places: LeadParts | None
    now: Met
    posture: Posture
    failing: tuple[str, ...]

    def with_changes(self, changes: Sequence[Candidate]) -> Case:
        """The diver so changed. Raises ScenarioError where it cannot be."""
        return self.case.vary([s for c in changes for s in c.settings])


@dataclass(frozen=True, eq=False)
class _Found:
    """A set that holds what it promises; ``rank`` : as ``together.rank`` has it."""

    steps: tuple[Step, ...]
    rank: float
    met: Met
    case: Case

    @property
    def reaches(self) -> bool:
        """Whether it is in balance on every occasion, and weighted right."""
        return self.rank < OUT_OF_REACH


def settings_with(asked: Sequence[Setting], changes: Sequence[Candidate]) -> tuple[str, ...]:
    """What-ifs that the user gave with those of the changes, as KEY=VALUE for one command; what a change says in
    other words is left out of the user's."""
    new = [s for c in changes for s in c.settings]
    said = {setting_of(s).path for s in new} & SAME_THING.keys()
    anew = said | {SAME_THING[path] for path in said}
    return (*(s.text for s in asked if s.path not in anew), *new)


def change_report(case: Case, track: Track = iter, waters: Sequence[WaterKind] = ()) -> ChangeReport:
    """Try every change on the diver of a scenario.

    track : goes over the changes, showing how far it got
    waters : in which the diver is to hang flat, too, besides the file's own
    Raises ScenarioError for what cannot be built, and for a parts file, which says nothing of gear.
    """
    scenario = case.scenario("a parts file has no gear to change: give a scenario file")
    places = None if scenario.lead and not waters else lead_parts(case)
    now = met(case, waters, places)
    diver = _Diver(case, scenario, tuple(waters), places, now, posture_of(case), _failing(case.assembled))
    suit_gas = flat_answer(soft_rig(case.rig)).suit_gas
    tried, left_out = [], []
    drop = None if case.worn is None else case.worn.drop
    for what in track(candidates(scenario, case.told.document, suit_gas, drop)):
        try:
            tried.append(_tried(diver, what))
        except ScenarioError as wrong:
            left_out.append((what.words, wrong.problems[0].message))
    wing = case.rig.wing
    lead = Ballasting((), {})
    if wing is not None and wing.gas is None:  # without a wing that makes up for it, lead put on or off is felt
        lead = ballasting(scenario, diver.now, {t.what.words: t.met for t in tried})
    least = rank(diver.now.worst, diver.now.surplus, 0, 0.0, diver.posture.unseen)
    advice = _advice(diver, tried, lead, AT_HAND, least)
    best = least if advice is None else advice.rank
    with_gear = None if best < OUT_OF_REACH else _advice(diver, tried, lead, WITH_GEAR, best - SMALLEST)
    return ChangeReport(
        case=case, met=diver.now, posture=diver.posture, tried=tuple(tried),
        advice=None if advice is None else _worked_out(diver, advice),
        with_gear=None if with_gear is None else _worked_out(diver, with_gear), left_out=tuple(left_out),
    )  # fmt: skip


def _tried(diver: _Diver, what: Candidate) -> Tried:
    case = diver.with_changes([what])
    then = met(case, diver.waters, diver.places)
    now = _failing(case.assembled) if what.fit else diver.failing
    return Tried(
        what=what,
        met=then,
        fails=tuple(name for name in now if name not in diver.failing),
        mends=tuple(name for name in diver.failing if name not in now),
        unbalanced=_unbalanced(diver.now.start, then.start),
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


def _advice(
    diver: _Diver, tried: Sequence[Tried], lead: Ballasting, kinds: Sequence[Kind], least: float
) -> _Found | None:
    """The best of the first sets that hold what they promise, by rank; None where none is below ``least``.

    Sets come in the order of what they should come to, and one that does reach balance has as few changes as any.
    """
    best: _Found | None = None
    sets = together(diver.now, tried, lead, diver.posture.unseen, kinds)
    alone = [chosen for chosen in sets[PROVED:] if len(chosen.steps(diver.now)) == 1]
    for number, chosen in enumerate((*sets[:PROVED], *alone)):
        if chosen.promised > least + ADDS_UP or (best is not None and number >= PROVED):
            break
        found = _proved(diver, chosen, least)
        if found is not None:
            least, best = found.rank, found
            if found.reaches:
                break
    return best


def _proved(diver: _Diver, chosen: Chosen, least: float) -> _Found | None:
    """A set worked out in full; None where its rank is not below ``least``, it cannot be made, breaks the fit, or
    leaves the diver too light or heavy."""
    steps, now = chosen.steps(diver.now), diver.now
    changes = [step.what for step in steps]
    if not changes:
        return None
    try:
        case = diver.with_changes(changes)
        then = met(case, diver.waters, diver.places)
    except ScenarioError:
        return None
    more = then.start.wing_gas - now.start.wing_gas - missing(now)
    worse = not rightly_weighted(then.surplus) and abs(then.surplus) > abs(now.surplus) + LIGHT
    if _unbalanced(now.start, then.start) or worse or not more <= HEAVY:
        return None
    # which another rig has otherwise, but never by so much that far from balance is near it
    within = diver.posture.unseen if then.worst > FAR * diver.posture.unseen else _unseen(case)
    found = _Found(steps, rank(then.worst, then.surplus, len(steps), more, within), then, case)
    if not found.rank < least:
        return None
    if any(c.fit for c in changes) and set(_failing(case.assembled)) - set(diver.failing):
        return None
    return found


def _unseen(case: Case) -> float:
    """Up to which moment the diver hangs by themselves, as ``posture`` has it [N m]."""
    return balanced_moment(turning_of(case.rig, flat_answer(soft_rig(case.rig))))


def _worked_out(diver: _Diver, found: _Found) -> Advice:
    case, then = found.case, found.met
    changes = [step.what for step in found.steps]
    known, posture = diver.case.assembled, posture_of(case)
    notes = [*(c.note for c in changes if c.note), *(n for n in case.assembled.notes if n not in known.notes)]
    suit = diver.scenario.suit
    if (
        suit is not None
        and suit.foam_stiffness is not None
        and then.start.wing_gas < diver.now.start.wing_gas - LESS_GAS
    ):
        notes.append(FOAM)
    told = costs(changes, (diver.case, case), (diver.now, then), (diver.posture, posture))
    return Advice(found.steps, then, posture, tuple(dict.fromkeys(notes)), tuple(told))
