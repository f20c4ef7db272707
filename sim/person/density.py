"""Density of the body's tissue, lungs and gut gas taken out [kg/m^3]."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from sim.person.measures import Sex
from sim.said import amount, note, word

FAT_RANGE: Final = (0.03, 0.65)  # mass fraction; below is not survived, above is beyond the equations (assumed)
DENSITY_RANGE: Final = (950.0, 1105.0)  # kg/m^3, the same limits through Siri, a little widened
WOMEN_REGRESSION_AGE: Final = 21.5  # yr, middle of the 18 to 25 of the women measured
WOMEN_REGRESSION_BMI: Final = (16.0, 31.0)  # kg/m^2, as measured
FAT_PER_YEAR: Final = 0.0023  # Deurenberg, Weststrate & Seidell 1991, Br J Nutr 65:105
FAT_PER_BMI: Final = 0.0120  # the same
# People who train, by weighing under water: 207 men of state squads, 1076.1 kg/m^3, SD 8.5, 24.2 years (Withers,
# Craig, Bourdon & Norton 1987, Eur J Appl Physiol 56:191); 182 such women, 18.5 % fat by Siri (same authors, 56:169),
# SD from their R of 0.863 and standard error of 5.97 kg/m^3
TRAINED_FAT: Final[Mapping[Sex, float]] = MappingProxyType({"male": 0.0999, "female": 0.185})
TRAINED_SD: Final[Mapping[Sex, float]] = MappingProxyType({"male": 8.5, "female": 11.8})
TRAINED_AGE: Final = 24.0  # yr
TRAINED_BMI: Final[Mapping[Sex, float]] = MappingProxyType({"male": 24.0, "female": 22.0})  # not told: assumed
# Soldiers of 21 years and more at the end of basic training, X-ray absorptiometry: 20 and 22 % of men, 29 and 31 % of
# women at BMI 25 and 27.5 (504 women and 965 men, BMJ Mil Health 2023, PMC10423487). How fat and bone are told apart
# shifts the level, not the slope
TRAINED_FAT_PER_BMI: Final = 0.008


@dataclass(frozen=True)
class DensityEstimate:
    """Tissue density [kg/m^3] with its SD, how it was found, and any doubt in plain words."""

    density: float
    sd: float
    basis: str
    estimated: bool
    notes: tuple[str, ...] = ()


def siri_density(fat: float) -> float:
    """Body density [kg/m^3] at a fat mass fraction (0 to 1). Siri 1961: fat % = 495/(g/cm^3) - 450."""
    return 495.0e3 / (100.0 * fat + 450.0)


def siri_fat(density: float) -> float:
    """Fat mass fraction at a body density [kg/m^3]; the inverse of ``siri_density``."""
    return (495.0e3 / density - 450.0) / 100.0


def tissue_density(
    sex: Sex,
    stature: float,
    mass: float,
    age: float,
    *,
    waist: float | None = None,
    trained: bool = False,
    body_fat: float | None = None,
    body_density: float | None = None,
) -> DensityEstimate:
    """Density of the tissue from the best of what is known of a person.

    stature [m], mass [kg], age [yr]; waist : girth at the navel [m], if measured
    trained : trains for a sport on most days of the week, like members of a state squad; nothing where fat is stated
    body_fat : mass fraction (0 to 1), turned into density by Siri 1961
    body_density : [kg/m^3] from a weighing in water, lungs taken out; wins over body_fat

    Otherwise regressions (own fits, n = 248 men and 180 women; SD is the leave-one-out RMS):
    men with waist  rho = 1200.30 - 219.92 waist + 0.722 mass, SD 10.2 (Penrose et al. 1985 data, 22 to 81 years);
    men without     rho = 965.61 + 2571.5/BMI - 0.298 age, SD 12.1 (same);
    women           rho = 1128.75 - 3.670 BMI, SD 8.4 (Slack data, 18 to 25 years, BMI 16 to 31), carried to other
                    ages and above BMI 31 by the slopes of Deurenberg 1991, which raises the SD to 11.5;
    trained people  as measured in two lots of athletes, carried to other builds by the slope of trained soldiers and
                    to other ages by that of Deurenberg. A man's waist counts too, by the two SDs; the estimate is not
                    called the surer for it, since both leave out the same things.
    Raises ValueError for a density or fat fraction that no living body has.
    """
    if body_density is not None:
        if not DENSITY_RANGE[0] <= body_density <= DENSITY_RANGE[1]:
            low, high = DENSITY_RANGE
            raise ValueError(f"body density must be {low:.0f} to {high:.0f} kg/m^3 without lungs, got {body_density}")
        return DensityEstimate(body_density, 4.0, word("stated body density"), False)
    if body_fat is not None:
        if not FAT_RANGE[0] <= body_fat <= FAT_RANGE[1]:
            low, high = FAT_RANGE
            raise ValueError(
                f"body fat must be {100 * low:.0f} to {100 * high:.0f} % of mass, got {100 * body_fat} %"
            )
        return DensityEstimate(siri_density(body_fat), 8.0, word("stated body fat through Siri 1961"), False)
    bmi = mass / stature**2
    by_waist = None
    if sex == "male" and waist is not None:
        density = 1200.30 - 219.92 * waist + 0.722 * mass
        by_waist = DensityEstimate(density, 10.2, word("waist girth and mass (men)"), True)
    if trained:
        return _within_life(_trained(sex, bmi, age, by_waist))
    if sex == "female":
        return _within_life(_women(bmi, age))
    if by_waist is not None:
        return _within_life(by_waist)
    return _within_life(DensityEstimate(965.61 + 2571.5 / bmi - 0.298 * age, 12.1, word("BMI and age (men)"), True))


def _trained(sex: Sex, bmi: float, age: float, by_waist: DensityEstimate | None) -> DensityEstimate:
    fat = TRAINED_FAT[sex] + TRAINED_FAT_PER_BMI * (bmi - TRAINED_BMI[sex]) + FAT_PER_YEAR * (age - TRAINED_AGE)
    density, sd = siri_density(fat), TRAINED_SD[sex]
    if by_waist is None:
        return DensityEstimate(density, sd, word("trained people, BMI and age"), True)
    ours, other = sd**-2, by_waist.sd**-2
    mean = (ours * density + other * by_waist.density) / (ours + other)
    return DensityEstimate(mean, sd, word("trained people, BMI, age and waist girth"), True)


def _women(bmi: float, age: float) -> DensityEstimate:
    low, high = WOMEN_REGRESSION_BMI
    fat = siri_fat(1128.75 - 3.670 * min(max(bmi, low), high))
    fat += FAT_PER_YEAR * (age - WOMEN_REGRESSION_AGE) + FAT_PER_BMI * (bmi - min(max(bmi, low), high))
    measured = low <= bmi <= high and 18.0 <= age <= 25.0
    beyond = note(
        "the density of women is measured for 18 to 25 years and BMI 16 to 31 only and is carried beyond that"
    )
    return DensityEstimate(
        siri_density(fat), 8.4 if measured else 11.5, word("BMI and age (women)"), True, () if measured else (beyond,)
    )


def _within_life(estimate: DensityEstimate) -> DensityEstimate:
    """Keep an extrapolated regression between lean and very fat, and say so."""
    lean, fat = siri_density(0.04), siri_density(0.55)
    held = min(max(estimate.density, fat), lean)
    if held == estimate.density:
        return estimate
    kept = note(
        "the density regression gives {given}, held at {held}: state body fat instead",
        given=amount(estimate.density, "kg/m^3", 0),
        held=amount(held, "kg/m^3", 0, bare=True),
    )
    return DensityEstimate(held, estimate.sd, estimate.basis, True, (*estimate.notes, kept))
