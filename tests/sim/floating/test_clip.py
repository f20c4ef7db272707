import numpy as np
import pytest
import trimesh

from meshes.mesh import mesh_of, mirrored, moved
from meshes.primitives import box, ellipsoid
from meshes.solid import volume_integrals
from sim.floating.clip import immersion

# Sums of some thousand terms, each with a rounding error of 1e-16 of its size
ROUNDING = 1e-11


def directions(count, seed=3):
    u = np.random.default_rng(seed).normal(size=(count, 3))
    return u / np.linalg.norm(u, axis=1)[:, None]


def lumpy():
    """A closed mesh with hollows: a ball whose radius waves, well off the origin."""
    ball = ellipsoid([1.0, 0.7, 0.5], rings=20, points=32)
    wave = 1.0 + 0.35 * np.sin(5.0 * ball.vertices[:, :1]) * np.cos(4.0 * ball.vertices[:, 1:2])
    return mesh_of(ball.vertices * wave + [0.4, -1.1, 2.0], ball.faces)


@pytest.mark.parametrize("up", directions(6), ids=str)
@pytest.mark.parametrize("offset", [-0.31, 0.02, 0.24])
def test_volume_and_centroid_are_those_of_a_capped_slice(up, offset):
    mesh = lumpy()
    level = float(up @ [0.4, -1.1, 2.0]) + offset
    ours = immersion(mesh, up, level)
    whole = trimesh.Trimesh(mesh.vertices, mesh.faces)
    assert whole.is_watertight
    theirs = trimesh.intersections.slice_mesh_plane(whole, -up, level * up, cap=True)
    # their cut merges vertices within 1e-8 m
    assert ours.volume == pytest.approx(theirs.volume, rel=1e-7)
    assert ours.centroid == pytest.approx(theirs.center_mass, abs=1e-7)


@pytest.mark.parametrize("up", directions(4, seed=5), ids=str)
def test_waterplane_is_that_of_the_section_outline(up):
    mesh, level = lumpy(), float(up @ [0.4, -1.1, 2.0]) + 0.05
    ours = immersion(mesh, up, level)
    section = trimesh.Trimesh(mesh.vertices, mesh.faces).section(plane_origin=level * up, plane_normal=up)
    flat, to_3d = section.to_2D()
    area = sum(p.area for p in flat.polygons_full)
    centre = sum(p.area * np.array(p.centroid.coords[0]) for p in flat.polygons_full) / area
    assert ours.area == pytest.approx(area, rel=1e-7)
    there = to_3d[:3, :3] @ np.array([*centre, 0.0]) + to_3d[:3, 3]
    assert ours.area_first / ours.area == pytest.approx(there, abs=1e-7)


@pytest.mark.parametrize("up", directions(5, seed=9), ids=str)
def test_under_and_over_water_make_the_whole(up):
    mesh, level = lumpy(), float(up @ [0.4, -1.1, 2.0]) - 0.1
    under, over = immersion(mesh, up, level), immersion(mesh, -up, -level)
    whole = volume_integrals(mesh)
    assert under.volume + over.volume == pytest.approx(whole.volume, rel=ROUNDING)
    assert under.first + over.first == pytest.approx(whole.volume * whole.centroid, rel=ROUNDING)
    assert under.area == pytest.approx(over.area, rel=ROUNDING)
    assert under.area_first == pytest.approx(over.area_first, rel=ROUNDING)
    assert under.area_second == pytest.approx(over.area_second, rel=1e-9, abs=1e-12)


def test_nothing_and_everything():
    mesh, up = lumpy(), np.array([0.0, 0.0, 1.0])
    assert immersion(mesh, up, 0.0).volume == 0.0
    assert np.isnan(immersion(mesh, up, 0.0).centroid).all()
    all_of_it = immersion(mesh, up, 9.0)
    assert all_of_it.volume == pytest.approx(volume_integrals(mesh).volume, rel=ROUNDING)
    assert all_of_it.area == 0.0


@pytest.mark.parametrize("level", [-0.5, 0.0, 0.5])
def test_corners_and_faces_in_the_water_surface_count_once(level):
    """A unit cube whose corners, or those of the square it is cut in, lie exactly in the plane."""
    cube = box([1.0, 1.0, 1.0])
    split = mesh_of(*_split_at_the_middle(cube))
    found = immersion(split, np.array([0.0, 0.0, 1.0]), level)
    assert found.volume == pytest.approx(level + 0.5, abs=1e-15)
    if level == 0.0:
        assert found.area == pytest.approx(1.0, abs=1e-15)
        assert found.area_second == pytest.approx(np.diag([1.0, 1.0, 0.0]) / 12.0, abs=1e-15)


def _split_at_the_middle(cube):
    """Each of the cube's triangles in four, so that vertices lie half way up."""
    corners = cube.vertices[cube.faces]
    middles = 0.5 * (corners + np.roll(corners, -1, axis=1))
    a, b, c = corners.transpose(1, 0, 2)
    ab, bc, ca = middles.transpose(1, 0, 2)
    split = np.array([[a, ab, ca], [ab, b, bc], [ca, bc, c], [ab, bc, ca]]).transpose(2, 0, 1, 3).reshape(-1, 3)
    return split, np.arange(len(split)).reshape(-1, 3)


def test_turned_shifted_and_mirrored_alike():
    mesh, up, level = lumpy(), directions(1, seed=11)[0], 0.3
    turn = np.linalg.qr(np.random.default_rng(2).normal(size=(3, 3)))[0]
    turn *= np.sign(np.linalg.det(turn))
    shift = np.array([0.3, -0.8, 1.7])
    plain = immersion(mesh, up, level)
    other = immersion(moved(mesh, turn, shift), turn @ up, level + float(turn @ up @ shift))
    assert other.volume == pytest.approx(plain.volume, rel=ROUNDING)
    assert other.centroid == pytest.approx(turn @ plain.centroid + shift, rel=ROUNDING)
    flip = np.array([1.0, -1.0, 1.0])
    image = immersion(mirrored(mesh), up * flip, level)
    assert image.centroid == pytest.approx(plain.centroid * flip, rel=ROUNDING)
    assert image.area_first == pytest.approx(plain.area_first * flip, rel=1e-9)
