"""``hangflat calibrate``: what a diver's own measurements say of this diver."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

from cyclopts import Parameter

from sim.commands.console import UsageError, say
from sim.commands.traced import DIGEST_ALONE, Tracing, say_json, traced
from sim.commands.whole_file import PICTURE_ENDINGS, written_whole
from sim.said import note, word
from sim.telling.file_line import file_line
from sim.telling.language import told

if TYPE_CHECKING:
    from sim.answers.calibrate.calibrate import Calibration
    from sim.answers.check_bench.bench_file import BenchFile
    from sim.case import Case

WORKERS: Final = 2  # processes: more would cost more to start than they save


def calibrate(
    file: Path,
    measured: Path,
    /,
    *,
    output: Annotated[Path | None, Parameter(name=("--output", "-o"))] = None,
    as_json: Annotated[bool, Parameter(name="--json")] = False,
    picture: Path | None = None,
    settings: Annotated[tuple[str, ...], Parameter(name="--set")] = (),
    tracing: Tracing = DIGEST_ALONE,
) -> None:
    """Say what was learnt of a diver from measurements in confined water, and write it for the other commands.

    Parameters
    ----------
    file
        Scenario file (TOML) of the diver as measured; it wins over the scenario that the measurements name.
    measured
        Measurements (TOML); check-bench --template writes one to fill in, check-bench --sheet a sheet to print and
        take to the water.
    output
        Write what was learnt to this file (TOML), for a line known = "..." in a scenario. Nothing is written when
        the measurements contradict the model.
    as_json
        Print one JSON object instead of text.
    picture
        Draw the moment's band before and after, and what moved (PNG, SVG or PDF).
    settings
        KEY=VALUE put in place of what the scenario says. May be given again.
    """
    if output is not None and output.resolve() in (file.resolve(), measured.resolve()):
        raise UsageError("--output is one of the files that are read; give it a name of its own.")
    from sim.answers.calibrate.answer import calibration_told
    from sim.answers.calibrate.known_file import known_text
    from sim.answers.calibrate.text import calibration_text
    from sim.answers.check_bench.bench_file import read_bench
    from sim.case import Case
    from sim.telling.file_comments import told_file
    from sim.telling.written_file import written

    with ExitStack() as stack:
        known = stack.enter_context(_draft(output)) if output else None
        drawn = stack.enter_context(written_whole(picture, PICTURE_ENDINGS)) if picture else None
        pictures = picture is not None
        tracing.check(as_json)
        bench, case = read_bench(measured), Case.read(file, settings)
        made = stack.enter_context(traced(tracing, as_json, case, measured=bench, pictures=pictures))
        answer = _watched(case, bench)
        calibration = calibration_told(answer)
        if drawn:
            from sim.answers.calibrate.chart import draw_calibration_chart

            draw_calibration_chart(calibration, drawn)
        if known and answer.found is not None:
            known.keep(told_file(known_text(answer)))
            calibration = replace(calibration, known=str(output))
    if as_json:
        say_json(replace(calibration, picture=written(picture)), made)
        return
    files = [file_line("Picture", picture)] if picture else []
    if calibration.known and output:
        written_line = note(
            'Written: {file}. Name it at the top of a scenario beside it: known = "{name}"',
            file=str(output),
            name=output.name,
        )
        files.append(told(written_line))
    say(calibration_text(calibration) + "".join(f"\n\n{f}" if i == 0 else f"\n{f}" for i, f in enumerate(files)))


@dataclass
class _Draft:
    """A file that is written only if there is something to write."""

    text: str | None = None

    def keep(self, text: str) -> None:
        """What is to be written in the end."""
        self.text = text


class _NothingToWriteError(Exception):
    """Leaves a file as it was."""


@contextmanager
def _draft(output: Path) -> Iterator[_Draft]:
    """Find out before the work whether ``output`` can be written; write it, or leave it as it was, after it."""
    draft = _Draft()
    with suppress(_NothingToWriteError), written_whole(output, (".toml",)) as file:
        yield draft
        if draft.text is None:
            raise _NothingToWriteError
        file.write_text(draft.text, encoding="utf-8", newline="\n")


def _watched(case: Case, bench: BenchFile) -> Calibration:
    """The answer, with a bar for those who look on."""
    from rich.console import Console
    from rich.progress import Progress

    from sim.answers.calibrate.calibrate import calibrated

    shown = Console(stderr=True)
    with Progress(console=shown, transient=True, disable=not shown.is_terminal) as progress:
        task = progress.add_task(told(word("What they say of this diver")), total=1.0)
        return calibrated(
            case, bench, workers=min(WORKERS, os.cpu_count() or 1),
            done=lambda share: progress.update(task, completed=share),
        )  # fmt: skip
