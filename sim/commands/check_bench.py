"""``hangflat check-bench``: a user's own measurements against the model."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from sim.commands.console import UsageError, say
from sim.commands.traced import DIGEST_ALONE, Tracing, say_json, traced
from sim.commands.whole_file import written_whole
from sim.said import note
from sim.telling.language import told


def check_bench(
    file: Path | None = None,
    /,
    *,
    as_json: Annotated[bool, Parameter(name="--json")] = False,
    template: Path | None = None,
    sheet: Path | None = None,
    diver: Path | None = None,
    tracing: Tracing = DIGEST_ALONE,
) -> None:
    """Hold your own weighings, balance points and freeze test against the model, and name what they contradict.

    Parameters
    ----------
    file
        Measurements (TOML); see --template.
    as_json
        Print one JSON object instead of text.
    template
        Write a file of measurements to fill in, instead of checking one.
    sheet
        Write a sheet to print and take to the water, instead of checking a file: cautions, steps, boxes to write
        in (PDF, four pages of A5).
    diver
        With --sheet: the diver's scenario file (TOML), so that the sheet has the boxes of this diver and gear.
    """
    if (file is not None) == (template is not None or sheet is not None):
        raise UsageError(
            "give a file of measurements, or --template OUT.toml to write one to fill in, "
            "or --sheet OUT.pdf to write a sheet to print and take to the water."
        )
    if diver is not None and sheet is None:
        raise UsageError("--diver says whom the sheet is for; give --sheet OUT.pdf with it.")
    if template is not None:
        _check_new(template)
    if sheet is not None:
        from sim.commands.pool_sheet import write_sheet

        write_sheet(sheet, diver)
        say(
            told(
                note(
                    "{file} written: four pages of A5. Print it at true size, and read page 1 with the instructor "
                    "first.",
                    file=str(sheet),
                )
            )
        )
    if template is not None:
        _write(template)
    if file is None:
        return
    from sim.answers.check_bench.answer import bench_told
    from sim.answers.check_bench.bench_file import read_bench
    from sim.answers.check_bench.compare import bench_answer
    from sim.answers.check_bench.text import bench_text
    from sim.case import Case

    tracing.check(as_json)
    bench = read_bench(file)
    case = Case.read(bench.scenario)
    with traced(tracing, as_json, case, measured=bench) as made:
        answer = bench_told(bench_answer(bench, case))
    if as_json:
        say_json(answer, made)
    else:
        say(bench_text(answer))


def _check_new(template: Path) -> None:
    if template.exists():
        raise UsageError(f"{template} is there already; give another name.")


def _write(template: Path) -> None:
    from sim.answers.check_bench.template import TEMPLATE
    from sim.telling.file_comments import told_file

    with written_whole(template, (".toml",)) as draft:
        draft.write_text(told_file(TEMPLATE), encoding="utf-8", newline="\n")
    say(told(note("{file} written. Fill it in, then: hangflat check-bench {file}", file=str(template))))
