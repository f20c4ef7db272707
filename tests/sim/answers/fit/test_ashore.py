"""The carry ashore of the demo divers."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import pairwise

import numpy as np
import pytest

from meshes.solid import point_mass
from scenarios.demos import demo_path
from sim.answers.fit.ashore import Ashore, ashore, load_of
from sim.answers.fit.on_back import Place
from sim.answers.fit.upper_body import above_hips, above_lumbar_joint, head_arm, lumbar_joint, neck_base
from sim.assembly.assembled import Assembled, Worn
from sim.case import Case
from sim.person.person import person_of
from sim.person.pose import POSES
from sim.person.posed_body import posed_body
from sim.rig import Part

STRAP_AT = 0.10  # m from the midline


@cache
def diver(drop_cm: float = 0.0) -> tuple[Assembled, Worn]:
    found = Case.read(demo_path("small-woman-steel"), [f'harness.drop="{drop_cm} cm"']).assembled
    assert found.worn is not None
    return found, found.worn


def carried(parts: tuple[Part, ...] | None = None, place: Place = "on the waist", drop_cm: float = 0.0) -> Ashore:
    found, worn = diver(drop_cm)
    return ashore(worn, found.rig.parts if parts is None else parts, place, STRAP_AT)


def test_everything_is_carried_once() -> None:
    found, worn = diver()
    load = load_of(worn, found.rig.parts)
    gear = found.rig.whole.mass - worn.body.whole().mass
    sorted_out = load.rig.mass + load.belt + load.clothes + load.head + load.legs + load.hands
    assert sorted_out == pytest.approx(gear, rel=1e-12)
    assert load.rig.mass > 25.0  # twin cylinders and steel plate of the demo


def test_belt_lead_is_borne_by_the_hips_and_ankle_lead_by_the_legs() -> None:
    found, worn = diver()
    heights = worn.body.person.skeleton.heights
    belt = Part("lead, belt", "lead", point_mass(4.0, [heights["navel"], 0.0, 0.0]))
    ankles = Part("lead, ankles", "lead", point_mass(1.0, [heights["ankle"] + 0.05, 0.0, 0.0]))
    plain, more = load_of(worn, found.rig.parts), load_of(worn, (*found.rig.parts, belt, ankles))
    assert more.belt - plain.belt == pytest.approx(4.0)
    assert more.legs - plain.legs == pytest.approx(1.0)
    assert more.rig.mass == pytest.approx(plain.rig.mass)


def test_without_a_load_the_diver_stands_as_the_bare_body() -> None:
    """A rig of a milligram leans nobody and presses on nothing."""
    nothing = carried((Part("feather", "plate", point_mass(1e-6, [0.3, 0.0, 0.15])),))
    assert nothing.lean == pytest.approx((0.0, 0.0), abs=1e-6)
    assert nothing.back_moment == pytest.approx((nothing.bare_back_moment,) * 2, abs=1e-4)
    assert nothing.compression == pytest.approx(nothing.bare_compression, rel=1e-5)
    assert nothing.neck_moment[0] == pytest.approx(nothing.bare_neck_moment, abs=1e-4)


def test_shoulders_and_hips_share_the_weight_along_the_trunk() -> None:
    a = carried()
    weight = a.load.rig.mass * 9.80665  # ISO 80000-3
    low, high = a.hips_share
    assert a.shoulder_force[1] == pytest.approx((1.0 - low) * weight * np.cos(a.lean[0]), rel=1e-9)
    assert a.shoulder_force[0] == pytest.approx((1.0 - high) * weight * np.cos(a.lean[1]), rel=1e-9)


def test_more_to_carry_leans_and_presses_more() -> None:
    found, worn = diver()
    rig = load_of(worn, found.rig.parts).rig
    loads = [carried((Part("rig", "plate", replace(rig, mass=m)),)) for m in (5.0, 15.0, 25.0, 35.0, 45.0)]
    for less, more in pairwise(loads):
        assert more.load_share > less.load_share
        assert more.behind > less.behind
        for name in ("lean", "shoulder_force", "strap_pull", "girdle_moment", "neck_moment"):
            for a, b in zip(getattr(less, name), getattr(more, name), strict=True):
                assert b > a, name
        assert more.compression[1] > less.compression[1]


def test_the_lower_the_rig_the_more_the_diver_must_lean() -> None:
    drops = [carried(drop_cm=d) for d in (0.0, 3.0, 6.0, 9.0)]
    for higher, lower in pairwise(drops):
        assert lower.lean[1] > higher.lean[1]
        assert lower.cm[0] < higher.cm[0]
        assert lower.neck_moment[1] > higher.neck_moment[1]


def test_a_strap_off_the_hip_bones_leaves_the_shoulders_more() -> None:
    on, off = carried(), carried(place="on the hips")
    assert off.shoulder_force[0] > on.shoulder_force[0]
    assert off.shoulder_force[1] > on.shoulder_force[1]
    assert off.girdle_moment[1] > on.girdle_moment[1]
    assert off.lean == on.lean


def test_strap_crossing_further_out_is_harder_on_the_shoulder() -> None:
    found, worn = diver()
    near, far = (ashore(worn, found.rig.parts, "on the waist", at) for at in (0.08, 0.14))
    assert far.girdle_moment[1] / near.girdle_moment[1] == pytest.approx((0.14 - 0.025) / (0.08 - 0.025))


def test_fins_are_in_the_hands_and_lean_nobody() -> None:
    found, _ = diver()
    without = tuple(p for p in found.rig.parts if p.kind != "fins")
    assert carried(without).lean == pytest.approx(carried().lean, rel=1e-12)
    assert carried(without).load.hands == 0.0
    assert carried().load.hands > 0.0


def test_nothing_on_the_harness_is_told() -> None:
    found, worn = diver()
    with pytest.raises(ValueError, match="nothing hangs on the harness"):
        load_of(worn, [p for p in found.rig.parts if p.kind == "body"])


def test_the_pose_in_the_water_does_not_matter_ashore() -> None:
    found, worn = diver()
    upright = replace(worn, body=posed_body(worn.body.person, POSES["upright"]))
    assert ashore(upright, found.rig.parts, "on the waist", STRAP_AT).lean == pytest.approx(carried().lean, rel=1e-9)


@pytest.mark.parametrize(("sex", "height", "mass"), [("male", 1.756, 85.5), ("female", 1.628, 67.8)])
def test_joints_of_the_spine_lie_inside_the_body(sex: str, height: float, mass: float) -> None:
    body = posed_body(person_of(sex, height, mass), POSES["upright"])  # type: ignore[arg-type]
    for joint in (lumbar_joint(body), neck_base(body)):
        back = float(body.back_surface(joint[0], 0.0))
        assert 0.03 < back - joint[1] < 0.12  # spinous processes and flesh behind a joint of the spine
    assert lumbar_joint(body)[0] < body.landmarks["navel"][0]
    assert body.landmarks["notch"][0] < neck_base(body)[0] < body.landmarks["c7"][0] + 0.02
    whole, above = above_hips(body), above_lumbar_joint(body)
    assert above[0] < whole.mass
    assert above[1][0] > whole.cm[0]


def test_mass_above_the_lumbar_joint_is_whole_when_cut_at_the_hips(monkeypatch: pytest.MonkeyPatch) -> None:
    """Cut below all of the trunk the formula gives head, arms and trunk exactly."""
    body = posed_body(person_of("male", 1.756, 85.5), POSES["upright"])
    monkeypatch.setattr("sim.answers.fit.upper_body.lumbar_joint", lambda _: np.array([-1.0, 0.0]))
    mass, cm = above_lumbar_joint(body)
    whole = above_hips(body)
    assert mass == pytest.approx(whole.mass, rel=1e-9)
    assert cm == pytest.approx(whole.cm[[0, 2]], abs=1e-9)


def test_head_held_level_moves_ahead_as_the_trunk_leans() -> None:
    """Small lean: by the height of the neck's pivot above C7/T1 times the lean; the head itself does not tip."""
    body = posed_body(person_of("female", 1.66, 62.0), POSES["upright"])
    head = dict(body.segments)["head"].cm[[0, 2]]
    lean = 1e-4
    rise = body.joints["neck"][0] - neck_base(body)[0]
    assert head_arm(body, head, lean) - head_arm(body, head, 0.0) == pytest.approx(rise * lean, rel=1e-3)


def test_what_others_carry_is_told_as_its_sources_have_it() -> None:
    """Hikers a fifth to a quarter of themselves, soldiers who fight 30 to 33 %, on the march 45 %; 3400 N, NIOSH."""
    a = carried()
    assert [(s.least, s.greatest) for s in a.load_shares] == [(0.20, 0.25), (0.30, 0.33), (0.45, 0.45)]
    assert a.lifting_compression_limit == 3400.0
