"""What fits whom, and what a plate is and does, as functions. What works it out is imported when first asked for."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Literal

from hangflat.origins import answer_made_by

if TYPE_CHECKING:
    from sim.answers.fit.report import FitReport
    from sim.answers.plate.answer import PlateAnswer
    from sim.answers.plate.hold.told import HoldTold
    from sim.case import Case


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
    return replace(report, made_by=answer_made_by(cases))


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
