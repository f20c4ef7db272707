"""What is not known of the body: measures that were not taken, density of the tissue, gas in the lungs, CB - CM.

Of the 68 measures of the model, seven carry 91 to 94 % of what all of them together do to the variance of the flat
moment (computed by differences in every measure, for five demo divers in drysuit and wetsuit); only these seven are
varied, each taking along what goes with it in the survey. The body's part comes out 3 to 5 % narrower for it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from scenarios.by_key import told_otherwise
from scenarios.diver import Diver
from scenarios.measure_names import measures as named_measures
from scenarios.models import Scenario
from sim.assembly.diver import person_from
from sim.person.density import DENSITY_RANGE, siri_density, tissue_density
from sim.person.measures import (
    CIVILIAN,
    Combination,
    MeasuresEstimate,
    estimated_measures,
    measures_model,
    reading_sd,
)
from sim.person.person import AGE_MODEL, LUNG_RANGE, Person
from sim.said import amount, known, note, word
from sim.uncertainty.variants import Pair

# chosen one after another by what each adds, the one that matters most first
LEADING: Final = (
    "waistheightomphalion", "suprasternaleheight", "thighcircumference", "lateralfemoralepicondyleheight",
    "anklecircumference", "buttockheight", "acromialheight",
)  # fmt: skip
LEAST_SD: Final = 1e-4  # m, below which a measure counts as known
LUNG_HALF_WIDTH: Final = 1e-3  # m^3; by posture and regulator depth the volume may differ so much (assumed: uniform)
AGE_UNKNOWN: Final = 10.0  # yr, SD of a diver's age that is not told (assumed)
SAFE: Final = 0.05  # m^3 per m^3, how far inside the allowed lung gas a variant stays


@dataclass(frozen=True, eq=False)
class MeasurePairs:
    """Variants of the body along each independent direction of the leading measures.

    names, basis : of the k measures
    loading : (k, k) lower triangle, change [m] of each for one SD of each direction
    along : (all, k) the same of all measures, by the names of the measures model
    """

    pairs: tuple[Pair, ...]
    names: tuple[str, ...]
    basis: tuple[str, ...]
    loading: Floats
    along: Floats


def measures_spread(diver: Diver) -> MeasuresEstimate:
    """Measures of the diver with the covariance of a civilian, given what was measured and how well.

    Residual SDs are the survey's times 1.25; readings have the SD of a layman's tape. What was stated with a spread
    of its own counts as known here: it is varied by itself, and the rest goes along with it.
    """
    known: dict[str | Combination, float] = dict(diver.measures.items())
    sds = {k: 0.0 if f"measures.{k}" in diver.spreads else reading_sd(k) for k in diver.measures}
    if diver.age is not None:
        known["age"] = min(max(diver.age, AGE_MODEL[0]), AGE_MODEL[1])
        sds["age"] = 0.0 if "age" in diver.spreads else reading_sd("age")
    reading: dict[str | Combination, float] = {k: max(sd, 1e-6) for k, sd in sds.items()}
    return estimated_measures(diver.sex, diver.height, diver.mass, known, reading, widened=CIVILIAN)


def pinned(scenario: Scenario, person: Person) -> Scenario:
    """The same scenario with everything of the body stated, so that one thing can be changed and nothing follows."""
    measures = {k: v for k, v in person.measures.items() if k != "age"}
    return _with_diver(
        scenario, age=person.age, measures=measures, body_density=person.body_density, body_fat=None,
        lung_gas=person.lung_gas,
    )  # fmt: skip


def measure_pairs(scenario: Scenario, person: Person) -> MeasurePairs:
    """Directions of the leading measures, by Cholesky's triangle of their covariance."""
    names = measures_model().names
    spread = measures_spread(scenario.diver)
    at = [names.index(n) for n in LEADING if spread.standard_deviation(n) > LEAST_SD]
    among = spread.covariance[np.ix_(at, at)]
    loading = np.asarray(np.linalg.cholesky(among), dtype=np.float64)
    # what all measures do, on average, when the leading ones move along each direction
    along = np.linalg.solve(among, spread.covariance[at]).T @ loading
    body = pinned(scenario, person)
    plain = {m.measure: m.name for m in named_measures()}
    labels = tuple(plain[names[i]] for i in at)
    basis = tuple(_measure_basis(scenario.diver, names[i], spread.standard_deviation(names[i])) for i in at)
    pairs = tuple(
        Pair(label, why, with_measures(body, along[:, j]), with_measures(body, -along[:, j]))
        for j, (label, why) in enumerate(zip(labels, basis, strict=True))
    )
    return MeasurePairs(pairs, labels, basis, loading, along)


