"""Lamb 1932, Hydrodynamics, art. 114 and 115: added mass of spheroids and ellipsoids.

The tables were computed elsewhere, from the closed form and by quadrature of the triaxial integrals.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from sim.settling.added_mass import ellipsoid_coefficients

TABLES = Path(__file__).parent / "tables"
SPHEROIDS = list(csv.DictReader((TABLES / "lamb_spheroids.csv").read_text(encoding="utf-8").splitlines()))
ELLIPSOIDS = list(csv.DictReader((TABLES / "triaxial_added_mass.csv").read_text(encoding="utf-8").splitlines()))
HALF_DIGIT = 0.5e-3  # the tables print three decimals


def test_tables_are_whole():
    assert (len(SPHEROIDS), len(ELLIPSOIDS)) == (9, 2)


@pytest.mark.parametrize("row", SPHEROIDS, ids=lambda r: r["length_ratio[a/b]"])
def test_spheroids(row):
    along, about = ellipsoid_coefficients(np.array([float(row["length_ratio[a/b]"]), 1.0, 1.0]))
    expected = [float(row[k]) for k in ("axial[-]", "lateral[-]", "lateral[-]")]
    assert along == pytest.approx(expected, abs=HALF_DIGIT, rel=0.0)
    turning = float(row["rotational[-]"])
    assert about == pytest.approx([0.0, turning, turning], abs=HALF_DIGIT, rel=0.0)


@pytest.mark.parametrize("row", ELLIPSOIDS, ids=lambda r: r["b[m]"])
def test_triaxial_ellipsoids(row):
    along, about = ellipsoid_coefficients(np.array([float(row[k]) for k in ("a[m]", "b[m]", "c[m]")]))
    assert along == pytest.approx([float(row[k]) for k in ("k_a[-]", "k_b[-]", "k_c[-]")], abs=HALF_DIGIT, rel=0.0)
    assert about == pytest.approx(
        [float(row[k]) for k in ("rot_a[-]", "rot_b[-]", "rot_c[-]")], abs=HALF_DIGIT, rel=0.0
    )


@pytest.mark.parametrize("ratio", [1.3, 2.0, 7.0])
def test_closed_form_of_the_prolate_spheroid(ratio):
    e = np.sqrt(1.0 - ratio**-2)
    a0 = 2.0 * (1.0 - e**2) / e**3 * (0.5 * np.log((1.0 + e) / (1.0 - e)) - e)
    b0 = 1.0 / e**2 - (1.0 - e**2) / (2.0 * e**3) * np.log((1.0 + e) / (1.0 - e))
    turning = e**4 * (b0 - a0) / ((2.0 - e**2) * (2.0 * e**2 - (2.0 - e**2) * (b0 - a0)))
    along, about = ellipsoid_coefficients(np.array([ratio, 1.0, 1.0]))
    assert along == pytest.approx([a0 / (2.0 - a0), b0 / (2.0 - b0), b0 / (2.0 - b0)], rel=1e-11)
    assert about == pytest.approx([0.0, turning, turning], rel=1e-10)
