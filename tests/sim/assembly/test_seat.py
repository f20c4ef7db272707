"""The plate on the back: it rests on two places, one above and one below its middle, and cuts into nothing."""

import numpy as np
import pytest

from sim.assembly.seat import seated


def gap(worn, seat):
    """How far behind the back the plate's front is over its length, where its flats lie, and x there [m]."""
    plate = worn.plate
    x = seat.origin[0] + np.linspace(plate.bottom[0], plate.top[0], 41)
    back = worn.body.back_surface(x[:, None], np.array([[0.05, 0.09]])).max(axis=1)
    along, away = seat.rotation[:, 0], seat.rotation[:, 2]
    front = seat.origin[2] + (x - seat.origin[0]) * along[2] / along[0]
    return front - back, x, away


@pytest.mark.parametrize("drop", [-0.03, 0.0, 0.06])
@pytest.mark.parametrize("diver", ["woman", "single"])
def test_it_rests_on_one_place_either_side_of_its_middle(request, diver, drop):
    worn = request.getfixturevalue(diver)().worn
    bare, x, _ = gap(worn, seated(worn.plate, worn.body, 0.0, drop))
    assert bare.min() == pytest.approx(0.0, abs=1e-9)
    touching = np.flatnonzero(bare < 1e-9)
    middle = 0.5 * (x[0] + x[-1])
    assert x[touching].min() <= middle + 0.01
    assert x[touching].max() >= middle - 0.01
    assert len(touching) >= 2


def test_padding_holds_it_off_along_its_normal(woman):
    worn = woman().worn
    bare, padded = (seated(worn.plate, worn.body, off, 0.0) for off in (0.0, 0.02))
    assert (padded.origin - bare.origin) @ bare.rotation[:, 2] == pytest.approx(0.02, rel=1e-9)
    assert (padded.origin - bare.origin)[0] == 0.0


def test_its_axes_are_a_turn_about_the_divers_breadth(woman):
    """Head end up where the back slopes so, and no skew."""
    turn = woman().worn.seat.rotation
    assert turn @ turn.T == pytest.approx(np.eye(3), abs=1e-12)
    assert np.linalg.det(turn) == pytest.approx(1.0)
    assert turn[:, 1] == pytest.approx([0.0, 1.0, 0.0])
