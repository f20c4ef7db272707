"""A diver's own measurements held against the model, and many cases at once, as functions."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from hangflat.origins import measurements_made_by

if TYPE_CHECKING:
    from sim.answers.calibrate.answer import CalibrationTold
    from sim.answers.check_bench.answer import BenchTold
    from sim.answers.study.answer import StudyReport
    from sim.case import Case


def check_bench(measured: str | os.PathLike[str]) -> BenchTold:
    """A file of measurements (TOML) held line by line against the scenario that it names: ``hangflat.check-bench/1``.

    Raises ScenarioError for either file where it cannot be used.
    """
    from sim.answers.check_bench.answer import bench_told
    from sim.answers.check_bench.bench_file import read_bench
    from sim.answers.check_bench.compare import bench_answer
    from sim.case import Case

    bench = read_bench(Path(measured))
    case = Case.read(bench.scenario)
    return replace(bench_told(bench_answer(bench, case)), made_by=measurements_made_by(case, bench))


def calibrate(
    case: Case,
    measured: str | os.PathLike[str],
    *,
    known: str | os.PathLike[str] | None = None,
    workers: int = 1,
) -> CalibrationTold:
    """What a diver's own measurements in confined water say of this diver: ``hangflat.calibrate/1``.

    measured : a file of measurements (TOML);  known : a file to write what was learnt to, for a line known = "..." in
        a scenario beside it; nothing is written when the measurements contradict the model
    workers : processes; more than one needs a script guarded by ``if __name__ == "__main__"``
    ``pitch_moment`` holds the moment's band before and after [N m, plus turns head-up].
    Raises ScenarioError for files that cannot be used, and for a parts file.
    """
    from sim.answers.calibrate.answer import calibration_told
    from sim.answers.calibrate.calibrate import calibrated
    from sim.answers.calibrate.known_file import known_text
    from sim.answers.check_bench.bench_file import read_bench

    bench = read_bench(Path(measured))
    answer = calibrated(case, bench, workers=workers)
    told = calibration_told(answer)
    if known is not None and answer.found is not None:
        Path(known).write_text(known_text(answer), encoding="utf-8", newline="\n")
        told = replace(told, known=str(known))
    return replace(told, made_by=measurements_made_by(case, bench))


def study(file: str | os.PathLike[str], folder: str | os.PathLike[str], *, workers: int = 1) -> StudyReport:
    """Work out what is missing of a study file (TOML) into a folder, and say what moves the answers:
    ``hangflat.study-report/1``.

    workers : processes; more than one needs a script guarded by ``if __name__ == "__main__"``
    A run that was stopped goes on where it was. ``units`` holds the unit of every column of the tables.
    Raises ScenarioError for a file that cannot be used, FolderError for a folder that cannot, and NotInstalledError
    without the extra ``study``.
    """
    from sim.answers.study.answer import study_report
    from sim.answers.study.crew import alone, processes
    from sim.answers.study.folder import opened
    from sim.answers.study.from_file import job_from_file
    from sim.answers.study.needed import polars
    from sim.answers.study.results import results
    from sim.answers.study.run import estimated, run

    polars()
    place, job = Path(folder), job_from_file(file)
    with opened(place, job), processes(workers) if workers > 1 else alone() as crew:
        run(job, place, crew, estimated(job, place, crew).block)
    return study_report(results(place))
