"""The chart of the cylinders emptied."""

from __future__ import annotations

import pytest

from sim.answers.empty.chart import _curve, draw_empty_chart

POINTS = [
    {"pressure_bar": p, "pitch_moment_nm": m, "wing_gas_l": w, "net_buoyancy_kg": n}
    for p, m, w, n in ((200.0, -10.0, 2.0, 0.0), (50.0, -12.0, 0.5, 0.0), (10.0, -13.0, 0.0, 0.4))
]
TOLD = {"title": "an invented diver", "caution": "A caution.", "points": POINTS, "wing_empty_at_bar": 30.0}


def test_the_corner_is_drawn_where_the_wing_runs_empty() -> None:
    x, gas = _curve(TOLD, "wing_gas_l")
    assert list(zip(x, gas, strict=True)) == [(200.0, 2.0), (50.0, 0.5), (30.0, 0.0), (10.0, 0.0)]
    x, moment = _curve(TOLD, "pitch_moment_nm")
    assert (list(x), list(moment)) == ([200.0, 50.0, 10.0], [-10.0, -12.0, -13.0])


@pytest.mark.parametrize("ending", [".svg", ".pdf", ".png"])
def test_it_is_drawn_with_its_words(tmp_path, ending) -> None:
    path = draw_empty_chart(TOLD, tmp_path / f"chart{ending}")
    drawn = path.read_bytes()
    assert len(drawn) > 5000
    assert drawn == draw_empty_chart(TOLD, tmp_path / f"again{ending}").read_bytes()
