"""Density and fat, segment masses and centres, and one woman measured segment by segment."""

from __future__ import annotations

from typing import Final

import numpy as np

from sim.answers.evidence.check import Check, Compared, near, table, within
from sim.person.density import TRAINED_SD, siri_density, tissue_density
from sim.person.measures import Sex
from sim.person.person import Person, person_of
from sim.person.tissue import segment_masses

THEME: Final = "The body at rest"
SIRI: Final = {0.10: 1.0761, 0.20: 1.0532, 0.30: 1.0313, 0.40: 1.0102}  # fat: kg/l, four decimals
WOMAN: Final[tuple[Sex, float, float, float]] = (
    "female",
    1.66,
    64.6,
    31.0,
)  # her stature is not told: a usual one
# 2 SD of what we do not know of her: tissue 11.5 kg/m^3, a litre of gas either way 9
WOMAN_DENSITY: Final = 29.0
ATHLETES_AGE: Final = 22.0  # yr, not told
MEAN_OF_TEN: Final = 3.0 / 10.0**0.5  # SD: three errors of a mean of ten people
# Both put the CM behind the line of the joints; a person's shape and the cut of the segment move it by a centimetre
BEHIND: Final = 1.0  # cm


def checks() -> tuple[Check, ...]:
    hatze = "Hatze 1980, J Biomech 13:833, woman of 31 years, 17 segments"
    dumas = "Dumas et al. 2007, off-axis centres of volume"
    clauser = "Clauser 1969, Zatsiorsky 1979, Ma 2011, Nikolova 2007"
    return (
        Check(THEME, "density at 10 to 40 % fat", "Siri 1961, tabulated", "computed elsewhere", "kg/l", 5, _siri),
        *(
            Check(
                THEME, f"density of {people} {word} who train, ten by ten",
                "Telford & Cunningham 1991, data set ais", "published", "kg/m³", 0,
                lambda s=sex: _athletes(s),  # type: ignore[misc]
                f"by skinfolds and Siri; as people who do not train they come out 10 too light, and {held} % of them "
                f"lie in the 90 % band instead of {now}",
            )
            for sex, word, people, held, now in (("male", "men", 102, 90, 96), ("female", "women", 100, 61, 99))
        ),
        Check(
            THEME, "woman of 64.6 kg: density, lungs and all", hatze, "published", "kg/m³", 0, _woman,
            "her stature and breath are not told",
        ),
        Check(
            THEME, "her head, arms, hands and shanks: volumes", hatze, "published", "l", 2, _her_limbs,
            "a fifth: one person's build",
        ),
        Check(
            THEME, "trunk and thighs / body mass", clauser, "published", "", 3, _core,
            "ours are de Leva's fractions; thigh and trunk alone hang on where they are cut",
        ),
        Check(THEME, "CM height of men less that of women", "de Leva's chain; McLean & Hinrichs 1998", "published",
              "% H", 1, _men_less_women),
        Check(THEME, "shank's CM behind the line of knee and ankle", dumas, "published", "cm", 1,
              lambda: _behind("shank")),
        Check(
            THEME, "thigh's CM behind the line of hip and knee", dumas, "published", "cm", 1,
            lambda: _behind("thigh"),
        ),
    )  # fmt: skip


def _siri() -> list[Compared]:
    return [near(siri_density(f) / 1e3, d, 0.6e-4, f"{100 * f:.0f} %") for f, d in SIRI.items()]


def _athletes(sex: Sex) -> list[Compared]:
    found = []
    for row in table("ais_groups"):
        if row["sex"] == sex:
            stature, mass = float(row["stature[m]"]), float(row["mass[kg]"])
            ours = tissue_density(sex, stature, mass, ATHLETES_AGE, trained=True).density
            allowed = MEAN_OF_TEN * TRAINED_SD[sex]
            found.append(near(ours, float(row["density[kg/m^3]"]), allowed, f"BMI {mass / stature**2:.1f}"))
    return found


def _her() -> Person:
    sex, stature, mass, age = WOMAN
    return person_of(sex, stature, mass, age=age)


def _woman() -> list[Compared]:
    rows = table("hatze_1980_woman")
    theirs = 1e3 * sum(float(r["m[kg]"]) for r in rows) / sum(float(r["V[l]"]) for r in rows)
    person = _her()
    return [near(person.mass / person.volume, theirs, WOMAN_DENSITY)]


def _her_limbs() -> list[Compared]:
    hers = {r["segment"]: float(r["V[l]"]) for r in table("hatze_1980_woman")}
    segments, found = _her().segments, []
    for limb in ("upper arm", "forearm", "hand", "shank"):
        theirs = 0.5 * sum(hers[f"{side}_{limb.replace(' ', '_')}"] for side in ("left", "right"))
        found.append(near(1e3 * segments[f"left {limb}"].volume, theirs, 0.2 * theirs, limb))
    return [near(1e3 * segments["head"].volume, hers["head_neck"], 0.2 * hers["head_neck"], "head"), *found]


def _core() -> list[Compared]:
    """Of the sources cut like ours; two others cut the thigh low and the trunk high, and stand apart."""
    alike = [r for r in table("segment_masses") if r["source"] not in ("Dempster1955_rescaled", "Plagenhoef1983")]
    printed = [float(r["trunk[%]"]) + 2.0 * float(r["thigh[%]"]) for r in alike]
    found = []
    sexes: tuple[Sex, Sex] = ("male", "female")
    for sex in sexes:
        masses = segment_masses(sex, 1.0)
        ours = sum(m for n, m in masses.items() if "trunk" in n or "thigh" in n)
        found.append(within(ours, 0.01 * min(printed) - 5e-4, 0.01 * max(printed) + 5e-4, sex))
    return found


def _men_less_women() -> list[Compared]:
    from sim.answers.evidence.body import height_of_cm, mean_subject

    ours = 100.0 * (height_of_cm(mean_subject("male", "1")) - height_of_cm(mean_subject("female", "1")))
    return [within(ours, -0.3, 1.6, "", 0.2)]


def _behind(segment: str) -> list[Compared]:
    """How far the centre lies behind the line from joint to joint, standing."""
    found = []
    for letter, sex, stature, mass in (("M", "male", 1.77, 77.0), ("F", "female", 1.61, 64.0)):
        person = person_of(sex, stature, mass)  # type: ignore[arg-type]
        j = person.skeleton.joints
        upper, lower = (j["hip"], j["knee"]) if segment == "thigh" else (j["knee"], j["ankle"])
        centre = person.segments[f"left {segment}"].centre
        share = (centre[0] - upper[0]) / (lower[0] - upper[0])
        ours = 100.0 * float(centre[2] - ((1.0 - share) * upper[2] + share * lower[2]))
        row = next(r for r in table("dumas_2007") if (r["segment"], r["sex"]) == (segment, letter))
        theirs = -100.0 * float(row["cx[-]"]) * float(np.linalg.norm(upper - lower))
        found.append(near(ours, theirs, BEHIND, sex))
    return found
