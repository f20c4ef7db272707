"""The answers of a study: tables as CSV, figures as SVG and PNG, and one object that text and JSON are made of."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from sim.pictures.study_levels import Levels, draw_levels
from sim.pictures.study_ranking import Bar, Ranking, draw_ranking
from sim.pictures.study_spread import Spread, draw_spreads
from sim.report.caution import CAUTION
from sim.studies.effects import by_level, effects, problems, summary
from sim.studies.folder import FolderError
from sim.studies.indices import indices
from sim.studies.needed import polars
from sim.studies.results import Results, StudiedOutput
from sim.studies.shares import shares

if TYPE_CHECKING:
    from polars import DataFrame

ENDINGS: Final = (".svg", ".png")
FORMAT: Final = "hangflat.study-report/1"


@dataclass(frozen=True, eq=False)
class StudyReport:
    """Tables of a study; ``indices`` is None where the design gives none."""

    results: Results
    summary: DataFrame
    indices: DataFrame | None
    shares: DataFrame
    effects: DataFrame
    levels: DataFrame
    problems: DataFrame


def study_report(results: Results) -> StudyReport:
    """All tables of a finished study."""
    levels = by_level(results)
    return StudyReport(
        results,
        summary(results),
        indices(results) if results.design == "saltelli" else None,
        shares(results, levels),
        effects(results),
        levels,
        problems(results),
    )


def report_json(report: StudyReport) -> dict[str, Any]:
    """The tables as plain lists, ready for ``json.dumps``."""
    results = report.results
    return {
        "format": FORMAT,
        "title": results.title,
        "design": results.design,
        "rows": results.rows,
        "seed": results.seed,
        "outputs": [
            {"name": o.name, "column": o.column, "unit": o.unit, "meaning": o.meaning} for o in results.outputs
        ],
        "units": dict(results.units),
        "summary": report.summary.to_dicts(),
        "indices": None if report.indices is None else report.indices.to_dicts(),
        "shares": report.shares.to_dicts(),
        "effects": report.effects.to_dicts(),
        "levels": report.levels.to_dicts(),
        "problems": report.problems.to_dicts(),
        "caution": CAUTION,
    }


def write_report(report: StudyReport, folder: Path) -> list[Path]:
    """Put tables and figures into a folder, made if need be; the files. Raises FolderError where none can be put."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        return [*_tables(report, folder), *_figures(report, folder)]
    except OSError as error:
        raise FolderError(f"the report cannot be written to {folder}: {error.strerror}") from None


def _tables(report: StudyReport, folder: Path) -> list[Path]:
    written = []
    for name in ("summary", "indices", "shares", "effects", "levels", "problems"):
        table: DataFrame | None = getattr(report, name)
        if table is not None and len(table):
            table.write_csv(folder / f"{name}.csv", float_precision=6)
            written.append(folder / f"{name}.csv")
    return written


def _figures(report: StudyReport, folder: Path) -> list[Path]:
    results = report.results
    words = {"title": results.title[:1].upper() + results.title[1:], "small_print": CAUTION}
    size = f"{results.rows:,} rows, {results.design}, seed {results.seed}"
    rankings, lead = _rankings(report)
    written = []
    for ending in ENDINGS:
        if rankings:
            written.append(draw_ranking(rankings, folder / f"moves{ending}", lead=f"{lead}; {size}", **words))
        spreads = [Spread(o.name, o.unit, _values(results, o)) for o in results.outputs]
        told = f"How the answers are spread, with their 5th, 50th and 95th percentile; {size}"
        written.append(draw_spreads(spreads, folder / f"spread{ending}", lead=told, **words))
        for output in results.outputs:
            levels = _levels(report, output)
            if levels:
                told = f"{output.name[:1].upper()}{output.name[1:]} along each input: mean, and 5 to 95 % of the rows"
                name = folder / f"along-{output.name.replace(' ', '-')}{ending}"
                answer = f"{output.name} [{output.unit}]"
                written.append(draw_levels(levels, name, answer=answer, lead=told, **words))
    return written


def _values(results: Results, output: StudiedOutput) -> Any:
    return results.table([output.column])[output.column].drop_nulls().to_numpy()


def _rankings(report: StudyReport) -> tuple[list[Ranking], str]:
    """Bars for each answer, and what they tell: indices, changes or main effects, the best that the design gives."""
    pl = polars()
    rankings = []
    for output in report.results.outputs:
        mine = pl.col("output") == output.column
        if report.indices is not None:
            lead = (
                "What moves the answers: Sobol' indices, total as a bar with its 95 % interval, first order as a mark"
            )
            measure = "share of the variance"
            rows = report.indices.filter(mine).drop_nulls("total").iter_rows(named=True)
            bars = [Bar(r["input"], r["total"], r["total_low"], r["total_high"], r["first"]) for r in rows]
        elif len(report.effects):
            lead = "How far one input alone moves the answers: mean as a bar, up to the 95th percentile as a line"
            measure = f"change [{output.unit}]"
            rows = report.effects.filter(mine).iter_rows(named=True)
            bars = [Bar(r["input"], r["mean"], min(r["mean"], r["p95"]), r["p95"]) for r in rows]
        else:
            lead = "What moves the answers: share of the variance that goes with one input alone"
            measure = "share of the variance"
            rows = report.shares.filter(mine).drop_nulls("share").iter_rows(named=True)
            bars = [Bar(r["input"], r["share"], r["share"], r["share"]) for r in rows]
        if bars:
            rankings.append(Ranking(output.name, measure, bars))
    return rankings, lead


def _levels(report: StudyReport, output: StudiedOutput) -> list[Levels]:
    pl = polars()
    found = []
    for one in report.results.inputs:
        for column, labels in zip(one.columns, one.labels, strict=True):
            rows = report.levels.filter(
                (pl.col("output") == output.column) & (pl.col("input") == column) & (pl.col("rows") > 0)
            )
            if len(rows):
                numbers = [rows[name].to_numpy() for name in ("mean", "p5", "p95")]
                at = rows["value"].to_numpy() if labels is None else tuple(rows["choice"].to_list())
                found.append(Levels(column, report.results.units[column], at, *numbers))
    return found
