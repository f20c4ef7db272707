"""Steps of a scale are round and cover what is drawn."""

import pytest

from sim.drawing.ticks import tick_step


@pytest.mark.parametrize(
    ("greatest", "step"), [(0.0, 0.02), (5.0, 1.0), (5.01, 2.0), (49.0, 10.0), (41.0, 10.0), (0.2, 0.04)]
)
def test_five_round_steps_cover_the_greatest(greatest, step):
    assert tick_step(greatest) == pytest.approx(step)
