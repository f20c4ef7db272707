"""Hydrostatics of plain shapes: closed forms of naval architecture, with tables computed elsewhere from them.

BM = I/V, GM = KB + BM - KG and the wall-sided
GZ = (GM + BM/2 tan^2) sin are textbook formulas.
"""

import csv
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from meshes.loft import circle, loft
from meshes.mesh import mesh_of
from meshes.primitives import box, ellipsoid
from sim.floating.body import homogeneous
from sim.floating.clip import immersion
from sim.floating.equilibrium import draught
from sim.floating.righting import metacentric_height, righting_arm

TABLES = Path(__file__).parent / "tables"
UP, ALONG = np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0])


def table(name):
    with (TABLES / name).open(newline="", encoding="utf-8") as file:
        return [{k: float(v) for k, v in row.items()} for row in csv.DictReader(file)]


def rod(sides, length, radius=0.5):
    """Cylinder with ``sides`` flat sides along x, its corners on the circle."""
    rings = [np.column_stack([np.full(sides, x), radius * circle(sides)]) for x in (-0.5 * length, 0.5 * length)]
    middles = [np.repeat([[r[0, 0], 0.0, 0.0]], sides, axis=0) for r in rings]
    return loft(np.array([middles[0], *rings, middles[1]]))


def upright(mesh):
    """The mesh with its x axis turned up (x to z, y kept)."""
    turn = np.array([[0.0, 0.0, -1.0], [0.0, 1.0, 0.0], [1.0, 0.0, 0.0]])
    return mesh_of(mesh.vertices @ turn.T, mesh.faces)


def test_tables_are_whole():
    names = ("box_righting_arm", "sphere_cap", "lying_cylinder", "upright_cylinder")
    assert [len(table(f"floating_{n}.csv")) for n in names] == [2, 4, 3, 3]


@pytest.mark.parametrize("breadth", [0.8, 1.1])
@pytest.mark.parametrize("s", [0.35, 0.6])
def test_box_gm(breadth, s):
    """GM = KB + BM - KG with KB = s H/2, BM = B^2/(12 s H), KG = H/2: stable where 6 s (1 - s) < (B/H)^2."""
    gm = metacentric_height(homogeneous(box([4.0, breadth, 1.0]), s), UP, ALONG)
    assert gm == pytest.approx(0.5 * s + breadth**2 / (12.0 * s) - 0.5, abs=1e-12)  # arithmetic, rounding only
    assert (gm > 0.0) == (6.0 * s * (1.0 - s) < breadth**2)


@pytest.mark.parametrize("row", table("floating_box_righting_arm.csv"), ids=str)
def test_righting_arm_of_a_box(row):
    body = homogeneous(box([3.0, 1.0, 0.6]), 0.5)
    body = replace(body, cm=np.array([0.0, 0.0, -row["centre_below_middle[m]"]]))
    assert metacentric_height(body, UP, ALONG) == pytest.approx(row["GM[m]"], abs=0.5e-7 + 1e-12)
    for heel in (1, 10, 20, 30):
        for way in (1.0, -1.0):
            arm = righting_arm(body, UP, ALONG, way * np.radians(heel))
            assert way * arm == pytest.approx(row[f"GZ_{heel}deg[m]"], abs=0.5e-8 + 1e-12)  # the table's rounding


def second_order(errors):
    """Halving the facets' size quarters the error; 0.1 for what the next order adds at these sizes."""
    return np.log2(np.divide(errors[:-1], errors[1:])) == pytest.approx(2.0, abs=0.1)


