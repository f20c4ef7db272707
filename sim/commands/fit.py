"""``hangflat fit``: whether the gear fits the diver of a file."""

from __future__ import annotations

from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from sim.commands.console import UsageError, say
from sim.commands.traced import DIGEST_ALONE, Tracing, say_json, traced
from sim.commands.watching import DRAWING, waiting
from sim.commands.whole_file import PICTURE_ENDINGS, written_whole
from sim.said import note
from sim.telling.file_line import Written, file_line
from sim.telling.language import told


def fit(
    file: Path,
    /,
    *,
    plate: tuple[str, ...] = (),
    as_json: Annotated[bool, Parameter(name="--json")] = False,
    picture: Path | None = None,
    sweep: str | None = None,
    chart: Path | None = None,
    people: str | None = None,
    people_map: Annotated[Path | None, Parameter(name="--map")] = None,
    table: Path | None = None,
    settings: Annotated[tuple[str, ...], Parameter(name="--set")] = (),
    tracing: Tracing = DIGEST_ALONE,
) -> None:
    """Say where the rig sits on the diver of a file, what hands and eyes reach, and how to wear it so that it passes.

    Parameters
    ----------
    file
        Scenario file (TOML).
    plate
        Another plate in place of the file's: a catalogue entry ("small steel") or a drawing with its keys
        ("mine.dxf; thickness=3 mm"), as in the file's [plate]. May be given again, to lay plates side by side.
    as_json
        Print one JSON object instead of text.
    picture
        Draw diver and rig from behind and from the side, measured, to this file (A4; PNG, SVG or PDF).
    sweep
        What is gained and lost as this changes: drop, plate length, plate width, channel depth, cylinder shift; with
        a range of your own: "drop; from=-2 cm; to=10 cm; steps=13".
    chart
        Draw the sweep to this file (PNG, SVG or PDF).
    people
        Hold each plate against so many women and so many men drawn from a survey, dressed as the file says.
    people_map
        Draw to this file for whom of them each plate passes, over height (PNG, SVG or PDF).
    table
        Write the numbers of the sweep, or of the people, to this file (CSV).
    settings
        KEY=VALUE put in place of what the file says, e.g. --set harness.drop="4 cm". May be given again.
    """
    if picture and len(plate) > 1:
        raise UsageError("a picture shows one plate: give one --plate, and another file for each further one.")
    _check_together(sweep, people, chart, people_map, table)
    with ExitStack() as stack:
        draft = stack.enter_context(written_whole(picture, PICTURE_ENDINGS)) if picture else None
        from sim.answers.fit.report import fit_report
        from sim.answers.fit.told.text import fit_text
        from sim.case import Case
        from sim.telling.written_file import written

        tracing.check(as_json)
        with waiting(told(note("Laying the rig on the diver"))):
            case = Case.read(file, settings)
            report = fit_report(case, plate)
        plates: dict[str | None, Case] = {one.name: one.case for one in report.plates} if plate else {None: case}
        drawn = any((picture, chart, people_map))
        made = stack.enter_context(traced(tracing, as_json, plates, pictures=drawn))
        if draft and picture:
            from sim.answers.fit.drawn.drawing import draw_fit
            from sim.answers.fit.drawn.seen import fit_scene

            with waiting(told(DRAWING)):
                one = report.plates[0]
                draw_fit(fit_scene(one.case.assembled, one.answer, one.name if plate else ""), draft)
            report = replace(report, picture=written(picture))
        if sweep is not None:
            from sim.commands.fit_sweep import told_sweep

            report = replace(report, sweep=told_sweep(case, sweep, plate, chart, table))
        if people is not None:
            from sim.commands.fit_people import told_people

            report = replace(report, people=told_people(file, report.plates, people, people_map, table))
    if as_json:
        say_json(report, made)
    else:
        files: dict[Written, Path | None] = {"Picture": picture, "Chart": chart, "Map": people_map, "Table": table}
        say("\n".join([fit_text(report), "", *(file_line(name, path) for name, path in files.items() if path)]))


def _check_together(
    sweep: str | None, people: str | None, chart: Path | None, people_map: Path | None, table: Path | None
) -> None:
    """Raises UsageError for options that need another, or cannot be had at once."""
    if chart and sweep is None:
        raise UsageError("--chart shows a sweep: give --sweep drop with it.")
    if people_map and people is None:
        raise UsageError("--map shows a population: give --people 200 with it.")
    if table and sweep is None and people is None:
        raise UsageError("--table holds the numbers of a sweep or of people: give --sweep drop or --people 200 too.")
    if table and sweep is not None and people is not None:
        raise UsageError("--table holds either a sweep or people: run --sweep and --people one after the other.")
