"""The silhouette of a mesh: closed forms, overlaps counted once, an independent library."""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from meshes.gear.fins import fin
from meshes.mesh import Mesh, joined, moved
from meshes.primitives import box, ellipsoid
from sim.settling.silhouette import silhouette

TURN = Rotation.from_euler("zyx", [0.4, -0.7, 1.1]).as_matrix()
FLAT = np.eye(3)[:2]


def test_a_tilted_brick_shows_its_faces_foreshortened():
    size = np.array([0.5, 0.3, 0.2])
    seen = silhouette(moved(box(size), TURN, [1.0, 2.0, 3.0]), FLAT, lines=2000)
    # of each pair of faces one is seen
    assert seen.area == pytest.approx(np.abs(TURN[2]) @ (size.prod() / size), rel=1e-6)
    assert seen.centre == pytest.approx([1.0, 2.0], abs=1e-6)


def test_a_tilted_ellipsoid_shows_an_ellipse():
    semi = np.array([0.5, 0.3, 0.1])
    spread = TURN @ np.diag(semi**2) @ TURN.T  # of the ellipsoid's surface: its shadow's is the upper left block
    expected = np.pi * np.sqrt(np.linalg.det(spread[:2, :2]))
    found = []
    for n in (24, 48):
        seen = silhouette(moved(ellipsoid(semi, rings=n, points=2 * n), TURN), FLAT, lines=1000)
        found.append(seen.area)
        assert seen.spread == pytest.approx(spread[:2, :2] / 4.0, rel=2e-2, abs=1e-4)
    # facets fall short as the square of their size
    assert (expected - found[0]) / (expected - found[1]) == pytest.approx(4.0, rel=0.1)
    assert found[1] == pytest.approx(expected, rel=2e-3)


def test_second_moments_of_a_rectangle():
    seen = silhouette(box([0.6, 0.2, 0.01], [0.1, -0.3, 0.0]), FLAT)
    assert seen.area == pytest.approx(0.12, rel=1e-12)
    assert seen.centre == pytest.approx([0.1, -0.3], rel=1e-12)
    assert seen.spread == pytest.approx(np.diag([0.6**2, 0.2**2]) / 12.0, rel=1e-9, abs=1e-15)


@pytest.mark.parametrize(
    ("boxes", "area"),
    [
        ([([1.0, 1.0, 1.0], [0.0] * 3), ([0.5, 0.5, 0.5], [0.0] * 3)], 1.0),  # one inside the other
        ([([1.0, 1.0, 0.1], [0.0] * 3), ([1.0, 1.0, 0.1], [0.0, 0.0, 2.0])], 1.0),  # one behind the other
        ([([1.0, 0.2, 0.1], [0.0] * 3), ([0.2, 1.0, 0.1], [0.0] * 3)], 0.36),  # across
        ([([1.0, 0.2, 0.1], [0.0, 0.2, 0.0]), ([1.0, 0.2, 0.1], [0.0, -0.2, 0.0])], 0.4),  # apart
    ],
)
def test_every_layer_counts_once(boxes, area):
    assert silhouette(joined([box(*b) for b in boxes]), FLAT, lines=100).area == pytest.approx(area, rel=1e-9)


def test_an_open_sheet_and_one_inside_out_are_seen_all_the_same():
    square = np.array([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [1.0, 1.0, 0.0], [0.0, 1.0, 0.0]])
    faces = np.array([[0, 1, 2], [0, 3, 2]])
    assert silhouette(Mesh(square, faces), FLAT).area == pytest.approx(1.0, rel=1e-12)


def test_against_shapely():
    import shapely

    mesh = fin(stations=12, points=32).mesh
    plane = TURN[:2]
    flat = (mesh.vertices @ plane.T)[mesh.faces]
    triangles = shapely.polygons(flat[np.abs(np.linalg.det(flat[:, 1:] - flat[:, :1])) > 1e-12])
    whole = shapely.union_all(shapely.set_precision(triangles, 1e-7))
    seen = silhouette(mesh, plane, lines=2000)
    # lines 0.4 mm apart round a strap of 1 cm
    assert seen.area == pytest.approx(whole.area, rel=1e-4)
    assert seen.centre == pytest.approx(np.array(whole.centroid.coords[0]), abs=1e-4)


def test_the_lines_in_use_are_enough_for_a_fin():
    mesh = fin().mesh
    fine, used = silhouette(mesh, FLAT, lines=3000), silhouette(mesh, FLAT)
    assert used.area == pytest.approx(fine.area, rel=2e-3)
    assert np.diag(used.spread) == pytest.approx(np.diag(fine.spread), rel=4e-3)


def test_what_has_no_width_is_refused():
    with pytest.raises(ValueError, match="width"):
        silhouette(Mesh(np.zeros((3, 3)), np.array([[0, 1, 2]])), FLAT)
