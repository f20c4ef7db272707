"""Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd edition: rectangular plates under even pressure.

Tables 8 (simply supported) and 35 (clamped), Poisson's ratio 0.3: deflection and moments in the middle, moment at the
middle of a long edge. From memory; the first is worked out here again from Navier's series. A sheet 1/130 as thick as
it is broad, which is where elements lock that are not made against it.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from sim.shells.loads import weight
from sim.shells.shell import Sheet
from sim.shells.solve import factored
from sim.shells.stress import face_stresses
from tests.sim.shells.rectangles import nearest, on_edge, plate

ROWS = list(
    csv.DictReader((Path(__file__).parent / "tables/timoshenko_plates.csv").read_text(encoding="utf-8").splitlines())
)
NU, BREADTH = 0.3, 1.0
THIN = Sheet(BREADTH / 130.0, 70e9, NU)
D = THIN.modulus * THIN.thickness**3 / (12.0 * (1.0 - NU**2))
LAST = 0.5e-5  # half the last digit printed
MESH = 0.005  # of the deflection, on 16 pairs of triangles across; shear, which the tables leave out, is worth 0.0003


def bent(ratio, clamped, across, sheet=THIN):
    """Displacements under a pressure of 1 Pa."""
    shell = plate(sheet, ratio * BREADTH, BREADTH, round(across * ratio), across)
    held = np.zeros((len(shell.nodes), 6), dtype=bool)
    held[:, [0, 1, 5]] = True  # nothing happens in its own plane
    ends, sides = (on_edge(shell, k, 0.0) | on_edge(shell, k, high) for k, high in ((0, ratio), (1, BREADTH)))
    held[ends | sides, 2] = True
    held[ends, 3] = held[sides, 4] = True  # does not turn along its own edge
    if clamped:
        held[ends | sides, 3:5] = True
    pressure = weight(shell, 1.0 / sheet.thickness, [0.0, 0.0, 1.0])
    return shell, factored(shell, held).displaced(pressure)


def moments_at(shell, moved, point):
    """Along and across [N m/m] at a corner of triangles, averaged over those around."""
    at, corner = np.nonzero(shell.triangles[:, :3] == nearest(shell, point))
    faces = face_stresses(shell, moved)[at, corner]
    own = (faces[:, 0] - faces[:, 1]).mean(axis=0) * shell.sheet.thickness**2 / 12.0
    return own[:2] * np.sign(own[1])


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r['held[-]']} {r['length_over_breadth[-]']}")
def test_deflection_and_moments(row):
    ratio, clamped = float(row["length_over_breadth[-]"]), row["held[-]"] == "clamped"
    shell, moved = bent(ratio, clamped, 16)
    middle, side = [ratio / 2, 0.5], [ratio / 2, 0.0]
    assert moved[nearest(shell, middle), 2] * D == pytest.approx(
        float(row["deflection[q a^4/D]"]), abs=LAST, rel=MESH
    )
    across, along = float(row["across[q a^2]"]), float(row["along[q a^2]"])
    # what stresses are wrong by falls with the square of the triangles' size, at a clamped edge with the size itself
    # while triangles are longer than the sheet is thick: so they are taken to the limit
    coarse = bent(ratio, clamped, 8)
    found, half = moments_at(shell, moved, middle), moments_at(*coarse, middle)
    assert (found + (found - half) / 3.0).tolist() == pytest.approx([along, across], rel=0.01)
    if clamped:
        found, half = moments_at(shell, moved, side)[1], moments_at(*coarse, side)[1]
        assert -(found + (found - half)) == pytest.approx(float(row["edge[q a^2]"]), rel=0.03)


def navier(sheet):
    """Middle of a simply supported square plate with shear (Reissner-Mindlin), exact."""
    n = np.arange(1, 400, 2)
    wave = np.pi**2 * np.add.outer(n**2, n**2) / BREADTH**2
    load = 16.0 / (np.pi**2 * np.outer(n, n)) * np.outer((-1.0) ** (n // 2), (-1.0) ** (n // 2))
    stiff = sheet.modulus * sheet.thickness**3 / (12.0 * (1.0 - NU**2))
    shear = 5.0 / 6.0 * sheet.shear_modulus * sheet.thickness
    return (load / (stiff * wave**2)).sum() + (load / (shear * wave)).sum()


def test_the_table_is_naviers_series():
    assert navier(THIN) * D == pytest.approx(0.00406, abs=0.5e-5)


@pytest.mark.parametrize("thinness", [5.0, 130.0, 1000.0])
def test_no_locking_however_thin(thinness):
    sheet = Sheet(BREADTH / thinness, 70e9, NU)
    off = []
    for count in (4, 8, 16):
        shell, moved = bent(1.0, False, count, sheet)
        off.append(abs(moved[nearest(shell, [0.5, 0.5]), 2] / navier(sheet) - 1.0))
    assert off[0] < 0.03
    assert off[2] < 0.003
    if thinness > 100.0:  # triangles that are long beside the thickness throughout
        assert np.log2(off[0] / off[2]) / 2.0 > 1.9
