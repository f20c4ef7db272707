"""The chart of what measurements have taught."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sim.answers.calibrate.answer import Band, CalibrationTold, MomentBands, ToldReading
from sim.answers.calibrate.chart import _reading_rows, _set, draw_calibration_chart
from sim.answers.calibrate.learnt import LearntLine
from sim.answers.calibrate.surprise import Suspect
from sim.answers.calibrate.text import calibration_text

TOLD = CalibrationTold(
    title="an invented diver",
    scenario="diver.toml",
    measurements="pool.toml",
    measured_on="2025-05-31",
    contradicted=False,
    readings=(
        ToldReading(
            name="neutral float", unit="kg", measured=9.0, spread=0.4, assumed=False, expected=2.0, expected_sd=1.0,
            now=None, drift="none", time=None,
        ),
    ),
    pitch_moment=MomentBands(before=Band(-20.0, -14.0, -8.0), after=Band(-10.0, -7.0, 2.0)),
    unknowns=(
        LearntLine("gas in the suit", "suit", "0.0 +- 15.0 %", "-13.0 +- 9.3 %", -0.9, 0.6, 0.3, learnt=True),
        LearntLine("body density", "diver", "1046 +- 11 kg/m^3", "1048 +- 11 kg/m^3", 0.2, 1.0, 0.1, learnt=False),
    ),
    together=(),
    suspects=(),
    next=(),
    draws=100.0,
    notes=(),
    caution="A caution.",
)  # fmt: skip
CONTRADICTED = replace(
    TOLD, contradicted=True, pitch_moment=replace(TOLD.pitch_moment, after=None), unknowns=(),
    suspects=(Suspect("a reading misread", "6.6 kg", 0.9),),
)  # fmt: skip


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


def test_a_contradiction_is_told_with_what_may_be_broken():
    words = " ".join(calibration_text(CONTRADICTED).split())
    assert "Nothing was fitted and no file was written" in words
    assert "a reading misread: it would have to be off by 6.6 kg (90 % of the weight)" in words


@pytest.mark.parametrize(
    ("plain", "printed"),
    [("-13.0 +- 9.3 %", "−13.0 ± 9.3 %"), ("1048 +- 11 kg/m^3", "1048 ± 11 kg/m³"), ("head-down", "head-down")],
)
def test_signs_of_print(plain, printed):
    assert _set(plain) == printed
