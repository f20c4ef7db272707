"""What posture makes up: against rigs assembled whole, closed forms, symmetry, and the motion's own Jacobian."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import degrees, log, radians

import numpy as np
import pytest

from scenarios.demos import demo_path
from scenarios.errors import ScenarioError
from sim.answers.posture.levers import LEVERS, turned
from sim.answers.posture.posture import Posture, held_words, posture_of
from sim.answers.posture.reposed import reposed
from sim.answers.posture.runaway import Turning, growth, time_to_double, turning_of
from sim.answers.posture.told import posture_answer, posture_text
from sim.case import Case
from sim.person.pose import RANGES
from sim.rig import Rig
from sim.settling.jacobian import jacobian
from sim.settling.motion import model_of
from sim.settling.settle import starting_state
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.telling.record import as_json, fields_of

DEMOS = ("tall-man-steel", "loose-legs", "single-wetsuit")
LEFT_OUT = 0.1  # N m: hoses to the mouth weigh some tens of grams in water

SLUGGISH = 0.02  # a wing that is nearly empty is let follow a little more slowly than its own time
SKIN = 0.02  # N m: a body with more gas in it is built with a trunk a little wider, and the suit over it


@cache
def case(name: str = "tall-man-steel") -> Case:
    return Case.read(demo_path(name))


@cache
def posture(name: str = "tall-man-steel") -> Posture:
    return posture_of(case(name))


def moment(rig: Rig) -> float:
    return flat_answer(soft_rig(rig)).pitch_moment


def whole(name: str, **joints: float) -> Rig:
    """The rig assembled whole in another pose, with the gas in the suit that the file's pose leaves in it."""
    told = case(name).rig
    made = case(name).vary({f"pose.joints.{j.replace('_', ' ')}": f"{a} deg" for j, a in joints.items()}).rig
    if made.suit is None or told.suit is None:
        return made
    return replace(made, suit=replace(made.suit, gas=told.suit.gas))


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize(
    "joints", [{"knee_flexion": 60.0}, {"hip_flexion": 20.0}, {"shoulder_flexion": 90.0, "elbow_flexion": 100.0}]
)
def test_a_pose_laid_out_alone_turns_the_diver_as_one_assembled_whole(name, joints) -> None:
    diver = reposed(case(name))
    assert moment(diver.posed(turned(diver.pose, joints))) == pytest.approx(
        moment(whole(name, **joints)), abs=LEFT_OUT
    )


def test_the_pose_told_changes_nothing() -> None:
    diver = reposed(case())
    assert moment(diver.posed(diver.pose)) == pytest.approx(moment(case().rig), abs=1e-9)


@pytest.mark.parametrize("gas", [-2e-4, 3e-4])
def test_a_fuller_chest_turns_the_diver_as_one_assembled_whole(gas) -> None:
    diver = reposed(case("single-wetsuit"))
    there = diver.body.person.lung_gas + gas
    made = case("single-wetsuit").vary({"diver.lung_gas": f"{there * 1e3:.9f} l"}).rig
    assert moment(diver.breathed(gas)) == pytest.approx(moment(made), abs=SKIN)


def test_limbs_moved_on_one_side_alone_do_as_half_of_both_in_pitch() -> None:
    diver = reposed(case("single-wetsuit"))
    both = turned(diver.pose, {"knee_flexion": 60.0})
    here, there = moment(diver.rig), moment(diver.posed(both))
    one = moment(diver.posed(replace(diver.pose, left=both.left)))
    assert one - here == pytest.approx(0.5 * (there - here), abs=1e-6)


@pytest.mark.parametrize("name", DEMOS)
def test_together_reaches_at_least_as_far_as_each_alone(name) -> None:
    p = posture(name)
    assert all(lever.down <= 0.0 <= lever.up for lever in p.levers)
    assert p.all_down <= min(lever.down for lever in p.levers)
    assert p.all_up >= max(lever.up for lever in p.levers)
    assert sum(lever.up for lever in p.levers) == pytest.approx(
        p.all_up, rel=0.35
    )  # limbs bear on one another little


def test_the_knees_bent_as_said_hang_flat() -> None:
    bend = posture().flat_knee
    assert bend is not None
    # the cubic through four poses, and what a pose laid out alone leaves out
    assert moment(whole("tall-man-steel", knee_flexion=degrees(bend))) == pytest.approx(0.0, abs=0.3)


