"""``hangflat compare``: divers side by side, held flat and let go, and what each difference does by itself."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Final

import numpy as np

from scenarios.errors import ScenarioError
from scenarios.parts_file import PartsFile
from sim.answers.compare.differences import Differences, differences
from sim.answers.fit.answer import FitAnswer, fit_answer
from sim.answers.posture.posture import Held, Posture, held_words, posture_of
from sim.answers.weigh.ballast import lead_parts, neutral_lead
from sim.answers.weigh.conditions import Conditions
from sim.answers.weigh.weighing import rig_at_the_stop
from sim.case import Case
from sim.settling.settle import Settled, settle
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer, moment_budget
from sim.telling.caution import CAUTION
from sim.telling.groups import GroupMoment, grouped
from sim.telling.made_by import MadeBy
from sim.telling.record import Told
from sim.telling.written_file import WrittenFile

FORMAT: Final = "hangflat.compare/1"
FREEZE: Final = 5.0  # s after stopping: what an onlooker sees of it
MOST: Final = 5  # files, for whose columns a page has room


@dataclass(frozen=True)
class LetGo:
    """How the motion from flat goes, kept from rolling."""

    pitch_soon: Annotated[float, Told("5 s after stopping", "deg", plus="head-up")]
    pitch: Annotated[float, Told("at the end; beyond 90 past the vertical, on the back", "deg", plus="head-up")]
    time: Annotated[float, Told("after which the attitude stays within 1 degree of the end", "s")]
    reached: Annotated[bool, Told("whether the diver comes to rest")]


@dataclass(frozen=True)
class Demand:
    """One demand on fit."""

    passes: Annotated[bool | None, Told("whether it is met", none="nothing to pass or fail")]
    margin: Annotated[
        float | None, Told("what is left before it fails, below 0 what is missing", "m", none="no length")
    ]
    sentence: Annotated[str, Told("the finding in words")]


@dataclass(frozen=True)
class Worn:
    """Fit, sight and the carry ashore."""

    looks: Annotated[float, Told("how high the eyes look, held flat: 0 straight ahead", "deg", plus="above it")]
    carried: Annotated[float, Told("rig and lead on the belt, carried ashore", "kg")]
    hips_least: Annotated[float, Told("share of the rig's weight on the waist strap: at least", "%")]
    hips_most: Annotated[float, Told("at most", "%")]
    demands: Annotated[Mapping[str, Demand], Told("demands on fit", names="<demand>")]


@dataclass(frozen=True)
class Weighting:
    """How a diver is weighed: neutral at the last stop, little gas left, the wing empty, as ``weigh`` has it."""

    worn: Annotated[float, Told("lead worn", "kg")]
    right: Annotated[float, Told("lead that is right for the last stop", "kg")]
    heavy: Annotated[float, Told("what the diver sinks with there without any lead; 0 if lead is needed", "kg")]
    moment: Annotated[float, Told("what turns the diver there, as worn", "N m", plus="head-up")]
    held: Annotated[Held, Told("what that asks of the diver")]


@dataclass(frozen=True, eq=False)
class Diver:
    """One of the files."""

    file: Annotated[str, Told("its name")]
    title: Annotated[str, Told("its own title")]
    pitch_moment: Annotated[float, Told("what turns the diver held flat", "N m", plus="head-up")]
    held: Annotated[Held | None, Told("what that asks of the diver", none="no person to trim by posture")]
    pitch_stiffness: Annotated[float, Told("of that attitude; below 0 a small turn grows", "N m/rad")]
    mass: Annotated[float, Told("with all gear and gas", "kg")]
    net_buoyancy: Annotated[float, Told("as the wing is told", "kg", plus="floats")]
    wing_gas: Annotated[float, Told("gas in the wing", "l")]
    suit_gas: Annotated[float, Told("gas in the suit", "l")]
    let_go: Annotated[LetGo | None, Told("the motion from flat", none="nothing turns the diver in any attitude")]
    groups: Annotated[Mapping[str, GroupMoment], Told("what turns the diver, by groups of items", names="<group>")]
    weighting: Annotated[
        Weighting | None, Told("the lead", none="a parts file, which says of no part that it is lead")
    ]
    worn: Annotated[Worn | None, Told("fit", none="no person, or no plate")]


@dataclass(frozen=True)
class Effect:
    """What a table of the other file does when it alone is put into the first."""

    table: Annotated[str, Told("table of the files")]
    moment: Annotated[
        float | None, Told("change of what turns the diver", "N m", plus="head-up", none="cannot be worn so")
    ]
    why_not: Annotated[str, Told("why it cannot be; empty where it can")] = ""


@dataclass(frozen=True)
class Against:
    """One of the other files against the first."""

    file: Annotated[str, Told("the other file")]
    effects: Annotated[tuple[Effect, ...], Told("one table at a time, the greatest first")]
    together: Annotated[float, Told("what they do together beyond their sum", "N m", plus="head-up")]
    whole: Annotated[float, Told("the whole change", "N m", plus="head-up")]


@dataclass(frozen=True, kw_only=True, eq=False)
class Comparison:
    """The answer."""

    format: Annotated[str, Told(FORMAT)] = FORMAT
    made_by: Annotated[MadeBy | None, Told("by which program and from what", left_out=True)] = None
    divers: Annotated[tuple[Diver, ...], Told("the files, in the order given")]
    differences: Annotated[Differences | None, Told("what they say otherwise", none="a parts file among them")]
    against: Annotated[tuple[Against, ...], Told("each further file against the first")]
    estimated: Annotated[tuple[str, ...], Told("what no file gives and was estimated for at least one")]
    caution: Annotated[str, Told("the caution")]
    picture: Annotated[WrittenFile | None, Told("the picture, where one was asked for", left_out=True)] = None


def compared(cases: Sequence[Case], progress: Callable[[float], None] = lambda _: None) -> Comparison:
    """Cases side by side, each against the first. Raises ScenarioError for what cannot be built."""
    pairs = [(other, differences((cases[0], other))) for other in cases[1:]]
    tables = [() if said is None else said.tables for _, said in pairs]
    steps = len(cases) + sum(len(own) for own in tables)
    done = 0

    def step() -> None:
        nonlocal done
        done += 1
        progress(done / steps)

    divers = []
    for case in cases:
        divers.append(_diver(case))
        step()
    against = tuple(
        _against(cases[0], other, divers[0], diver, own, step)
        for other, diver, own in zip(cases[1:], divers[1:], tables, strict=True)
    )
    estimated = dict.fromkeys(e for case in cases for e in case.assembled.estimated)
    return Comparison(
        divers=tuple(divers),
        differences=differences(cases),
        against=against,
        estimated=tuple(estimated),
        caution=CAUTION,
    )


def _diver(case: Case) -> Diver:
    soft = soft_rig(case.rig)
    flat = flat_answer(soft)
    settled = settle(case.rig)
    posture = None if isinstance(case.content, PartsFile) else posture_of(case)
    return Diver(
        file=case.path.name,
        title=case.assembled.title,
        pitch_moment=flat.pitch_moment,
        held=None if posture is None else posture.held,
        pitch_stiffness=flat.pitch_stiffness,
        mass=flat.mass,
        net_buoyancy=flat.net_buoyancy,
        wing_gas=flat.wing_gas,
        suit_gas=flat.suit_gas,
        let_go=None if settled.outcome == "indifferent" else _let_go(settled),
        groups=grouped(moment_budget(soft, flat)),
        weighting=None if posture is None else _weighting(case, posture),
        worn=None if case.worn is None else _worn(fit_answer(case.assembled)),
    )


def _weighting(case: Case, posture: Posture) -> Weighting:
    lead, end = lead_parts(case), rig_at_the_stop(case, Conditions())
    right, heavy = neutral_lead(end, lead)
    moment = flat_answer(soft_rig(end)).pitch_moment
    return Weighting(lead.worn_mass, right, heavy, moment, held_words(moment, posture))


def _let_go(settled: Settled) -> LetGo:
    soon = float(np.interp(FREEZE, settled.path.time, np.unwrap(settled.path.pitch)))
    return LetGo(soon, settled.pitch, settled.time, settled.reached)


def _worn(fit: FitAnswer) -> Worn:
    return Worn(
        looks=fit.look_ahead.ahead,
        carried=fit.ashore.load.carried,
        hips_least=fit.ashore.hips_share[0],
        hips_most=fit.ashore.hips_share[1],
        demands={v.subject: Demand(v.passes, v.margin, v.sentence) for v in fit.verdicts},
    )


def _against(
    first: Case, other: Case, one: Diver, two: Diver, tables: Sequence[str], step: Callable[[], None]
) -> Against:
    effects = []
    for table in tables:
        effects.append(_effect(first, other, table, one.pitch_moment))
        step()
    whole = two.pitch_moment - one.pitch_moment
    effects.sort(key=lambda e: -abs(e.moment or 0.0))
    return Against(two.file, tuple(effects), whole - sum(e.moment or 0.0 for e in effects), whole)


def _effect(first: Case, other: Case, table: str, moment: float) -> Effect:
    try:
        rig = first.taking(other, (table,)).rig
    except ScenarioError as refused:
        return Effect(table, None, refused.problems[0].message)
    return Effect(table, flat_answer(soft_rig(rig)).pitch_moment - moment)


def named(paths: Sequence[Path]) -> tuple[str, ...]:
    """Short names for files: their stems, as far as these differ."""
    stems = [path.stem for path in paths]
    return tuple(stems) if len(set(stems)) == len(stems) else tuple(f"{s} ({i})" for i, s in enumerate(stems, 1))
