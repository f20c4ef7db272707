"""Our bodies against a model of the body as 40 solids, given the same measures."""

from __future__ import annotations

from functools import cache
from typing import Final

import numpy as np

from sim.answers.evidence.check import Check, Compared, near, table
from sim.person.measures import Sex
from sim.person.person import Person, person_of
from sim.person.pose import symmetric_pose
from sim.person.posed_body import PosedBody, posed_body

THEME: Final = "The body's shape"
PEOPLE: Final[tuple[tuple[Sex, float, float], ...]] = (("male", 1.78, 75.0), ("female", 1.65, 62.0))
TOES_POINTED: Final = symmetric_pose(ankle_plantarflexion=np.radians(75.0))  # in line with the shank, as far as goes
# Stadium solids and superellipses through the same girths, and straight lines between levels: 3 % of a limb or trunk
VOLUME = 0.04
# Clauser's dead men are 3 to 5 % denser than our living ones with gas in their lungs; volume does the rest
MASS = 0.08
CM_OF_STATURE = 0.015  # their masses are solids of even density, ours those of measured people
GYRATION = 0.10  # of I / m; the same reason, and their arms hang straight


def checks() -> tuple[Check, ...]:
    solids = "yeadon 2.0.1 (Yeadon 1990), 95 measures of our body"
    names = {"I_long": "along the body", "I_transverse": "left to right", "I_sagittal": "front to back"}
    return (
        Check(THEME, "volume of mean man and woman", solids, "computed elsewhere", "l", 1, _volume),
        Check(
            THEME, "mass, theirs with Clauser's densities", solids, "computed elsewhere", "kg", 1, _mass,
            "those densities are of the dead: 3 to 5 % more",
        ),
        Check(THEME, "height of CM over the hips, toes pointed", solids, "computed elsewhere", "cm", 1, _cm),
        *(
            Check(
                THEME, f"principal I/m {name}, toes pointed", solids, "computed elsewhere", "m²", 4,
                lambda k=key, a=axis: _gyration(k, a),  # type: ignore[misc]
                "ours by de Leva's radii, theirs filled solids" if axis == 0 else "",
            )
            for axis, (key, name) in enumerate(names.items())
        ),
    )  # fmt: skip


@cache
def person_and_body(sex: str) -> tuple[Person, PosedBody]:
    """Our person of ``PEOPLE`` and the body, arms hanging, toes pointed."""
    person = person_of(*next(p for p in PEOPLE if p[0] == sex))
    return person, posed_body(person, TOES_POINTED)


def _pairs() -> list[tuple[str, PosedBody, dict[str, float]]]:
    found = []
    for row in table("yeadon_two_people"):
        numbers = {k: float(v) for k, v in row.items() if k != "sex"}
        found.append((row["sex"], person_and_body(row["sex"])[1], numbers))
    return found


def _volume() -> list[Compared]:
    found = []
    for sex, body, row in _pairs():
        theirs = row["volume[l]"]
        found.append(near(1e3 * body.whole().volume, theirs, VOLUME * theirs, sex))
    return found


def _mass() -> list[Compared]:
    return [
        near(body.whole().mass, row["mass_clauser[kg]"], MASS * row["mass_clauser[kg]"], sex)
        for sex, body, row in _pairs()
    ]


def _cm() -> list[Compared]:
    return [
        near(
            100.0 * float(body.whole().cm[0]), 100.0 * row["cm_above_hips[m]"],
            100.0 * CM_OF_STATURE * row["stature[m]"], sex,
        )
        for sex, body, row in _pairs()
    ]  # fmt: skip


def _gyration(key: str, axis: int) -> list[Compared]:
    """Principal moments of inertia about the CM over the mass, smallest first: about the long axis."""
    found = []
    for sex, body, row in _pairs():
        whole = body.whole()
        ours = float(np.linalg.eigvalsh(whole.inertia)[axis]) / whole.mass
        theirs = row[f"{key}[kg m2]"] / row["mass_clauser[kg]"]
        found.append(near(ours, theirs, GYRATION * theirs, sex))
    return found