def test_who_is_far_from_balance_hangs_flat_with_no_bend_of_the_knees() -> None:
    assert posture("loose-legs").flat_knee is None
    assert posture("loose-legs").held == "cannot be held"


def test_ranges_lie_within_what_joints_do() -> None:
    for lever in LEVERS:
        for end in lever.ends:
            assert all(RANGES[joint][0] < angle < RANGES[joint][1] for joint, angle in end.items())


@pytest.mark.parametrize(
    ("moment", "words"),
    [
        (0.0, "hangs by itself"), (-2.0, "hangs by itself"), (2.0, "hangs by itself"),
        (-4.9, "a small shift of the knees holds it"), (-5.1, "has to be held"),
        (3.9, "a small shift of the knees holds it"), (4.1, "has to be held"),
        (-11.9, "has to be held"), (-12.1, "cannot be held"), (7.9, "has to be held"), (8.1, "cannot be held"),
    ],
)  # fmt: skip
def test_a_moment_is_told_by_what_makes_up_for_it(moment, words) -> None:
    p = replace(posture(), unseen=2.0, knees_down=-2.0, knees_up=3.0, all_down=-6.0, all_up=10.0)
    assert held_words(moment, p) == words


def test_a_parts_file_has_no_knees(tmp_path) -> None:
    path = tmp_path / "parts.toml"
    path.write_text(case("single-wetsuit").as_parts(), encoding="utf-8")
    with pytest.raises(ScenarioError, match="parts file"):
        posture_of(Case.read(path))


@pytest.mark.parametrize("name", ["tall-man-steel", "single-wetsuit"])
def test_a_drift_grows_as_the_motion_says(name) -> None:
    """The largest eigenvalue of the motion's Jacobian, its wing frozen, at an attitude that nothing turns."""
    rig = case(name).rig
    flat = flat_answer(soft_rig(rig))
    model = model_of(rig, roll_held=True, heaves=False, wing_volume=flat.wing_gas)
    # what turns the diver flat is balanced by a weight, so that flat is a rest of the same stiffness
    model = replace(model, rigid=model.rigid + np.array([flat.pitch_moment, 0.0, 0.0]))
    slopes = jacobian(model, starting_state(model, soft_rig(rig), np.array([0.0, 0.0, 1.0])))
    fastest = float(np.linalg.eigvals(slopes).real.max())
    assert growth(turning_of(rig, flat)) == pytest.approx(fastest, rel=SLUGGISH)


def test_without_gas_that_moves_a_drift_grows_as_a_stick_on_its_end_falls() -> None:
    rate = growth(Turning(inertia=10.0, drag=50.0, held_stiffness=-40.0, gas=()))
    assert rate == pytest.approx(2.0)
    assert time_to_double(Turning(10.0, 0.0, -40.0, ((0.0, 3.0),))) == pytest.approx(log(2.0) / 2.0)


def test_slow_gas_makes_a_drift_creep_at_its_own_time() -> None:
    # far slower than the swing: (k0 - kg) tau theta' = ... so that s = (kg / k0 - 1) / tau
    rate = growth(Turning(inertia=1e-6, drag=0.0, held_stiffness=10.0, gas=((15.0, 4.0),)))
    assert rate == pytest.approx(0.5 / 4.0, rel=1e-4)


def test_a_stable_diver_has_no_time_to_double() -> None:
    assert time_to_double(Turning(10.0, 0.0, 20.0, ((15.0, 2.0),))) is None


def test_it_is_told_in_lines_that_fit_and_ends_with_the_caution() -> None:
    told = posture_answer(case())
    lines = posture_text(told).split("\n")
    assert max(map(len, lines)) <= 100
    assert "you hang by" in lines[0]
    assert lines[-1].endswith("plans no dive and no decompression.")


def test_json_tells_the_record_in_the_units_it_says() -> None:
    told = as_json(posture_answer(case()))
    assert told["format"] == "hangflat.posture/1"
    assert told["knee_deg"] == pytest.approx(95.0)
    assert radians(told["flat_knee_deg"]) == pytest.approx(posture().flat_knee)
    paths = {f.path for f in fields_of(type(posture_answer(case())))}
    assert {"held", "levers[].up_nm", "time_to_double_s"} <= paths
