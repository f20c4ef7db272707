"""``hangflat change``: what to change so that the diver hangs flat."""

from __future__ import annotations

import sys
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from typing import Annotated, Literal

from cyclopts import Parameter

from sim.commands.console import say
from sim.commands.traced import DIGEST_ALONE, Tracing, say_json, traced
from sim.commands.whole_file import PICTURE_ENDINGS, written_whole
from sim.said import word
from sim.telling.language import told


def change(
    file: Path,
    /,
    *,
    as_json: Annotated[bool, Parameter(name="--json")] = False,
    chart: Path | None = None,
    also_in: Annotated[tuple[Literal["sea", "fresh"], ...], Parameter(name="--also-in")] = (),
    settings: Annotated[tuple[str, ...], Parameter(name="--set")] = (),
    tracing: Tracing = DIGEST_ALONE,
) -> None:
    """Say what to change so that the diver is weighted right and hangs flat at the start and at the end: the fewest
    changes of rig, bands, lead, suit gas or other gear, what they cost elsewhere, and each change by itself.

    Parameters
    ----------
    file
        Scenario file (TOML).
    as_json
        Print one JSON object instead of text.
    chart
        Draw what each change does to this file (PNG, SVG or PDF).
    also_in
        Other water in which the diver is to hang flat too, weighted for it: sea or fresh. May be given again.
    settings
        KEY=VALUE put in place of what the file says, e.g. --set cylinders.pressure="50 bar". May be given again.
    """
    from rich.console import Console
    from rich.progress import track

    from sim.answers.change.answer import change_answer
    from sim.answers.change.report import change_report
    from sim.answers.change.text import change_text
    from sim.case import Case
    from sim.telling.written_file import written

    shown, hidden = Console(stderr=True), not sys.stderr.isatty()
    with ExitStack() as stack:
        drawn = stack.enter_context(written_whole(chart, PICTURE_ENDINGS)) if chart else None
        tracing.check(as_json)
        case = Case.read(file, settings)
        made = stack.enter_context(traced(tracing, as_json, case, pictures=chart is not None))
        report = change_report(
            case, lambda w: track(w, told(word("Trying")), console=shown, transient=True, disable=hidden), also_in
        )
        answer = replace(change_answer(report), chart=written(chart))
        if drawn:
            from sim.answers.change.chart import draw_change_chart

            draw_change_chart(answer, drawn)
    if as_json:
        say_json(answer, made)
    else:
        say(change_text(answer))