def sphere(points):
    return ellipsoid([0.5, 0.5, 0.5], rings=points // 2, points=points)


@pytest.mark.parametrize("row", table("floating_sphere_cap.csv"), ids=str)
def test_sphere_cap(row):
    """Meshes of 160 and 320 points round, carried on at second order (Richardson) to the true ball.

    What is left is the waterline meeting edges now here, now there: 5e-5 of the whole. BM = -zB follows.
    """
    expected = [row[k] for k in ("volume[m3]", "centre[m]", "waterplane[m2]", "second_moment[m4]")]
    coarse, fine = (_quantities(sphere(n), row["depth[m]"] - 0.5) for n in (160, 320))
    carried = (4.0 * fine - coarse) / 3.0
    assert carried == pytest.approx(expected, rel=5e-5)
    assert np.abs(fine / expected - 1.0).max() < 0.3 * np.abs(coarse / expected - 1.0).max()
    assert carried[3] / carried[0] == pytest.approx(-row["centre[m]"], rel=5e-5)


def _quantities(mesh, level):
    cut = immersion(mesh, UP, level)
    return np.array([cut.volume, cut.centroid[2], cut.area, 0.5 * (cut.area_second[0, 0] + cut.area_second[1, 1])])


def test_sphere_converges_at_second_order():
    """Half a ball: volume 2/3 pi r^3, centre 3/8 r down, waterplane pi r^2, second moment pi r^4/4."""
    exact = (np.pi / 12.0, -0.1875, 0.25 * np.pi, np.pi / 64.0)
    errors = [np.abs(_quantities(sphere(n), 0.0) / exact - 1.0) for n in (24, 48, 96)]
    for column in np.transpose(errors):
        assert second_order(column)


@pytest.mark.parametrize("row", table("floating_lying_cylinder.csv"), ids=str)
def test_lying_cylinder(row):
    """A rod of n sides is short by about (2/3)(pi/n)^2 of its volume: 6.4e-6 at 1024, and 1e-8 is the rounding."""
    cut = immersion(rod(1024, 2.0), UP, row["depth[m]"] - 0.5)
    assert cut.volume == pytest.approx(row["volume[m3]"], rel=2.5e-5)
    assert cut.centroid[2] == pytest.approx(row["centre[m]"], rel=2.5e-5)
    assert cut.area == pytest.approx(2.0 * row["breadth[m]"], rel=2.5e-5)
    assert cut.area_second[1, 1] == pytest.approx(2.0 * row["breadth[m]"] ** 3 / 12.0, rel=7.5e-5)  # as breadth cubed


def test_lying_cylinder_converges_at_second_order():
    half = [immersion(rod(n, 2.0), UP, 0.0) for n in (16, 32, 64)]
    assert second_order([0.25 * np.pi - c.volume for c in half])
    assert second_order([0.5 * 4.0 / (3.0 * np.pi) + c.centroid[2] for c in half])


def test_lying_cylinder_is_at_rest_at_any_roll():
    """KM is the axis: no righting arm, but for the flat sides, whose arm falls as their size squared."""
    body = homogeneous(rod(256, 2.0), 0.4)
    arms = [righting_arm(body, UP, ALONG, np.radians(a)) for a in (7.0, 30.0, 111.0)]
    assert np.abs(arms).max() < (np.pi / 256.0) ** 2
    assert abs(metacentric_height(body, UP, ALONG)) < 4.0 * (np.pi / 256.0) ** 2


@pytest.mark.parametrize("row", table("floating_upright_cylinder.csv"), ids=str)
@pytest.mark.parametrize("way", [-1.0, 1.0])
def test_upright_cylinder_stands_from_the_published_ratio(row, way):
    """D/H > sqrt(8 s (1 - s)); a quarter of a per cent either side, far over the rounding and the 512 sides' 1e-5."""
    ratio = row["least_diameter_to_height[-]"]
    assert ratio == pytest.approx(
        np.sqrt(8.0 * row["relative_density[-]"] * (1.0 - row["relative_density[-]"])), abs=5e-5
    )
    body = homogeneous(upright(rod(512, 1.0, 0.5 * ratio * (1.0 + way * 0.0025))), row["relative_density[-]"])
    assert np.sign(metacentric_height(body, UP, ALONG)) == way
    assert draught(body, UP) == pytest.approx(row["relative_density[-]"] - 0.5, abs=1e-12)
