"""The arm's reach against closed forms and against joint angles drawn at random."""

from dataclasses import replace

import numpy as np
import pytest

from sim.answers.fit.arm_chain import FOREARM, UPPER_ARM, Capsule, _placed, clear, nearest, upper_arms
from sim.answers.fit.arm_reach import REACHED, limited_by, posture, reach_margin, reached, shortfalls
from sim.answers.fit.reach import left_arm
from sim.person.person import person_of

TEN_DEGREES = np.radians(10.0)


@pytest.fixture(scope="module")
def arm():
    person = person_of("female", 1.66, 58.0, age=34.0)
    return left_arm(person, TEN_DEGREES, elbow_off=0.5 * TEN_DEGREES, clothing=0.01, hood=0.005)


@pytest.fixture(scope="module")
def behind(arm):
    """Points (5, 3) behind shoulder and head, from easy to reach to out of reach."""
    up = np.array([0.18, 0.12, 0.06, 0.0, -0.08])
    return arm.shoulder + np.stack([up, np.full(5, -0.02), np.full(5, 0.19)], axis=1)


def grips_of(arm, shares):
    """Grip points (n, 3) by forward kinematics written out anew, and whether head and ranges let the arm be so.

    shares : (n, 9) from 0 to 1, where each joint stands within its range
    """
    s, r = np.clip(shares, 0.0, 1.0).T, arm.ranges
    plane = np.radians(-40.0 + 130.0 * s[0])
    elevation = 0.5 * np.pi + s[1] * (r.flexion - 0.5 * np.pi)
    u = _placed(arm, elevation, plane, 0.0)
    effort = s[2][:, None] * (_placed(arm, elevation, plane, 1.0).elbow - u.elbow)
    elbow, flexion = u.elbow + effort, s[3] * r.elbow
    turn = -r.inward + s[4] * (r.inward + r.outward[1])
    side = np.cos(turn)[:, None] * u.bend + np.sin(turn)[:, None] * u.turn
    fore = np.cos(flexion)[:, None] * u.along + np.sin(flexion)[:, None] * side
    other = np.cross(fore, side)
    other /= np.maximum(np.linalg.norm(other, axis=1), 1e-9)[:, None]
    third = np.cross(other, fore)
    way = np.cos(2.0 * np.pi * s[6])[:, None] * other + np.sin(2.0 * np.pi * s[6])[:, None] * third
    bend, hold = s[5] * r.wrist, arm.grip[0] + s[7] * (arm.grip[1] - arm.grip[0])
    hand = np.cos(bend)[:, None] * fore + np.sin(bend)[:, None] * way
    grip = elbow + arm.fore * fore + hold[:, None] * hand
    return grip, clear(arm, u.shoulder + effort, elbow, UPPER_ARM) & clear(arm, elbow, grip, FOREARM)


def best_drawn(arm, target, seed):
    """The nearest that joint angles drawn at random, ever closer to the best so far, come to a target [m]."""
    rng = np.random.default_rng(seed)
    shares = rng.uniform(0.0, 1.0, (40_000, 9))
    best, width = np.inf, 0.3
    for _ in range(25):
        grip, free = grips_of(arm, shares)
        off = np.where(free, np.linalg.norm(grip - target, axis=1), np.inf)
        if off.min() < best:
            best, at = float(off.min()), np.clip(shares[off.argmin()], 0.0, 1.0)
        shares = np.clip(at + width * rng.normal(size=(4000, 9)), 0.0, 1.0)
        width *= 0.8
    return best


def test_whatever_joint_angles_reach_is_within_reach(arm):
    """Positions of the upper arm are tried 6 degrees apart: the elbow is at most 2 cm from one of them, and the hand
    makes up for most of that."""
    grips, free = grips_of(arm, np.random.default_rng(1).uniform(0.0, 1.0, (2000, 9)))
    assert free.sum() > 500
    tried = upper_arms(arm)
    short = np.concatenate([nearest(arm, tried, g).short.min(axis=1) for g in np.array_split(grips[free], 40)])
    assert np.median(short) < REACHED
    assert np.quantile(short, 0.99) < 0.005
    assert (short < 0.012).all()


@pytest.mark.parametrize("k", range(5))
def test_shortfall_is_what_joint_angles_drawn_at_random_come_to(arm, behind, k):
    told, drawn = float(shortfalls(arm, behind[k : k + 1])[0]), best_drawn(arm, behind[k], 2)
    assert drawn == pytest.approx(told, abs=6e-3)


def test_straight_up_the_reach_is_the_sum_of_the_links(arm):
    straight = replace(arm, rise=0.0, shrug=0.0, ranges=replace(arm.ranges, flexion=np.pi))
    far = arm.upper + arm.fore + arm.grip[1]
    above = arm.shoulder + np.array([[far + 0.05, 0.0, 0.0], [far + 0.3, 0.0, 0.0], [far - 0.01, 0.0, 0.0]])
    assert shortfalls(straight, above) == pytest.approx([0.05, 0.3, 0.0], abs=1e-3)


