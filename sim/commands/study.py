"""``hangflat study``: vary a scenario in many ways at once, and say what moves the answers."""

from __future__ import annotations

import sys
from contextlib import ExitStack, suppress
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

from cyclopts import App, Parameter

from sim.commands.console import UsageError, complain, say
from sim.commands.traced import say_json
from sim.commands.whole_file import written_whole
from sim.said import known, note, word
from sim.telling.language import told, whole

if TYPE_CHECKING:
    from sim.answers.study.answer import StudyReport
    from sim.answers.study.crew import Crew
    from sim.answers.study.job import Job
    from sim.answers.study.results import Results
    from sim.answers.study.run import Estimate

WORTH_WORKERS: Final = 3.0  # s of work, below which beginning processes costs more than it saves

study = App(name="study", help="Vary a scenario in many ways at once, and say what moves the answers.")


@study.default
def run_study(
    file: Path,
    /,
    *,
    output: Annotated[Path, Parameter(name=["--output", "-o"])],
    workers: int | None = None,
    on: str | None = None,
    with_scenario: bool = False,
) -> None:
    """Work out every row of a study file into a folder. A run that was stopped goes on where it was.

    Parameters
    ----------
    file
        Study file (TOML); scenarios/studies holds some to start from.
    output
        Folder for the results: a new one, or that of the same study begun before.
    workers
        Processes on this machine (default: one for each core).
    on
        Address of a Dask scheduler, like tcp://192.168.0.10:8786, whose workers do it instead.
    with_scenario
        Keep with the results also the whole scenario as it was understood. It holds the diver's measures.
    """
    from sim.answers.study.crew import CrewError
    from sim.answers.study.folder import FolderError, opened
    from sim.answers.study.from_file import job_from_file
    from sim.answers.study.needed import NotInstalledError, polars

    if workers is not None and not workers >= 1:
        raise UsageError(f"--workers {workers}: give 1 or more")
    try:
        polars()
        job = job_from_file(file, whole=with_scenario)
        with opened(output, job) as damaged:
            if damaged:
                rows = ", ".join(map(str, damaged))
                complain(told(note("Damaged, and worked out again: {rows}", rows=rows)))
            _worked(job, output, workers, on)
    except (FolderError, CrewError, NotInstalledError) as why:
        raise UsageError(str(why)) from None


def _worked(job: Job, folder: Path, workers: int | None, on: str | None) -> None:
    """Estimate, begin workers if they are worth it, run, and say what came of it."""
    from sim.answers.study.crew import alone, cluster, cores, processes
    from sim.answers.study.folder import missing_rows
    from sim.answers.study.run import estimated

    if not missing_rows(folder, job.plan.rows):
        every = note("All {rows} rows are there already: {folder}", rows=whole(job.plan.rows), folder=str(folder))
        say(told(every))
        return
    with ExitStack() as stack:
        crew = stack.enter_context(cluster(on) if on else alone())
        count = crew.workers if on else workers or cores()
        begun = note(
            "{title}: {rows} rows, {kind}; timing a few ...",
            title=job.title[:1].upper() + job.title[1:],
            rows=whole(job.plan.rows),
            kind=known(job.plan.kind),
        )
        complain(told(begun))
        left = estimated(job, folder, crew, count)
        if left.rows:
            if not on and left.rows * left.row_seconds > WORTH_WORKERS:
                crew = stack.enter_context(processes(workers))
            complain(_forecast(job, left, crew.workers))
            _run(job, folder, crew, left)
    done = note(
        "{rows} rows: {folder}\nWhat moves the answers: hangflat study report {folder}",
        rows=whole(job.plan.rows),
        folder=str(folder),
    )
    say(told(done))


def _run(job: Job, folder: Path, crew: Crew, left: Estimate) -> None:
    """Run with a bar on stderr."""
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    from sim.answers.study.run import run

    columns = (TextColumn("rows"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    shown = Console(stderr=True)
    try:
        with Progress(*columns, console=shown, transient=True, disable=not sys.stderr.isatty()) as progress:
            task = progress.add_task(told(word("rows")), total=job.plan.rows, completed=job.plan.rows - left.rows)
            run(job, folder, crew, left.block, lambda rows: progress.advance(task, rows))
    except KeyboardInterrupt:
        stopped = note(
            "Stopped. What is done stays in {folder}; the same command goes on from there.", folder=str(folder)
        )
        complain(told(stopped))
        raise


def _forecast(job: Job, left: Estimate, workers: int) -> str:
    done = job.plan.rows - left.rows
    fields = {
        "left": whole(left.rows),
        "workers": workers,
        "time": _duration(left.seconds),
        "size": _size(left.size),
    }
    if done:
        return told(
            note(
                "{done} rows are there; {left} to do, {workers} at a time: about {time} and {size} of disk",
                done=whole(done),
                **fields,
            )
        )
    return told(note("{left} rows to do, {workers} at a time: about {time} and {size} of disk", **fields))


def _duration(seconds: float) -> str:
    if seconds < 90.0:
        return f"{max(seconds, 1.0):.0f} s"
    return f"{seconds / 60.0:.0f} min" if seconds < 5400.0 else f"{seconds / 3600.0:.1f} h"


def _size(size: float) -> str:
    return (
        f"{max(size / 1e3, 1.0):.0f} kB"
        if size < 1e6
        else f"{size / 1e6:.0f} MB"
        if size < 1e9
        else f"{size / 1e9:.1f} GB"
    )


@study.command(
    help="Say how the answers of a finished study are spread and what moves them; write tables and figures."
)
def report(
    folder: Path,
    /,
    *,
    output: Annotated[Path | None, Parameter(name=["--output", "-o"])] = None,
    by: tuple[str, ...] = (),
    as_json: Annotated[bool, Parameter(name="--json")] = False,
) -> None:
    """Say how the answers of a finished study are spread and what moves them; write tables and figures.

    Parameters
    ----------
    folder
        Folder that hangflat study made.
    output
        Folder for tables (CSV) and figures (SVG, PNG); FOLDER/report if left out.
    by
        An input with choices, for each of which the course along the others is told apart. May be given again.
    as_json
        Print one JSON object instead of text.
    """
    from sim.answers.study.folder import FolderError
    from sim.answers.study.needed import NotInstalledError, polars
    from sim.answers.study.results import results
    from sim.answers.study.text import report_text

    try:
        polars()
        done = results(folder)
    except (FolderError, NotInstalledError) as why:
        raise UsageError(str(why)) from None
    found = _report(done, by)
    written = output or folder / "report"
    _write(found, written)
    if as_json:
        say_json(found)
    else:
        say(report_text(found, str(written)))


def _write(report: StudyReport, folder: Path) -> None:
    """Tables and figures take their places when all of them are there, none before."""
    from sim.answers.study.report import FILES, write_report

    new = not folder.exists()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as why:
        raise UsageError(f"the report cannot be written to {folder}: {why.strerror}") from None
    try:
        with ExitStack() as stack:
            write_report(report, lambda names: [stack.enter_context(written_whole(folder / n, FILES)) for n in names])
    finally:
        if new:
            with suppress(OSError):  # it holds the report
                folder.rmdir()


def _report(done: Results, by: tuple[str, ...]) -> StudyReport:
    from sim.answers.study.answer import study_report

    try:
        return study_report(done, by)
    except ValueError as why:
        raise UsageError(f"--by: {why}") from None
