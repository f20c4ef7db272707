"""TEOS-10 densities, computed elsewhere with gsw 3.6.23, and fresh water by IAPWS-95, an equation apart from it."""

import csv
from pathlib import Path

import pytest

from sim.water import density

TABLES = Path(__file__).parent / "tables"


def rows_of(name):
    return list(csv.DictReader((TABLES / name).read_text(encoding="utf-8").splitlines()))


DEEP = rows_of("teos10_gsw.csv")
DIVING = rows_of("diving_water_gsw.csv")
FRESH = rows_of("fresh_water_iapws95.csv")


def test_tables_are_whole():
    assert (len(DEEP), len(DIVING), len(FRESH)) == (12, 12, 5)


@pytest.mark.parametrize("row", DEEP, ids=lambda r: " ".join(list(r.values())[:3]))
def test_in_the_deep(row):
    got = density(
        float(row["practical_salinity[PSS-78]"]),
        float(row["temperature[C ITS-90]"]) + 273.15,
        float(row["pressure[dbar gauge]"]) * 1e4,
    )
    # half the last digit printed
    assert got == pytest.approx(float(row["density[kg/m^3]"]), abs=0.5e-6, rel=0.0)


@pytest.mark.parametrize("row", DIVING, ids=lambda r: " ".join(list(r.values())[:2]))
def test_where_people_dive(row):
    got = density(float(row["practical_salinity[PSS-78]"]), float(row["temperature[C ITS-90]"]) + 273.15)
    assert got == pytest.approx(float(row["density[kg/m^3]"]), abs=0.5e-3, rel=0.0)  # half the last digit printed


@pytest.mark.parametrize("row", FRESH, ids=lambda r: r["temperature[C]"])
def test_fresh_water(row):
    # IAPWS-09, which TEOS-10 uses for pure water, follows IAPWS-95 to 0.001 kg/m^3 at the surface
    got = density(0.0, float(row["temperature[C]"]) + 273.15)
    assert got == pytest.approx(float(row["density[kg/m^3]"]), abs=1e-3, rel=0.0)
