"""Bare cylinders of common sizes as sold, from memory: plausibility, not validation."""

import csv
from pathlib import Path

import pytest
from scipy.constants import bar

from meshes.gear.cylinder import cylinder

TABLE = Path(__file__).parent / "tables" / "cylinder_trade_values.csv"
TRADE = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))
MASS_TOLERANCE = 0.08  # spread of the steel's strength (Rg 880-1030 MPa) alone moves the mass by 8 %
LENGTH_TOLERANCE = 0.04  # diameters are good to 1 %, lengths thus to 2 %; the shape of the ends does the rest


def test_table_is_whole():
    assert len(TRADE) == 10


@pytest.mark.parametrize("row", TRADE, ids=lambda r: f"{r['metal']}-{r['volume[l]']}-{r['pressure[bar]']}")
def test_mass_and_length_from_the_wall_formula(row):
    got = cylinder(
        water_capacity=float(row["volume[l]"]) * 1e-3,
        outer_diameter=float(row["diameter[mm]"]) * 1e-3,
        working_pressure=float(row["pressure[bar]"]) * bar,
        metal="aluminium" if row["metal"] == "aluminium" else "steel",
    )
    assert got.solid.mass == pytest.approx(float(row["mass[kg]"]), rel=MASS_TOLERANCE)
    shortest, longest = (float(row[f"length_{end}[mm]"]) * 1e-3 for end in ("from", "to"))
    assert (1.0 - LENGTH_TOLERANCE) * shortest < got.length < (1.0 + LENGTH_TOLERANCE) * longest
