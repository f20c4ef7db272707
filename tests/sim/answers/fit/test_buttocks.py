"""Cylinders against the buttocks: kept at a grid, against the skin itself at every point."""

from __future__ import annotations

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.answers.fit.buttocks import SLACKS, buttocks, edge_points
from sim.case import Case


@pytest.mark.parametrize("demo", ["small-woman-steel", "tall-man-steel", "single-wetsuit"])
def test_the_grid_says_what_the_skin_says(demo: str) -> None:
    worn = Case.read(demo_path(demo)).assembled.worn
    assert worn is not None
    assert worn.cylinders is not None
    points, h = edge_points(worn.cylinders), worn.body.person.skeleton.heights
    low = points[(points[:, 0] < h["iliac crest"]) & (points[:, 0] > h["crotch"])]
    exact = float((low[:, 2] - worn.body.back_surface(low[:, 0], low[:, 1])).min()) - worn.clothing
    assert buttocks(worn.body.person).off(points, worn.clothing) == pytest.approx(exact, abs=5e-4)  # a grid of 1 cm


def test_nothing_beside_them_is_infinitely_far() -> None:
    worn = Case.read(demo_path("tall-man-steel")).assembled.worn
    assert worn is not None
    above = np.array([[worn.body.person.skeleton.heights["iliac crest"] + 0.01, 0.05, 0.1]])
    assert buttocks(worn.body.person).off(above, 0.01) == np.inf


@pytest.mark.parametrize("demo", ["small-woman-steel", "tall-man-steel"])
def test_no_point_of_a_box_is_nearer_than_its_bound(demo: str) -> None:
    """Points anywhere within half a box's diagonal of its middle; the back between the grid's places is straight."""
    worn = Case.read(demo_path(demo)).assembled.worn
    assert worn is not None
    behind, rng = buttocks(worn.body.person), np.random.default_rng(3)
    low, high = behind.heights
    for level, slack in enumerate(SLACKS):
        middles = rng.uniform([low - 0.02, -0.2, -0.1], [high + 0.02, 0.2, 0.2], size=(400, 3))
        ways = rng.normal(size=(400, 3))
        points = middles + slack * ways / np.linalg.norm(ways, axis=1, keepdims=True)
        assert (behind.bound(level, middles) <= behind.value(points) + 1e-9).all()
