"""``hangflat sheet``: a hand-out to print, of one diver, of two compared, or of a class."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Annotated, Final, Literal

from cyclopts import Parameter

from sim.commands.console import UsageError, say
from sim.commands.traced import DIGEST_ALONE, traced
from sim.commands.whole_file import written_whole
from sim.said import word
from sim.telling.file_line import file_line
from sim.telling.language import told

WORKED_OUT: Final = 0.6  # share of the time until all answers are there; the rest is drawing


def sheet(
    files: Annotated[tuple[Path, ...], Parameter(name="FILE", required=True)],
    /,
    *,
    output: Annotated[Path, Parameter(name=("--output", "-o"))],
    paper: Literal["a4", "letter"] = "a4",
    settings: Annotated[tuple[str, ...], Parameter(name="--set")] = (),
) -> None:
    """Write a hand-out to print: two pages of one diver, two divers compared, or a class as one document.

    Parameters
    ----------
    files
        Scenario or parts files (TOML): one, two to compare, or up to 40.
    output
        What to write: a name that ends in .pdf.
    paper
        Size of the paper: a4 (default) or letter.
    settings
        KEY=VALUE put in place of what every file says, e.g. --set water.depth="6 m". May be given again.
    """
    from sim.answers.sheet.typeset import NoTypesetterError, sheet_pdf, typesetter

    with ExitStack() as stack:
        draft = stack.enter_context(written_whole(output, (".pdf",)))
        from sim.answers.sheet.handout import MOST, handout
        from sim.case import Case

        if len(files) > MOST:
            raise UsageError(f"sheet takes up to {MOST} files; got {len(files)}. Make two sheets of them.")
        try:
            typesetter()
        except NoTypesetterError as why:
            raise UsageError(str(why)) from None
        cases = [Case.read(file, settings) for file in files]
        stack.enter_context(traced(DIGEST_ALONE, False, cases, pictures=True))
        progress = stack.enter_context(_bar())
        told = handout(cases, lambda share: progress(WORKED_OUT * share))
        pdf = sheet_pdf(told, paper, lambda share: progress(WORKED_OUT + (1.0 - WORKED_OUT) * share))
        draft.write_bytes(pdf)
    say(file_line("Sheet", output))


@contextmanager
def _bar() -> Iterator[Callable[[float], None]]:
    """A bar on a terminal's stderr that is told the share done."""
    from rich.console import Console
    from rich.progress import Progress

    shown = Console(stderr=True)
    with Progress(console=shown, transient=True, disable=not shown.is_terminal) as progress:
        task = progress.add_task(told(word("Hand-out")), total=1.0)
        yield lambda share: progress.update(task, completed=share)
