"""TEOS-10 (IOC, SCOR & IAPSO 2010) densities, computed elsewhere with gsw 3.6.23."""

import csv
from pathlib import Path

import pytest

from sim.water import density

TABLES = Path(__file__).parent / "tables"


def rows_of(name):
    return list(csv.DictReader((TABLES / name).read_text(encoding="utf-8").splitlines()))


DEEP = rows_of("teos10_gsw.csv")
DIVING = rows_of("diving_water_gsw.csv")


def test_tables_are_whole():
    assert (len(DEEP), len(DIVING)) == (12, 12)


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
