"""What to change, as it is told: ``hangflat.change/1``. Moments are about the held point, the diver held flat."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final

from scenarios.settings import Setting
from sim.answers.change.candidate import Kind
from sim.answers.change.occasions import STOP, Elsewhere, Met, Outcome
from sim.answers.change.report import Advice, ChangeReport, settings_with
from sim.answers.change.together import Tried, rightly_weighted
from sim.answers.posture.posture import Held, Posture, held_words
from sim.said import word
from sim.telling.caution import CAUTION
from sim.telling.made_by import MadeBy
from sim.telling.record import Told
from sim.telling.written_file import WrittenFile

FORMAT: Final = "hangflat.change/1"
NOT_NEUTRAL: Final = word("no longer neutral")


@dataclass(frozen=True)
class HeldFlat:
    """What a rig comes to at the start and at the end, and what that asks of the diver."""

    full: Annotated[Outcome, Told("at the start, as full as the file says", beside=True)]
    held: Annotated[Held, Told("what the moment asks of the diver then")]
    nearly_empty: Annotated[
        Outcome,
        Told(
            "the same at the last stop, with the cylinders nearly empty",
            none="not told, which this version always does",
        ),
    ]
    held_nearly_empty: Annotated[Held, Told("what the moment asks of the diver then")]
    elsewhere: Annotated[
        tuple[Elsewhere, ...], Told("the same in other water, weighted for it; none if not asked for")
    ]


@dataclass(frozen=True)
class AdvisedStep:
    """One change of a set."""

    said: Annotated[str, Told("what is done, as an instructor says it")]
    turns: Annotated[float, Told("what it adds to the moment at the start by itself", "N m", plus="more head-up")]
    turns_at_end: Annotated[float, Told("the same at the last stop", "N m", plus="more head-up")]


@dataclass(frozen=True)
class AdvisedSet:
    """A set of changes, worked out in full."""

    changes: Annotated[tuple[str, ...], Told("what is done")]
    steps: Annotated[tuple[AdvisedStep, ...], Told("the same one by one, in the order in which it is done")]
    settings: Annotated[tuple[str, ...], Told("the same as KEY=VALUE, with what the user set")]
    then: Annotated[HeldFlat, Told("what it comes to", beside=True)]
    within: Annotated[float, Told("what counts as balance then, either way", "N m")]
    reaches: Annotated[bool, Told("whether it reaches balance on every occasion, and is weighted right")]
    surplus_lead: Annotated[
        float, Told("lead then worn beyond what the last stop asks for, below 0 what is missing", "kg")
    ]
    costs: Annotated[tuple[str, ...], Told("what it costs elsewhere, as sentences")]
    notes: Annotated[tuple[str, ...], Told("sentences on it")]


@dataclass(frozen=True)
class ToldChange:
    """One change by itself."""

    what: Annotated[str, Told("what is done")]
    kind: Annotated[Kind, Told("what kind of change it is")]
    settings: Annotated[tuple[str, ...], Told("the same as KEY=VALUE, with what the user set")]
    then: Annotated[Outcome, Told("what it comes to", beside=True)]
    nearly_empty: Annotated[Outcome, Told("the same at the last stop, with the cylinders nearly empty")]
    difference: Annotated[float, Told("of the moment to what it is now", "N m", plus="more head-up")]
    fails: Annotated[tuple[str, ...], Told("what of the fit then fails", key="then_fails")]
    mends: Annotated[tuple[str, ...], Told("what of the fit then passes, and does not now", key="then_passes")]
    unbalanced: Annotated[bool, Told("whether the diver floats or sinks more than now", key="no_longer_neutral")]
    advised: Annotated[bool, Told("whether it is recommended, or only told")]

    @property
    def failing(self) -> tuple[str, ...]:
        """All that then fails, in words."""
        return (*self.fails, *([NOT_NEUTRAL] if self.unbalanced else []))


@dataclass(frozen=True)
class LeftOut:
    """A change that cannot be made on this rig."""

    what: Annotated[str, Told("what would be done")]
    why: Annotated[str, Told("why it cannot be")]


@dataclass(frozen=True, kw_only=True)
class ChangeAnswer:
    """All of it."""

    format: Annotated[str, Told(FORMAT)] = FORMAT
    made_by: Annotated[MadeBy | None, Told("by which program and from what", left_out=True)] = None
    title: Annotated[str, Told("the scenario's own")]
    file: Annotated[str, Told("the scenario's")]
    pitch_moment: Annotated[float, Told("what turns the diver now", "N m", plus="head-up")]
    within: Annotated[
        float,
        Told(
            "what counts as balance, either way: whoever stops moving, flat, drifts by 30 degrees in no less than "
            "4 s (common practice)",
            "N m",
        ),
    ]
    nearly_empty: Annotated[float, Told("pressure at which cylinders count as nearly empty", "bar")]
    last_stop: Annotated[float, Told("depth at which they are so", "m")]
    wing: Annotated[
        str | None, Told("neutral, or fixed where its gas is told", none="the diver wears none")
    ]  # fmt: skip
    now: Annotated[HeldFlat, Told("what the rig comes to as it is")]
    balanced: Annotated[bool, Told("whether that is in balance on every occasion, and weighted right")]
    surplus_lead: Annotated[
        float, Told("lead worn now beyond what the last stop asks for, below 0 what is missing", "kg")
    ]
    advice: Annotated[AdvisedSet | None, Told("the best set of changes at hand", none="none betters it")]
    with_gear: Annotated[AdvisedSet | None, Told("the best with other gear", none="not needed, or no better")]
    changes: Annotated[tuple[ToldChange, ...], Told("every change by itself, nearest to balance first")]
    left_out: Annotated[tuple[LeftOut, ...], Told("changes that cannot be made")]
    estimated: Annotated[tuple[str, ...], Told("inputs that were estimated, not given")]
    notes: Annotated[tuple[str, ...], Told("sentences on the rig as it is")]
    caution: Annotated[str, Told("what this is not")] = CAUTION
    chart: Annotated[WrittenFile | None, Told("the chart", left_out=True)] = None


def change_answer(report: ChangeReport) -> ChangeAnswer:
    """A report as it is told. Settings are those that the user gave, with the change's own."""
    assembled, asked = report.case.assembled, report.case.told.settings
    wing = assembled.rig.wing
    return ChangeAnswer(
        title=assembled.title,
        file=str(report.case.path),
        pitch_moment=report.now.moment,
        within=report.within,
        nearly_empty=STOP.pressure,
        last_stop=STOP.depth,
        wing=None if wing is None else "neutral" if wing.gas is None else "fixed",
        now=_held(report.met, report.posture),
        balanced=_balanced(report.met, report.within),
        surplus_lead=report.met.surplus,
        advice=_advised(report.advice, asked),
        with_gear=_advised(report.with_gear, asked),
        changes=tuple(_told(t, report) for t in sorted(report.tried, key=lambda t: abs(t.then.moment))),
        left_out=tuple(LeftOut(what, why) for what, why in report.left_out),
        estimated=tuple(assembled.estimated),
        notes=tuple(assembled.notes),
    )