def density_pair(scenario: Scenario, person: Person) -> Pair:
    """Tissue a little denser and a little lighter."""
    sd, basis = _density_sd(scenario.diver, person)
    low, high = (min(max(person.body_density + way * sd, DENSITY_RANGE[0]), DENSITY_RANGE[1]) for way in (-1.0, 1.0))
    body = pinned(scenario, person)
    return Pair(
        word("body density"), note("SD {sd}: {basis}", sd=amount(sd, "kg/m^3", 0), basis=known(basis)),
        _with_diver(body, body_density=high),
        _with_diver(body, body_density=low), (high - low) / sd,
    )  # fmt: skip


def lung_pair(scenario: Scenario, person: Person) -> Pair | None:
    """Lungs fuller and emptier by a litre; None where the gas was stated."""
    if scenario.diver.lung_gas is not None:
        return None
    least, most = (1.0 + SAFE) * LUNG_RANGE[0], (1.0 - SAFE) * LUNG_RANGE[1]
    high, low = min(person.lung_gas + LUNG_HALF_WIDTH, most), max(person.lung_gas - LUNG_HALF_WIDTH, least)
    body = pinned(scenario, person)
    return Pair(
        word("gas in the lungs"), note("1 l either way, evenly spread, assumed"), _with_diver(body, lung_gas=high),
        _with_diver(body, lung_gas=low), (high - low) / LUNG_HALF_WIDTH,
    )  # fmt: skip


def person_of_scenario(scenario: Scenario) -> Person:
    """The person as told and estimated."""
    return person_from(scenario.diver)[0]


def _with_diver(scenario: Scenario, **changes: object) -> Scenario:
    for key, value in changes.items():
        scenario = told_otherwise(scenario, f"diver.{key}", value)
    return scenario


def with_measures(body: Scenario, change: Floats) -> Scenario:
    """A pinned body with its measures changed by ``change`` (n,) [m], by the names of the measures model."""
    by_name = dict(zip(measures_model().names, change.tolist(), strict=True))
    return _with_diver(body, measures={k: v + by_name[k] for k, v in body.diver.measures.items()})


def _measure_basis(diver: Diver, name: str, sd: float) -> str:
    how = note("reading of a tape") if name in diver.measures else note("estimated from the survey")
    return note("SD {sd}: {basis}", sd=amount(100.0 * sd, "cm", 1), basis=how)


def _density_sd(diver: Diver, person: Person) -> tuple[float, str]:
    """SD [kg/m^3] of the tissue's density and where it comes from."""
    if "body_density" in diver.spreads:
        return max(diver.spreads["body_density"], 1e-3), note("as stated")
    if diver.body_fat is not None and "body_fat" in diver.spreads:
        step = 1e-4
        slope = (siri_density(diver.body_fat + step) - siri_density(diver.body_fat - step)) / (2.0 * step)
        return float(np.hypot(person.density_sd, slope * diver.spreads["body_fat"])), note(
            "Siri's equation and the fat stated"
        )
    if diver.age is None and diver.body_fat is None and diver.body_density is None:
        slope = _density_by_age(diver, person)
        return float(np.hypot(person.density_sd, AGE_UNKNOWN * slope)), note(
            "{basis}, age not told", basis=known(person.density_basis)
        )
    return person.density_sd, person.density_basis


def _density_by_age(diver: Diver, person: Person) -> float:
    """Fall of the estimated density with age [kg/m^3 a year]."""
    older, younger = (
        tissue_density(
            person.sex, person.height, person.mass, person.age + d,
            waist=diver.measures.get("waistcircumference"), trained=diver.trained,
        )
        for d in (1.0, -1.0)
    )  # fmt: skip
    return 0.5 * (younger.density - older.density)
