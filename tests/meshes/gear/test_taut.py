"""Straps pulled tight round obstacles, against closed forms and another library's hull."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from meshes.gear.taut import taut_path


def length(path: np.ndarray) -> float:
    return float(np.linalg.norm(np.diff(path, axis=0), axis=1).sum())


def test_round_a_circle_it_is_tangent_arc_tangent() -> None:
    """Ends 2 radii from the centre, level with it: two tangents of sqrt(3) and an arc of 60 degrees."""
    angle = 2.0 * np.pi * np.arange(20000) / 20000
    circle = np.stack([np.cos(angle), np.sin(angle)], axis=1)
    # an inscribed polygon of n chords is short by (2 pi/n)^2/24 of the arc
    assert length(taut_path(circle, [-2.0, 0.0], [2.0, 0.0])) == pytest.approx(
        2.0 * np.sqrt(3.0) + np.pi / 3.0, rel=1e-7
    )


def test_nothing_in_the_way_is_straight() -> None:
    path = taut_path([[0.3, -0.5], [0.6, -0.1]], [0.0, 0.0], [1.0, 0.0])
    np.testing.assert_allclose(path, [[0.0, 0.0], [1.0, 0.0]], atol=1e-15)
    assert len(taut_path(np.empty((0, 2)), [0.0, 0.0], [1.0, 0.0])) == 2


def test_what_bulges_beyond_the_ends_is_gone_round() -> None:
    """A belly broader than the plate's slots: the strap first runs outward."""
    path = taut_path([[-0.5, 1.0], [0.5, 2.0], [1.5, 1.0]], [0.0, 0.0], [1.0, 0.0])
    np.testing.assert_allclose(path, [[0.0, 0.0], [-0.5, 1.0], [0.5, 2.0], [1.5, 1.0], [1.0, 0.0]], atol=1e-12)


@pytest.mark.parametrize("seed", range(5))
def test_it_is_the_hull_whichever_way_it_lies(seed: int) -> None:
    random = np.random.default_rng(seed)
    points = random.normal(size=(200, 2)) + [0.0, 1.0]
    a, b = np.array([-0.3, -0.5]), np.array([0.4, -0.2])
    left = [p for p in points if (b - a)[0] * (p - a)[1] - (b - a)[1] * (p - a)[0] > 0.0]
    ring = shapely.MultiPoint([a, b, *left]).convex_hull.exterior.length
    path = taut_path(points, a, b)
    assert length(path) == pytest.approx(ring - np.linalg.norm(b - a), rel=1e-12)
    turn = np.array([[np.cos(1.0), -np.sin(1.0)], [np.sin(1.0), np.cos(1.0)]])
    np.testing.assert_allclose(taut_path(points @ turn.T, turn @ a, turn @ b), path @ turn.T, atol=1e-12)


@pytest.mark.parametrize(("a", "b"), [([0.0, 0.0], [0.0, 0.0]), ([0.0, float("nan")], [1.0, 0.0])])
def test_no_strap_without_two_ends(a: list[float], b: list[float]) -> None:
    with pytest.raises(ValueError, match="ends"):
        taut_path([[0.0, 1.0]], a, b)
