"""Many things reached for at once, against each by itself."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sim.answers.fit.arm_chain import Arm, Capsule, upper_arms
from sim.answers.fit.arm_reach import reach_margin
from sim.answers.fit.many_reaches import reach_margins, reaches, within_reach
from sim.answers.fit.reach import left_arm
from sim.person.person import person_of

RADIUS = 0.09  # m
RIGS = np.array(
    [
        [[[0.05, 0.10, 0.2], [0.4, 0.10, 0.2]], [[0.05, -0.10, 0.2], [0.4, -0.10, 0.2]]],
        [[[0.05, 0.10, 0.3], [0.5, 0.10, 0.3]], [[0.05, -0.10, 0.3], [0.5, -0.10, 0.3]]],
    ]
)


@pytest.fixture(scope="module")
def arm() -> Arm:
    return left_arm(person_of("male", 1.80, 80.0), 0.2, clothing=0.005)


def test_margins_are_those_of_each_target_by_itself(arm: Arm) -> None:
    """Within reach, just short, far off and in the body, with cylinders nearer and farther."""
    targets = np.random.default_rng(4).uniform([0.25, -0.05, 0.05], [0.75, 0.35, 0.4], size=(24, 3))
    bars = np.arange(len(targets)) % 2
    of = reaches(arm, upper_arms(arm), bars, RIGS, RADIUS, targets)
    alone = []
    for target, rig in zip(targets, bars, strict=True):
        cylinders = tuple(Capsule(low, high, RADIUS) for low, high in RIGS[rig])
        alone.append(reach_margin(replace(arm, bars=(*arm.bars, *cylinders)), target))
    assert min(alone) < -0.05
    assert max(alone) > 0.05
    np.testing.assert_allclose(reach_margins(of), alone, rtol=0.0, atol=1e-9)
    for by in (0.001, 0.02, 0.07):
        assert within_reach(of, by).tolist() == [margin >= by for margin in alone]


def test_nothing_to_reach_is_nothing(arm: Arm) -> None:
    of = reaches(arm, upper_arms(arm), np.zeros(0, dtype=int), RIGS[:1], RADIUS, np.zeros((0, 3)))
    assert reach_margins(of).shape == within_reach(of, 0.02).shape == (0,)


def test_what_is_easily_reached_has_the_greatest_margin_that_is_looked_for(arm: Arm) -> None:
    """In front of the shoulder, with nothing in the way for 32 cm below: so much, alone and among others."""
    targets = arm.shoulder + np.array([[0.264, 0.311, -0.219], [0.414, -0.176, -0.089], [0.489, 0.280, -0.145]])
    of = reaches(arm, upper_arms(arm), np.zeros(3, dtype=int), RIGS[:1], RADIUS, targets)
    assert reach_margins(of) == pytest.approx(0.32, abs=1e-12)
