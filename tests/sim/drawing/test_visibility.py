"""The depth buffer against planes, spheres and counted pixels."""

import numpy as np
import pytest

from sim.drawing.visibility import NOTHING, rastered

SHAPE = (60, 80)


def triangle(*corners):
    """Corners as seen anticlockwise: right, down, towards the viewer."""
    return np.array([corners], dtype=float)


NEAR_SIDE = triangle((10, 50, 0.0), (70, 50, 0.6), (10, 10, 0.2))


def test_pixels_whose_middle_lies_inside_belong_to_the_triangle():
    owner = rastered(NEAR_SIDE, SHAPE).owner
    down, right = np.mgrid[0:60, 0:80] + 0.5
    # between x = 10, y = 50 and the line from (70, 50) to (10, 10)
    inside = (right > 10) & (down < 50) & ((right - 10) / 60 + (50 - down) / 40 < 1.0)
    assert ((owner == 0) == inside).all()


def test_depth_is_that_of_the_plane():
    raster = rastered(NEAR_SIDE, SHAPE)
    down, right = np.mgrid[0:60, 0:80] + 0.5
    plane = 0.0 + 0.6 * (right - 10) / 60 + 0.2 * (50 - down) / 40
    shown = raster.owner != NOTHING
    assert raster.nearness[shown] == pytest.approx(plane[shown], abs=1e-12)
    assert np.isneginf(raster.nearness[~shown]).all()
    assert raster.weights[shown].sum(axis=1) == pytest.approx(1.0, abs=1e-12)


def test_the_far_side_of_closed_things_is_left_out():
    assert (rastered(NEAR_SIDE[:, ::-1], SHAPE).owner == NOTHING).all()


@pytest.mark.parametrize("order", [(0, 1), (1, 0)])
def test_the_nearer_of_two_hides_the_other_whatever_the_order(order):
    behind = NEAR_SIDE - [0.0, 0.0, 2.0]
    both = np.concatenate([NEAR_SIDE, behind])[list(order)]
    owner = rastered(both, SHAPE).owner
    assert set(np.unique(owner)) == {NOTHING, order.index(0)}


def test_two_that_pass_through_each_other_part_at_their_crossing():
    rising = triangle((0, 60, -1.0), (80, 60, 1.0), (0, 0, -1.0))
    falling = triangle((0, 60, 1.0), (80, 60, -1.0), (0, 0, 1.0))
    owner = rastered(np.concatenate([rising, falling]), SHAPE).owner
    shown = np.flatnonzero(owner[50] != NOTHING)
    assert (owner[50, shown] == np.where(shown + 0.5 < 40, 1, 0)).all()


def test_a_sphere_covers_a_disc_and_rises_to_its_radius(ball):
    mesh = ball(25.0, [40.0, 30.0, 0.0])
    corners = (mesh.vertices * [1.0, -1.0, 1.0] + [0.0, 60.0, 0.0])[mesh.faces]
    raster = rastered(corners, SHAPE)
    shown = raster.owner != NOTHING
    # facets of 6 degrees cut 0.3 % of the disc; counting pixels errs by less than a tenth of the rim's
    assert shown.sum() == pytest.approx(np.pi * 25.0**2, rel=0.008)
    down, right = np.mgrid[0:60, 0:80] + 0.5
    inner = shown & (np.hypot(right - 40, down - 30) < 22)
    height = np.sqrt(np.clip(25.0**2 - (right - 40) ** 2 - (down - 30) ** 2, 0.0, None))
    # a facet's middle lies 25 (1 - cos 3 degrees) = 0.034 below the sphere, and more where it is seen aslant
    assert np.abs(raster.nearness - height)[inner].max() < 0.1


def test_triangles_off_the_page_are_no_trouble():
    assert (rastered(NEAR_SIDE + [500.0, 0.0, 0.0], SHAPE).owner == NOTHING).all()
    cut = rastered(NEAR_SIDE - [30.0, 0.0, 0.0], SHAPE).owner
    assert (cut[:, :50] == rastered(NEAR_SIDE, SHAPE).owner[:, 30:]).all()
