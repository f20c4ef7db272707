"""Gas in the lungs, where the centre of buoyancy lies, and whether people float."""

from __future__ import annotations

from functools import cache
from typing import Final

import numpy as np
from scipy.special import ndtri

from meshes.body.pose import Pose
from meshes.mesh import Floats
from sim.answers.evidence.check import Check, Compared, near, table, within
from sim.person.density import tissue_density
from sim.person.lungs import LITRE, dry_frc, ecsc_1993, frc_by_build, gli_2021
from sim.person.measures import Sex
from sim.person.person import person_of
from sim.person.pose import POSES, symmetric_pose
from sim.person.posed_body import PosedBody, posed_body

OVERHEAD: Final = symmetric_pose(shoulder_flexion=np.pi, ankle_plantarflexion=0.9)
SEA, FRESH = 1025.0, 998.0  # kg/m^3, as such experiments take
ROUNDING: Final = 0.0051  # l, half the last digit
SAMPLE: Final = 1000  # men; halves of it agree within 2 % of them
THEME: Final = "Lungs and floating"
SEXES: Final[dict[str, Sex]] = {"M": "male", "F": "female"}
# FRC [l]: a metre of stature, a year, a kilogram, and the constant; Roberts et al. 1991, Thorax 46:643
ROBERTS: Final[dict[Sex, tuple[float, float, float, float]]] = {
    "male": (7.502, 0.009, -0.033, -7.608), "female": (5.867, 0.009, -0.022, -5.972),
}  # fmt: skip
MOST_OF_ONE_SD: Final = 0.375  # l, three quarters of the SD of FRC between women of like stature and age
# Positive roots of x^(d+1) = x + 1 give evenly spread points in d dimensions (Roberts 2018, from memory)
SPREAD_ROOT: Final = 1.1347241384015194  # d = 5


def checks() -> tuple[Check, ...]:
    pyspiro = "pyspiro, from the same papers"
    mclean = "McLean & Hinrichs 1998, J Sports Sci 16:373"
    maruyama = "Maruyama, Konda & Yanai 2012, 10 men"
    taylor = "Taylor & Morrison 1989, Undersea Biomed Res 16:3"
    penrose = "Penrose et al. 1985, 248 men"
    donoghue = "Donoghue & Minnigerode 1977, 98 men; Penrose men with GLI lungs"
    fitted, used = "the model was fitted to it", "the value in use, so this guards its use"
    return (
        Check(THEME, "GLI 2021 volumes of 8 people", pyspiro, "computed elsewhere", "l", 2, _gli),
        Check(THEME, "ECSC 1993 volumes of 8 people", pyspiro, "computed elsewhere", "l", 2, _ecsc),
        Check(
            THEME, "FRC at a BMI of 30 over that at 20", "Jones & Nzekwu 2006, Chest 130:827, 373 people",
            "published", "", 3, _build, "the value in use, its curve from memory",
        ),
        Check(
            THEME, "FRC of 12 people, BMI 19 to 32", "Roberts et al. 1991, Thorax 46:643", "published", "l", 2,
            _roberts,
            "where it is right for usual builds was set by it, the slope was not",
        ),
        Check(
            THEME, "lungs' centre below the sternal notch", taylor, "published", "cm", 1, _below_notch,
            f"{used}; it is where pressures balance: the gas itself may lie 4 cm higher, 1.3 N m for 75 kg",
        ),
        Check(THEME, "lungs' centre behind the sternum", taylor, "published", "cm", 1, _behind_sternum, used),
        Check(
            THEME, "tissue density of men: mean, SD, 5 and 95 %", penrose, "published", "kg/m³", 0, _tissue, fitted,
        ),
        Check(THEME, "CB headward of CM, men, lungs empty to full", maruyama, "published", "cm", 2, _men_lead),
        Check(THEME, "CB headward of CM, women, empty to full", mclean, "published", "cm", 2, _women_lead),
        Check(THEME, "growth of CB - CM by inhaling 3.3 l", maruyama, "published", "cm", 2, _breath, fitted),
        Check(
            THEME, "growth of CB - CM by a vital capacity", maruyama, "published", "cm", 2, _growth,
            "theirs is one large inhalation: from rest to full is 3.3 l, a vital capacity 5",
        ),
        Check(
            THEME, "CB - CM of swimmers, arms overhead, men", mclean, "published", "cm", 2, lambda: _swimmers("male"),
            "how full their lungs were is not told: ours at rest and empty lie on either side",
        ),
        Check(
            THEME, "CB - CM of swimmers, arms overhead, women", mclean, "published", "cm", 2,
            lambda: _swimmers("female"), f"{fitted}; how full their lungs were is not told",
        ),
        Check(
            THEME, "men who float, lungs full, fresh water", donoghue, "published", "%", 1,
            lambda: _float("TLC", FRESH), "98 of 98 floated: with 95 % confidence 97 % or more of all men do",
        ),
        Check(THEME, "men who float at FRC, sea", donoghue, "published", "%", 1, lambda: _float("FRC", SEA)),
        Check(
            THEME, "men who float at FRC, fresh water", donoghue, "published", "%", 1, lambda: _float("FRC", FRESH),
        ),
        Check(
            THEME, "head and neck in the sea, man of 75 kg", "mass fraction and densities of section tables",
            "computed elsewhere", "kg", 2, _head,
        ),
    )  # fmt: skip


