"""IAPWS-95 (Wagner & Pruss 2002, J Phys Chem Ref Data 31:387): fresh water, by CoolProp 8.0.0."""

import csv
from pathlib import Path

import pytest

from sim.water import density

TABLE = Path(__file__).parent / "tables" / "fresh_water_iapws95.csv"
FRESH = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))


def test_table_is_whole():
    assert len(FRESH) == 5


@pytest.mark.parametrize("row", FRESH, ids=lambda r: r["temperature[C]"])
def test_fresh_water(row):
    # IAPWS-09, which TEOS-10 uses for pure water, follows IAPWS-95 to 0.001 kg/m^3 at the surface
    got = density(0.0, float(row["temperature[C]"]) + 273.15)
    assert got == pytest.approx(float(row["density[kg/m^3]"]), abs=1e-3, rel=0.0)
