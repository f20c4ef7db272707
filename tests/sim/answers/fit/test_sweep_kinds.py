"""A sweep as asked for: what it goes through where nothing is said, and what is read of ranges and steps."""

import numpy as np
import pytest

from sim.answers.fit.sweep_kinds import asked


@pytest.mark.parametrize(
    ("name", "key", "first", "last", "step"),
    [
        ("drop", "harness.drop", -4.0, 14.0, 1.0),
        ("plate length", "plate.length", 34.0, 46.0, 1.0),
        ("plate width", "plate.width", 24.0, 32.0, 1.0),
        ("channel depth", "plate.channel_depth", 3.5, 7.5, 0.5),
        ("cylinder shift", "cylinders.shift", -2.5, 5.0, 0.75),
    ],
)
def test_what_a_sweep_goes_through_where_nothing_is_said(name, key, first, last, step):
    """In centimetres, both ends among them."""
    found = asked(name)
    assert found.kind.key == key
    assert 100.0 * found.values == pytest.approx(np.arange(first, last + 0.5 * step, step), abs=1e-6)


def test_ends_and_steps_as_told():
    found = asked("Drop; from=-2 cm; to=10 cm; steps=13")
    assert found.values == pytest.approx(np.arange(-0.02, 0.105, 0.01), abs=1e-9)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("dorp", 'Did you mean "drop"'),
        ("drop; from=10 cm; to=2 cm", "from must lie below to, got 10 cm to 2 cm"),
        ("drop; steps=1", "steps is a whole number from"),
        ("drop; by=2", "is not understood"),
        ("drop; from=2 kg", "--sweep"),
    ],
)
def test_what_is_no_sweep_is_refused_with_what_is(text, words):
    with pytest.raises(ValueError, match=words):
        asked(text)
