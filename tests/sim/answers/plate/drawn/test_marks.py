"""Measured lines say the distance that they span, and figures keep clear of one another."""

import numpy as np
import pytest

from sim.answers.plate.drawn.marks import LETTERS, Area, Stroke, Word, dimension, millimetres, ordinates


@pytest.mark.parametrize("span", [2.0, 9.0, 12.0, 279.0])
@pytest.mark.parametrize("way", ["up", "across"])
def test_a_dimension_tells_its_span_and_its_arrows_touch_its_ends(span: float, way: str) -> None:
    along = 1 if way == "up" else 0
    ends = np.array([[3.0, 40.0], [8.0, 41.0]])
    ends[1, along] = ends[0, along] + span
    marks = list(dimension((ends[1], ends[0]), way, -30.0))  # type: ignore[arg-type]
    (word,) = [m for m in marks if isinstance(m, Word)]
    assert word.text == f"{span:g}"
    tips = [m.rings[0][0] for m in marks if isinstance(m, Area)]
    assert sorted(tip[along] for tip in tips) == pytest.approx(sorted(ends[:, along]), abs=1e-12)
    assert {tip[1 - along] for tip in tips} == {-30.0}


def test_figures_of_near_places_are_spread_in_their_order_and_far_ones_stay() -> None:
    places = [(np.array([5.0, y]), f"{y:g}") for y in (50.0, 10.0, 10.5, 11.0, 90.0)]
    marks = list(ordinates(places, "up", -40.0, -1))
    words = [m for m in marks if isinstance(m, Word)]
    assert [w.text for w in words] == ["10", "10.5", "11", "50", "90"]
    heights = [w.at[1] for w in words]
    assert min(np.diff(heights)) >= LETTERS
    assert heights[3:] == pytest.approx([50.0, 90.0])
    assert np.mean(heights[:3]) == pytest.approx(10.5)
    strokes = [m for m in marks if isinstance(m, Stroke)]
    assert [s.points[0, 1] for s in strokes] == [10.0, 10.5, 11.0, 50.0, 90.0]
    assert all(s.points[0, 0] == 4.0 for s in strokes)


def test_lengths_have_a_tenth_where_it_is_one_and_nought_no_sign() -> None:
    assert [millimetres(x) for x in (279.0, 65.54, 0.04, -0.04, -3.25)] == ["279", "65.5", "0", "0", "-3.2"]
