"""Where body points land on the sheet, against scipy's rotations and plain geometry."""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from sim.drawing.views import flatly, head_view, projected, side_view, three_quarter_view, world_from_body

ATTITUDES = [(0.0, 0.0), (0.3, 0.0), (-0.7, 0.4), (1.2, -2.5), (-1.5, 3.0), (0.1, np.pi)]
ROUNDING = 1e-12  # a few operations on numbers of order one
CENTRE = np.array([0.1, -0.02, 0.05])


def turned(pitch, roll):
    """World from body (3, 3): roll about the body's x, then pitch head-up, heading 0; by scipy."""
    return (Rotation.from_rotvec([0.0, -pitch, 0.0]) * Rotation.from_rotvec([roll, 0.0, 0.0])).as_matrix()


def up_of(pitch, roll):
    return turned(pitch, roll).T @ [0.0, 0.0, 1.0]


@pytest.mark.parametrize(("pitch", "roll"), ATTITUDES)
def test_rotation_is_that_of_pitch_and_roll_at_heading_zero(pitch, roll):
    assert world_from_body(3.0 * up_of(pitch, roll)) == pytest.approx(turned(pitch, roll), abs=ROUNDING)


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_on_the_verticals_the_rotation_is_the_limit_of_pitching_there(sign):
    limit = turned(sign * np.pi / 2, 0.0)
    assert world_from_body([sign, 0.0, 0.0]) == pytest.approx(limit, abs=ROUNDING)


@pytest.mark.parametrize("up", [(0.0, 0.0, 0.0), (np.nan, 0.0, 1.0), (0.0, 1.0)])
def test_no_direction_is_refused(up):
    with pytest.raises(ValueError, match="direction"):
        world_from_body(up)


@pytest.mark.parametrize(("pitch", "roll"), ATTITUDES)
def test_side_view_shows_the_pitch_true_and_up_upwards(pitch, roll):
    up = up_of(pitch, roll)
    view = side_view(up, CENTRE)
    head, overhead = projected(view, CENTRE + np.array([[1.0, 0.0, 0.0], up]))
    assert head[:2] == pytest.approx([np.cos(pitch), np.sin(pitch)], abs=ROUNDING)
    assert overhead == pytest.approx([0.0, 1.0, 0.0], abs=ROUNDING)


def test_side_view_is_from_the_right_when_face_down_and_slides_near_things_down():
    near = projected(side_view([0.0, 0.0, 1.0], CENTRE), CENTRE + [0.0, -1.0, 0.0])[0]
    assert near[2] == pytest.approx(1.0)
    assert near[1] < 0.0


@pytest.mark.parametrize(("pitch", "roll"), [a for a in ATTITUDES if abs(a[0]) < 1.4])
def test_head_view_shows_the_roll_true(pitch, roll):
    left = projected(head_view(up_of(pitch, roll), CENTRE), CENTRE + [0.0, 1.0, 0.0])[0]
    assert left == pytest.approx([np.cos(roll), np.sin(roll), 0.0], abs=ROUNDING)


def test_head_view_of_an_upright_diver_puts_the_back_up():
    back = projected(head_view([1.0, 0.0, 0.0], CENTRE), CENTRE + [0.0, 0.0, 1.0])[0]
    assert back == pytest.approx([0.0, 1.0, 0.0], abs=ROUNDING)


@pytest.mark.parametrize(("pitch", "roll"), ATTITUDES)
def test_a_mirrored_diver_is_mirrored_in_both_views(pitch, roll):
    points = np.random.default_rng(3).normal(size=(20, 3))
    flip = np.array([1.0, -1.0, 1.0])
    side = side_view(up_of(pitch, roll), CENTRE)
    other = side_view(up_of(pitch, roll) * flip, CENTRE * flip)
    here, there = projected(side, points), projected(other, points * flip)
    slide = np.asarray(side.slide)
    assert there[:, 2] == pytest.approx(-here[:, 2], abs=ROUNDING)
    assert there[:, :2] - there[:, 2:] * slide == pytest.approx(here[:, :2] - here[:, 2:] * slide, abs=ROUNDING)
    ahead = projected(head_view(up_of(pitch, roll), CENTRE), points)
    ahead_too = projected(head_view(up_of(pitch, roll) * flip, CENTRE * flip), points * flip)
    assert ahead_too == pytest.approx(ahead * [-1.0, 1.0, 1.0], abs=ROUNDING)


@pytest.mark.parametrize("make", [side_view, three_quarter_view])
def test_right_and_up_alone_are_those_of_the_whole(make):
    view, points = make(up_of(0.4, -0.3), CENTRE), np.random.default_rng(7).normal(size=(50, 3))
    assert flatly(view, points) == pytest.approx(projected(view, points)[:, :2], abs=ROUNDING)
