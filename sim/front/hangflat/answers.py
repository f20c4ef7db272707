"""The answers as functions of a case. What works them out is imported when it is first asked for."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

if TYPE_CHECKING:
    from sim.answers.calibrate.answer import CalibrationTold
    from sim.answers.change.answer import ChangeAnswer
    from sim.answers.check_bench.answer import BenchTold
    from sim.answers.check_bench.bench_file import BenchFile
    from sim.answers.compare.compared import Comparison
    from sim.answers.film.answer import FilmAnswer
    from sim.answers.fit.report import FitReport
    from sim.answers.later.answer import LaterAnswer
    from sim.answers.later.empty_answer import EmptyAnswer
    from sim.answers.plate.answer import PlateAnswer
    from sim.answers.plate.hold.told import HoldTold
    from sim.answers.posture.told import PostureAnswer
    from sim.answers.seen.answer import SeenAnswer
    from sim.answers.settle.answer import SettleAnswer
    from sim.answers.study.answer import StudyReport
    from sim.answers.weigh.answer import WeighAnswer
    from sim.answers.why.answer import WhyAnswer
    from sim.case import Case
    from sim.telling.made_by import MadeBy, MadeByMeasurements


def load(path: str | os.PathLike[str], settings: Iterable[str] = ()) -> Case:
    """Read a scenario or parts file (TOML).

    settings : KEY=VALUE texts put in place of what the file says, as behind ``--set``: 'cylinders.pressure="50 bar"'
    ``vary`` of what comes back does the same by a table of keys and gives another case; person and rig are worked
    out when they are first needed, a person once for all cases that say the same of them.
    Raises ScenarioError with every problem found.
    """
    from sim.case import Case

    return Case.read(path, settings)


def settle(
    case: Case,
    *,
    roll: Literal["held", "free"] = "held",
    surface: bool = False,
    uncertain: bool = False,
    workers: int = 1,
) -> SettleAnswer:
    """How the diver hangs when they hold flat and stop moving: ``hangflat.settle/1``.

    roll : whether the diver keeps level from side to side on the way to rest
    surface : fills ``surface``, how the diver floats with wing blown up and limbs relaxed; not of a parts file
    uncertain : fills ``uncertain``, bands of 5 to 95 % and what makes them wide
    workers : processes for ``uncertain``; more than one needs a script guarded by ``if __name__ == "__main__"``
    ``flat`` holds the trimming moment [N m, plus turns head-up] and the stiffnesses [N m/rad, plus is stable],
    ``rest`` every free equilibrium by pitch and roll [rad], ``items`` what each weighs in the water [kg, plus sinks].
    Raises ScenarioError for what cannot be built.
    """
    from sim.answers.settle.report import report_of
    from sim.answers.settle.told import settle_answer

    afloat = spread = None
    report = report_of(case.assembled, roll)
    if surface:
        from sim.answers.settle.afloat.surface import surface_report, surface_told

        afloat = surface_told(surface_report(case))
    if uncertain:
        from sim.answers.settle.uncertain import uncertain_told
        from sim.uncertainty.uncertain_settle import uncertain_settle

        spread = uncertain_told(uncertain_settle(case, workers=workers))
    return replace(settle_answer(report, afloat, spread), made_by=_made_by({None: case}))


def why(case: Case) -> WhyAnswer:
    """Which item turns the diver held flat: ``hangflat.why/1``.

    ``items`` holds apparent weight [kg, plus sinks], arm [m, plus toward the head] and moment [N m, plus turns
    head-up] of each, the largest moment first; the moments add up to ``flat.pitch_moment``.
    Raises ScenarioError for what cannot be built.
    """
    from sim.answers.why.answer import why_answer

    return replace(why_answer(case), made_by=_made_by({None: case}))


def as_json(answer: Any) -> dict[str, Any]:
    """An answer as the object that the command prints with ``--json``: units in the keys, angles in degrees."""
    from sim.telling.record import as_json as told

    return told(answer)


def plate(
    path: str | os.PathLike[str], settings: Iterable[str] = (), *, people: int = 0, beside: Sequence[str] = (),
    divers: bool = False, change: bool = False, design: Literal["women", "men", "both"] | None = None,
    most_mass: float | None = None,
) -> PlateAnswer:  # fmt: skip
    """What a plate weighs, where all on it is, and whether it can be made as drawn: ``hangflat.plate/1``.

    path : a drawing, a file with [plate] alone, a scenario, or a name of the catalogue
    settings : KEY=VALUE texts put in place of what the file says: 'plate.thickness="4 mm"'
    people : adds ``people``, whom it suits of so many women and so many men of a survey;  beside : and other plates
    divers : adds ``divers``, what it does to the reference divers beside plates of the catalogue
    change : adds ``change``, by how much each of its dimensions moves each of these answers
    design : adds ``design``, its dimensions searched for twenty women, men or of both, up to ``most_mass`` [kg]; the
        one chosen opens again by its ``file_text``
    Lengths in m on the flat sheet from the top edge and the middle line, mass in kg, inertia in kg m^2 about the CM.
    Raises ScenarioError for what cannot be read or built.
    """
    from sim.answers.plate.answer import plate_answer
    from sim.answers.plate.bench import bench_plate
    from sim.answers.plate.worn import on_people
    from sim.telling.made_by import made_by, origin

    bench = bench_plate(path, settings)
    answer = replace(plate_answer(bench), made_by=made_by([origin(bench.content, bench.path)]))
    return on_people(answer, bench, people, beside, divers=divers, change=change, design=design, most_mass=most_mass)


def fit(case: Case, plates: Sequence[str] = (), *, sweep: str | None = None, people: int = 0) -> FitReport:
    """Whether the gear fits, where the rig sits, what hands and eyes reach: ``hangflat.fit/1``.

    plates : each laid on the diver in place of the case's own: a catalogue entry or a drawing with its keys, as
        "mine.dxf; thickness=3 mm"; an entry of ``plates`` each, lengths and margins in m, plus is to spare
    sweep : adds ``sweep``, what is gained and lost along "drop", "plate length", "plate width", "channel depth" or
        "cylinder shift", with a range as in "drop; from=-2 cm; to=10 cm; steps=13"
    people : adds ``people``, the plates held against so many women and so many men of a survey
    Raises ScenarioError for what cannot be built, a parts file, and a diver without a plate; ValueError for a sweep
    that is not known.
    """
    from sim.answers.fit.people_run import people_report
    from sim.answers.fit.report import fit_report
    from sim.answers.fit.sweep import fit_sweep
    from sim.answers.fit.sweep_kinds import asked
    from sim.answers.fit.told.people import people_fit

    report = fit_report(case, plates)
    if sweep is not None:
        report = replace(report, sweep=fit_sweep(case, asked(sweep), plates))
    if people:
        report = replace(report, people=people_fit(people_report(report.plates, people, workers=1)))
    cases: dict[str | None, Case] = {one.name: one.case for one in report.plates} if plates else {None: case}
    return replace(report, made_by=_made_by(cases))


def hold(case: Case, beside: Sequence[str] = (), *, deceleration: float = 5.0, workers: int = 1) -> HoldTold:
    """Whether the plate of a case holds when the case's cylinders are carried ashore on it, beside other plates.

    beside : catalogue entries, drawings with their keys or files; the whole catalogue where none are named
    deceleration : in times g, at which a vehicle's floor strikes it;  workers : as of ``settle``
    ``plates`` holds of each, in every way of carrying, ``peak`` [Pa], ``of_strength`` and ``deflection`` [m].
    Raises ScenarioError for a plate whose sheet is not known, and a case without plate or cylinders.
    """
    from sim.answers.plate.hold.run import case_held
    from sim.answers.plate.hold.told import hold_told

    return hold_told(case_held(case, beside, vehicle=deceleration, workers=workers))


def posture(case: Case) -> PostureAnswer:
    """What a relaxed diver's posture can hold: ``hangflat.posture/1``.

    ``posture`` holds ``held``, what the moment [N m, plus turns head-up] asks of the diver, ``levers``, what knees,
    hips, arms, head and breath make up, and ``flat_knee``, the bend of the knees [rad] that hangs flat.
    Raises ScenarioError for what cannot be built, and for a parts file.
    """
    from sim.answers.posture.told import posture_answer

    return replace(posture_answer(case), made_by=_made_by({None: case}))


def seen(case: Case, sights: Sequence[str], tests: Sequence[str] = ()) -> SeenAnswer:
    """Which cause is behind how a diver is seen to hang: ``hangflat.seen/1``.

    sights : each as typed behind ``--also``, "20 deg head-up; finning; fins down"; what was otherwise than in the
        file behind it, as "; pressure=60 bar; gaiters=no". Tests are of the first.
    tests : what came of them, as typed behind ``--test``: "freeze: head-down in 5 s"
    ``causes`` holds each with its probability, the likeliest first, ``test`` the next one in the water.
    Raises ScenarioError for what cannot be built, and for a parts file; ValueError for what is no sight or outcome.
    """
    from sim.answers.seen.answer import seen_answer
    from sim.answers.seen.typed import outcome_of, sight_of

    if not sights:
        raise ValueError('no sight is told; give one or more, like ["20 deg head-up; finning; fins down"]')
    told = seen_answer(case, [sight_of(s) for s in sights], [outcome_of(t) for t in tests])
    return replace(told, made_by=_made_by({None: case}))


def change(case: Case, also_in: Sequence[Literal["sea", "fresh"]] = ()) -> ChangeAnswer:
    """What to change so that the diver is weighted right and hangs flat, start and end: ``hangflat.change/1``.

    ``advice`` is the fewest changes that do it, or the best of what is at hand, what they cost elsewhere, and what it
    comes to: moment [N m, plus turns head-up], wing gas [m^3] and net buoyancy [kg, plus floats]; ``changes`` every
    one by itself. The ``settings`` of either are what ``vary`` takes.
    also_in : other water in which the diver is to hang flat too, weighted for it
    Raises ScenarioError for what cannot be built, and for a parts file.
    """
    from sim.answers.change.answer import change_answer
    from sim.answers.change.report import change_report

    return replace(change_answer(change_report(case, waters=also_in)), made_by=_made_by({None: case}))


def compare(*cases: Case) -> Comparison:
    """Two to five divers side by side, each against the first: ``hangflat.compare/1``.

    ``divers`` holds what each comes to, ``differences`` what the files say otherwise, ``against`` what each differing
    table does when it alone is put into the first [N m, plus turns head-up].
    Raises ScenarioError for what cannot be built, ValueError for another number of cases.
    """
    from sim.answers.compare.compared import MOST, compared

    if not 2 <= len(cases) <= MOST:
        raise ValueError(f"compare takes 2 to {MOST} cases, got {len(cases)}")
    return replace(compared(cases), made_by=_made_by(cases))


def weigh(case: Case, **how: Any) -> WeighAnswer:
    """How much lead makes the diver neutral at the last stop, and what that leaves: ``hangflat.weigh/1``.

    how : ``depth`` [m], ``pressure`` [Pa, as the gauge shows], ``breath`` and ``suit_gas`` ("vented", "comfortable"
        or m^3), where the diver is not to be weighed at 4 m with 50 bar, breathing quietly, the suit vented
    ``waters`` holds the lead [kg] in the file's water, sea and fresh, and the start with it; ``failures`` what is
    left to swim up [kg, plus sinks] when one thing fails; ``sure`` the bands of 5 to 95 %.
    Raises ScenarioError for what cannot be built or weighed so.
    """
    from sim.answers.weigh.conditions import Conditions
    from sim.answers.weigh.report import weigh_answer

    return replace(weigh_answer(case, Conditions(**how)), made_by=_made_by({None: case}))


def later(case: Case) -> LaterAnswer:
    """How the diver hangs later in the dive, by the file's [later] or a plain course: ``hangflat.later/1``.

    ``points`` holds depth [m], pressures [Pa], gas of wing and suit [m^3], moment [N m, plus turns head-up] moment by
    moment, and what was breathed, let in and let out so far [kg].
    Raises ScenarioError for what cannot be built, a parts file, and gas that does not last.
    """
    from sim.answers.later.answer import later_answer

    return replace(later_answer(case), made_by=_made_by({None: case}))


def empty(case: Case, to: str = "10 bar") -> EmptyAnswer:
    """How the diver hangs as the cylinders on the back empty: ``hangflat.empty/1``.

    to : pressure at the end, as the gauge shows, with its unit
    ``points`` holds moment [N m, plus turns head-up], stiffnesses [N m/rad], wing gas [m^3] and net buoyancy [kg,
    plus floats] at each pressure [Pa].
    Raises ScenarioError for what cannot be built, a parts file, and cylinders that are emptier; ValueError for a text
    that is no pressure.
    """
    from scenarios.units import parse
    from sim.answers.later.empty_answer import empty_answer
    from sim.answers.later.empty_report import empty_report

    told = empty_answer(empty_report(case, parse("pressure", to, "10 bar")))
    return replace(told, made_by=_made_by({None: case}))


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
    return replace(bench_told(bench_answer(bench, case)), made_by=_made_by_measurements(case, bench))


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
    return replace(told, made_by=_made_by_measurements(case, bench))


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


def write_parts(case: Case, path: str | os.PathLike[str]) -> Path:
    """Write the case's rig as numbers, as a parts file (TOML): for other programs, for checks, to go on from.

    Lengths are in m, body axes; every other quantity carries its unit. It is read again to the same statics, and
    holds neither person nor shapes. The path is returned. Raises ScenarioError for what cannot be built.
    """
    place = Path(path)
    place.write_text(case.as_parts(), encoding="utf-8", newline="\n")
    return place


def write_sheet(
    cases: Case | Sequence[Case], path: str | os.PathLike[str], paper: Literal["a4", "letter"] = "a4"
) -> Path:
    """Write a hand-out to print: two pages of one diver, two divers compared, or up to 40 of a class as one document.

    It is a tagged PDF with its fonts in it. The path is returned.
    Raises ScenarioError for what cannot be built, ValueError for another number of cases, and NoTypesetterError
    without the extra ``print``.
    """
    from sim.answers.sheet.handout import handout
    from sim.answers.sheet.typeset import sheet_pdf, typesetter
    from sim.drawing.stamp import stamped

    typesetter()
    place, divers = Path(path), [cases] if not isinstance(cases, Sequence) else cases
    with stamped(_made_by(divers)):
        place.write_bytes(sheet_pdf(handout(divers), paper))
    return place


def write_film(
    case: Case, paths: str | os.PathLike[str] | Sequence[str | os.PathLike[str]],
    show: Literal["let-go", "emptying", "sweep", "correction"] = "let-go", *, sweep: str = "",
    roll: Literal["held", "free"] = "held", speed: float = 1.0, seconds: float | None = None,
    size: tuple[int, int] = (1280, 720),
) -> FilmAnswer:  # fmt: skip
    """Film the diver let go from flat, as the cylinders empty, as one choice changes, or before and after a change.

    paths : by their endings: .mp4 (needs the extra ``film``), .gif, .png (one picture), .srt or .vtt (the captions,
        which then do not stand in the pictures)
    sweep : for "sweep", a length that ``fit --sweep`` knows, or a key: "cylinders.pressure; from=200 bar; to=50 bar"
    speed : the diver's seconds in one of the film's;  seconds : of film;  size : (width, height) in pixels, both even
    Raises ScenarioError for what cannot be built or has nothing of the kind, ValueError for a wrong ``sweep``, ending
    or size, NoRendererError without a graphics library, NoEncoderError without PyAV for an .mp4.
    """
    from sim.answers.film.answer import film_answer
    from sim.answers.film.films import footage_of
    from sim.answers.film.written import ENDINGS, write_film
    from sim.drawing.stamp import stamped

    places = [Path(p) for p in ([paths] if isinstance(paths, str | os.PathLike) else paths)]
    kinds = {place.suffix.lower(): place for place in places}
    if not kinds or len(kinds) < len(places) or not kinds.keys() <= set(ENDINGS):
        raise ValueError(f"a film's files end in {', '.join(ENDINGS)}, each once; got {', '.join(map(str, places))}")
    if size[0] % 2 or size[1] % 2:
        raise ValueError(f"a film has even numbers of pixels across and down, got {size[0]} x {size[1]}")
    footage = footage_of(case, show, sweep=sweep, roll=roll, speed=speed, seconds=seconds)
    with stamped(_made_by([case])):
        write_film(footage, kinds, size)
    return film_answer(footage, size, [str(place) for place in places])


def _made_by(cases: Mapping[str | None, Case] | Sequence[Case]) -> MadeBy:
    """cases : each by the plate put on in place of the file's"""
    from sim.telling.made_by import made_by, origin

    each = cases.items() if isinstance(cases, Mapping) else ((None, case) for case in cases)
    return made_by([origin(case.content, case.path, plate=plate) for plate, case in each])


def _made_by_measurements(case: Case, bench: BenchFile) -> MadeByMeasurements:
    from sim.telling.made_by import made_by_measurements, origin

    return made_by_measurements([origin(case.content, case.path)], origin(bench.bench, bench.name))
