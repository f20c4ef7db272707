"""The chart of what measurements have taught."""

from __future__ import annotations

import pytest

from sim.answers.calibrate.chart import _reading_rows, _set, draw_calibration_chart

TOLD = {
    "title": "an invented diver", "caution": "A caution.", "measured_on": "2025-05-31", "contradicted": False,
    "pitch_moment_nm": {
        "before": {"p5": -20.0, "p50": -14.0, "p95": -8.0}, "after": {"p5": -10.0, "p50": -7.0, "p95": 2.0},
    },
    "unknowns": [
        {"name": "gas in the suit", "moved_sd": -0.9, "sd_ratio": 0.6, "now": "-13.0 +- 9.3 %"},
        {"name": "body density", "moved_sd": 0.2, "sd_ratio": 1.0, "now": "1048 +- 11 kg/m^3"},
    ],
    "readings": [{"name": "neutral float", "measured": 9.0, "expected": 2.0, "expected_sd": 1.0, "spread": 0.4,
                  "unit": "kg"}],
}  # fmt: skip
CONTRADICTED = {
    **TOLD, "contradicted": True, "pitch_moment_nm": {**TOLD["pitch_moment_nm"], "after": None}, "unknowns": [],
}  # fmt: skip


@pytest.mark.parametrize("told", [TOLD, CONTRADICTED])
@pytest.mark.parametrize("ending", [".svg", ".pdf", ".png"])
def test_it_is_drawn_the_same_twice(tmp_path, told, ending):
    path = draw_calibration_chart(told, tmp_path / f"chart{ending}")
    drawn = path.read_bytes()
    assert len(drawn) > 5000
    assert drawn == draw_calibration_chart(told, tmp_path / f"again{ending}").read_bytes()


def test_a_contradiction_is_drawn_in_spreads_of_what_was_expected():
    (row,) = _reading_rows(CONTRADICTED)
    assert row == ("neutral float", 7.0, 0.4, "+9.0, expected +2.0 +- 1.0 kg")


@pytest.mark.parametrize(
    ("plain", "printed"),
    [("-13.0 +- 9.3 %", "−13.0 ± 9.3 %"), ("1048 +- 11 kg/m^3", "1048 ± 11 kg/m³"), ("head-down", "head-down")],
)
def test_signs_of_print(plain, printed):
    assert _set(plain) == printed
