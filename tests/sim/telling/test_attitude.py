"""Pitch and roll by one rule."""

import math

import numpy as np
import pytest

from sim.telling.attitude import pitch_and_roll, within_a_turn


@pytest.mark.parametrize("roll", [1e-17, -1e-17, 1e-10, -1e-10, 0.0, -0.0])
def test_on_the_back_is_told_in_one_way(roll):
    """A hair to either side, as rounding leaves it, is plus 180 degrees."""
    assert pitch_and_roll(np.array([0.0, roll, -1.0]))[1] == pytest.approx(math.pi, abs=1e-9)


@pytest.mark.parametrize("turns", [-2, -1, 0, 1, 3])
@pytest.mark.parametrize("angle", [-3.0, -0.5, 0.0, 1.0, math.pi - 1e-6, 1e-6 - math.pi])
def test_whole_turns_are_taken_off(angle, turns):
    assert within_a_turn(angle + 2.0 * math.pi * turns) == pytest.approx(angle, abs=1e-14)


def test_pitch_and_roll_say_the_attitude_again():
    rng = np.random.default_rng(5)
    for up in rng.normal(size=(50, 3)):
        up /= np.linalg.norm(up)
        pitch, roll = pitch_and_roll(up)
        assert abs(pitch) <= 0.5 * math.pi
        assert -math.pi < roll <= math.pi
        again = [math.sin(pitch), math.cos(pitch) * math.sin(roll), math.cos(pitch) * math.cos(roll)]
        assert again == pytest.approx(up, abs=1e-14)
