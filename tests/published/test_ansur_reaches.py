"""ANSUR II (Gordon et al. 2014, NATICK/TR-15/007): bare-arm reaches of 4,082 men and 1,986 women, means in mm.

Overhead fingertip reach is stated sitting; standing it is that plus stature less sitting height. A full effort, in
which the trunk stretches too: the arm chain may fall short of it by what a plate on the back does not allow.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from sim.answers.fit.arm_reach import shortfalls
from sim.answers.fit.reach import left_arm
from sim.person.measures import estimated_measures
from sim.person.person import person_of
from sim.person.posed_body import back_of_trunk

TABLE = Path(__file__).parent / "tables" / "ansur_reaches.csv"
ROWS = {r["measure"]: r for r in csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines())}
MEAN = {"male": (1.7562, 85.5), "female": (1.6285, 67.8)}  # the same survey's mean stature [m] and mass [kg]
FINGERTIP = 0.98  # of hand length, from the wrist joint
OVERHEAD = 0.015  # of the reach, 3 cm: in the survey the trunk stretches too
THUMB = 0.02  # of the reach, 16 mm: the shoulder blade slides forward as the arm is raised, which is not modelled


def test_table_is_whole():
    assert len(ROWS) == 2
    assert all(float(r["male [mm]"]) > float(r["female [mm]"]) for r in ROWS.values())


@pytest.fixture(params=["male", "female"])
def bare(request):
    """Sex, person and an arm with every joint free and no head in the way."""
    sex = request.param
    person = person_of(sex, *MEAN[sex])
    return sex, person


def test_overhead_fingertip_reach(bare):
    sex, person = bare
    arm = left_arm(person, 0.0, grip=(FINGERTIP, FINGERTIP), people="supple")
    measured = float(ROWS["standing_overhead_fingertip_reach"][f"{sex} [mm]"]) / 1000.0
    floor = person.skeleton.heights["floor"]
    above = np.array([[floor + 4.0, arm.shoulder[1], arm.shoulder[2]]])
    reach = 4.0 - float(shortfalls(arm, above)[0])
    assert reach == pytest.approx(measured, rel=OVERHEAD)
    assert reach < measured + 0.005


def test_thumb_tip_reach(bare):
    """Arm straight ahead, back and shoulder against a wall."""
    sex, person = bare
    measured = float(ROWS["thumbtipreach"][f"{sex} [mm]"]) / 1000.0
    heights, joint = person.skeleton.heights, person.skeleton.joints["shoulder"]
    back = back_of_trunk(
        person, np.linspace(heights["chest"], heights["acromion"], 30)[:, None], np.linspace(0.04, 0.12, 9)
    )
    arm = left_arm(person, 0.0)
    reach = float(back.max() - joint[2]) + arm.upper + arm.fore + arm.grip[1]
    assert reach < measured
    assert reach == pytest.approx(measured, rel=THUMB)


@pytest.mark.parametrize(
    ("sex", "height", "mass"), [("male", 1.65, 68.0), ("male", 1.9, 90.0), ("female", 1.75, 70.0)]
)
def test_overhead_reach_of_other_people(sex, height, mass):
    """Not only at the mean: the survey's own estimate for that stature and mass."""
    person = person_of(sex, height, mass)
    known = estimated_measures(sex, height, mass).values()
    measured = known["overheadfingertipreachsitting"] + height - known["sittingheight"]
    arm = left_arm(person, 0.0, grip=(FINGERTIP, FINGERTIP), people="supple")
    above = np.array([[person.skeleton.heights["floor"] + 4.0, arm.shoulder[1], arm.shoulder[2]]])
    assert 4.0 - float(shortfalls(arm, above)[0]) == pytest.approx(measured, rel=OVERHEAD)
