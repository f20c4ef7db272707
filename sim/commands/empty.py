"""``hangflat empty``: how the diver hangs as the cylinders empty."""

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


def empty(
    file: Path,
    /,
    *,
    to: str = "10 bar",
    as_json: Annotated[bool, Parameter(name="--json")] = False,
    chart: Path | None = None,
    table: Path | None = None,
    settings: Annotated[tuple[str, ...], Parameter(name="--set")] = (),
    tracing: Tracing = DIGEST_ALONE,
) -> None:
    """Say how the diver hangs as the cylinders on the back empty: what turns them, and what the wing has to hold.

    Parameters
    ----------
    file
        Scenario file (TOML).
    to
        Pressure at the end, as the gauge shows (default "10 bar").
    as_json
        Print one JSON object instead of text.
    chart
        Draw moment, wing gas and buoyancy over the pressure to this file (PNG, SVG or PDF).
    table
        Write the numbers at every pressure to this file (CSV).
    settings
        KEY=VALUE put in place of what the file says, e.g. --set cylinders.pressure="180 bar". May be given again.
    """
    end = _pressure(to)
    if chart and table and chart.resolve() == table.resolve():
        raise UsageError("--chart and --table are the same file; give each its own.")
    with ExitStack() as stack:
        drawn = stack.enter_context(written_whole(chart, PICTURE_ENDINGS)) if chart else None
        written = stack.enter_context(written_whole(table, (".csv",))) if table else None
        tracing.check(as_json)
        from sim.answers.later.empty_answer import empty_answer, empty_csv
        from sim.answers.later.empty_report import empty_report
        from sim.case import Case

        case = Case.read(file, settings)
        made = stack.enter_context(traced(tracing, as_json, case, pictures=chart is not None))
        answer = empty_answer(empty_report(case, end))
        if drawn:
            from sim.answers.later.empty_chart import draw_empty_chart

            draw_empty_chart(answer, drawn)
        if written:
            written.write_text(empty_csv(answer), encoding="utf-8")
    if as_json:
        from sim.telling.written_file import written as named

        say_json(replace(answer, chart=named(chart), table=named(table)), made)
        return
    from sim.answers.later.empty_text import empty_text

    lines = [file_line("Chart", chart)] if chart else []
    lines += [file_line("Table", table)] if table else []
    files = "".join(f"\n{line}" for line in lines)
    say(empty_text(answer) + (f"\n{files}" if files else ""))


def _pressure(text: str) -> float:
    """A gauge pressure [Pa] from the command line."""
    from scenarios.units import UnitError, parse

    try:
        found = parse("pressure", text, "10 bar")
    except UnitError as wrong:
        raise UsageError(f"--to: {wrong}") from None
    if not found >= 0.0:
        raise UsageError(f'--to: "{text}" is less than nothing; write a pressure as the gauge shows, like "10 bar".')
    return found
