"""``hangflat empty``: the diver of a file as the cylinders on the back empty, as an object and as a table."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from scenarios.errors import Problem, ScenarioError
from scenarios.models import Scenario
from scenarios.quantities import SI
from sim.answers.empty.emptying import Emptying, emptying
from sim.assembly.assembled import Assembled
from sim.case import Case
from sim.telling.caution import CAUTION

FORMAT: Final = "hangflat.empty/1"
BAR: Final = 1e5
LITRE: Final = 1e-3
STEP: Final = 10.0 * BAR  # from one pressure to the next, fine enough for straight lines to miss by 5 g at most
LEAST: Final = 1.0 * BAR  # between the first and the last
FOAM: Final = (
    "Foam is squeezed thin at depth: nearer the surface the diver is lighter. Before weight is taken off, look "
    'there, with --set "water.depth=3 m".'
)
NEARLY_EMPTY: Final = 10.0 * BAR  # where to end unless told (assumed)
COLUMNS: Final = (
    ("pressure [bar]", "pressure_bar"),
    ("gas breathed [kg]", "breathed_kg"),
    ("trimming moment, plus turns head-up [N m]", "pitch_moment_nm"),
    ("pitch stiffness [N m/rad]", "pitch_stiffness_nm_per_rad"),
    ("roll stiffness [N m/rad]", "roll_stiffness_nm_per_rad"),
    ("wing gas [l]", "wing_gas_l"),
    ("suit gas [l]", "suit_gas_l"),
    ("net buoyancy, plus floats [kg]", "net_buoyancy_kg"),
    ("sinks with an empty wing, minus floats up [kg]", "heavy_with_empty_wing_kg"),
)


@dataclass(frozen=True, eq=False)
class EmptyReport:
    """The answers, with the rig as it is at first; ``notes`` are sentences on what was left as it is."""

    assembled: Assembled
    found: Emptying
    notes: tuple[str, ...]


def empty_report(case: Case, end: float = NEARLY_EMPTY) -> EmptyReport:
    """The diver of a scenario from the pressure that it tells down to ``end`` [Pa, as the gauge shows].

    Raises ScenarioError for a parts file, for what cannot be built, and for a diver without cylinders on the back or
    with emptier ones.
    """
    content = case.scenario("a parts file has no cylinders to empty: give a scenario file")
    if content.cylinders is None:
        message = "there are no cylinders on the back to empty; add [cylinders], or take another file"
        raise ScenarioError([Problem(str(case.path), message, "cylinders")])
    full = content.cylinders.fill
    if not full >= end + LEAST:
        message = f"the cylinders are at {full / BAR:g} bar, and are to be emptied to {end / BAR:g} bar; say less"
        raise ScenarioError([Problem(str(case.path), message, "cylinders.pressure")])
    pressures = falling(full, end)
    made = [case.vary({"cylinders.pressure": SI(p)}).assembled for p in pressures]
    return EmptyReport(
        made[0], emptying(pressures, [a.rig for a in made]), (*made[0].notes, *_notes(made[0], content))
    )


def falling(full: float, end: float) -> list[float]:
    """From ``full`` down to ``end`` [Pa] in whole steps above the end, both among them."""
    steps = int(np.ceil((full - end) / STEP - 1e-9))
    return [full, *(end + STEP * k for k in range(steps - 1, -1, -1))]


def _notes(assembled: Assembled, scenario: Scenario) -> Iterator[str]:
    rig, suit = assembled.rig, scenario.suit
    if suit is not None and suit.foam_stiffness is not None:
        yield FOAM
    if any(p.kind == "stage" for p in rig.parts):
        yield "Stage cylinders stay as full as the file says."
    if rig.wing is not None and rig.wing.gas is not None:
        yield "The wing's gas stays as the file says: it does not make up for the gas that is breathed."


def empty_json(report: EmptyReport) -> dict[str, Any]:
    """``hangflat.empty/1``: moments N m, plus head-up, about the held point; pressures bar as the gauge shows."""
    found = report.found
    at = found.wing_empty_at
    return {
        "format": FORMAT,
        "title": report.assembled.title,
        "points": [_point(found, i) for i in range(len(found.pressure))],
        "wing_empty_at_bar": None if at is None else at / BAR,
        "changes": [{"name": c.name, "first_nm": c.first, "last_nm": c.last} for c in found.changes],
        "estimated": list(report.assembled.estimated),
        "notes": list(report.notes),
        "caution": CAUTION,
    }


def _point(found: Emptying, i: int) -> dict[str, Any]:
    heavy = float(found.heavy[i])
    return {
        "pressure_bar": float(found.pressure[i]) / BAR,
        "breathed_kg": float(found.used[i]),
        "pitch_moment_nm": float(found.moment[i]),
        "pitch_stiffness_nm_per_rad": float(found.pitch_stiffness[i]),
        "roll_stiffness_nm_per_rad": float(found.roll_stiffness[i]),
        "wing_gas_l": float(found.wing_gas[i]) / LITRE,
        "suit_gas_l": float(found.suit_gas[i]) / LITRE,
        "net_buoyancy_kg": float(found.net_buoyancy[i]),
        "heavy_with_empty_wing_kg": heavy if np.isfinite(heavy) else None,
    }


def empty_csv(told: Mapping[str, Any]) -> str:
    """One row a pressure, units in the header."""
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow([words for words, _ in COLUMNS])
    table.writerows([[_cell(point[key]) for _, key in COLUMNS] for point in told["points"]])
    return out.getvalue()


def _cell(value: float | None) -> str:
    return "" if value is None else f"{round(value, 9) + 0.0:.6g}"