def _gli() -> list[Compared]:
    cases = []
    for row in table("lung_volumes"):
        sex, stature, age = SEXES[row["sex"]], float(row["H[cm]"]) / 100.0, float(row["age[yr]"])
        who = f"{sex}, {row['H[cm]']} cm, {row['age[yr]']} years"
        for volume in ("FRC", "TLC", "RV", "VC"):
            ours = gli_2021(volume, sex, stature, age) / LITRE
            cases.append(near(ours, float(row[f"{volume}_gli[l]"]), ROUNDING, f"{volume}, {who}"))
    return cases


def _ecsc() -> list[Compared]:
    cases = []
    for row in table("lung_volumes"):
        sex, stature, age = SEXES[row["sex"]], float(row["H[cm]"]) / 100.0, float(row["age[yr]"])
        who = f"{sex}, {row['H[cm]']} cm, {row['age[yr]']} years"
        for volume in ("FRC", "TLC", "RV", "IVC"):
            ours = ecsc_1993(volume, sex, stature, age)[0] / LITRE
            cases.append(near(ours, float(row[f"{volume}_ecsc[l]"]), ROUNDING, f"{volume}, {who}"))
    return cases


def _build() -> list[Compared]:
    return [near(frc_by_build(s, 30.0) / frc_by_build(s, 20.0), 0.75, 0.0075, s) for s in SEXES.values()]


def _roberts() -> list[Compared]:
    cases = []
    for sex, statures in (("male", (1.70, 1.80)), ("female", (1.60, 1.70))):
        per_stature, per_year, per_kg, constant = ROBERTS[sex]  # type: ignore[index]
        for stature in statures:
            for bmi in (19.0, 25.0, 32.0):
                mass = bmi * stature**2
                theirs = per_stature * stature + per_year * 30.0 + per_kg * mass + constant
                ours = dry_frc(sex, stature, mass, 30.0) / LITRE  # type: ignore[arg-type]
                cases.append(near(ours, theirs, MOST_OF_ONE_SD, f"{sex}, {stature:.2f} m, BMI {bmi:.0f}"))
    return cases


@cache
def _at_frc() -> PosedBody:
    frc = person_of("male", 1.78, 75.0).frc
    return posed_body(person_of("male", 1.78, 75.0, lung_gas=frc), POSES["upright"])


def _below_notch() -> list[Compared]:
    body = _at_frc()
    return [near(100.0 * float(body.landmarks["notch"][0] - body.lungs.cb[0]), 13.6, 0.05)]


def _behind_sternum() -> list[Compared]:
    body = _at_frc()
    return [near(100.0 * float(body.lungs.cb[2] - body.landmarks["sternum"][2]), 7.0, 0.05)]


@cache
def _even_points() -> Floats:
    """(SAMPLE, 5) evenly spread standard normal values, the same on every machine."""
    steps = SPREAD_ROOT ** -np.arange(1.0, 6.0)
    return np.asarray(ndtri((0.5 + np.arange(1, SAMPLE + 1)[:, None] * steps) % 1.0))


@cache
def _sample() -> tuple[Floats, Floats, Floats, Floats]:
    """Stature [m], mass [kg], age [yr] and tissue density [kg/m^3] of men like Penrose's, by our own regression."""
    z = _even_points()
    stature = np.clip(1.78 + 0.067 * z[:, 0], 1.60, 1.95)
    mass = 25.4 * np.exp(0.13 * z[:, 1]) * stature**2
    age = np.clip(45.0 + 12.6 * z[:, 2], 22.0, 70.0)
    made = [tissue_density("male", s, m, a) for s, m, a in zip(stature, mass, age, strict=True)]
    density = np.array([e.density + e.sd * w for e, w in zip(made, z[:, 3], strict=True)])
    return stature, mass, age, density


