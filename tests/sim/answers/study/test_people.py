"""People as an input: the survey's population again, whichever row is asked for."""

import numpy as np
import pytest

from scenarios.reading import scenario_of
from scenarios.study_axes import PeopleAxis
from scenarios.study_reading import read_study
from sim.answers.study.from_file import job_from_file
from sim.answers.study.people_input import People
from sim.answers.study.plan import Plan
from sim.assembly.back_plate import plate_from
from sim.person.measures import measures_model
from sim.person.population import SIZES, drawn_names, drawn_people

BOTH = PeopleAxis("person", ("female", "male"), 0.25, (1.40, 2.10), (("age", "30 years"),))
WOMEN = PeopleAxis("person", ("female",), 1.0, (1.50, 1.60), ())


def drawn(axis: PeopleAxis, number: int) -> dict[str, np.ndarray]:
    plan = Plan("sobol", (People(axis),), number, 5)
    return dict(plan.between(0, number).values)


def test_rows_do_not_depend_on_where_a_run_begins():
    plan = Plan("sobol", (People(BOTH),), 64, 5)
    whole, part = plan.between(0, 64).values, plan.between(40, 43).values
    assert all(np.array_equal(part[name], values[40:43]) for name, values in whole.items())


def test_as_many_women_as_asked_for():
    assert np.count_nonzero(drawn(BOTH, 256)["diver.sex"] == 0) == 64  # a balanced sequence


@pytest.mark.parametrize("sex", ["female", "male"])
def test_the_population_is_that_of_the_survey(sex):
    """Stature and mass have its mean, SD and correlation; measures are those of people drawn one after another."""
    axis = PeopleAxis("person", (sex,), 0.0, (1.40, 2.10), ())
    values, size = drawn(axis, 1024), SIZES[sex]
    height, mass = 0.01 * values["diver.height"], np.log(values["diver.mass"])
    # the survey's range cuts off up to 2 % in each tail
    assert height.mean() == pytest.approx(size.stature, abs=0.001)
    assert height.std() == pytest.approx(size.stature_sd, rel=0.03)
    assert mass.mean() == pytest.approx(np.log(size.mass), abs=0.005)
    assert mass.std() == pytest.approx(size.log_mass_sd, rel=0.03)
    assert np.corrcoef(height, mass)[0, 1] == pytest.approx(size.correlation, abs=0.02)
    others = drawn_people(sex, 1024)
    for name in ("waistcircumference", "crotchheight", "footlength", "hipbreadth"):
        own, theirs = values[f"diver.measures.{name}"], np.array([p.measures[name] for p in others])
        assert own.mean() == pytest.approx(theirs.mean(), abs=0.1 * theirs.std())
        assert own.std() == pytest.approx(theirs.std(), rel=0.08)


def test_heights_and_masses_stay_within_what_is_asked_for_and_what_was_surveyed():
    values = drawn(WOMEN, 512)
    assert (values["diver.height"] >= 150.0).all()
    assert (values["diver.height"] <= 160.0).all()
    low, high = measures_model().female.mass_range
    assert (values["diver.mass"] >= low).all()
    assert (values["diver.mass"] <= high).all()


def test_a_person_takes_the_place_of_the_whole_diver_and_stands_in_the_table_by_size(tmp_path):
    (tmp_path / "study.toml").write_text(
        'format = "study/1"\noutputs = ["mass"]\n[design]\nkind = "grid"\nnumber = 2\n'
        '[base.diver]\nsex = "male"\nheight = "180 cm"\nmass = "80 kg"\nage = "40 years"\nbody_fat = "20 %"\n'
        '[[factor]]\nkey = "plate"\nchoices = ["none", "small carbon"]\n'
        '[[factor]]\npeople = { sex = "female" }\n',
        encoding="utf-8",
    )
    job = job_from_file(tmp_path / "study.toml")
    assert [c.name for c in job.plan.told] == ["diver.sex", "diver.height", "diver.mass", "plate"]
    rows = job.plan.between(0, 4)
    diver = job.model.row_settings(rows, 1)[0].value
    assert (diver["sex"], diver["age"]) == ("female", "40 years")
    assert "body_fat" not in diver
    assert diver["height"] == f"{float(rows.values['diver.height'][1])!r} cm"
    assert len(diver["measures"]) == len(drawn_names())
    answers = job.model(rows)
    assert list(answers.problems) == [""] * 4
    mass = answers.values["mass_kg"]
    worn = scenario_of({**job.model.base.document, "plate": "small carbon"}).plate
    plate = plate_from(worn).solid.mass
    assert mass == pytest.approx(rows.values["diver.mass"] + [0.0, plate, 0.0, plate], abs=1e-9)
    assert read_study(tmp_path / "study.toml").has_person
