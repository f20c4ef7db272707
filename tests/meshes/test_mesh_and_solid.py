"""Volume integrals and solids against closed forms and against trimesh."""

import numpy as np
import pytest
import trimesh
from scipy.spatial.transform import Rotation

from meshes.loft import circle, lathe, loft
from meshes.mesh import joined, mesh_of, mirrored, moved
from meshes.solid import combined, point_mass, scaled_to_mass, solid_of, volume_integrals
from meshes.solid import mirrored as mirrored_solid
from meshes.solid import moved as moved_solid

BOX_SIDES = np.array([0.3, 0.2, 0.5])


def _box():
    ring = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) / 2.0
    rings = [[[x, y * BOX_SIDES[1], z * BOX_SIDES[2]] for y, z in ring] for x in (0.0, BOX_SIDES[0])]
    return loft(rings)


def _egg(n):
    """An ellipsoid of semi-axes 0.5, 0.3, 0.3 shifted along x, as a lathe of n points round."""
    t = np.linspace(0.0, np.pi, n // 2 + 1)
    radius = 0.3 * np.sin(t)
    radius[[0, -1]] = 0.0
    return lathe(np.stack([0.2 - 0.5 * np.cos(t), radius], axis=1), n)


def test_box_is_exact():
    got = volume_integrals(_box())
    a, b, c = BOX_SIDES
    assert got.volume == pytest.approx(a * b * c, rel=1e-14)
    np.testing.assert_allclose(got.centroid, [a / 2, 0.0, 0.0], atol=1e-15)
    np.testing.assert_allclose(
        got.second, np.diag([b * b + c * c, a * a + c * c, a * a + b * b]) * a * b * c / 12.0, atol=1e-16
    )


def test_integrals_agree_with_trimesh():
    mesh = moved(_egg(24), Rotation.from_rotvec([0.3, -0.8, 0.5]).as_matrix(), [1.0, -2.0, 0.5])
    theirs = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    ours = volume_integrals(mesh)
    assert theirs.is_volume
    assert ours.volume == pytest.approx(theirs.volume, rel=1e-12)
    np.testing.assert_allclose(ours.centroid, theirs.center_mass, rtol=1e-11)
    np.testing.assert_allclose(ours.second, theirs.moment_inertia, atol=1e-13)


def test_lofted_ellipsoid_converges_at_second_order():
    exact = 4.0 / 3.0 * np.pi * 0.5 * 0.3 * 0.3
    error = [abs(volume_integrals(_egg(n)).volume - exact) for n in (16, 32, 64, 128)]
    order = np.log2(np.array(error[:-1]) / error[1:])
    assert order[-1] == pytest.approx(2.0, abs=0.05)


@pytest.mark.parametrize("points", [3, 8, 33])
def test_lofts_are_closed_and_face_outward(points):
    mesh = _egg(points + 5)
    assert trimesh.Trimesh(mesh.vertices, mesh.faces, process=False).is_volume
    tube = loft(np.stack([np.c_[np.full(points, x), 0.1 * circle(points)] for x in (0.0, 0.4, 1.0)]))
    assert trimesh.Trimesh(tube.vertices, tube.faces, process=False).is_volume
    area = 0.5 * points * 0.01 * np.sin(2.0 * np.pi / points)
    assert volume_integrals(tube).volume == pytest.approx(area, rel=1e-12)


def test_mirroring_keeps_the_outside_outside():
    mesh = moved(_egg(16), None, [0.0, 0.4, 0.0])
    flipped = mirrored(mesh)
    assert volume_integrals(flipped).volume == pytest.approx(volume_integrals(mesh).volume, rel=1e-14)
    assert volume_integrals(flipped).centroid[1] == pytest.approx(-0.4, abs=1e-14)
    assert volume_integrals(joined([mesh, flipped])).centroid[1] == pytest.approx(0.0, abs=1e-14)


def test_solid_moves_like_its_mesh():
    turn, shift = Rotation.from_rotvec([0.7, 0.1, -1.2]).as_matrix(), np.array([0.3, -0.1, 2.0])
    whole = solid_of(_box(), 2700.0)
    one, two = moved_solid(whole, turn, shift), solid_of(moved(_box(), turn, shift), 2700.0)
    np.testing.assert_allclose(one.cm, two.cm, atol=1e-14)
    np.testing.assert_allclose(one.inertia, two.inertia, atol=1e-12)
    other = mirrored_solid(one)
    np.testing.assert_allclose(other.inertia, solid_of(mirrored(one.mesh), 2700.0).inertia, atol=1e-12)


def test_two_halves_make_the_whole():
    half = solid_of(_box(), 1000.0)
    across = moved_solid(half, None, [BOX_SIDES[0], 0.0, 0.0])
    both = combined([half, across])
    a, b, c = BOX_SIDES * [2.0, 1.0, 1.0]
    np.testing.assert_allclose(both.cm, [a / 2, 0.0, 0.0], atol=1e-15)
    np.testing.assert_allclose(
        both.inertia,
        both.mass / 12.0 * np.diag([b * b + c * c, a * a + c * c, a * a + b * b]),
        rtol=1e-12,
        atol=1e-15,
    )


def test_weighed_mass_scales_inertia_but_not_displacement():
    solid = solid_of(_box(), 1000.0)
    heavy = scaled_to_mass(solid, 45.0)
    assert heavy.volume == solid.volume
    np.testing.assert_allclose(heavy.inertia, solid.inertia * 1.5, rtol=1e-14)
    with pytest.raises(ValueError, match="> 0"):
        scaled_to_mass(point_mass(0.0, [0, 0, 0]), 1.0)


@pytest.mark.parametrize(
    ("vertices", "faces"),
    [
        ([[0, 0, 0], [1, 0, 0]], [[0, 1, 2]]),
        ([[0, 0, 0], [1, 0, 0], [0, np.nan, 0]], [[0, 1, 2]]),
        ([[0, 0], [1, 0], [0, 1]], [[0, 1, 2]]),
    ],
)
def test_broken_meshes_are_refused(vertices, faces):
    with pytest.raises(ValueError, match=r"mesh|face"):
        mesh_of(vertices, faces)


def test_flat_and_inside_out_meshes_are_refused():
    sheet = mesh_of([[0, 0, 0], [1, 0, 0], [0, 1, 0]], [[0, 1, 2]])
    with pytest.raises(ValueError, match="no volume"):
        volume_integrals(sheet)
    box = _box()
    with pytest.raises(ValueError, match="inside out"):
        solid_of(mesh_of(box.vertices, box.faces[:, ::-1]), 1000.0)
