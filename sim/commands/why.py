"""``hangflat why``: which item turns the diver."""

from __future__ import annotations

from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from sim.commands.console import say
from sim.commands.traced import DIGEST_ALONE, Tracing, say_json, traced
from sim.commands.whole_file import PICTURE_ENDINGS, written_whole
from sim.telling.file_line import file_line


def why(
    file: Path,
    /,
    *,
    as_json: Annotated[bool, Parameter(name="--json")] = False,
    chart: Path | None = None,
    settings: Annotated[tuple[str, ...], Parameter(name="--set")] = (),
    tracing: Tracing = DIGEST_ALONE,
) -> None:
    """Say which item turns the diver held flat: apparent weight, arm and moment of each, largest moment first.

    Parameters
    ----------
    file
        Scenario or parts file (TOML).
    as_json
        Print one JSON object instead of text.
    chart
        Draw the moments as bars to this file (PNG, SVG or PDF).
    settings
        KEY=VALUE put in place of what the file says, e.g. --set plate=none. May be given again.
    """
    with ExitStack() as stack:
        draft = stack.enter_context(written_whole(chart, PICTURE_ENDINGS)) if chart else None
        tracing.check(as_json)
        from sim.answers.why.answer import why_answer
        from sim.answers.why.text import why_text
        from sim.case import Case
        from sim.telling.written_file import written

        case = Case.read(file, settings)
        made = stack.enter_context(traced(tracing, as_json, case, pictures=chart is not None))
        answer = why_answer(case)
        if draft:
            from sim.answers.why.chart import draw_moment_chart

            draw_moment_chart(answer, draft)
    if as_json:
        say_json(replace(answer, chart=written(chart)), made)
    else:
        say(why_text(answer) + (f"\n\n{file_line('Chart', chart)}" if chart else ""))
