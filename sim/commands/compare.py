"""``hangflat compare``: set-ups side by side."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from sim.commands.console import UsageError, said, say
from sim.commands.traced import DIGEST_ALONE, Tracing, say_json, traced
from sim.commands.whole_file import PICTURE_ENDINGS, written_whole
from sim.said import word
from sim.telling.file_line import file_line
from sim.telling.language import told

if TYPE_CHECKING:
    from sim.answers.compare.compared import Comparison
    from sim.case import Case


def compare(
    files: Annotated[tuple[Path, ...], Parameter(name="FILE", required=True)],
    /,
    *,
    as_json: Annotated[bool, Parameter(name="--json")] = False,
    picture: Path | None = None,
    style: Literal["light", "dark", "print"] | None = None,
    settings: Annotated[tuple[str, ...], Parameter(name="--set")] = (),
    tracing: Tracing = DIGEST_ALONE,
) -> None:
    """Set two to five divers side by side: what differs between the files, and what that does.

    Parameters
    ----------
    files
        Scenario or parts files (TOML), two to five; each is held against the first.
    as_json
        Print one JSON object instead of text.
    picture
        Draw the divers over one another, with what each change does, to this file (PNG, SVG or PDF).
    style
        With --picture: light (usual), dark or print.
    settings
        KEY=VALUE put in place of what every file says, e.g. --set water.depth="6 m". May be given again.
    """
    with ExitStack() as stack:
        drawn = stack.enter_context(written_whole(picture, PICTURE_ENDINGS)) if picture else None
        tracing.check(as_json)
        if style and not picture:
            raise UsageError("--style is of a picture: give --picture FILE with it.")
        from sim.answers.compare.compared import MOST
        from sim.case import Case
        from sim.telling.written_file import WrittenFile

        if not 2 <= len(files) <= MOST:
            raise UsageError(f"compare takes 2 to {MOST} files; got {len(files)}. Leave some out, or add one.")
        cases = [Case.read(file, settings) for file in files]
        made = stack.enter_context(traced(tracing, as_json, cases, pictures=picture is not None))
        told = _compared(cases)
        if not as_json:
            from sim.answers.compare.text import compare_text

            said(compare_text(told))  # the picture is drawn even if nobody reads on
        if drawn:
            from sim.answers.compare.picture import draw_comparison
            from sim.drawing.style import STYLES

            draw_comparison(told, [case.assembled for case in cases], drawn, STYLES[style or "light"])
    if as_json:
        say_json(replace(told, picture=WrittenFile(str(picture))) if picture else told, made)
    elif picture:
        say(f"\n{file_line('Picture', picture)}")


def _compared(cases: Sequence[Case]) -> Comparison:
    """Work them out, with a bar for those who look on."""
    from rich.console import Console
    from rich.progress import Progress

    from sim.answers.compare.compared import compared

    shown = Console(stderr=True)
    with Progress(console=shown, transient=True, disable=not shown.is_terminal) as progress:
        task = progress.add_task(told(word("Side by side")), total=1.0)
        return compared(cases, lambda share: progress.update(task, completed=share))
