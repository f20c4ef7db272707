"""Points sorted by boxes within boxes: none is lost, and the least of a measure is found by bounds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest

from meshes.mesh import Floats
from sim.answers.fit.cloud import EDGES, Cloud, cloud_of, least


@dataclass
class Distance:
    """From a place (3,) [m], counting the points that are looked at."""

    place: Floats
    seen: int = 0

    def value(self, points: Floats) -> Floats:
        self.seen += len(points)
        return np.asarray(np.linalg.norm(points - self.place, axis=1))

    def bound(self, level: int, middles: Floats) -> Floats:
        return np.asarray(np.linalg.norm(middles - self.place, axis=1) - 0.5 * np.sqrt(3.0) * EDGES[level])


def turned(angle: float) -> Floats:
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, 0.0, -s], [0.0, 1.0, 0.0], [s, 0.0, c]])


def random_cloud(number: int = 20_000) -> tuple[Floats, Cloud]:
    points = np.random.default_rng(1).normal(size=(number, 3)) * 0.1
    return points, cloud_of(points)


def test_points_keep_their_number_and_lie_in_their_boxes() -> None:
    points, cloud = random_cloud(500)
    assert sorted(map(tuple, cloud.points)) == sorted(map(tuple, points))
    within = np.arange(len(points))
    for middles, starts, edge in reversed(list(zip(cloud.middles, cloud.starts, EDGES, strict=True))):
        assert starts[0] == 0
        boxes = np.repeat(np.arange(len(middles)), np.diff(starts))
        within = boxes[within]  # the box of each point, of the next larger size
        assert np.abs(cloud.points - middles[within]).max() <= 0.5 * edge + 1e-12


def test_the_least_is_that_of_all_points_in_every_way_and_few_are_looked_at() -> None:
    points, cloud = random_cloud()
    rotations = np.array([turned(a) for a in (-0.3, 0.0, 0.2)])
    origins = np.array([[0.05, 0.0, 0.1], [0.0, 0.0, 0.0], [-0.02, 0.0, 0.3]])
    measure = Distance(np.array([0.1, 0.03, 0.0]))
    every = [
        np.linalg.norm(points @ turn.T + at - measure.place, axis=1).min()
        for turn, at in zip(rotations, origins, strict=True)
    ]
    assert least(cloud, rotations, origins, measure) == pytest.approx(every, abs=1e-12)
    assert measure.seen < 0.1 * len(rotations) * len(points)


def test_no_points_are_nowhere() -> None:
    none = cloud_of(np.zeros((0, 3)))
    assert least(none, np.eye(3)[None], np.zeros((1, 3)), Distance(np.zeros(3))).tolist() == [np.inf]
    _, cloud = random_cloud(10)
    assert least(cloud, np.zeros((0, 3, 3)), np.zeros((0, 3)), Distance(np.zeros(3))).shape == (0,)
