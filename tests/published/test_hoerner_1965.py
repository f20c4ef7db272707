"""Hoerner 1965, Fluid-Dynamic Drag, as printed in the Aeronautical Engineer's Data Book, p. 95: drag coefficients.

Cylinders across the flow by length over diameter (on length times diameter), endways (on the end's area), and the
square plate. The first and the last are the tables in use; endways one value serves for all lengths.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from sim.settling.drag import drag_areas

TABLE = Path(__file__).parent / "tables" / "hoerner_cylinders.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))
HALF_DIGIT = 0.005
ONE_FOR_ALL = 0.15  # endways 0.85 to 0.99; a diver's parts hardly drift endways


def test_table_is_whole():
    assert len(ROWS) == 9


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r['flow']} {r['length_over_diameter[-]']}")
def test_cylinder(row):
    ratio, printed, d = float(row["length_over_diameter[-]"]), float(row["drag_coefficient[-]"]), 0.1
    areas = drag_areas(ratio * d, d, d)
    if row["flow"] == "across":
        assert areas[1:] / (ratio * d * d) == pytest.approx(np.full(2, printed), abs=HALF_DIGIT)
    else:
        assert areas[0] / (0.25 * np.pi * d * d) == pytest.approx(printed, rel=ONE_FOR_ALL)


def test_square_plate():
    assert drag_areas(0.3, 0.3, 0.01)[2] == pytest.approx(1.17 * 0.09, rel=1e-12)
