import numpy as np
import pytest

from sim.answers.settle.freeze import freeze_test
from sim.settling.settle import Path, Settled

TIMES = (2.0, 5.0, 10.0, 20.0)  # s


def settled(time, pitch, roll, outcome):
    """A settling with this path and nothing else of interest."""
    t, p, r = (np.asarray(x, dtype=float) for x in (time, pitch, roll))
    none = np.zeros((len(t), 0))
    up = np.stack([np.sin(p), np.cos(p) * np.sin(r), np.cos(p) * np.cos(r)], axis=1)
    path = Path(t, up, p, r, np.zeros_like(t), none, none)
    return Settled(
        p[-1], r[-1], up[-1], t[-1], outcome == "at rest", outcome, "free", False, None, 0.0, 0.0, 0.0, 0, False, path
    )


def test_reads_the_attitude_off_the_path():
    drifts = freeze_test(settled([0.0, 30.0], [0.0, -0.3], [0.0, 0.6], "at rest"))
    assert [d.time for d in drifts] == list(TIMES)
    # a steady drift of -0.01 and 0.02 rad/s; interpolation is exact on it, up to rounding
    assert [d.pitch for d in drifts] == pytest.approx([-0.01 * t for t in TIMES], rel=1e-12)
    assert [d.roll for d in drifts] == pytest.approx([0.02 * t for t in TIMES], rel=1e-12)


def test_a_diver_at_rest_stays_there():
    assert freeze_test(settled([0.0, 3.0], [0.0, 0.2], [0.0, 0.0], "at rest"))[-1].pitch == 0.2


def test_a_motion_not_followed_further_is_told_no_further():
    drifts = freeze_test(settled([0.0, 6.0], [0.0, 0.2], [0.0, 0.0], "time ran out"))
    assert [d.time for d in drifts] == [2.0, 5.0]


def test_roll_through_the_back_is_not_read_as_a_turn_the_other_way():
    """From 170 degrees on to -170 (190) degrees: half way it is 180, not 0."""
    drift = freeze_test(settled([0.0, 4.0], [0.0, 0.0], np.radians([170.0, -170.0]), "at rest"))[0]
    assert abs(drift.roll) == pytest.approx(np.pi, rel=1e-12)
