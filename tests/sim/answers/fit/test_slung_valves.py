"""Hands at the valves of cylinders that hang: from below, either hand, trunk and cylinders in the way."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.answers.fit import slung_valves
from sim.answers.fit.answer import found_on
from sim.answers.fit.demands.slung_reach import SLUNG_REACH
from sim.answers.fit.found import Found
from sim.case import Case

MIRROR = np.array([1.0, -1.0, 1.0])


@cache
def side_hung(*settings: str) -> Found:
    return found_on(Case.read(demo_path("side-hung"), settings).assembled)


def test_valves_at_the_armpits_are_turned_by_the_hand_of_their_side_and_the_hand_stays_in_reach() -> None:
    """Common practice: it is what side-hung cylinders are praised for."""
    for hand, side in zip(side_hung().slung[:2], ("left", "right"), strict=True):
        assert (hand.valve, hand.hand) == (f"valve of {side} cylinder", side)
        assert hand.margin >= 0.02
        arm = hand.posture
        assert np.linalg.norm(arm.grip - hand.at) < 2e-3
    assert SLUNG_REACH.failing(side_hung()) == ()


def test_a_diver_and_their_mirror_image_reach_alike() -> None:
    """The stage of the demo hangs at the left alone: without it both sides are the same."""
    left, right = side_hung("gear.2.side=right").slung[1], side_hung().slung[0]
    assert left.at * MIRROR == pytest.approx(right.at, abs=1e-6)
    assert left.margin == pytest.approx(right.margin, abs=1.5e-3)


def test_the_margin_is_how_much_further_down_the_valve_could_lie() -> None:
    worn = side_hung().worn
    (part, *_) = [p for p in side_hung().rig.parts if p.hangs is not None]
    one = slung_valves.slung(part.name, part.hangs)
    clothes = slung_valves.Clothes(worn.clothing, worn.hood)

    def margin(lower: float) -> float:
        x, y, z = one.knob
        (hand,) = slung_valves._reach(worn.body, worn.mobility, clothes, (replace(one, knob=(x - lower, y, z)),))
        return hand.margin

    usual = margin(0.0)
    assert margin(0.03) == pytest.approx(usual - 0.03, abs=2e-3)
    assert margin(usual + 0.01) < 0.0
    assert margin(0.9) < -0.1  # at the knees


def test_stiff_shoulders_reach_no_better() -> None:
    for hand in side_hung().slung:
        assert hand.stiff <= hand.margin + 3e-3
        assert hand.margin <= hand.supple + 3e-3


@pytest.mark.parametrize(("margin", "passes"), [(0.021, True), (0.019, False), (-0.05, False), (-np.inf, False)])
def test_a_valve_that_no_hand_turns_fails_and_is_named(margin: float, passes: bool) -> None:
    hand = replace(side_hung().slung[0], margin=margin)
    other = replace(side_hung())
    other.__dict__["slung"] = (hand,)
    (verdict,) = SLUNG_REACH.verdicts(other)
    assert verdict.passes is passes
    assert SLUNG_REACH.failing(other) == (() if passes else (hand.valve,))


def test_nothing_is_said_where_nothing_hangs() -> None:
    bare = found_on(Case.read(demo_path("tall-man-steel")).assembled)
    assert bare.slung == ()
    assert SLUNG_REACH.verdicts(bare) == ()


def test_the_chest_in_the_way_is_a_capsule_from_the_hips_to_over_the_armpits() -> None:
    """As deep as the clothed trunk, which gives way to an arm by 1 cm (assumed); 5 cm over them."""
    worn = side_hung().worn
    marks = worn.body.landmarks
    chest = slung_valves._chest(worn.body, 0.005)
    depth = marks["sacrum"][2] - marks["sternum"][2] + 2.0 * 0.005
    assert 2.0 * chest.radius == pytest.approx(depth - 2.0 * 0.01, abs=1e-12)
    assert chest.low == pytest.approx([0.0, 0.0, 0.5 * (marks["sacrum"][2] + marks["sternum"][2])], abs=1e-12)
    assert chest.high[0] + chest.radius == pytest.approx(
        worn.body.person.skeleton.heights["axilla"] + 0.05, abs=1e-12
    )
    assert chest.high[1:] == pytest.approx(chest.low[1:], abs=1e-12)
