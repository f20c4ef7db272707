"""Ranges of the joints on the way to a valve and of the neck, bare, in degrees.

Vairo et al. 2012, SMARTT 4:33, Table 4 (548 men, 74 women, mean age 19): used as printed, so this guards their use.
Norkin & White 2016, Table A.1, gathers others (Boone & Azen 1979, Green & Wolf, Walker, Macedo & Magee, AAOS, AMA),
an independent check. Namdari et al. 2012: what ten daily tasks ask of a shoulder.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from sim.answers.fit.joint_ranges import arm_ranges, neck_extension
from sim.assembly.assembled import Mobility
from sim.person.person import person_of

TABLE = Path(__file__).parent / "tables" / "vairo_2012.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))
# least and greatest of the six sources in Norkin & White, Table A.1
NORKIN_WHITE = {
    "shoulder flexion": (156.0, 188.0), "shoulder extension": (44.0, 62.0), "lateral rotation": (60.0, 108.0),
    "medial rotation": (49.0, 94.0), "elbow flexion": (140.0, 150.0), "wrist": (60.0, 93.0),
}  # fmt: skip
DAILY_FLEXION = 121.0 + 6.7  # Namdari et al. 2012, mean and SD of the most demanding of ten tasks
FREE = Mobility(0.0, 0.0, 0.0, 0.0, 0.0)


def ours(motion, ranges):
    return {
        "shoulder flexion": ranges.flexion,
        "external rotation arm at side": ranges.outward[0],
        "external rotation 90 abducted": ranges.outward[1],
        "internal rotation 90 abducted": ranges.inward,
    }[motion]


def test_table_is_whole():
    assert len(ROWS) == 8


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r['motion']} {r['sex']}")
def test_shoulders_of_young_people_as_printed(row):
    for people, column in (("stiff", "p5"), ("usual", "p50"), ("supple", "p95")):
        told = ours(row["motion"], arm_ranges(row["sex"], 19.0, 0.0, people=people))
        assert np.degrees(told) == pytest.approx(float(row[f"{column} [deg]"]))


@pytest.mark.parametrize("sex", ["male", "female"])
def test_usual_ranges_lie_among_those_of_other_sources(sex):
    r = arm_ranges(sex, 35.0, 0.0)
    told = (r.flexion, r.extension, r.outward[1], r.inward, r.elbow, r.wrist)
    for (motion, (least, most)), angle in zip(NORKIN_WHITE.items(), told, strict=True):
        assert least <= np.degrees(angle) + 1e-9 <= most + 2e-9, motion


def test_old_shoulders_turn_out_as_walker_measured():
    """65 to 85 years: 81 degrees, where Boone & Azen's younger men had 104."""
    young, old = (arm_ranges("male", age, 0.0).outward[1] for age in (50.0, 75.0))
    assert old / young == pytest.approx(81.0 / 104.0)
    assert arm_ranges("male", 65.0, 0.0).outward[1] == pytest.approx(0.5 * (young + old))


def test_a_suit_leaves_what_daily_tasks_need():
    """The greatest bulk that is usually guessed, 20 degrees, on a shoulder stiffer than 19 of 20."""
    assert np.degrees(arm_ranges("male", 40.0, np.radians(20.0), people="stiff").flexion) > DAILY_FLEXION


def test_necks_as_aaos_prints_them():
    """75.5 degrees at 20 to 29 years, 70.5 at 30 to 49, 64.5 beyond 50; at the middle of each band."""
    for age, degrees in ((25.0, 75.5), (40.0, 70.5), (60.0, 64.5)):
        assert np.degrees(neck_extension(person_of("female", 1.66, 58.0, age=age), FREE)) == pytest.approx(degrees)
