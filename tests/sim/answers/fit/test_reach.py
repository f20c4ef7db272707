"""Valve reach of dressed divers: left and right, drops, one stiff shoulder, bare reaches of the survey."""

from dataclasses import replace

import numpy as np
import pytest

from sim.answers.fit.reach import hand_margin, left_arm, reached_at, valve_reach

DROPS = (0, 5, 10)  # cm
BANDS = "cylinders.shift=0 cm"  # cylinders as the bands come, not hung lower


def margins(dressed):
    return {h.valve: h.margin for h in valve_reach(dressed)}


@pytest.fixture(scope="module")
def worn(dressed):
    """The function ``worn(demo, *settings)``: what a demo diver wears."""
    return lambda demo, *settings: dressed(demo, *settings).worn


@pytest.fixture(scope="module")
def woman(worn):
    return worn("small-woman-steel")


def test_left_and_right_are_mirror_images(woman):
    left, right, isolator = valve_reach(woman)
    flip = [1.0, -1.0, 1.0]
    assert (left.hand, right.hand) == ("left", "right")
    assert left.margin == pytest.approx(right.margin, abs=1e-9)
    for place in ("shoulder", "elbow", "wrist", "grip"):
        assert getattr(left.posture, place) == pytest.approx(getattr(right.posture, place) * flip, abs=1e-9)
    assert isolator.valve == "isolator"


def test_one_stiff_shoulder_loses_reach_on_that_side_only(woman):
    free = margins(woman)
    for side, other in (("left", "right"), ("right", "left")):
        stiff = margins(
            replace(woman, mobility=replace(woman.mobility, **{f"stiff_{side}_shoulder": np.radians(20.0)}))
        )
        assert stiff[f"{side} valve"] < free[f"{side} valve"] - 0.01
        assert stiff[f"{other} valve"] == pytest.approx(free[f"{other} valve"], abs=1e-9)
        # the other hand turns the isolator then
        assert stiff["isolator"] == pytest.approx(free["isolator"], abs=1e-9)


def test_bulk_takes_reach_away(woman):
    told = [
        margins(replace(woman, mobility=replace(woman.mobility, shoulder_bulk=b)))["left valve"]
        for b in (0, 0.2, 0.4)
    ]
    assert told[0] > told[1] > told[2]
    left = valve_reach(woman)[0]
    assert left.stiff < left.margin < left.supple


@pytest.mark.parametrize("demo", ["small-woman-steel", "tall-man-steel"])
def test_the_lower_the_rig_the_less_reach(worn, demo):
    told = [margins(worn(demo, BANDS, f"harness.drop={d} cm")) for d in DROPS]
    for valve in told[0]:
        assert (np.diff([t[valve] for t in told]) < 0.0).all(), valve


def test_small_plate_puts_a_tall_mans_valves_out_of_reach(worn):
    """Cylinders hung as the bands come, not lowered: the standard plate sits well on him (common practice)."""
    standard = margins(worn("tall-man-steel", BANDS))
    small = margins(worn("tall-man-steel", BANDS, "plate=small steel"))
    assert standard["left valve"] > 0.0 > small["left valve"]


def test_both_plates_leave_a_small_womans_valves_in_reach(worn):
    for plate in ("standard steel", "small steel"):  # with 2 cm to spare, to turn it (assumed)
        assert margins(worn("small-woman-steel", f"plate={plate}"))["left valve"] >= 0.02, plate


def test_a_single_valve_is_for_the_nearer_hand(worn):
    (only,) = valve_reach(worn("single-wetsuit"))
    assert (only.valve, only.hand) == ("valve", "right")  # where its knob is (common practice)


def test_without_cylinders_there_is_nothing_to_reach(worn):
    assert valve_reach(worn("small-woman-steel", "cylinders=none")) == ()


def test_a_fingertip_reaches_further_than_a_grip(woman):
    left = valve_reach(woman)[0]
    assert hand_margin(woman, "left", left.at) > left.margin + 0.01
    assert hand_margin(woman, "right", left.at * [1.0, -1.0, 1.0]) == pytest.approx(
        hand_margin(woman, "left", left.at)
    )


def test_what_is_reached_ends_where_the_margin_does_and_is_mirrored(woman):
    left = valve_reach(woman)[0]
    lower = np.arange(0.0, 0.5, 0.01)
    below = left.at - lower[:, None] * [1.0, 0.0, 0.0]
    reached = reached_at(woman, "left", below)
    assert reached[0]  # the valve itself
    assert not reached[-1]
    # straight below the valve it ends where the margin does, to within the 1 cm between points
    assert lower[reached].max() == pytest.approx(left.margin, abs=0.01)
    assert (reached_at(woman, "right", below * [1.0, -1.0, 1.0]) == reached).all()


def test_the_head_in_the_way_leans_aside_from_the_neck_to_the_crown(woman):
    """A ball of the head's breadth from the neck's pivot to under the vertex, tipped away from the arm (assumed)."""
    person = woman.body.person
    head = left_arm(person, 0.0, hood=0.007).bars[0]
    skull = 0.5 * person.measures["headbreadth"]
    assert head.radius == pytest.approx(skull + 0.007, rel=1e-12)
    assert head.low == pytest.approx(person.skeleton.joints["neck"], abs=1e-12)
    up, aside = (head.high - head.low)[0], (head.high - head.low)[1]
    long = person.skeleton.heights["vertex"] - skull - head.low[0]
    assert np.hypot(up, aside) == pytest.approx(long, rel=1e-12)
    assert np.degrees(np.arctan2(-aside, up)) == pytest.approx(22.5, rel=1e-9)  # degrees (assumed)
    assert (head.high - head.low)[2] == pytest.approx(-0.03, abs=1e-12)