def _tissue() -> list[Compared]:
    density = _sample()[3]
    low, high = np.percentile(density, [5.0, 95.0])
    # 4, 2.6 and 6 kg/m^3: three times the error of a mean, of an SD and of such percentiles of 248 men
    return [
        near(float(density.mean()), 1055.1, 4.0, "mean"),
        near(float(density.std()), 19.0, 2.6, "SD"),
        near(float(low), 1026.0, 6.0, "5 %"),
        near(float(high), 1085.0, 6.0, "95 %"),
    ]


def _float(volume: str, water: float) -> list[Compared]:
    """Share [%] of the sample lighter than the water."""
    stature, mass, age, density = _sample()
    z = np.clip(_even_points()[:, 4], -2.0, 2.0)
    rows = zip(stature, age, z, strict=True)
    gas = np.array([gli_2021(volume, "male", s, a, w) for s, a, w in rows])  # type: ignore[arg-type]
    if volume == "FRC":
        gas *= np.array([frc_by_build("male", b) for b in mass / stature**2])
    share = 100.0 * float(np.mean(mass / (mass / density + gas) < water))
    # all of 98 men floated: did less than 0.05^(1/98) of all men, that had a chance of under 5 % (Clopper & Pearson)
    measured = {
        ("TLC", FRESH): (100.0, 100.0 * 0.05 ** (1.0 / 98.0), 100.0),
        ("FRC", SEA): (69.0, 65.0, 90.0),
        ("FRC", FRESH): (7.0, 5.0, 35.0),
    }
    theirs, least, most = measured[volume, water]
    return [within(share, least, most, "", theirs)]


@cache
def _lead(sex: Sex, stature: float, mass: float, gas: float, arms: str, fat: float | None = None) -> float:
    """How far the CB lies headward of the CM [cm]."""
    pose: Pose = OVERHEAD if arms == "overhead" else POSES["upright"]
    age = 22.0 if fat is None else 20.0
    whole = posed_body(person_of(sex, stature, mass, age=age, lung_gas=gas, body_fat=fat), pose).whole()
    return 100.0 * float(whole.cb[0] - whole.cm[0])


def _leads(sex: Sex, people: tuple[tuple[float, float], ...], least: float) -> list[Compared]:
    cases = []
    for stature, mass in people:
        for volume in ("RV", "FRC", "TLC"):
            gas = ecsc_1993(volume, sex, stature, 22.0)[0]
            ours = _lead(sex, stature, mass, gas, "at sides")
            cases.append(within(ours, least, 5.0, f"{volume}, {stature:g} m, {mass:g} kg"))
    return cases


def _men_lead() -> list[Compared]:
    return _least(_leads("male", ((1.72, 68.0), (1.80, 78.0)), 0.0))


def _women_lead() -> list[Compared]:
    return _least(_leads("female", ((1.60, 55.0), (1.68, 62.0)), -0.5))


def _least(cases: list[Compared]) -> list[Compared]:
    """The smallest only: the upper bound stands for no more than sense."""
    return [min(cases, key=lambda c: c.ours)]


def _breath() -> list[Compared]:
    cases = []
    for stature, mass in ((1.72, 68.0), (1.80, 78.0)):
        frc = person_of("male", stature, mass, age=22.0).frc
        rest, full = (_lead("male", stature, mass, gas, "at sides") for gas in (frc, frc + 3.3 * LITRE))
        cases.append(within(full - rest, 0.9, 1.3, f"{stature:g} m, {mass:g} kg", 1.15))
    return cases


def _growth() -> list[Compared]:
    cases = []
    for stature, mass in ((1.72, 68.0), (1.80, 78.0)):
        empty, full = (
            _lead("male", stature, mass, ecsc_1993(v, "male", stature, 22.0)[0], "at sides") for v in ("RV", "TLC")
        )
        cases.append(within(full - empty, 0.7, 2.3, f"{stature:g} m, {mass:g} kg", 1.2))
    return cases


def _swimmers(sex: Sex) -> list[Compared]:
    """At FRC and at RV, for the breathing level was not told; mean and two SDs."""
    stature, mass, fat, mean, sd = (
        (1.80, 75.0, 0.126, 0.79, 0.43) if sex == "male" else (1.68, 60.0, 0.202, 0.16, 0.34)
    )
    gases = {volume: gli_2021(volume, sex, stature, 20.0) for volume in ("FRC", "RV")}
    return [near(_lead(sex, stature, mass, gas, "overhead", fat), mean, 2.0 * sd, v) for v, gas in gases.items()]


def _head() -> list[Compared]:
    head = person_of("male", 1.78, 75.0).segments["head"]
    return [within(head.mass - SEA * head.volume, 0.2, 0.4)]
