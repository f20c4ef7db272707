"""Three men balanced and swung as pendulums: "Table A.2.1", probably of Toezeren 2000 after Santschi's series.

Positions: 1 standing, arms at sides; 2 arms overhead. L3: CM below the top of the head; L1: before the back plane.
Axes: I1 front-back, I2 left-right, I3 long. Converted from inches and lb in s^2.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from sim.answers.evidence.body import BANDS, SWUNG
from sim.person.person import person_of
from sim.person.pose import symmetric_pose
from sim.person.posed_body import posed_body

TABLE = Path(__file__).parent / "tables" / "three_men_inertia.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))
POSES = {"1": symmetric_pose(shoulder_abduction=0.10), "2": symmetric_pose(shoulder_flexion=np.pi)}
LYING = [r for r in ROWS if r["position"] in POSES]


def body_of(row):
    person = person_of("male", float(row["H[m]"]), float(row["mass[kg]"]), age=float(row["age[yr]"]))
    return posed_body(person, POSES[row["position"]])


def test_table_is_whole():
    assert len(ROWS) == 12
    assert len(LYING) == 6


@pytest.mark.parametrize("row", LYING, ids=lambda r: f"man {r['subject']} position {r['position']}")
def test_cm_height(row):
    body = body_of(row)
    below = body.landmarks["vertex"][0] - body.whole().cm[0]
    # 1.2 % of stature: the three men differ by that among themselves
    assert below == pytest.approx(float(row["L3[m]"]), abs=0.012 * float(row["H[m]"]))


@pytest.mark.parametrize("row", LYING, ids=lambda r: f"man {r['subject']} position {r['position']}")
def test_inertia(row):
    inertia, scale = body_of(row).whole().inertia, float(row["mass[kg]"]) * float(row["H[m]"]) ** 2
    # 13 %: the method's own error is 2 to 8 %, build does the rest
    assert inertia[2, 2] == pytest.approx(float(row["I1[kg m2]"]), rel=0.13)
    assert inertia[1, 1] == pytest.approx(float(row["I2[kg m2]"]), rel=0.13)
    # About the long axis tables of segments give a quarter less than was measured (arms and legs spread on the board)
    assert 0.6 < inertia[0, 0] / float(row["I3[kg m2]"]) < 1.05
    for axis in (1, 2):
        low, high = BANDS[row["position"], axis]
        swung = SWUNG if row["position"] == "2" else 0.0
        assert low * (1.0 - swung) < inertia[axis, axis] / scale < high * (1.0 + swung)


def test_measured_moments_break_the_triangle_inequality():
    """Why the bands of three men are too narrow by some 4 %: no thin body has such moments (see SWUNG)."""
    off = []
    for row in LYING:
        one, two, three = (float(row[f"{k}[kg m2]"]) for k in ("I1", "I2", "I3"))
        thin = 2.0 * float(row["mass[kg]"]) * 0.05**2
        off.append((one - two - three + thin) / (one + two + three))
    assert max(off) == pytest.approx(0.036, abs=0.001)
    assert max(off) < SWUNG
    assert min(off) > 0.0


@pytest.mark.parametrize("row", LYING[::2], ids=lambda r: f"man {r['subject']}")
def test_cm_in_front_of_the_back_plane(row):
    """Measured on a hard board, which flattens buttocks and shoulder blades by some 2 cm."""
    body = body_of(row)
    solids = dict(body.segments)
    back = max(solids[name].mesh.vertices[:, 2].max() for name in ("lower trunk", "upper trunk"))
    flattened = back - body.whole().cm[2] - float(row["L1[m]"])
    assert 0.0 < flattened < 0.03
