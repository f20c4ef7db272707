"""``hangflat later``: how the diver hangs later in the dive."""

from __future__ import annotations

from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from sim.commands.console import UsageError, say
from sim.commands.traced import DIGEST_ALONE, Tracing, say_json, traced
from sim.commands.whole_file import PICTURE_ENDINGS, written_whole
from sim.telling.file_line import file_line


def later(
    file: Path,
    /,
    *,
    as_json: Annotated[bool, Parameter(name="--json")] = False,
    chart: Path | None = None,
    table: Path | None = None,
    settings: Annotated[tuple[str, ...], Parameter(name="--set")] = (),
    tracing: Tracing = DIGEST_ALONE,
) -> None:
    """Say how the diver hangs later in the dive, as depth and gas change; no dive is planned.

    Depths, times and what is breathed come from [later] in the file, or are a plain course down and up.

    Parameters
    ----------
    file
        Scenario file (TOML).
    as_json
        Print one JSON object instead of text.
    chart
        Draw depth, gas, wing, suit and moment over the time to this file (PNG, SVG or PDF).
    table
        Write the numbers of every moment to this file (CSV).
    settings
        KEY=VALUE put in place of what the file says, e.g. --set later.gas_use="15 l/min". May be given again.
    """
    if chart and table and chart.resolve() == table.resolve():
        raise UsageError("--chart and --table are the same file; give each its own.")
    with ExitStack() as stack:
        drawn = stack.enter_context(written_whole(chart, PICTURE_ENDINGS)) if chart else None
        rows = stack.enter_context(written_whole(table, (".csv",))) if table else None
        tracing.check(as_json)
        from sim.answers.later.answer import later_answer
        from sim.case import Case
        from sim.telling.written_file import written

        case = Case.read(file, settings)
        made = stack.enter_context(traced(tracing, as_json, case, pictures=chart is not None))
        answer = replace(later_answer(case), chart=written(chart), table=written(table))
        if drawn:
            from sim.answers.later.chart import draw_later_chart

            draw_later_chart(answer, drawn)
        if rows:
            from sim.answers.later.table import later_csv

            rows.write_text(later_csv(answer), encoding="utf-8")
    if as_json:
        say_json(answer, made)
        return
    from sim.answers.later.text import later_text

    lines = [file_line("Chart", chart)] if chart else []
    lines += [file_line("Table", table)] if table else []
    ends = "".join(f"\n{line}" for line in lines)
    say(later_text(answer) + (f"\n{ends}" if ends else ""))
