"""Thickness of neoprene under sea water, computed elsewhere from the same formula by a root finder."""

import csv
from pathlib import Path

import pytest
from scipy.constants import atm

from sim.foam import thickness_ratio

ROWS = list(
    csv.DictReader((Path(__file__).parent / "tables/foam_thickness.csv").read_text(encoding="utf-8").splitlines())
)
DEPTHS = [0, 5, 10, 15, 20, 30, 40, 60]
WEIGHT = 1025.0 * 9.81  # Pa/m, sea water


def test_table_is_whole():
    assert len(ROWS) == 5


@pytest.mark.parametrize("depth", DEPTHS)
@pytest.mark.parametrize("row", ROWS, ids=lambda r: r["gas_share[-]"] + " " + r["wall_stiffness[bar]"])
def test_thickness(row, depth):
    got = thickness_ratio(atm + WEIGHT * depth, float(row["gas_share[-]"]), float(row["wall_stiffness[bar]"]) * 1e5)
    # half the last digit, and as much again for the table's own water (density and atmosphere were not stated)
    assert got == pytest.approx(float(row[f"{depth}m"]), abs=1e-3, rel=0.0)
