"""The moment budget as bars."""

import numpy as np
import pytest
from matplotlib.image import imread

from scenarios.demos import demo_path
from sim.answers.why.answer import why_answer
from sim.answers.why.chart import Bar, bar_end, draw_budget, draw_moment_chart, rows_of
from sim.case import Case
from sim.drawing.palette import HEAD_DOWN, HEAD_UP, rgb
from sim.telling.caution import CAUTION

MOST_ROWS = 18  # of the chart; what is left goes into one
BARS = (430.0, 1180.0)  # reference pixels between which the bars are drawn

BARE = ("cylinders=none", "wing=none", "fins=none", "plate=none", "harness=none", "suit=none", "gear=none")
ITEMS = [
    Bar("legs", 30.0, 2.0, -0.6),
    Bar("cylinders", -22.0, 3.0, 0.4),
    Bar("fins", -0.3, 0.1, 0.0),
]


def test_rows_come_largest_first_and_the_smallest_are_added_up():
    rng = np.random.default_rng(2)
    items = [Bar(f"item {k}", float(m), float(w), 0.1) for k, (m, w) in enumerate(rng.normal(size=(40, 2)))]
    rows = rows_of(items)
    assert len(rows) == MOST_ROWS
    sizes = [abs(r.moment) for r in rows[:-1]]
    assert sizes == sorted(sizes, reverse=True)
    assert rows[-1].name == f"{40 - MOST_ROWS + 1} smaller items"
    for what in ("moment", "apparent_weight"):
        total = sum(getattr(i, what) for i in items)
        assert sum(getattr(r, what) for r in rows) == pytest.approx(total, abs=1e-12)


def test_head_up_is_to_the_right_in_proportion():
    middle = 0.5 * sum(BARS)
    assert bar_end(0.0, 50.0) == middle
    assert bar_end(50.0, 50.0) == BARS[1]
    assert bar_end(-25.0, 50.0) == middle - 0.5 * (BARS[1] - middle)


def colours_along(picture, left, right):
    """Set of bar colours met between two reference pixels from the left."""
    part = picture[:, int(left) : int(right), :3]
    return {
        name
        for name, c in (("up", HEAD_UP), ("down", HEAD_DOWN))
        if (abs(part - rgb(c)).max(axis=2) < 0.01).sum() > 500
    }


def test_bars_of_a_drawn_chart_lie_on_their_sides(tmp_path):
    path = draw_budget(ITEMS, tmp_path / "chart.png", title="Invented")
    picture = imread(path)
    assert picture.shape[1] == 1600
    middle, above_the_words = 0.5 * sum(BARS), slice(0, -150)
    assert colours_along(picture[above_the_words], BARS[0], middle - 3) == {"down"}
    assert colours_along(picture[above_the_words], middle + 3, BARS[1]) == {"up"}


def test_what_the_command_tells_is_drawn(tmp_path):
    answer = why_answer(Case.read(demo_path("single-wetsuit"), BARE))
    path = draw_moment_chart(answer, tmp_path / "chart.svg")
    bars = [Bar(i.name, i.moment, i.apparent_weight, i.arm) for i in answer.items]
    same = draw_budget(bars, tmp_path / "same.svg", title=answer.title, small_print=CAUTION)
    assert path.read_bytes() == same.read_bytes()


def test_nothing_to_draw_and_unknown_endings_are_refused(tmp_path):
    with pytest.raises(ValueError, match="at least one item"):
        draw_budget([], tmp_path / "chart.png")
    with pytest.raises(ValueError, match="ends in"):
        draw_budget(ITEMS, tmp_path / "chart.gif")
