"""What of a head's back rules out boxes of points: never less than any of their points could meet."""

import numpy as np
import pytest

from sim.answers.fit.gear_cloud import head_of
from sim.answers.fit.head_lift import STEP, head_back
from sim.person.person import person_of

EDGES = (0.048, 0.012, 0.003)  # m, of the boxes by which points are sorted


@pytest.mark.parametrize(("level", "edge"), list(enumerate(EDGES)))
def test_a_place_knows_the_hindmost_of_all_that_a_box_there_may_hold(level, edge):
    """Half a box's diagonal away in either direction, and one place for rounding, at the edges too."""
    back = head_back(person_of("female", 1.66, 60.0), 0.005)
    known, angle = head_of(back).hindmost[level], np.where(np.isfinite(back.angle), back.angle, -np.inf)
    rows, columns = angle.shape
    aside, far = (int(np.ceil(0.5 * np.sqrt(3.0) * edge / step)) + 1 for step in (back.y[1], STEP))
    assert known.shape == (rows + aside, columns + far)
    for i in (-aside, 0, aside):
        for j in (-far, 0, far):
            there = angle[max(-i, 0) :, max(-j, 0) :]
            here = known[max(i, 0) :, max(j, 0) :][: there.shape[0], : there.shape[1]]
            assert (here >= there[: here.shape[0], : here.shape[1]]).all()
