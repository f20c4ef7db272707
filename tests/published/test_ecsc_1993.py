"""European Community for Steel and Coal: Quanjer et al. 1993, Eur Respir J 6 Suppl 16:5-40, lung volumes.

Eight people, computed elsewhere from the same equations, litres to two decimals.
"""

import csv
from pathlib import Path

import pytest

from sim.person.lungs import LITRE, ecsc_1993

TABLE = Path(__file__).parent / "tables" / "lung_volumes.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))
SEX = {"M": "male", "F": "female"}
ROUNDING = 0.0051  # l, half the last digit
# l, residual SDs as printed: 90 % limits over 1.645
SPREADS = {("M", "TLC"): 0.70, ("M", "FRC"): 0.60, ("M", "RV"): 0.41, ("M", "IVC"): 0.56,
           ("F", "TLC"): 0.60, ("F", "FRC"): 0.50, ("F", "RV"): 0.35, ("F", "IVC"): 0.42}  # fmt: skip


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r['sex']} {r['H[cm]']} cm {r['age[yr]']} y")
def test_matches_print(row):
    sex, stature, age = SEX[row["sex"]], float(row["H[cm]"]) / 100.0, float(row["age[yr]"])
    for volume in ("FRC", "TLC", "RV", "IVC"):
        mean, sd = ecsc_1993(volume, sex, stature, age)
        assert mean / LITRE == pytest.approx(float(row[f"{volume}_ecsc[l]"]), abs=ROUNDING), volume
        assert sd / LITRE == pytest.approx(SPREADS[row["sex"], volume], abs=1e-12)


def test_the_young_count_as_25():
    assert ecsc_1993("FRC", "male", 1.80, 19.0) == ecsc_1993("FRC", "male", 1.80, 25.0)
