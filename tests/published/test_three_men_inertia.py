"""Three men balanced and swung as pendulums: "Table A.2.1", probably of Toezeren 2000 after Santschi's series.

Positions: 1 standing, arms at sides; 2 arms overhead. L3: CM below the top of the head; L1: before the back plane.
Axes: I1 front-back, I2 left-right, I3 long. Converted from inches and lb in s^2.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from sim.person.person import person_of
from sim.person.pose import symmetric_pose
from sim.person.posed_body import posed_body

TABLE = Path(__file__).parent / "tables" / "three_men_inertia.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))
POSES = {"1": symmetric_pose(shoulder_abduction=0.10), "2": symmetric_pose(shoulder_flexion=np.pi)}
LYING = [r for r in ROWS if r["position"] in POSES]


def body_of(row):
    person = person_of("male", float(row["H"]), float(row["mass"]), age=float(row["age"]))
    return posed_body(person, POSES[row["position"]])


def test_table_is_whole():
    assert len(ROWS) == 12
    assert len(LYING) == 6


@pytest.mark.parametrize("row", LYING, ids=lambda r: f"man {r['subject']} position {r['position']}")
def test_cm_height(row):
    body = body_of(row)
    below = body.landmarks["vertex"][0] - body.whole().cm[0]
    # 1.2 % of stature: the three men differ by that among themselves
    assert below == pytest.approx(float(row["L3"]), abs=0.012 * float(row["H"]))


@pytest.mark.parametrize("row", LYING, ids=lambda r: f"man {r['subject']} position {r['position']}")
def test_inertia(row):
    inertia, scale = body_of(row).whole().inertia, float(row["mass"]) * float(row["H"]) ** 2
    # 13 %: the method's own error is 2 to 8 %, build does the rest
    assert inertia[2, 2] == pytest.approx(float(row["I1"]), rel=0.13)
    assert inertia[1, 1] == pytest.approx(float(row["I2"]), rel=0.13)
    # About the long axis tables of segments give a quarter less than was measured (arms and legs spread on the board)
    assert 0.6 < inertia[0, 0] / float(row["I3"]) < 1.05
    low, high = (0.050, 0.058) if row["position"] == "1" else (0.066, 0.075)
    assert low < inertia[2, 2] / scale < high
    low, high = (0.045, 0.054) if row["position"] == "1" else (0.060, 0.069)
    assert low < inertia[1, 1] / scale < high


@pytest.mark.parametrize("row", LYING[::2], ids=lambda r: f"man {r['subject']}")
def test_cm_in_front_of_the_back_plane(row):
    """Measured on a hard board, which flattens buttocks and shoulder blades by some 2 cm."""
    body = body_of(row)
    solids = dict(body.segments)
    back = max(solids[name].mesh.vertices[:, 2].max() for name in ("lower trunk", "upper trunk"))
    flattened = back - body.whole().cm[2] - float(row["L1"])
    assert 0.0 < flattened < 0.03
