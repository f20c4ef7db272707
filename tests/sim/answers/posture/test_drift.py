"""How divers turn who are let go: closed forms, the whole motion, and fineness."""

from __future__ import annotations

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.answers.posture import drift
from sim.answers.posture.drift import drifted, time_to_turn
from sim.answers.posture.runaway import Turning, growth, turning_of
from sim.case import Case
from sim.settling.settle import settle
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

BARE = Turning(inertia=50.0, drag=0.0, held_stiffness=0.0, gas=())


def arrays(*values: float) -> list[np.ndarray]:
    return [np.array([v]) for v in values]


def test_a_constant_moment_turns_with_the_square_of_time() -> None:
    # the step is taken at the end of each tenth of a second: half a step late in the square
    found = drifted(BARE, *arrays(0.0, 5.0, 0.1, 2.0))
    assert found[0] == pytest.approx(0.1 + 0.5 * 5.0 / 50.0 * 2.0 * (2.0 + drift.STEP))


def test_at_last_drag_holds_it_at_an_even_rate() -> None:
    turning = Turning(inertia=1.0, drag=100.0, held_stiffness=0.0, gas=())
    late, later = (drifted(turning, *arrays(0.0, 4.0, 0.0, t))[0] for t in (2.0, 3.0))
    assert later - late == pytest.approx(np.sqrt(4.0 / 100.0))


def test_a_small_lean_grows_as_runaway_says() -> None:
    turning = Turning(60.0, 0.0, -15.0, ((12.0, 2.0),))
    early, late = (drifted(turning, *arrays(0.0, 1e-6, 0.0, t))[0] for t in (7.0, 9.0))
    assert np.log(late / early) / 2.0 == pytest.approx(growth(turning), rel=0.05)  # other roots have not quite died


def test_each_is_read_at_its_own_time_whatever_the_others() -> None:
    left, time = np.array([3.0, -4.0, 6.0]), np.array([1.23, 4.0, 0.37])
    together = drifted(BARE, np.zeros(3), left, np.zeros(3), time)
    alone = [drifted(BARE, *arrays(0.0, r, 0.0, t))[0] for r, t in zip(left, time, strict=True)]
    np.testing.assert_allclose(together, alone, rtol=1e-12)


def test_a_turn_is_told_with_its_way_and_time() -> None:
    found = time_to_turn(BARE, np.zeros(3), np.array([5.0, -5.0, 0.01]), np.full(3, 0.2))
    exact = np.sqrt(2.0 * np.radians(30.0) * 50.0 / 5.0)
    np.testing.assert_allclose(found[:2], [exact, -exact], atol=0.5 * drift.STEP)
    assert np.isinf(found[2])


@pytest.mark.parametrize("name", ["small-woman-steel", "loose-legs"])
def test_thirty_degrees_are_gone_when_the_whole_motion_says_so(name) -> None:
    rig = Case.read(demo_path(name)).rig
    flat = flat_answer(soft_rig(rig))
    run = settle(rig)
    first = int(np.argmax(np.abs(run.path.pitch) >= np.radians(30.0)))
    moment = np.array([flat.pitch_moment])
    found = time_to_turn(turning_of(rig, flat), moment, moment, np.zeros(1))[0]
    assert np.sign(found) == np.sign(flat.pitch_moment)
    assert abs(found) == pytest.approx(float(run.path.time[first]), rel=0.1, abs=drift.STEP)


def test_the_moment_of_a_diver_in_balance_takes_four_seconds_for_thirty_degrees() -> None:
    # the trade's 4 s (common practice); the moment grows less with the cosine of the turn, as 1 to 0.87 at the end
    even = 2.0 * 50.0 * np.radians(30.0) / 4.0**2
    found = drift.balanced_moment(BARE)
    assert even * (4.0 / (4.0 + drift.STEP)) < found < even / np.cos(np.radians(30.0))


@pytest.mark.parametrize("name", ["small-woman-steel", "side-hung"])
def test_less_than_the_moment_of_balance_drifts_more_slowly_and_more_sooner(name) -> None:
    rig = Case.read(demo_path(name)).rig
    turning = turning_of(rig, flat_answer(soft_rig(rig)))
    moments = drift.balanced_moment(turning) * np.array([0.98, 1.02])
    slow, quick = time_to_turn(turning, moments, moments, np.zeros(2))
    assert slow > 4.0 > quick


def test_who_is_turned_back_before_thirty_degrees_bears_any_less_moment() -> None:
    stiff = Turning(inertia=1.0, drag=50.0, held_stiffness=20.0, gas=())
    # at rest where 20 N m/rad times the sine of 30 degrees bear the moment, as much of it as its cosine leaves
    assert drift.balanced_moment(stiff) == pytest.approx(20.0 * 0.5 / np.cos(np.radians(30.0)), rel=0.1)
