"""The answers of a study as files: tables as CSV, figures as SVG and PNG."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import chain
from pathlib import Path
from typing import Any, Final

import numpy as np

from sim.answers.study.answer import StudyReport
from sim.answers.study.effects import Effect, Level, Lost, Summary
from sim.answers.study.indices import Index
from sim.answers.study.levels_chart import Levels, LevelsChart, Line, draw_levels
from sim.answers.study.outputs import Output
from sim.answers.study.ranking_chart import Bar, Ranking, draw_ranking
from sim.answers.study.shares import Share
from sim.answers.study.spread_chart import Spread, draw_spreads
from sim.drawing.chart_sheet import named
from sim.drawing.stamp import stamped
from sim.telling.language import in_unit, say, set_apart, told, whole
from sim.telling.share_band import share_band
from sim.telling.table import as_csv, by_key, six_decimals

ENDINGS: Final = (".svg", ".png")
FILES: Final = (".csv", *ENDINGS)  # how the names of all files end
Files = Callable[[Sequence[str]], Sequence[Path]]  # where to write what is to have these names


def write_report(report: StudyReport, files: Files) -> list[str]:
    """Write tables and figures; their names.

    files : gives for some names the paths to write to, all of which are then written
    """
    with stamped(report.made_by):
        return [*_tables(report, files), *_figures(report, files)]


def _tables(report: StudyReport, files: Files) -> Iterator[str]:
    tables: tuple[tuple[str, type, Sequence[Any]], ...] = (
        ("summary", Summary, report.summary),
        ("indices", Index, report.indices or ()),
        ("shares", Share, report.shares),
        ("effects", Effect, report.effects),
        ("levels", Level, report.levels),
        ("problems", Lost, report.problems),
    )
    for name, kind, rows in tables:
        if rows:
            (path,) = files([f"{name}.csv"])
            path.write_text(as_csv(kind, rows, by_key, six_decimals), encoding="utf-8", newline="\n")
            yield f"{name}.csv"


def _figures(report: StudyReport, files: Files) -> Iterator[str]:
    words = {"title": report.title[:1].upper() + report.title[1:], "small_print": report.caution}
    size = say("{rows} rows, {design}, seed {seed}", rows=whole(report.rows), design=report.design, seed=report.seed)
    rankings, lead = _rankings(report)
    if rankings:
        names = _names("moves")
        draw_ranking(rankings, files(names), lead=set_apart((lead, size)), **words)
        yield from names
    spreads = [
        Spread(told(o.name), o.unit, in_unit(report.results.known(o.column), o.unit), _is_share(o))
        for o in report.outputs
    ]
    lead = say("How the answers are spread, with their 5th, 50th and 95th percentile; {size}", size=size)
    names = _names("spread")
    draw_spreads(spreads, files(names), lead=lead, **words)
    yield from names
    charts, of_each = _along(report)
    draw_levels(charts, [files(names) for names in of_each], **words)
    yield from chain.from_iterable(of_each)


def _along(report: StudyReport) -> tuple[list[LevelsChart], list[list[str]]]:
    """A chart for each answer that has levels, and the names of its files."""
    charts, names = [], []
    for output in report.outputs:
        if levels := _levels(report, output):
            share = _is_share(output)
            answer = named(told(output.name), say("% of the rows") if share else output.unit)
            name = told(output.name)
            name = name[:1].upper() + name[1:]
            if share:
                lead = say("{name} along each input: mean, and 90 % interval for all such", name=name)
            else:
                lead = say("{name} along each input: mean, and 5 to 95 % of the rows", name=name)
            charts.append(LevelsChart(answer, lead, levels))
            names.append(_names(f"along-{output.name.replace(' ', '-')}"))
    return charts, names


def _names(name: str) -> list[str]:
    return [name + ending for ending in ENDINGS]


def _rankings(report: StudyReport) -> tuple[list[Ranking], str]:
    """Bars for each answer, and what they tell: indices, changes or main effects, the best that the design gives."""
    rankings = []
    for output in report.outputs:
        if report.indices is not None:
            lead = say(
                "What moves the answers: Sobol' indices, total as a bar with its 95 % interval, first order as a mark"
            )
            measure = say("share of the variance")
            bars = [bar for i in report.indices if i.output == output.column and (bar := _index_bar(i))]
        elif report.effects:
            lead = say(
                "How far one input alone moves the answers: mean as a bar, up to the 95th percentile as a line"
            )
            measure = named(say("change"), output.unit)
            mine = [e for e in report.effects if e.output == output.column]
            bars = [_change_bar(e, output.unit) for e in mine]
        else:
            lead = say("What moves the answers: share of the variance that goes with one input alone")
            measure = say("share of the variance")
            known = [s for s in report.shares if s.output == output.column]
            bars = [Bar(s.input, s.share, s.share, s.share) for s in known if s.share is not None]
        if bars:
            rankings.append(Ranking(told(output.name), measure, bars))
    return rankings, lead


def _change_bar(effect: Effect, unit: str) -> Bar:
    mean, p95 = in_unit(effect.mean, unit), in_unit(effect.p95, unit)
    return Bar(effect.input, mean, min(mean, p95), p95)


def _index_bar(index: Index) -> Bar | None:
    if index.total is None or index.total_low is None or index.total_high is None:
        return None
    return Bar(index.input, index.total, index.total_low, index.total_high, index.first)


def _levels(report: StudyReport, output: Output) -> list[Levels]:
    table = [level for level in report.levels if level.output == output.column and level.spread.rows > 0]
    found = []
    for column in dict.fromkeys(level.input for level in table):
        mine = [level for level in table if level.input == column]
        splits = dict.fromkeys(level.split for level in mine)
        unit = report.units[column]
        lines = [_line([level for level in mine if level.split == split], output, unit) for split in splits]
        found.append(Levels(column, unit, lines))
    return found


def _line(levels: Sequence[Level], output: Output, unit: str) -> Line:
    choices = tuple(level.choice for level in levels if level.choice is not None)
    at = choices or in_unit(np.array([level.value for level in levels], dtype=float), unit)
    name = levels[0].split or ""
    mean, low, high = (
        np.array([getattr(level.spread, key) for level in levels], dtype=float) for key in ("mean", "p5", "p95")
    )
    if not _is_share(output):
        return Line(name, at, *(in_unit(values, output.unit) for values in (mean, low, high)))
    counts = [level.spread.rows for level in levels]
    bands = np.array([share_band(round(m * n), n) for m, n in zip(mean.tolist(), counts, strict=True)])
    return Line(name, at, 100.0 * mean, 100.0 * bands[:, 0], 100.0 * bands[:, 1])


def _is_share(output: Output) -> bool:
    """Whether an answer is yes or no, so that its mean is a share."""
    return output.column == "plate_suits"
