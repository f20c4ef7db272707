"""Places of labels: the quick way finds what the long way finds."""

import numpy as np
import pytest

from sim.drawing import label_places


@pytest.mark.parametrize("largest", [0.0, 0.5, 50.0])
def test_the_cheapest_are_those_of_all_however_few_are_looked_into(largest):
    rng = np.random.default_rng(2)
    least, more = rng.choice([0.0, 0.2, 1.0, 1000.0], 1800) + rng.integers(0, 9, 1800), largest * rng.random(1800)
    kept, costs = label_places._cheapest(least, lambda k: least[k] + more[k])
    expected = np.argsort(least + more, kind="stable")[: len(kept)]
    np.testing.assert_array_equal(kept, expected)
    np.testing.assert_array_equal(costs, (least + more)[expected])
