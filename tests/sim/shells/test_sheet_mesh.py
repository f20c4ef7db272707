import numpy as np
import pytest

from meshes.outline import Outline
from sim.shells import planar_mesh
from sim.shells.edge_curve import curvature_radius, smooth_edge
from sim.shells.planar_mesh import THIN
from sim.shells.sheet_mesh import Fineness, sheet_mesh

OUTER = np.array([[-0.2, -0.14], [0.2, -0.14], [0.2, 0.14], [-0.2, 0.14]])
FINE = Fineness(0.02, 0.5, 0.5)


def ring(radius, chords, at=(0.0, 0.0)):
    turn = 2.0 * np.pi * np.arange(chords) / chords
    return np.array(at) + radius * np.stack([np.cos(turn), np.sin(turn)], axis=1)


def areas_of(mesh):
    a, b, c = (mesh.points[mesh.triangles[:, k]] for k in range(3))
    return ((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]) / 2


def least_angle(mesh):
    corners = mesh.points[mesh.triangles]
    sides = [corners[:, (k + 1) % 3] - corners[:, k] for k in range(3)]
    long = [np.linalg.norm(s, axis=1) for s in sides]
    cosines = [-(sides[k] * sides[k - 1]).sum(axis=1) / (long[k] * long[k - 1]) for k in range(3)]
    return np.degrees(np.arccos(np.max(cosines)))


def test_triangles_fill_the_sheet_turn_one_way_and_are_not_thin():
    holes = (ring(0.005, 24, (0.14, 0.0)), ring(0.005, 24, (-0.14, 0.0)), ring(0.02, 48, (0.0, 0.08)))
    mesh = sheet_mesh(Outline(OUTER, holes), (-0.04, 0.04), FINE)
    areas = areas_of(mesh)
    assert (areas > 0.0).all()
    # holes are round again: what chords of the mesh, half a radius long, leave of a circle is a few per cent of it
    round_holes = np.pi * (2 * 0.005**2 + 0.02**2)
    assert areas.sum() == pytest.approx(0.4 * 0.28 - round_holes, abs=0.06 * round_holes)
    # circumradius over shortest edge is 1 / (2 sin) of the least angle; smoothing takes a little of it
    assert least_angle(mesh) > 0.8 * np.degrees(np.arcsin(0.5 / THIN))


def test_no_triangle_lies_across_a_fold_or_off_the_sheet():
    hole = ring(0.02, 48, (0.0, 0.05))
    mesh = sheet_mesh(Outline(OUTER, (hole,)), (-0.05, 0.05), FINE)
    y = mesh.points[mesh.triangles][:, :, 1]
    for fold in (-0.05, 0.05):
        assert ((y <= fold + 1e-9).all(axis=1) | (y >= fold - 1e-9).all(axis=1)).all()
    middles = mesh.points[mesh.triangles].mean(axis=1)
    assert np.linalg.norm(middles - [0.0, 0.05], axis=1).min() > 0.97 * 0.02


def test_edges_are_as_long_as_was_asked_for():
    spot = np.array([[0.1, 0.1]])
    mesh = sheet_mesh(Outline(OUTER), (), Fineness(0.03, spots=spot, at_spots=np.array([0.002])))
    size = np.sqrt(2.0 * areas_of(mesh))
    away = np.linalg.norm(mesh.points[mesh.triangles].mean(axis=1) - spot, axis=1)
    assert size[away < 0.003].max() < 0.004
    assert size.max() < 0.05
    assert np.median(size[away > 0.1]) > 0.012


@pytest.mark.parametrize("gap", [0.001, 1e-4])
def test_a_sharp_notch_takes_nothing_from_the_rest(gap):
    """Two edges that meet at a degree or less would halve one another for ever."""
    outer = np.array([[-0.2, -0.14], [0.2, -0.14], [0.2, -gap], [0.0, 0.0], [0.2, gap], [0.2, 0.14], [-0.2, 0.14]])
    mesh = sheet_mesh(Outline(outer), (), Fineness(0.02))
    assert areas_of(mesh).sum() == pytest.approx(0.4 * 0.28 - 0.2 * gap, rel=1e-3)
    assert np.sqrt(2.0 * areas_of(mesh)).max() < 0.035


def test_a_drawing_too_fine_is_refused(monkeypatch):
    monkeypatch.setattr(planar_mesh, "MOST", 100)
    with pytest.raises(ValueError, match="leave out what carries nothing"):
        sheet_mesh(Outline(OUTER), (), Fineness(0.02))


def test_an_arc_comes_back_from_its_chords_at_fourth_order():
    off = []
    for chords in (16, 32):
        fine, corner = smooth_edge(ring(1.0, chords))
        assert not corner.any()
        off.append(np.abs(np.linalg.norm(fine, axis=1) - 1.0).max())
    assert np.log2(off[0] / off[1]) == pytest.approx(4.0, abs=0.2)


def test_corners_stay_and_straight_lines_stay_straight():
    fine, corner = smooth_edge(OUTER)
    assert corner.sum() == 4
    assert np.abs(np.abs(fine) - [0.2, 0.14]).min(axis=1).max() < 1e-12


def test_radius_of_curvature():
    assert curvature_radius(ring(0.3, 40)) == pytest.approx(0.3, rel=1e-9)
    inner = np.array([[0.0, 0.0], [1.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0]])
    assert curvature_radius(inner)[1] > 1e9
