"""Placing labels."""

import numpy as np

from sim.drawing.free_space import Box, around, clearest, spread_over

PAGE = Box(0.0, 0.0, 100.0, 100.0)
NOTHING = np.zeros((0, 2))


def test_the_first_free_place_is_taken():
    places = [around((10.0, 10.0), 8.0, 8.0), around((50.0, 50.0), 8.0, 8.0), around((90.0, 90.0), 8.0, 8.0)]
    assert clearest(places, NOTHING, [], PAGE) == 0
    assert clearest(places, NOTHING, [around((12.0, 12.0), 8.0, 8.0)], PAGE) == 1
    assert clearest(places, np.array([[50.0, 51.0]]), [places[0]], PAGE) == 2


def test_hiding_part_of_the_drawing_is_better_than_hiding_a_label_or_leaving_the_page():
    drawn = np.array([[50.0, 50.0]])
    off, on_label, on_drawing = (around(m, 8.0, 8.0) for m in ((99.0, 50.0), (10.0, 10.0), (50.0, 50.0)))
    assert clearest([off, on_label, on_drawing], drawn, [around((12.0, 12.0), 8.0, 8.0)], PAGE) == 2


def test_points_spread_over_triangles_leave_no_gap():
    rng = np.random.default_rng(5)
    corners = rng.uniform(0.0, 400.0, (4, 3, 2))
    spread = spread_over(corners.reshape(-1, 2), np.arange(12).reshape(-1, 3), 10.0)
    share = rng.dirichlet([1.0, 1.0, 1.0], 60)
    inside = np.einsum("sk,tkd->tsd", share, corners).reshape(-1, 2)
    nearest = np.linalg.norm(inside[:, None] - spread[None], axis=2).min(axis=1)
    # steps of at most 10 along both edges, and rounding to cells of 2.5
    assert nearest.max() < 10.0
