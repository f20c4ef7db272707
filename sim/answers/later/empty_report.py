"""``hangflat empty``: the diver of a file as the cylinders on the back empty."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from scenarios.errors import Problem, ScenarioError
from scenarios.models import Scenario
from scenarios.quantities import SI
from sim.answers.later.emptying import Emptying, emptying
from sim.assembly.assembled import Assembled
from sim.case import Case
from sim.said import note

BAR: Final = 1e5
STEP: Final = 10.0 * BAR  # from one pressure to the next, fine enough for straight lines to miss by 5 g at most
LEAST: Final = 1.0 * BAR  # between the first and the last
FOAM: Final = note(
    "Foam is squeezed thin at depth: nearer the surface the diver is lighter. Before weight is taken off, look "
    'there, with --set "water.depth=3 m".'
)
NO_CYLINDERS: Final = "a parts file has no cylinders to empty: give a scenario file"
NEARLY_EMPTY: Final = 10.0 * BAR  # where to end unless told (assumed)


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
    content, full = case.scenario(NO_CYLINDERS), full_pressure(case, end)
    pressures = falling(full, end)
    made = [case.vary({"cylinders.pressure": SI(p)}).assembled for p in pressures]
    return EmptyReport(
        made[0], emptying(pressures, [a.rig for a in made]), (*made[0].notes, *_notes(made[0], content))
    )


def full_pressure(case: Case, end: float) -> float:
    """Of the cylinders on the back [Pa, as the gauge shows]. Raises ScenarioError as ``empty_report`` does."""
    content = case.scenario(NO_CYLINDERS)
    if content.cylinders is None:
        message = "there are no cylinders on the back to empty; add [cylinders], or take another file"
        raise ScenarioError([Problem(str(case.path), message, "cylinders")])
    full = content.cylinders.fill
    if not full >= end + LEAST:
        message = f"the cylinders are at {full / BAR:g} bar, and are to be emptied to {end / BAR:g} bar; say less"
        raise ScenarioError([Problem(str(case.path), message, "cylinders.pressure")])
    return full


def falling(full: float, end: float) -> list[float]:
    """From ``full`` down to ``end`` [Pa] in whole steps above the end, both among them."""
    steps = int(np.ceil((full - end) / STEP - 1e-9))
    return [full, *(end + STEP * k for k in range(steps - 1, -1, -1))]


def _notes(assembled: Assembled, scenario: Scenario) -> Iterator[str]:
    rig, suit = assembled.rig, scenario.suit
    if suit is not None and suit.foam_stiffness is not None:
        yield FOAM
    if any(p.kind == "stage" for p in rig.parts):
        yield note("Stage cylinders stay as full as the file says.")
    if rig.wing is not None and rig.wing.gas is not None:
        yield note("The wing's gas stays as the file says: it does not make up for the gas that is breathed.")
