"""A training textbook's table "SCUBA CYLINDER SPECIFICATIONS", sea water, read from a scanned page.

Floodable volume, service pressure (with 10 % overfill where stamped so), length and empty mass without valve. Rows
that contradict themselves (their own volume, mass and buoyancy do not belong together) say so in "use".
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from scipy.constants import inch, lb

from meshes.gear.cylinder import Cylinder, cylinder

TABLES = Path(__file__).parent / "tables"
TEXTBOOK = list(csv.DictReader((TABLES / "cylinder_textbook.csv").read_text(encoding="utf-8").splitlines()))
GOOD = [row for row in TEXTBOOK if row["use"] == "yes"]
SEA_WATER = 1025.0

ONE_POUND = lb  # what the textbook's good rows agree within, by their own volume and mass
LENGTH_TOLERANCE = 0.04  # diameters are good to 1 %, lengths thus to 2 %; the shape of the ends does the rest


def label(row: dict[str, str]) -> str:
    return f"{row['name']} of {row['mass[lb]']} lb"


def test_table_is_whole() -> None:
    assert len(TEXTBOOK) == 12
    assert len(GOOD) == 8


def weighed_cylinder(row: dict[str, str], *, as_long_as_printed: bool = False) -> Cylinder:
    steel = row["metal"] == "steel"
    return cylinder(
        water_capacity=float(row["volume[in3]"]) * inch**3,
        outer_diameter=float(row["diameter[in]"]) * inch,
        metal="steel" if steel else "aluminium",
        # cylinders of this make stand on their base: concave in steel, flat in aluminium (from memory)
        base="concave" if steel else "flat",
        mass=float(row["mass[lb]"]) * lb,
        length=float(row["length[in]"]) * inch if as_long_as_printed else None,
    )


@pytest.mark.parametrize("row", GOOD, ids=label)
def test_buoyancy_of_the_empty_cylinder(row: dict[str, str]) -> None:
    got = weighed_cylinder(row).solid
    assert SEA_WATER * got.volume - got.mass == pytest.approx(float(row["buoyancy_empty[lb]"]) * lb, abs=ONE_POUND)


@pytest.mark.parametrize("row", GOOD, ids=label)
def test_length_follows_from_volume_diameter_and_mass(row: dict[str, str]) -> None:
    assert weighed_cylinder(row).length == pytest.approx(float(row["length[in]"]) * inch, rel=LENGTH_TOLERANCE)


@pytest.mark.parametrize("row", GOOD, ids=label)
def test_printed_length_can_be_built(row: dict[str, str]) -> None:
    got = weighed_cylinder(row, as_long_as_printed=True)
    # to the last printed inch fraction, or as near as the diameter's own 1 % lets it come
    assert got.length == pytest.approx(float(row["length[in]"]) * inch, rel=0.01)
    assert got.solid.mass == pytest.approx(float(row["mass[lb]"]) * lb, rel=1e-9)


def test_a_row_that_contradicts_itself_is_refused() -> None:
    row = next(r for r in TEXTBOOK if r["name"] == "Al 63")
    with pytest.raises(ValueError, match="long without its valve"):
        weighed_cylinder(row, as_long_as_printed=True)
