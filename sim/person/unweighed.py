"""The mass of a person who was not weighed: volume of the body's shape times the density of its tissue.

Nothing is assumed of the mass: the measures model is asked what the girths and breadths that were taken say of it,
and of every measure that was not taken, with a prior so wide that it says nothing itself.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np

from meshes.body.shape import body_shape
from meshes.body.skeleton import skeleton_of
from meshes.body.skin import half_points, half_volume
from sim.person.density import tissue_density
from sim.person.lungs import TIDAL_VOLUME, dry_frc
from sim.person.measures import Sex, measures_model, reading_sd
from sim.person.person import AGE_MODEL, FINENESS, STANDING

BUILD_SD: Final = 3.0  # kg^0.5 m^-0.5 of sqrt(mass/stature), five times that of the survey: as good as no prior
MASS_STEPS: Final = 12  # density and lungs follow the mass weakly: each step leaves less than a fifth of the error
# Flat facets cut the volume short, and here no weight makes up for it: by halving the facets twice, to 0.03 %
FACETS: Final = 1.0037


def measures_unweighed(sex: Sex, stature: float, age: float, given: Mapping[str, float]) -> dict[str, float]:
    """All measures [m] of a person of this stature [m] and age [yr] from those ``given`` [m], mass unknown.

    Those given come back as they are. Raises ValueError for an unknown measure or without any given.
    """
    if not given:
        raise ValueError("without any girth or breadth nothing is known of an unweighed body")
    model = measures_model()
    of_sex = model.male if sex == "male" else model.female
    expected = of_sex.coefficients @ np.array([1.0, stature - of_sex.origin[0], 0.0])
    build = of_sex.coefficients[:, 2]
    sd = of_sex.residual_sd
    spread = of_sex.correlation * np.outer(sd, sd) + BUILD_SD**2 * np.outer(build, build)
    told = {**given, "age": min(max(age, AGE_MODEL[0]), AGE_MODEL[1])}
    for name in told:
        if name not in model.names:
            raise ValueError(f"'{name}' is not a measure of the model; known are {', '.join(model.names)}")
    at = [model.names.index(n) for n in told]
    reading = np.diag([reading_sd(n) ** 2 for n in told])
    surprise = np.array([*told.values()]) - expected[at]
    mean = expected + spread[:, at] @ np.linalg.solve(spread[np.ix_(at, at)] + reading, surprise)
    return dict(zip(model.names, mean.tolist(), strict=True)) | dict(given)


def shape_volume(sex: Sex, stature: float, measures: Mapping[str, float]) -> float:
    """Volume [m^3] of the standing body by its measures [m], skin not smoothed (0.05 % less), never scaled."""
    shape = body_shape(skeleton_of(sex, stature, measures))
    return FACETS * half_volume(half_points(shape, FINENESS, STANDING), FINENESS)


def mass_unweighed(
    sex: Sex, stature: float, age: float, given: Mapping[str, float], *, trained: bool = False
) -> float:
    """Mass [kg] from measures ``given`` [m], by the volume of the shape that they make."""
    volume = shape_volume(sex, stature, measures_unweighed(sex, stature, age, given))
    return mass_of_volume(sex, stature, age, volume, waist=given.get("waistcircumference"), trained=trained)


def mass_of_volume(
    sex: Sex, stature: float, age: float, volume: float, *, waist: float | None = None, trained: bool = False
) -> float:
    """Mass [kg] of a body's outside ``volume`` [m^3]: less the gas in the lungs, times the density.

    The density is that of the regressions of ``tissue_density``, and the lungs are as full as the build lets them be,
    both at the mass that comes out.
    """
    mass = 1000.0 * volume
    for _ in range(MASS_STEPS):
        tissue = volume - (dry_frc(sex, stature, mass, age) + 0.5 * TIDAL_VOLUME)
        mass = tissue * tissue_density(sex, stature, mass, age, waist=waist, trained=trained).density
    return mass
