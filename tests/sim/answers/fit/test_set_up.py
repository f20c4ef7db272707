"""How to wear a rig so that it passes."""

from __future__ import annotations

from functools import cache

import pytest

from scenarios.demos import demo_path
from sim.answers.fit.answer import failing, fit_answer
from sim.answers.fit.look_ahead import ahead_margin
from sim.answers.fit.set_up import SetUps, set_ups
from sim.assembly.assembled import Assembled
from sim.case import Case

CASES = {
    "bands": ("small-woman-steel", "diver.measures={}", "diver.height=171 cm", "cylinders.shift=0 cm"),
    "small plate on a tall man": ("tall-man-carbon",),
    "single": ("single-wetsuit", "fit.shoulder_bulk=0 deg"),
    "hung low": ("tall-man-steel", "harness.drop=6 cm"),
}
VALVES = {"left valve", "right valve", "isolator", "valve"}


@cache
def dressed(demo: str, *settings: str) -> Assembled:
    return Case.read(demo_path(demo), settings).assembled


@cache
def found(demo: str, *settings: str) -> SetUps:
    return set_ups(fit_answer(dressed(demo, *settings)).worn)


@pytest.mark.parametrize("case", CASES)
def test_as_worn_it_says_what_the_answers_say(case: str) -> None:
    answer = fit_answer(dressed(*CASES[case]))
    told = {v.subject: v.margin for v in answer.verdicts}
    margins = found(*CASES[case]).as_worn.margins
    look = answer.look_ahead
    assert margins["waist strap"] == pytest.approx(told["waist strap"], abs=1e-9)
    assert margins["plate top"] == pytest.approx(told["plate top"], abs=1e-9)
    assert margins["cylinder bottoms"] == pytest.approx(told["cylinder bottoms"], abs=5e-4)  # a grid of 1 cm
    assert margins["look-ahead"] == pytest.approx(ahead_margin(look.gear, look.free, look.ahead), abs=1e-9)
    hardest = min(h.margin for h in answer.reach) - 0.02  # m to spare, to turn a valve (assumed)
    assert margins["reach"] == pytest.approx(hardest, abs=1e-3)  # mirrored trials may end a step apart


@pytest.mark.parametrize("case", CASES)
def test_worn_as_it_says_the_rig_built_anew_passes(case: str) -> None:
    nearest = found(*CASES[case]).nearest
    assert nearest is not None
    drop, shift = f"harness.drop={100.0 * nearest.drop:.6f} cm", f"cylinders.shift={100.0 * nearest.shift:.6f} cm"
    answer = fit_answer(dressed(*CASES[case], drop, shift))
    failed = {v.subject for v in answer.verdicts if v.passes is False}
    assert not failed & {"waist strap", "look-ahead", "plate top", "cylinder bottoms", *VALVES}
    assert -0.025 <= nearest.shift <= 0.05  # m, as far as bands go (assumed)


def test_a_set_up_that_passes_is_left_alone() -> None:
    told = found("small-woman-steel", "plate=small steel")
    assert told.nearest is told.as_worn
    assert told.barred_by == ()


def test_what_no_set_up_mends_is_named() -> None:
    """Nobody reaches with stiff shoulders, whatever the height; then eyes decide nothing."""
    told = found("tall-man-steel", "fit.stiff_left_shoulder=90 deg", "fit.stiff_right_shoulder=90 deg")
    assert told.nearest is None
    assert told.barred_by == ("reach",)


def test_two_demands_that_rule_each_other_out_are_named_together() -> None:
    """A short woman's head asks for cylinders low, her stiff shoulders for cylinders high."""
    person = ("diver.measures={}", "diver.height=156 cm", "diver.mass=52 kg", "fit.shoulder_bulk=20 deg")
    told = found("small-woman-steel", *person, "plate=small steel", "cylinders.shift=0 cm")
    assert told.nearest is None
    assert set(told.barred_by) == {"reach", "look-ahead"}


def test_without_cylinders_only_the_rig_s_height_is_tried() -> None:
    told = found("tall-man-steel", "cylinders=none", "harness.drop=-6 cm")
    assert told.shifts == (0.0, 0.0)
    assert told.nearest is not None
    assert "reach" not in told.nearest.margins


@pytest.mark.parametrize("drop", [-20, -4, 8, 30])
@pytest.mark.parametrize("case", ["bands", "no way"])
def test_what_is_found_does_not_hang_on_where_the_file_has_the_rig(drop: int, case: str) -> None:
    """Nor does what is said to bar it: only the least change does."""
    usual = CASES["bands"] if case == "bands" else (*CASES["bands"], "diver.height=160 cm")
    told, other = found(*usual), found(*usual, f"harness.drop={drop} cm")
    assert (other.nearest is None) == (told.nearest is None) == (case == "no way")
    assert other.barred_by == told.barred_by
    if other.nearest is not None:
        assert other.nearest.margins["waist strap"] >= 0.0
        drop, shift = (f"{1000.0 * at:.6f} mm" for at in (other.nearest.drop, other.nearest.shift))
        set_up = dressed(*usual, f"harness.drop={drop}", f"cylinders.shift={shift}")
        assert "look-ahead" not in failing(set_up)


def test_no_window_between_two_heights_is_missed() -> None:
    """A plate 386 mm long is met from 0.6 to 1.1 cm lower, wherever the file has it."""
    for drop in (0.0, 0.25, 0.5, 0.75):
        told = found("small-woman-steel", "plate.length=38.6 cm", f"harness.drop={drop} cm")
        assert told.nearest is not None, drop
