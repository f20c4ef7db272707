"""Which heights and places of the bands the search for a set-up looks at."""

import numpy as np
import pytest

from sim.answers.fit.set_up import _row


@pytest.mark.parametrize(
    ("start", "ends", "step", "by_hand"),
    [
        (0.013, (-0.02, 0.05), 0.02, [-0.007, 0.013, 0.033]),
        (0.0, (-0.025, 0.05), 0.025, [-0.025, 0.0, 0.025, 0.05]),
        (0.08, (-0.02, 0.05), 0.02, [-0.02, 0.0, 0.02, 0.04]),
        (0.0, (0.011, 0.019), 0.01, []),
    ],
)
def test_whole_steps_from_where_it_is_as_far_as_there_is_room(start, ends, step, by_hand):
    assert _row(start, ends, step) == pytest.approx(by_hand, abs=1e-12)
    assert np.all(np.diff(by_hand) > 0.0)
