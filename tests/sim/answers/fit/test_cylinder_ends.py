"""What of the cylinders is in an arm's way: round rods with round ends, by the cylinders' own dimensions."""

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.answers.fit.reach import cylinder_ends
from sim.case import Case


@pytest.mark.parametrize(("demo", "count"), [("small-woman-steel", 2), ("single-wetsuit", 1)])
def test_middle_lines_end_a_radius_above_the_base_and_halfway_up_the_narrowing(demo, count):
    """From the base's rounding to half a radius below the shoulder, along each cylinder's axis."""
    cylinders = Case.read(demo_path(demo)).worn.cylinders
    ends, radius = cylinder_ends(cylinders)
    made = cylinders.made
    assert ends.shape == (count, 2, 3)
    assert radius == pytest.approx(0.5 * made.outer_diameter, rel=1e-12)
    for (low, high), where in zip(ends, cylinders.each, strict=True):
        base = (where.origin - low) @ where.rotation
        assert base == pytest.approx([-radius, 0.0, 0.0], abs=1e-12)
        along = (high - low) @ where.rotation
        assert along == pytest.approx([made.shoulder_x - 1.5 * radius, 0.0, 0.0], abs=1e-12)


def test_without_cylinders_nothing_is_in_the_way():
    ends, radius = cylinder_ends(None)
    assert np.shape(ends) == (0, 2, 3)
    assert radius == 0.0
