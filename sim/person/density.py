"""Density of the body's tissue, lungs and gut gas taken out [kg/m^3]."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sim.person.measures import Sex

FAT_RANGE: Final = (0.03, 0.65)  # mass fraction; below is not survived, above is beyond the equations (assumed)
DENSITY_RANGE: Final = (950.0, 1105.0)  # kg/m^3, the same limits through Siri, a little widened
WOMEN_REGRESSION_AGE: Final = 21.5  # yr, middle of the 18 to 25 of the women measured
WOMEN_REGRESSION_BMI: Final = (16.0, 31.0)  # kg/m^2, as measured
FAT_PER_YEAR: Final = 0.0023  # Deurenberg, Weststrate & Seidell 1991, Br J Nutr 65:105
FAT_PER_BMI: Final = 0.0120  # the same


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
    body_fat: float | None = None,
    body_density: float | None = None,
) -> DensityEstimate:
    """Density of the tissue from the best of what is known of a person.

    stature [m], mass [kg], age [yr]; waist : girth at the navel [m], if measured
    body_fat : mass fraction (0 to 1), turned into density by Siri 1961
    body_density : [kg/m^3] from a weighing in water, lungs taken out; wins over body_fat

    Otherwise regressions (own fits, n = 248 men and 180 women; SD is the leave-one-out RMS):
    men with waist  rho = 1200.30 - 219.92 waist + 0.722 mass, SD 10.2 (Penrose et al. 1985 data, 22 to 81 years);
    men without     rho = 965.61 + 2571.5/BMI - 0.298 age, SD 12.1 (same);
    women           rho = 1128.75 - 3.670 BMI, SD 8.4 (Slack data, 18 to 25 years, BMI 16 to 31), carried to other
                    ages and above BMI 31 by the slopes of Deurenberg 1991, which raises the SD to 11.5.
    Raises ValueError for a density or fat fraction that no living body has.
    """
    if body_density is not None:
        if not DENSITY_RANGE[0] <= body_density <= DENSITY_RANGE[1]:
            low, high = DENSITY_RANGE
            raise ValueError(f"body density must be {low:.0f} to {high:.0f} kg/m^3 without lungs, got {body_density}")
        return DensityEstimate(body_density, 4.0, "stated body density", False)
    if body_fat is not None:
        if not FAT_RANGE[0] <= body_fat <= FAT_RANGE[1]:
            low, high = FAT_RANGE
            raise ValueError(
                f"body fat must be {100 * low:.0f} to {100 * high:.0f} % of mass, got {100 * body_fat} %"
            )
        return DensityEstimate(siri_density(body_fat), 8.0, "stated body fat through Siri 1961", False)
    bmi = mass / stature**2
    if sex == "female":
        return _within_life(_women(bmi, age))
    if waist is not None:
        return _within_life(
            DensityEstimate(1200.30 - 219.92 * waist + 0.722 * mass, 10.2, "waist girth and mass (men)", True)
        )
    return _within_life(DensityEstimate(965.61 + 2571.5 / bmi - 0.298 * age, 12.1, "BMI and age (men)", True))


def _women(bmi: float, age: float) -> DensityEstimate:
    low, high = WOMEN_REGRESSION_BMI
    fat = siri_fat(1128.75 - 3.670 * min(max(bmi, low), high))
    fat += FAT_PER_YEAR * (age - WOMEN_REGRESSION_AGE) + FAT_PER_BMI * (bmi - min(max(bmi, low), high))
    measured = low <= bmi <= high and 18.0 <= age <= 25.0
    note = "the density of women is measured for 18 to 25 years and BMI 16 to 31 only and is carried beyond that"
    return DensityEstimate(
        siri_density(fat), 8.4 if measured else 11.5, "BMI and age (women)", True, () if measured else (note,)
    )


def _within_life(estimate: DensityEstimate) -> DensityEstimate:
    """Keep an extrapolated regression between lean and very fat, and say so."""
    lean, fat = siri_density(0.04), siri_density(0.55)
    held = min(max(estimate.density, fat), lean)
    if held == estimate.density:
        return estimate
    note = f"the density regression gives {estimate.density:.0f} kg/m^3, held at {held:.0f}: state body fat instead"
    return DensityEstimate(held, estimate.sd, estimate.basis, True, (*estimate.notes, note))
