"""The sheet for the water, as ``hangflat check-bench --sheet`` writes it."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from sim.commands.watching import DRAWING, waiting
from sim.commands.whole_file import written_whole
from sim.telling.language import told

NAMED: Final = 3  # things to weigh that are printed in their rows; the other rows are left blank


def write_sheet(sheet: Path, scenario: Path | None) -> None:
    """Write the sheet as a PDF, for the diver of ``scenario`` or for any diver.

    Raises UsageError for a file that cannot be written, ScenarioError for a scenario that cannot be read.
    """
    with written_whole(sheet, (".pdf",)) as draft, waiting(told(DRAWING)):
        from sim.answers.check_bench.paper_form import write_pages
        from sim.answers.check_bench.sheet_diver import ANY_DIVER, sheet_diver
        from sim.answers.check_bench.sheet_pages import sheet_pages
        from sim.case import Case
        from sim.drawing.stamp import stamped
        from sim.telling.language import say
        from sim.telling.made_by import made_by, origin

        case = None if scenario is None else Case.read(scenario)
        diver = ANY_DIVER if case is None else sheet_diver(case, NAMED)
        made = made_by(() if case is None else [origin(case.content, case.path)])
        with stamped(made):
            write_pages(sheet_pages(diver), draft, say("Pool sheet"))
