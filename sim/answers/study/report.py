"""The answers of a study: tables as CSV, figures as SVG and PNG, and one object that text and JSON are made of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from sim.answers.fit.people import share_band
from sim.answers.study.effects import by_level, effects, problems, summary
from sim.answers.study.folder import FolderError
from sim.answers.study.indices import indices
from sim.answers.study.levels_chart import Levels, Line, draw_levels
from sim.answers.study.needed import polars
from sim.answers.study.ranking_chart import Bar, Ranking, draw_ranking
from sim.answers.study.results import Results, StudiedOutput
from sim.answers.study.shares import shares
from sim.answers.study.spread_chart import Spread, draw_spreads
from sim.drawing.chart_sheet import named
from sim.drawing.stamp import stamped
from sim.telling.caution import CAUTION
from sim.telling.made_by import MadeBy, made_by, made_by_json

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


def study_report(results: Results, by: Sequence[str] = ()) -> StudyReport:
    """All tables of a finished study; ``by`` inputs with choices, for which the levels of the others are told apart.

    Raises ValueError for another input.
    """
    together = by_level(results)
    return StudyReport(
        results,
        summary(results),
        indices(results) if results.design == "saltelli" else None,
        shares(results, together),
        effects(results),
        by_level(results, by) if by else together,
        problems(results),
    )


def report_json(report: StudyReport) -> dict[str, Any]:
    """The tables as plain lists, ready for ``json.dumps``."""
    results = report.results
    return {
        "format": FORMAT,
        "made_by": made_by_json(_made_by(results)) | {"rows_by_version": results.made_by.version},
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
        with stamped(_made_by(report.results)):
            return [*_tables(report, folder), *_figures(report, folder)]
    except OSError as error:
        raise FolderError(f"the report cannot be written to {folder}: {error.strerror}") from None


def _made_by(results: Results) -> MadeBy:
    """The report by this version, from the files that the study was worked out from."""
    return made_by(results.made_by.scenarios, study=results.made_by.study)


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
        spreads = [Spread(o.name, o.unit, _values(results, o), _is_share(o)) for o in results.outputs]
        told = f"How the answers are spread, with their 5th, 50th and 95th percentile; {size}"
        written.append(draw_spreads(spreads, folder / f"spread{ending}", lead=told, **words))
        for output in results.outputs:
            if levels := _levels(report, output):
                name = folder / f"along-{output.name.replace(' ', '-')}{ending}"
                share = _is_share(output)
                answer = named(output.name, "% of the rows" if share else output.unit)
                band = "90 % interval for all such" if share else "5 to 95 % of the rows"
                told = f"{output.name[:1].upper()}{output.name[1:]} along each input: mean, and {band}"
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
            measure = named("change", output.unit)
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
    table = report.levels.filter((pl.col("output") == output.column) & (pl.col("rows") > 0))
    found = []
    for column in table["input"].unique(maintain_order=True):
        mine = table.filter(pl.col("input") == column)
        lines = [_line(rows, output) for rows in mine.partition_by("split", maintain_order=True)]
        found.append(Levels(column, report.results.units[column], lines))
    return found


def _line(rows: DataFrame, output: StudiedOutput) -> Line:
    numeric = rows["choice"].null_count() == len(rows)
    at = rows["value"].to_numpy() if numeric else tuple(rows["choice"].to_list())
    name = rows["split"][0] or ""
    mean = rows["mean"].to_numpy()
    if not _is_share(output):
        return Line(name, at, mean, rows["p5"].to_numpy(), rows["p95"].to_numpy())
    counts = rows["rows"].to_list()
    bands = np.array([share_band(round(m * n), n) for m, n in zip(mean.tolist(), counts, strict=True)])
    return Line(name, at, 100.0 * mean, 100.0 * bands[:, 0], 100.0 * bands[:, 1])


def _is_share(output: StudiedOutput) -> bool:
    """Whether an answer is yes or no, so that its mean is a share."""
    return output.column == "plate_suits"