def test_shortfall_grows_no_faster_than_the_target_moves_away(arm, behind):
    lower = behind[3] - np.linspace(0.0, 0.1, 11)[:, None] * [1.0, 0.0, 0.0]
    short = shortfalls(arm, lower)
    assert (np.diff(short) > -1e-4).all()
    assert (np.diff(short) < 0.01 + 1e-3).all()
    assert short[-1] > short[0] + 0.05


def test_margin_is_how_much_lower_it_could_lie(arm, behind):
    margin = reach_margin(arm, behind[0])
    assert margin > 0.05
    for lower in (0.01, 0.04):
        assert reach_margin(arm, behind[0] - [lower, 0.0, 0.0]) == pytest.approx(margin - lower, abs=1.5e-3)
    tried = upper_arms(arm)
    assert reached(arm, behind[:1] - [margin - 2e-3, 0.0, 0.0], tried)[0]
    assert not reached(arm, behind[:1] - [margin + 2e-3, 0.0, 0.0], tried)[0]


def test_finer_trials_change_the_margin_by_under_3_mm(arm, behind):
    fine = upper_arms(arm, 3)
    for target in behind:
        assert reach_margin(arm, target, fine) == pytest.approx(reach_margin(arm, target), abs=3e-3)


@pytest.mark.parametrize("k", [0, 3, 4])
def test_posture_keeps_links_and_ranges(arm, behind, k):
    p, r = posture(arm, behind[k]), arm.ranges
    assert np.linalg.norm(p.elbow - p.shoulder) == pytest.approx(arm.upper)
    assert np.linalg.norm(p.wrist - p.elbow) == pytest.approx(arm.fore)
    assert arm.grip[0] - 2e-3 < np.linalg.norm(p.grip - p.wrist) < arm.grip[1] + 2e-3
    assert p.elevation <= r.flexion + 1e-9
    # the forearm's direction is found on a net 1 to 2 degrees wide
    assert p.elbow_flexion <= r.elbow + 0.03
    assert p.wrist_bend <= r.wrist + 0.03
    assert -r.inward - 0.03 <= p.outward_turn <= r.outward[1] + 0.03
    if k == 0:
        assert p.grip == pytest.approx(behind[0], abs=REACHED)


def test_freer_joints_and_longer_arms_never_reach_less(arm, behind):
    r = arm.ranges
    freer = [
        replace(arm, ranges=replace(r, flexion=r.flexion + TEN_DEGREES)),
        replace(arm, ranges=replace(r, elbow=r.elbow + TEN_DEGREES)),
        replace(arm, ranges=replace(r, outward=(r.outward[0] + TEN_DEGREES, r.outward[1] + TEN_DEGREES))),
        replace(arm, ranges=replace(r, wrist=r.wrist + TEN_DEGREES)),
        replace(arm, grip=(arm.grip[0], arm.grip[1] + 0.03)),
    ]
    for target in behind[2:]:
        margin = reach_margin(arm, target)
        for more in freer:
            assert reach_margin(more, target) > margin - 3e-3
        assert reach_margin(freer[0], target) > margin + 0.005


def test_a_longer_arm_reaches_further(arm):
    far = arm.shoulder + [0.75, 0.0, 0.0]
    margins = [reach_margin(replace(arm, upper=k * arm.upper, fore=k * arm.fore), far) for k in (0.9, 1.0, 1.1)]
    assert margins[0] < margins[1] < margins[2]
    assert limited_by(arm, far, margins[1]) in ("length of the arm", "shoulder flexion")


def test_a_barred_arm_has_no_way_and_one_that_cannot_be_raised_stays_short(arm):
    walled = replace(arm, bars=(replace(arm.bars[0], radius=2.0),))
    assert reach_margin(walled, arm.shoulder + [0.3, 0.0, 0.15]) == -np.inf
    lame = replace(arm, ranges=replace(arm.ranges, flexion=0.0, extension=0.0))
    assert -1.0 < reach_margin(lame, arm.shoulder + [0.3, 0.0, 0.15]) < -0.2


def test_something_thin_across_the_upper_arm_bars_it_at_three_places(arm):
    """At 0.3 and 0.65 of its length and at the elbow (assumed); between these it is not seen."""
    bare = replace(arm, bars=(), thickness=1e-4)
    every = upper_arms(bare)
    number = len(every.elbow) // 2
    shoulder, elbow = every.shoulder[number], every.elbow[number]
    for share, barred in ((0.3, True), (0.65, True), (1.0, True), (0.5, False), (0.8125, False)):
        at = shoulder + share * (elbow - shoulder)
        thin = replace(bare, bars=(Capsule(at, at + [0.0, 0.0, 1e-5], 1e-4),))
        left = upper_arms(thin)
        assert bool((np.abs(left.elbow - elbow).max(axis=1) < 1e-9).any()) is not barred, share
