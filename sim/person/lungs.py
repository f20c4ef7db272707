"""Volumes of gas in the lungs [m^3, at body temperature and the surrounding pressure], by published equations."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from math import exp, log
from types import MappingProxyType
from typing import Final, Literal

from sim.person.measures import Sex

# A prone diver's mouth lies within about 10 cm of the depth of the lungs' pressure centroid, so the relaxed volume
# stays near the dry one, plus half a tidal volume on average. By posture and regulator depth it may differ by about a
# litre: an input worth stating.
TIDAL_VOLUME: Final = 0.5e-3  # m^3, adult at rest, textbook value
LITRE: Final = 1e-3
# FRC falls with the build as 231.9 exp(-0.070 BMI) + 55.2: Jones & Nzekwu 2006, Chest 130:827, 373 people; the curve
# from memory, and their abstract's 75 % at BMI 30 of that at 20 follows from it. Held where they had hardly anyone
FRC_BY_BUILD: Final = (231.9, -0.070, 55.2)
BUILD_RANGE: Final = (18.0, 50.0)  # kg/m^2
# BMI [kg/m^2] at which equations that know stature and age alone are right: where those of Roberts et al. 1991
# (Thorax 46:643), which know the mass too, say what ECSC and GLI say (men 23 to 26, women 19 to 23)
REFERENCE_BUILD: Final[Mapping[Sex, float]] = MappingProxyType({"male": 25.0, "female": 22.0})

EcscVolume = Literal["TLC", "FRC", "RV", "IVC", "FVC"]
GliVolume = Literal["FRC", "TLC", "RV", "ERV", "IC", "VC"]

_AGES: Final = (20.0, 25.0, 30.0, 40.0, 50.0, 60.0, 70.0)  # yr, where the GLI splines are tabulated
# f(age), g(stature in cm) and h(age) of each GLI equation: logarithm or the number itself
_LOG_AGE: Final = frozenset({"FRC", "TLC"})
_LOG_STATURE: Final = frozenset({"FRC", "TLC", "ERV", "IC", "VC"})


def ecsc_1993(volume: EcscVolume, sex: Sex, stature: float, age: float) -> tuple[float, float]:
    """Mean and SD [m^3] of a lung volume at a stature [m] and age [yr, 18 to 70; below 25 counts as 25].

    Quanjer et al. 1993, Eur Respir J 6 Suppl 16:5-40.
    """
    row = _table("ecsc_1993.csv")[volume, sex]
    mean = row["cH"] * stature + row["cA"] * max(age, 25.0) + row["c0"]
    return mean * LITRE, row["RSD"] * LITRE


def gli_2021(volume: GliVolume, sex: Sex, stature: float, age: float, z: float = 0.0) -> float:
    """Lung volume [m^3] at a stature [m] and age [yr, 20 to 70], ``z`` SDs above the median.

    Hall et al. 2021, Eur Respir J 57:2000289, European ancestry; LMS method. The age splines are tabulated at seven
    ages and interpolated linearly, held beyond; the spline of the spread is tabulated for FRC, TLC and RV only, so
    z must be 0 for the others (ValueError).
    """
    row = _table("gli_2021.csv")[volume, sex]
    cm = 100.0 * stature
    median = exp(
        row["a0"]
        + row["a1"] * (log(age) if volume in _LOG_AGE else age)
        + row["a2"] * (log(cm) if volume in _LOG_STATURE else cm)
        + _spline(volume, sex, "M", age)
    )
    if z == 0.0:
        return median * LITRE
    if volume not in ("FRC", "TLC", "RV"):
        raise ValueError(f"the spread of {volume} is not tabulated, only its median (z = 0)")
    spread = exp(row["p0"] + row["p1"] * (log(age) if volume == "FRC" else age) + _spline(volume, sex, "S", age))
    power = row["L"]
    return float(median * LITRE * (1.0 + power * spread * z) ** (1.0 / power))


def frc_by_build(sex: Sex, bmi: float) -> float:
    """FRC at a BMI [kg/m^2] over that of the reference equations, which know sex, stature and age alone.

    A heavy belly presses on the diaphragm of whoever breathes out; full and empty lungs hardly change.
    """
    excess, rate, least = FRC_BY_BUILD
    here, usual = (
        excess * exp(rate * min(max(b, BUILD_RANGE[0]), BUILD_RANGE[1])) + least for b in (bmi, REFERENCE_BUILD[sex])
    )
    return here / usual


def dry_frc(sex: Sex, stature: float, mass: float, age: float) -> float:
    """Functional residual capacity in air [m^3] by GLI 2021 and the build of a stature [m] and mass [kg].

    Ages outside 20 to 70 count as the nearest of these.
    """
    usual = gli_2021("FRC", sex, stature, min(max(age, _AGES[0]), _AGES[-1]))
    return frc_by_build(sex, mass / stature**2) * usual


def _spline(volume: str, sex: Sex, which: str, age: float) -> float:
    row = _splines().get((volume, sex, which))
    if row is None:
        return 0.0
    held = min(max(age, _AGES[0]), _AGES[-1])
    for i in range(len(_AGES) - 1):
        if held <= _AGES[i + 1]:
            t = (held - _AGES[i]) / (_AGES[i + 1] - _AGES[i])
            return (1.0 - t) * row[i] + t * row[i + 1]
    return row[-1]


@cache
def _table(name: str) -> dict[tuple[str, str], dict[str, float]]:
    rows = csv.DictReader(files("sim.person").joinpath(f"data/{name}").read_text(encoding="utf-8").splitlines())
    sexes = {"M": "male", "F": "female"}
    return {
        (r["volume"], sexes[r["sex"]]): {k: float(v) for k, v in r.items() if k not in ("volume", "sex")}
        for r in rows
    }


@cache
def _splines() -> dict[tuple[str, str, str], tuple[float, ...]]:
    text = files("sim.person").joinpath("data/gli_2021_splines.csv").read_text(encoding="utf-8")
    sexes = {"M": "male", "F": "female"}
    rows = list(csv.reader(text.splitlines()))[1:]
    return {(r[0], sexes[r[1]], r[2]): tuple(float(x) for x in r[3:]) for r in rows}
