"""Reid 1963, "Floating of a long square bar", Am J Phys 31:565: which densities float how (abstract).

The angles were computed elsewhere, by polygon clipping and by formula.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from meshes.primitives import box
from sim.floating.body import homogeneous
from sim.floating.equilibrium import floats_from
from sim.floating.righting import metacentric_height

TABLE = Path(__file__).parent / "tables" / "floating_square_prism.csv"
ROWS = [
    {k: float(v) for k, v in row.items()} for row in csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines())
]
UP, ALONG = np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0])


def test_table_is_whole():
    assert len(ROWS) == 10


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_heel_of_a_square_prism(row):
    prism = homogeneous(box([6.0, 1.0, 1.0]), row["relative_density[-]"])
    rest = floats_from(prism, np.array([0.0, 0.1, 1.0]))
    assert rest.settled
    assert rest.stiffness[0] > 0.0
    heel = np.degrees(np.arctan2(abs(rest.up[1]), abs(rest.up[2])))
    assert heel == pytest.approx(row["heel[deg]"], abs=0.5e-4 + 1e-5)  # the table's rounding and the search's


@pytest.mark.parametrize("side", [-1.0, 1.0])
@pytest.mark.parametrize("bound", [0.5 * (1.0 - 3.0**-0.5), 0.5 * (1.0 + 3.0**-0.5)])
def test_square_prism_stands_up_to_the_published_density(bound, side):
    """6 s (1 - s) < 1: on either side of the bound GM has the other sign."""
    prism = homogeneous(box([6.0, 1.0, 1.0]), bound + side * 1e-6)
    assert np.sign(metacentric_height(prism, UP, ALONG)) == side * np.sign(bound - 0.5)
