"""What a finished study says, as it is told: ``hangflat.study-report/1``, whose tables are also written as CSV."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from importlib import metadata
from typing import Annotated, Final

from sim.answers.study.effects import Effect, Level, Lost, Summary, by_level, effects, problems, summary
from sim.answers.study.indices import Index, indices
from sim.answers.study.outputs import Output
from sim.answers.study.results import Results
from sim.answers.study.shares import Share, shares
from sim.telling.caution import CAUTION
from sim.telling.made_by import MadeByStudy
from sim.telling.record import Kept, Told

FORMAT: Final = "hangflat.study-report/1"


@dataclass(frozen=True, kw_only=True)
class ReportMadeBy(MadeByStudy):
    """The report by this version, from rows that another may have worked out."""

    rows_by_version: Annotated[str, Told("version of hangflat that worked the rows out")]


@dataclass(frozen=True, kw_only=True, eq=False)
class StudyReport:
    """Tables of a study; numbers are in the unit of their output or column."""

    results: Kept[Results]
    format: Annotated[str, Told(FORMAT)] = FORMAT
    made_by: Annotated[ReportMadeBy, Told("program and files")]
    title: Annotated[str, Told("the study's")]
    design: Annotated[str, Told("kind of it")]
    rows: Annotated[int, Told("of the whole study")]
    seed: Annotated[int, Told("of the draws")]
    outputs: Annotated[tuple[Output, ...], Told("answers of each row")]
    units: Annotated[Mapping[str, str], Told("of every column", names="<column>")]
    summary: Annotated[tuple[Summary, ...], Told("each answer over all rows")]
    indices: Annotated[tuple[Index, ...] | None, Told("Sobol' indices", none="the design gives none")]
    shares: Annotated[tuple[Share, ...], Told("what goes with one input alone")]
    effects: Annotated[tuple[Effect, ...], Told("how far one input alone moves an answer")]
    levels: Annotated[tuple[Level, ...], Told("each answer at each level of each input")]
    problems: Annotated[tuple[Lost, ...], Told("why rows have no answers, most first")]
    caution: Annotated[str, Told("what this is not")] = CAUTION


def study_report(results: Results, by: Sequence[str] = ()) -> StudyReport:
    """All tables of a finished study; ``by`` inputs with choices, for which the levels of the others are told apart.

    Raises ValueError for another input.
    """
    together = by_level(results)
    return StudyReport(
        results=results,
        made_by=_made_by(results),
        title=results.title,
        design=results.design,
        rows=results.rows,
        seed=results.seed,
        outputs=results.outputs,
        units=results.units,
        summary=summary(results),
        indices=indices(results) if results.design == "saltelli" else None,
        shares=shares(results, together),
        effects=effects(results),
        levels=by_level(results, by) if by else together,
        problems=problems(results),
    )


def _made_by(results: Results) -> ReportMadeBy:
    before = results.made_by
    return ReportMadeBy(
        version=metadata.version("hangflat"),
        scenarios=before.scenarios,
        study=before.study,
        rows_by_version=before.version,
    )