def _held(met: Met, posture: Posture) -> HeldFlat:
    words = (held_words(outcome.moment, posture) for outcome in (met.start, met.end))
    return HeldFlat(met.start, next(words), met.end, next(words), met.elsewhere)


def _balanced(met: Met, within: float) -> bool:
    return met.worst <= within and rightly_weighted(met.surplus)


def _advised(advice: Advice | None, asked: Sequence[Setting]) -> AdvisedSet | None:
    if advice is None:
        return None
    return AdvisedSet(
        changes=tuple(c.words for c in advice.changes),
        steps=tuple(AdvisedStep(s.what.said, s.turns[0], s.turns[1]) for s in advice.steps),
        settings=settings_with(asked, advice.changes),
        then=_held(advice.met, advice.posture),
        within=advice.posture.unseen,
        reaches=_balanced(advice.met, advice.posture.unseen),
        surplus_lead=advice.met.surplus,
        costs=advice.costs,
        notes=advice.notes,
    )


def _told(tried: Tried, report: ChangeReport) -> ToldChange:
    return ToldChange(
        what=tried.what.words,
        kind=tried.what.kind,
        settings=settings_with(report.case.told.settings, [tried.what]),
        then=tried.then,
        nearly_empty=tried.met.end,
        difference=tried.then.moment - report.now.moment,
        fails=tried.fails,
        mends=tried.mends,
        unbalanced=tried.unbalanced,
        advised=tried.what.advised,
    )
