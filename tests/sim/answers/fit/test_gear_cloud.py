"""Where a head meets the first of many points, found without looking at all of them."""

from __future__ import annotations

import numpy as np
import pytest

from meshes.mesh import Floats
from sim.answers.fit.cloud import cloud_of, least
from sim.answers.fit.gear_cloud import head_of
from sim.answers.fit.head_lift import HeadBack, head_back, lifts
from sim.assembly.placement import Placement, point_at
from sim.person.person import person_of


@pytest.fixture(scope="module")
def back() -> HeadBack:
    return head_back(person_of("female", 1.66, 60.0), 0.005)


def least_lift(back: HeadBack, points: Floats, seat: Placement) -> float:
    return float(least(cloud_of(points), seat.rotation[None], seat.origin[None], head_of(back))[0])


def behind(back: HeadBack, seed: int, points: int) -> Floats:
    """Points all round the head, inside it and beyond its reach."""
    return back.pivot + np.random.default_rng(seed).uniform([-0.15, -0.15, -0.1], [0.3, 0.15, 0.3], size=(points, 3))


@pytest.mark.parametrize("seed", range(40))
@pytest.mark.parametrize("points", [1, 30, 3000])
def test_the_least_lift_is_that_of_all_points(back: HeadBack, seed: int, points: int) -> None:
    """Seated turned and moved, as on any back."""
    angle = 0.02 * (seed - 20)
    turn = np.array([[np.cos(angle), 0.0, -np.sin(angle)], [0.0, 1.0, 0.0], [np.sin(angle), 0.0, np.cos(angle)]])
    seat = Placement(turn, np.array([0.4, 0.0, 0.1]))
    local = (behind(back, seed, points) - seat.origin) @ turn
    every = lifts(back, point_at(seat, local)).min()
    assert least_lift(back, local, seat) == pytest.approx(every, abs=1e-9)


def test_nothing_behind_the_head_is_never_met(back: HeadBack) -> None:
    seat = Placement(np.eye(3), np.zeros(3))
    assert least_lift(back, np.zeros((0, 3)), seat) == np.inf
    assert least_lift(back, back.pivot + [[0.1, 0.0, -0.5]], seat) == np.inf
