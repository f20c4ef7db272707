"""A study's answers in plain words: how they are spread, and what moves each, most first."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from sim.answers.study.answer import StudyReport
from sim.answers.study.effects import Effect
from sim.answers.study.indices import Index
from sim.answers.study.outputs import Output
from sim.telling.caution import told_caution
from sim.telling.language import in_unit, number, say, told, unit_name, whole
from sim.telling.words import wrapped

MOST_NAMED: Final = 8
LEAST_SHARE: Final = 0.01  # below, an input is not worth a line


def report_text(report: StudyReport, files: str = "") -> str:
    """Text of a report."""
    lines = [report.title[:1].upper() + report.title[1:]]
    lines += [
        say(
            '{rows} rows, design "{design}", seed {seed}',
            rows=whole(report.rows),
            design=report.design,
            seed=report.seed,
        ),
        "",
        *_spread(report),
    ]
    for output in report.outputs:
        lines += _movers(report, output)
    lines += _problems(report)
    if files:
        lines += ["", *wrapped(say("Tables (CSV) and figures (SVG, PNG): {files}", files=files))]
    return "\n".join([*lines, "", *wrapped(told_caution(report.caution))])


def _spread(report: StudyReport) -> list[str]:
    """A table of the answers over all rows."""
    names = {o.column: f"{told(o.name)}, {unit_name(o.unit)}".rstrip(", ") for o in report.outputs}
    units = {o.column: o.unit for o in report.outputs}
    heading = say("Over all rows")
    width = max([len(n) for n in names.values()])
    lines = [f"{heading:<{width}}  {say('mean'):>9} {'5 %':>9} {'50 %':>9} {'95 %':>9}"]
    for row in report.summary:
        spread = row.spread
        shown = (spread.mean, spread.p5, spread.p50, spread.p95)
        numbers = " ".join(f"{_number(n, units[row.output]):>9}" for n in shown)
        lines.append(f"{names[row.output]:<{width}}  {numbers}")
    return lines


def _movers(report: StudyReport, output: Output) -> list[str]:
    """What moves one answer: by indices, else by changes and by main effects."""
    if report.indices is not None:
        return _by_index(report.indices, output)
    mine = [r for r in report.effects if r.output == output.column]
    found = [(r.share, r.input) for r in report.shares if r.output == output.column and r.share is not None]
    lines = []
    if mine:
        moving = sorted((r for r in mine if r.greatest > 0.0), key=lambda r: -r.mean)
        pairs = [(r.input, _change(r, output.unit)) for r in moving[:MOST_NAMED]]
        lines += _table(say("How far one input alone moves the {output}", output=_named(output)), pairs)
    if len(found) > len(mine):
        known = sorted((pair for pair in found if pair[0] >= LEAST_SHARE), key=lambda pair: -pair[0])
        pairs = [
            (name, say("{share:.0f} % of the variance", share=100 * share)) for share, name in known[:MOST_NAMED]
        ]
        lines += _table(say("What moves the {output}, each input alone", output=told(output.name)), pairs)
    return lines


def _named(output: Output) -> str:
    return f"{told(output.name)} [{unit_name(output.unit)}]" if output.unit else told(output.name)


def _change(row: Effect, unit: str) -> str:
    mean, most, greatest = (_number(n, unit) for n in (row.mean, row.p95, row.greatest))
    return say(
        "{mean} on average, {most} or less in 95 %, {greatest} at most", mean=mean, most=most, greatest=greatest
    )


def _by_index(indices: Sequence[Index], output: Output) -> list[str]:
    mine = [i for i in indices if i.output == output.column]
    if any(i.total is None for i in mine):
        return [
            "",
            *wrapped(say("What moves the {output}: {why}.", output=told(output.name), why=told(mine[0].why_not))),
        ]
    known = [(i.total, i) for i in mine if i.total is not None and i.total >= LEAST_SHARE]
    pairs = [(i.input, _index(i)) for _, i in sorted(known, key=lambda pair: -pair[0])[:MOST_NAMED]]
    lines = _table(
        say("What moves the {output}: share of its variance with all interplay", output=told(output.name)), pairs
    )
    if mine and mine[0].lost:
        lines += wrapped(
            say("{n} base draws could not be worked out; others stand in for them.", n=whole(mine[0].lost)), "  "
        )
    return lines


def _index(i: Index) -> str:
    total, low, high, first = (100.0 * (n or 0.0) for n in (i.total, i.total_low, i.total_high, i.first))
    return say(
        "{total:3.0f} % ({low:.0f} to {high:.0f}), of which alone {first:.0f} %",
        total=total,
        low=low,
        high=high,
        first=max(first, 0.0),
    )


def _table(heading: str, pairs: Sequence[tuple[str, str]]) -> list[str]:
    if not pairs:
        return ["", heading, "  " + say("nothing: it is the same in all rows")]
    width = max(len(name) for name, _ in pairs)
    return ["", heading, *(f"  {name:<{width}}  {text}" for name, text in pairs)]


def _problems(report: StudyReport) -> list[str]:
    if not report.problems:
        return []
    count = sum(p.rows for p in report.problems)
    lines = ["", say("{n} rows have no answers:", n=whole(count))]
    for problem in report.problems[:MOST_NAMED]:
        lines += wrapped(f"{whole(problem.rows)}: {problem.problem}", "  - ", "    ")
    return lines


def _number(value: float | None, unit: str) -> str:
    """Three or four significant digits, with a minus that shows; ``unit`` : of the value, told in the reader's."""
    if value is None:
        return "-"
    value = in_unit(value, unit)
    size = abs(value)
    digits = 0 if size >= 1000.0 else 1 if size >= 100.0 else 2 if size >= 1.0 else 3
    return number(value, digits).replace("-", "−") if size >= 5e-4 else "0"
