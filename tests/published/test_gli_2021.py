"""Global Lung Function Initiative: Hall et al. 2021, Eur Respir J 57:2000289, static lung volumes.

Eight people's medians and limits of normal, computed elsewhere with pyspiro (MIT) from the same paper; two decimals.
"""

import csv
from pathlib import Path

import pytest

from sim.person.lungs import LITRE, dry_frc, ecsc_1993, gli_2021

TABLE = Path(__file__).parent / "tables" / "lung_volumes.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))
SEX = {"M": "male", "F": "female"}
ROUNDING = 0.0051  # l, half the last digit


def test_table_is_whole():
    assert len(ROWS) == 8


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r['sex']} {r['H[cm]']} cm {r['age[yr]']} y")
def test_matches_print(row):
    sex, stature, age = SEX[row["sex"]], float(row["H[cm]"]) / 100.0, float(row["age[yr]"])
    for volume in ("FRC", "TLC", "RV", "VC"):
        got = gli_2021(volume, sex, stature, age) / LITRE
        assert got == pytest.approx(float(row[f"{volume}_gli[l]"]), abs=ROUNDING), volume
    for volume in ("FRC", "TLC", "RV"):
        for z, limit in ((-1.645, "lln"), (1.645, "uln")):
            got = gli_2021(volume, sex, stature, age, z) / LITRE
            assert got == pytest.approx(float(row[f"{volume}_{limit}[l]"]), abs=ROUNDING), (volume, limit)


def test_agrees_with_ecsc_on_frc():
    """Within 14 % for usual statures and 25 to 60 years, and never by more than one of ECSC's SDs."""
    for sex, statures in (("male", (1.65, 1.75, 1.85)), ("female", (1.55, 1.65, 1.75))):
        for stature in statures:
            for age in (25.0, 40.0, 60.0):
                mean, sd = ecsc_1993("FRC", sex, stature, age)
                gli = gli_2021("FRC", sex, stature, age)
                assert gli == pytest.approx(mean, rel=0.14)
                assert abs(gli - mean) < sd


def test_capacities_add_up():
    """FRC = RV + ERV, TLC = RV + VC = FRC + IC, each fitted for itself: within 10 %."""
    for sex, stature, age in (("male", 1.75, 40.0), ("female", 1.65, 40.0)):
        v = {k: gli_2021(k, sex, stature, age) for k in ("FRC", "RV", "ERV", "TLC", "VC", "IC")}
        assert v["RV"] + v["ERV"] == pytest.approx(v["FRC"], rel=0.10)
        assert v["RV"] + v["VC"] == pytest.approx(v["TLC"], rel=0.10)
        assert v["FRC"] + v["IC"] == pytest.approx(v["TLC"], rel=0.10)


def test_ages_beyond_the_tables_count_as_their_ends():
    assert dry_frc("male", 1.8, 75.0, 15.0) == dry_frc("male", 1.8, 75.0, 20.0)
    assert dry_frc("male", 1.8, 75.0, 80.0) == dry_frc("male", 1.8, 75.0, 70.0)


def test_the_median_is_where_z_is_small():
    assert gli_2021("FRC", "female", 1.65, 33.0, 1e-9) == pytest.approx(
        gli_2021("FRC", "female", 1.65, 33.0), rel=1e-8
    )
    with pytest.raises(ValueError, match="spread of VC"):
        gli_2021("VC", "female", 1.65, 33.0, 1.0)
