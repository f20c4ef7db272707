"""Regulators on the cylinders: what each hose and stage adds, and where the stages hang."""

from __future__ import annotations

import numpy as np
import pytest

from meshes.gear.regulator import second_stage
from scenarios.demos import demo_path
from sim.case import Case
from sim.rig import Part

SINGLE = Case.read(demo_path("single-wetsuit"))


def parts_with(*settings: str) -> dict[str, Part]:
    return {p.name: p for p in SINGLE.vary(settings).rig.parts}


def test_half_a_metre_more_of_hose_weighs_135_g_and_displaces_its_cylinder() -> None:
    """270 g/m and 12 mm across as told, on any way that it is drawn."""
    told = ("cylinders.regulators.hose_mass=270 g/m", "cylinders.regulators.hose_diameter=12 mm")
    short, long = (
        parts_with(*told, f"cylinders.regulators.hoses=['0.75 m', '{m} m']")["hoses"].solid for m in (0.7, 1.2)
    )
    assert long.mass - short.mass == pytest.approx(0.135, rel=1e-9)
    assert short.mass == pytest.approx(0.27 * 1.45, rel=1e-9)
    assert long.volume - short.volume == pytest.approx(0.5 * np.pi / 4.0 * 0.012**2, rel=1e-9)


def test_only_a_long_hose_runs_under_the_arm_by_the_hip() -> None:
    """From 1.4 m on (common practice)."""
    low = {}
    for metres in (1.39, 1.4):
        assembled = SINGLE.vary([f"cylinders.regulators.hoses=['{metres} m']"]).assembled
        assert assembled.worn is not None
        mesh = next(p.solid.mesh for p in assembled.rig.parts if p.name == "hoses")
        assert mesh is not None
        hip = assembled.worn.body.landmarks["right iliac crest"]
        low[metres] = float(mesh.vertices[:, 0].min() - hip[0])
    assert low[1.39] > 0.2
    assert -0.05 < low[1.4] < 0.05


def test_first_stages_on_the_same_posts_weigh_as_many() -> None:
    one, two, three = (
        parts_with(f"cylinders.regulators.first_stages={n}", "cylinders.regulators.first_stage_mass=0.8 kg")[
            "first stages"
        ].solid
        for n in (1, 2, 3)
    )
    assert [s.mass for s in (one, two, three)] == pytest.approx([0.8, 1.6, 2.4], rel=1e-12)
    assert three.volume == pytest.approx(1.5 * two.volume, rel=1e-12)
    assert three.cm == pytest.approx(two.cm, abs=1e-12)
    assert "first stages" not in parts_with("cylinders.regulators.first_stages=0")


def test_a_twin_sets_first_stages_are_told_one_by_one_the_right_one_first() -> None:
    worn = Case.read(demo_path("tall-man-steel")).worn
    assert worn is not None
    right, left = worn.first_stages
    assert (right.name, left.name) == ("right first stage", "left first stage")
    assert right.solid.cm[1] < -0.05 < 0.05 < left.solid.cm[1]
    # each sits on its valve's outlet
    cylinders = worn.cylinders
    assert cylinders is not None
    for stage, where, valve in zip((left, right), cylinders.outlets, cylinders.valves, strict=True):
        outlet = where.rotation @ valve.outlet + where.origin
        assert np.linalg.norm(stage.solid.cm - outlet) < 0.06
        assert (stage.solid.cm - outlet) @ where.rotation @ valve.outward > 0.01


def test_the_gauge_hangs_at_the_left_hip() -> None:
    """Hung by its end 2 cm below and 3 cm beside the crest of the hip bone, 15 cm long at the most."""
    assembled = SINGLE.vary(["cylinders.regulators.gauge_mass=0.3 kg"]).assembled
    assert assembled.worn is not None
    gauge = next(p.solid for p in assembled.rig.parts if p.name == "pressure gauge")
    crest = assembled.worn.body.landmarks["left iliac crest"]
    assert gauge.mass == pytest.approx(0.3, rel=1e-12)
    assert gauge.cm[1] - crest[1] == pytest.approx(0.03, abs=0.015)
    assert -0.15 < gauge.cm[0] - crest[0] < -0.02
    assert "pressure gauge" not in parts_with("cylinders.regulators.gauge_mass=0 kg")


def second_stages(number: int) -> tuple[Part, np.ndarray, np.ndarray]:
    """The second stages, and the mouth and the notch of the diver."""
    assembled = SINGLE.vary([f"cylinders.regulators.second_stages={number}"]).assembled
    assert assembled.worn is not None
    marks = assembled.worn.body.landmarks
    return next(p for p in assembled.rig.parts if p.name == "second stages"), marks["mouth"], marks["notch"]


