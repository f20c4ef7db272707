"""EOS-80: Fofonoff and Millard 1983, UNESCO Technical Papers in Marine Science 44, p. 19, check values."""

import csv
from pathlib import Path

import pytest

from sim.water import density

ROWS = list(
    csv.DictReader((Path(__file__).parent / "tables/eos80_unesco44.csv").read_text(encoding="utf-8").splitlines())
)

# The program uses TEOS-10, a newer standard. The largest differences from EOS-80 at these points, on the same
# temperature scale, are 0.0024 kg/m^3 at the surface and 0.017 at 1000 bar.
AT_SURFACE, AT_1000_BAR = 0.003, 0.018


def test_table_is_whole():
    assert len(ROWS) == 8


@pytest.mark.parametrize("row", ROWS, ids=lambda r: " ".join(list(r.values())[:3]))
def test_density(row):
    t90 = float(row["temperature[C IPTS-68]"]) / 1.00024
    bar = float(row["pressure[bar gauge]"])
    got = density(float(row["salinity[PSS-78]"]), t90 + 273.15, bar * 1e5)
    assert got == pytest.approx(float(row["density[kg/m^3]"]), abs=AT_1000_BAR if bar else AT_SURFACE, rel=0.0)


@pytest.mark.parametrize(
    "row", [r for r in ROWS if r["pressure[bar gauge]"] == "1000"], ids=lambda r: " ".join(r.values())
)
def test_compressibility(row):
    salinity = float(row["salinity[PSS-78]"])
    kelvin = float(row["temperature[C IPTS-68]"]) / 1.00024 + 273.15
    secant = 1000.0 / (1.0 - density(salinity, kelvin) / density(salinity, kelvin, 1e8))
    # a density 0.018 kg/m^3 off moves the secant modulus by 0.018/1000 over a compression of 0.04, i.e. 5e-4
    assert secant == pytest.approx(float(row["secant_bulk_modulus[bar]"]), rel=5e-4)
