"""A study's answers in plain words: how they are spread, and what moves each, most first."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from sim.answers.study.answer import StudyReport
from sim.answers.study.effects import Effect
from sim.answers.study.indices import Index
from sim.answers.study.outputs import Output
from sim.telling.words import wrapped

MOST_NAMED: Final = 8
LEAST_SHARE: Final = 0.01  # below, an input is not worth a line


def report_text(told: StudyReport, files: str = "") -> str:
    """Text of a report."""
    lines = [told.title[:1].upper() + told.title[1:]]
    lines += [f'{told.rows:,} rows, design "{told.design}", seed {told.seed}', "", *_spread(told)]
    for output in told.outputs:
        lines += _movers(told, output)
    lines += _problems(told)
    if files:
        lines += ["", *wrapped(f"Tables (CSV) and figures (SVG, PNG): {files}")]
    return "\n".join([*lines, "", *wrapped(told.caution)])


def _spread(told: StudyReport) -> list[str]:
    """A table of the answers over all rows."""
    names = {o.column: f"{o.name}, {o.unit}".rstrip(", ") for o in told.outputs}
    width = max(len(n) for n in names.values())
    lines = [f"{'Over all rows':<{width}}  {'mean':>9} {'5 %':>9} {'50 %':>9} {'95 %':>9}"]
    for row in told.summary:
        spread = row.spread
        numbers = " ".join(f"{_number(n):>9}" for n in (spread.mean, spread.p5, spread.p50, spread.p95))
        lines.append(f"{names[row.output]:<{width}}  {numbers}")
    return lines


def _movers(told: StudyReport, output: Output) -> list[str]:
    """What moves one answer: by indices, else by changes and by main effects."""
    if told.indices is not None:
        return _by_index(told.indices, output)
    mine = [r for r in told.effects if r.output == output.column]
    found = [(r.share, r.input) for r in told.shares if r.output == output.column and r.share is not None]
    lines = []
    if mine:
        moving = sorted((r for r in mine if r.greatest > 0.0), key=lambda r: -r.mean)
        pairs = [(r.input, _change(r)) for r in moving[:MOST_NAMED]]
        lines += _table(f"How far one input alone moves the {_named(output)}", pairs)
    if len(found) > len(mine):
        known = sorted((pair for pair in found if pair[0] >= LEAST_SHARE), key=lambda pair: -pair[0])
        pairs = [(name, f"{100 * share:.0f} % of the variance") for share, name in known[:MOST_NAMED]]
        lines += _table(f"What moves the {output.name}, each input alone", pairs)
    return lines


def _named(output: Output) -> str:
    return f"{output.name} [{output.unit}]" if output.unit else str(output.name)


def _change(row: Effect) -> str:
    mean, most, greatest = map(_number, (row.mean, row.p95, row.greatest))
    return f"{mean} on average, {most} or less in 95 %, {greatest} at most"


def _by_index(indices: Sequence[Index], output: Output) -> list[str]:
    mine = [i for i in indices if i.output == output.column]
    if any(i.total is None for i in mine):
        return ["", *wrapped(f"What moves the {output.name}: {mine[0].why_not}.")]
    known = [(i.total, i) for i in mine if i.total is not None and i.total >= LEAST_SHARE]
    pairs = [(i.input, _index(i)) for _, i in sorted(known, key=lambda pair: -pair[0])[:MOST_NAMED]]
    lines = _table(f"What moves the {output.name}: share of its variance with all interplay", pairs)
    if mine and mine[0].lost:
        lines += wrapped(f"{mine[0].lost:,} base draws could not be worked out; others stand in for them.", "  ")
    return lines


def _index(i: Index) -> str:
    total, low, high, first = (100.0 * (n or 0.0) for n in (i.total, i.total_low, i.total_high, i.first))
    return f"{total:3.0f} % ({low:.0f} to {high:.0f}), of which alone {max(first, 0.0):.0f} %"


def _table(heading: str, pairs: Sequence[tuple[str, str]]) -> list[str]:
    if not pairs:
        return ["", heading, "  nothing: it is the same in all rows"]
    width = max(len(name) for name, _ in pairs)
    return ["", heading, *(f"  {name:<{width}}  {text}" for name, text in pairs)]


def _problems(told: StudyReport) -> list[str]:
    if not told.problems:
        return []
    count = sum(p.rows for p in told.problems)
    lines = ["", f"{count:,} rows have no answers:"]
    for problem in told.problems[:MOST_NAMED]:
        lines += wrapped(f"{problem.rows:,}: {problem.problem}", "  - ", "    ")
    return lines


def _number(value: float | None) -> str:
    """Three or four significant digits, with a minus that shows."""
    if value is None:
        return "-"
    size = abs(value)
    digits = 0 if size >= 1000.0 else 1 if size >= 100.0 else 2 if size >= 1.0 else 3
    return f"{value:.{digits}f}".replace("-", "−") if size >= 5e-4 else "0"
