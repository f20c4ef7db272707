"""``hangflat fit --sweep``: run it with a progress bar, and write its chart and table whole or not at all."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from sim.commands.console import UsageError
from sim.commands.whole_file import PICTURE_ENDINGS, written_whole
from sim.said import word
from sim.telling.language import told

if TYPE_CHECKING:
    from sim.answers.fit.sweep import FitSweep
    from sim.case import Case


def told_sweep(case: Case, sweep: str, plates: Sequence[str], chart: Path | None, table: Path | None) -> FitSweep:
    """The sweep, its files written; raises UsageError for a sweep or a file that cannot be."""
    from rich.console import Console
    from rich.progress import track

    from sim.answers.fit.sweep import fit_sweep
    from sim.answers.fit.sweep_kinds import asked
    from sim.answers.fit.told.sweep import sweep_csv
    from sim.telling.written_file import written

    try:
        wanted = asked(sweep)
    except ValueError as wrong:
        raise UsageError(str(wrong)) from None
    if chart and table and chart.resolve() == table.resolve():
        raise UsageError("--chart and --table are the same file; give each its own.")
    with ExitStack() as stack:
        drawn = stack.enter_context(written_whole(chart, PICTURE_ENDINGS)) if chart else None
        listed = stack.enter_context(written_whole(table, (".csv",))) if table else None
        if drawn:
            _check_count(plates)
        shown, hidden = Console(stderr=True), not sys.stderr.isatty()
        found = fit_sweep(
            case, wanted, plates,
            lambda work: track(work, told(word("Sweeping")), console=shown, transient=True, disable=hidden),
        )  # fmt: skip
        if drawn:
            from sim.answers.fit.drawn.sweep_chart import draw_fit_sweep

            draw_fit_sweep(found, drawn)
        if listed:
            listed.write_text(sweep_csv(found), encoding="utf-8")
    return replace(found, chart=written(chart), table=written(table))


def _check_count(plates: Sequence[str]) -> None:
    from sim.answers.fit.drawn.sweep_chart import MOST_PLATES

    if len(plates) > MOST_PLATES:
        raise UsageError(f"the chart tells at most {MOST_PLATES} plates apart, got {len(plates)}; draw several.")
