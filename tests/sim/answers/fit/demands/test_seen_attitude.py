"""What looking ahead costs, in words; it fails nothing."""

from dataclasses import replace

import numpy as np
import pytest

from sim.answers.fit.demands.seen_attitude import SEEN_ATTITUDE


@pytest.mark.parametrize(
    ("head_up", "flat", "held", "rest", "words"),
    [
        (
            0.0,
            1.5,
            1.5,
            0.0,
            "costs no head-up: flat, nearly nothing turns them; letting go, kept from rolling, they ",
        ),
        (12.0, -8.0, -3.0, -20.0, "held 12 degrees head-up, where 3 N m turn them head-down"),
        (12.0, 8.0, 3.0, None, "they tip over onto the back"),
    ],
)
def test_words(found, head_up, flat, held, rest, words):
    there = replace(found("small-woman-steel"))
    there.__dict__["look_ahead"] = replace(
        found("small-woman-steel").look_ahead, head_up=np.radians(head_up), flat_moment=flat, hold_moment=held,
        rest_pitch=None if rest is None else np.radians(rest),
    )  # fmt: skip
    (verdict,) = SEEN_ATTITUDE.verdicts(there)
    assert words in verdict.sentence
    assert verdict.passes is None
    assert SEEN_ATTITUDE.failing(there) == ()
