"""The chart of the cylinders emptied."""

from __future__ import annotations

import pytest

from sim.answers.later.empty_answer import EmptyAnswer, Point
from sim.answers.later.empty_chart import MOMENT, WING, _curve, draw_empty_chart
from sim.answers.later.empty_report import BAR

POINTS = tuple(
    Point(p * BAR, 0.0, m, 10.0, 10.0, 1e-3 * w, 0.0, n, None)
    for p, m, w, n in ((200.0, -10.0, 2.0, 0.0), (50.0, -12.0, 0.5, 0.0), (10.0, -13.0, 0.0, 0.4))
)
TOLD = EmptyAnswer(
    title="an invented diver", points=POINTS, wing_empty_at=30.0 * BAR, changes=(), estimated=(), notes=(),
    caution="A caution.",
)  # fmt: skip


def test_the_corner_is_drawn_where_the_wing_runs_empty() -> None:
    x, gas = _curve(TOLD, WING)
    assert list(zip(x, gas, strict=True)) == [(200.0, 2.0), (50.0, 0.5), (30.0, 0.0), (10.0, 0.0)]
    x, moment = _curve(TOLD, MOMENT)
    assert (list(x), list(moment)) == ([200.0, 50.0, 10.0], [-10.0, -12.0, -13.0])


@pytest.mark.parametrize("ending", [".svg", ".pdf", ".png"])
def test_it_is_drawn_with_its_words(tmp_path, ending) -> None:
    path = draw_empty_chart(TOLD, tmp_path / f"chart{ending}")
    drawn = path.read_bytes()
    assert len(drawn) > 5000
    assert drawn == draw_empty_chart(TOLD, tmp_path / f"again{ending}").read_bytes()
