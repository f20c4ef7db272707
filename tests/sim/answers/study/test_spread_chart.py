"""The words over a histogram."""

from __future__ import annotations

import numpy as np
import pytest

from sim.answers.study.spread_chart import percentile_words


@pytest.mark.parametrize(
    ("places", "told"),
    [
        ((0.0, 5.0, 10.0), [(0.0, "5"), (5.0, "50"), (10.0, "95")]),
        ((0.0, 0.5, 10.0), [(0.25, "5, 50"), (10.0, "95")]),
        ((0.0, 0.5, 1.0), [(0.5, "5, 50, 95")]),
    ],
)
def test_percentiles_that_lie_close_are_named_together(places, told) -> None:
    assert percentile_words(np.array(places), (5, 50, 95), 1.0) == told
