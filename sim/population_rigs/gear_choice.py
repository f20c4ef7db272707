"""One gear choice on a whole population: built in full on some people, expanded to all others."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from scenarios.models import Scenario
from sim.assembly.posed_diver import PosedDiver, posed_diver
from sim.assembly.scenario_rig import assembled_scenario
from sim.batch.rig_arrays import RigArrays, stacked
from sim.person.measures import Sex
from sim.person.population import drawn_people
from sim.population_rigs.expansion import Expansion, expanded
from sim.population_rigs.people import PeopleArrays, features, people_drawn
from sim.population_rigs.rig_rows import arrays_of, row_of
from sim.rig import Rig

BUILT: Final = 240  # people built in full of each sex and pose
SEED: Final = 71  # any fixed number, another than that of the people of a study
DENSITY_SPREAD: Final = 12.0  # kg/m^3, SD of the tissue's density about its regression, as that regression errs
LUNG_SPREAD: Final = 1e-3  # m^3, either way
AGES: Final = (20.0, 60.0)  # yr


@dataclass(frozen=True, eq=False)
class BuiltPeople:
    """People built in full in one pose, to dress in any gear."""

    people: PeopleArrays
    wearers: tuple[PosedDiver, ...]


@dataclass(frozen=True, eq=False)
class ExpansionError:
    """How far off the expansion is on people it has not seen, from full assembly: RMS and largest of each.

    moment : trimming moment when flat [N m];  mass [kg];  cm : along the body [m];  suit_gas : flat [m^3]
    people : how many were left out, each in turn
    """

    people: int
    moment: tuple[float, float]
    mass: tuple[float, float]
    cm: tuple[float, float]
    suit_gas: tuple[float, float]


@dataclass(frozen=True, eq=False)
class GearChoice:
    """One scenario's gear on anybody of one sex; ``like`` is one of the rigs that were built."""

    sex: Sex
    expansion: Expansion
    like: Rig
    error: ExpansionError

    def rigs(self, people: PeopleArrays) -> RigArrays:
        """Rigs of B people as arrays, held at their CM; 40 bytes for each cell of the suit.

        Valid for people like those of the survey. Raises ValueError for the other sex.
        """
        if people.sex != self.sex:
            raise ValueError(f"this gear was expanded over people of sex '{self.sex}', got '{people.sex}'")
        return arrays_of(people, self.expansion(features(people)), self.like)


def built_people(sex: Sex, scenario: Scenario, number: int = BUILT, seed: int = SEED) -> BuiltPeople:
    """People drawn from the survey, built in full in the pose of ``scenario``; a fifth of a second each.

    Density, lungs and age are spread besides, each on its own. Bodies that cannot be built are left out.
    """
    people = spread_people(sex, scenario, number, seed)
    good: list[int] = []
    wearers: list[PosedDiver] = []
    for i in range(len(people)):
        try:
            wearers.append(posed_diver(_on(scenario, people, i)))
        except ValueError:
            continue
        good.append(i)
    return BuiltPeople(_chosen(people, good), tuple(wearers))


def spread_people(sex: Sex, scenario: Scenario, number: int, seed: int) -> PeopleArrays:
    """People drawn from the survey, with density, lungs and age spread besides."""
    draw = np.random.default_rng(seed)
    age = draw.uniform(*AGES, number)
    people = people_drawn(drawn_people(sex, number, seed), age=age, breathing=scenario.diver)  # type: ignore[arg-type]
    return PeopleArrays(
        sex, people.height, people.mass, age, people.measures,
        people.density + DENSITY_SPREAD * np.clip(draw.standard_normal(number), -2.0, 2.0),
        np.maximum(people.lung_gas + draw.uniform(-LUNG_SPREAD, LUNG_SPREAD, number), LUNG_SPREAD), people.frc,
    )  # fmt: skip


def gear_choice(scenario: Scenario, built: BuiltPeople) -> GearChoice:
    """The scenario's gear, suit, water and lead on everybody of the sex of ``built``; its diver does not matter.

    ``built`` must be in the pose of ``scenario``. Raises ValueError where the gear cannot be built on somebody, or
    where its gas cells are not the same on all.

    Of 240 people, each left out in turn, the trimming moment is off by 0.23 N m RMS and 1.06 at most (women in a
    drysuit), 0.13 and 0.49 (women, wetsuit), 0.13 and 0.45 (men, drysuit), 0.15 and 0.57 (men, wetsuit);
    scripts/population_error.py measures it.
    """
    people = built.people
    rigs = [
        assembled_scenario(_on(scenario, people, i), "", wearer=wearer).rig for i, wearer in enumerate(built.wearers)
    ]
    rows = [row_of(w.body, rig) for w, rig in zip(built.wearers, rigs, strict=True)]
    if len({len(row) for row in rows}) != 1:
        raise ValueError("the gas cells of suit or wing are not the same on all bodies: no expansion serves")
    expansion, left_out = expanded(features(people), np.array(rows))
    error = expansion_error(arrays_of(people, left_out, rigs[0]), rigs, people, left_out, np.array(rows))
    return GearChoice(people.sex, expansion, rigs[0], error)


def expansion_error(
    told: RigArrays, rigs: list[Rig], people: PeopleArrays, rows: Floats, true_rows: Floats
) -> ExpansionError:
    """``told`` and ``rows`` by expansion, ``rigs`` and ``true_rows`` in full, of the same people."""
    from sim.batch.flat import flat_answers

    ours, true = flat_answers(told), flat_answers(stacked(rigs))
    mass = people.mass + rows[:, 9]
    true_mass = people.mass + true_rows[:, 9]
    cm = told.held[:, 0] - np.array([r.held[0] for r in rigs])
    return ExpansionError(
        len(rigs),
        _off(ours.pitch_moment - true.pitch_moment),
        _off(mass - true_mass),
        _off(cm),
        _off(ours.suit_gas - true.suit_gas),
    )


def _off(difference: Floats) -> tuple[float, float]:
    return float(np.sqrt(np.mean(difference**2))), float(np.abs(difference).max())


def _on(scenario: Scenario, people: PeopleArrays, i: int) -> Scenario:
    return scenario.model_copy(update={"diver": people.diver(i, scenario.diver)})


def _chosen(people: PeopleArrays, at: list[int]) -> PeopleArrays:
    p = people
    return PeopleArrays(
        p.sex, p.height[at], p.mass[at], p.age[at], p.measures[at], p.density[at], p.lung_gas[at], p.frc[at]
    )