def test_the_first_of_the_second_stages_is_in_the_mouth_and_the_spare_one_under_the_chin() -> None:
    """The spare one's frame is 5 cm before the notch, 2 cm up; both are alike but for the gas held."""
    one, mouth, notch = second_stages(1)
    both, _, _ = second_stages(2)
    spare = 2.0 * both.solid.cm - one.solid.cm
    assert np.linalg.norm(one.solid.cm - mouth) < 0.06
    # turned as little as the mouthpiece is from upright, a stage's middle is as far from its frame as that one's
    out = np.linalg.norm(one.solid.cm - mouth)
    assert np.linalg.norm(spare - (notch + [0.02, 0.0, -0.05])) == pytest.approx(out, rel=1e-6)


def test_the_second_stage_in_the_mouth_holds_50_ml_of_gas_and_the_spare_one_none() -> None:
    """By their material alone, 1500 kg/m^3, two of 0.22 kg displace 0.293 l; a mouthful of gas (from memory, 30 to
    80 ml) comes to it."""
    both, one = (second_stages(n)[0].solid for n in (2, 1))
    assert both.volume - one.volume == pytest.approx(0.22 / 1500.0, rel=1e-9)
    assert one.volume - 0.22 / 1500.0 == pytest.approx(50e-6, rel=1e-9)


def test_a_second_stage_is_turned_and_not_stretched() -> None:
    """Its middle is as far from the mouth as in its own frame, and it is as long."""
    assembled = SINGLE.vary(["cylinders.regulators.second_stages=1"]).assembled
    assert assembled.worn is not None
    part = next(p.solid for p in assembled.rig.parts if p.name == "second stages")
    made = second_stage(0.22, held_gas=50e-6).solid
    assert np.linalg.norm(part.cm - assembled.worn.body.landmarks["mouth"]) == pytest.approx(
        np.linalg.norm(made.cm), rel=1e-9
    )
    assert np.linalg.eigvalsh(part.inertia) == pytest.approx(np.linalg.eigvalsh(made.inertia), rel=1e-6)
    assert part.mesh is not None
    assert part.mesh.vertices.mean(axis=0)[2] < assembled.worn.body.landmarks["mouth"][2]  # out of it is to the front


@pytest.mark.parametrize("long", [False, True])
def test_hoses_run_by_the_marks_of_the_body(long: bool) -> None:
    """Within a hand's breadth (8 cm) of each place on the way; where suit and gauge are hung on, hoses end."""
    first = 2.1 if long else 0.75
    hoses = f"['{first} m', '1 m', '0.8 m', '0.7 m', '0.7 m']"
    assembled = SINGLE.vary([f"cylinders.regulators.hoses={hoses}"]).assembled
    assert assembled.worn is not None
    marks = assembled.worn.body.landmarks
    left, hip, chest = marks["left acromion"], marks["right iliac crest"], marks["sternum"] + [0.0, 0.0, -0.04]
    mesh = next(p.solid.mesh for p in assembled.rig.parts if p.name == "hoses")
    assert mesh is not None
    under = [hip, chest, left * [1.0, 0.5, 1.0], marks["c7"]] if long else []
    for place in (*under, marks["right acromion"] * [1.0, 0.5, 1.0], left, marks["left iliac crest"], marks["mouth"]):
        assert np.linalg.norm(mesh.vertices - place, axis=1).min() < 0.08
    for end in (chest, marks["left iliac crest"] + [-0.02, 0.03, 0.0]):
        assert np.linalg.norm(mesh.vertices - end, axis=1).min() < 1e-9


def test_a_wetsuits_last_hose_goes_to_the_wing_and_all_are_weighed() -> None:
    """Four hoses, as catalogue regulators for one cylinder have: none at the chest, one at the left shoulder."""
    assembled = SINGLE.assembled
    assert assembled.worn is not None
    marks = assembled.worn.body.landmarks
    four, five = (
        parts_with(f"cylinders.regulators.hoses={n}", "cylinders.regulators.hose_mass=270 g/m")["hoses"].solid
        for n in (["0.75 m", "1 m", "0.8 m", "0.7 m"], ["0.75 m", "1 m", "0.8 m", "0.7 m", "0.6 m"])
    )
    assert four.mesh is not None
    assert five.mesh is not None
    chest = marks["sternum"] + [0.0, 0.0, -0.04]
    assert np.linalg.norm(four.mesh.vertices - chest, axis=1).min() > 0.1
    assert np.linalg.norm(five.mesh.vertices - chest, axis=1).min() < 1e-9
    assert np.linalg.norm(four.mesh.vertices - marks["left acromion"], axis=1).min() < 0.1
    assert [four.mass, five.mass] == pytest.approx([0.27 * 3.25, 0.27 * 3.85], rel=1e-9)
