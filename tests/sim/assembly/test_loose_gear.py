"""What hangs on a diver: the gas in mask and mouthpiece, and cylinders slung at the side."""

from __future__ import annotations

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.case import Case
from sim.rig import Part

SEA = 1026.2  # kg/m^3, the demo's water


def parts_with(*settings: str) -> dict[str, Part]:
    rig = Case.read(demo_path("single-wetsuit"), settings).assembled.rig
    return {p.name: p for p in rig.parts}


def test_air_in_the_mask_floats_it() -> None:
    """0.12 to 0.2 l of air beside silicone and glass: a mask lifts the face by some 0.1 kg."""
    mask = parts_with()["mask"]
    air = mask.solid.volume - mask.solid.mass / 1400.0
    assert 0.12e-3 < air < 0.2e-3
    assert 0.05 < SEA * mask.solid.volume - mask.solid.mass < 0.15
    # the diver keeps it filled at any depth
    assert parts_with("water.depth=40 m")["mask"].solid.volume == mask.solid.volume


def test_gas_held_by_an_item_displaces_water_besides_its_density() -> None:
    bare = parts_with("gear.1.held_gas=0 l")["computer"]
    held = parts_with("gear.1.held_gas=0.3 l")["computer"]
    assert held.solid.volume - bare.solid.volume == pytest.approx(0.3e-3, rel=1e-12)
    assert held.solid.mass == bare.solid.mass
    # what was dunked and measured counts its gas already
    dunked = parts_with("gear.1.held_gas=0.3 l", "gear.1.volume=0.4 l")["computer"]
    assert dunked.solid.volume == pytest.approx(0.4e-3, rel=1e-12)


def test_the_second_stage_in_the_mouth_holds_gas_and_the_spare_one_none() -> None:
    """By their material alone, 1500 kg/m^3, two of 0.22 kg displace 0.293 l; a mouthful of gas comes to it."""
    both = parts_with()["second stages"].solid
    alone = ("cylinders.regulators.catalogue=single", "cylinders.regulators.second_stages=1")
    one = parts_with(*alone)["second stages"].solid
    assert both.volume - one.volume == pytest.approx(0.22 / 1500.0, rel=1e-9)
    assert 30e-6 < one.volume - 0.22 / 1500.0 < 80e-6


def test_steel_springs_hang_behind_the_ankles() -> None:
    """0.15 kg a foot in place of some 0.04 kg of rubber: what it changes lies round the heels."""
    rubber, steel = parts_with(), parts_with("fins.straps=steel springs")
    boots = rubber["boots"].solid
    for side in ("left fin", "right fin"):
        before, after = rubber[side].solid, steel[side].solid
        more = after.mass - before.mass
        assert 0.10 < more < 0.13
        heel = (after.mass * after.cm - before.mass * before.cm) / more
        # within a foot's length of the boots' middle, in front of which (footward) the fin's blade lies
        assert np.linalg.norm(heel[[0, 2]] - boots.cm[[0, 2]]) < 0.15
        assert np.linalg.norm(heel - before.cm) > 0.15
    weighed = parts_with("fins.straps=steel springs", "fins.springs_mass=0.5 kg")
    assert weighed["left fin"].solid.mass - steel["left fin"].solid.mass == pytest.approx(0.1, rel=1e-9)


STAGE = 'gear=[{ catalogue = "stage aluminium 11.1 l" }]'


def slung(pressure: float) -> list[Part]:
    named = parts_with(STAGE, f"gear.0.pressure={pressure} bar")
    return [p for name, p in named.items() if "stage 11.1 l" in name]


def test_a_slung_aluminium_cylinder_goes_light_and_its_tail_floats() -> None:
    """Common practice: full it hangs down, nearly empty it is light and its tail rises about the clip at the neck."""
    full, empty = slung(207.0), slung(10.0)
    heavy = [sum(p.solid.mass - SEA * p.solid.volume for p in parts) for parts in (full, empty)]
    assert heavy[0] > 1.0
    assert heavy[1] < -0.2
    metal = full[0].solid
    valve = next(p.solid for p in full if p.name.startswith("valve"))
    along = (valve.cm - metal.cm) / np.linalg.norm(valve.cm - metal.cm)
    clip = valve.cm @ along
    turns = [
        sum(
            p.solid.mass * (clip - p.solid.cm @ along) - SEA * p.solid.volume * (clip - p.solid.cb @ along)
            for p in ps
        )
        for ps in (full, empty)
    ]
    assert turns[0] > 0.2  # kg m, the tail hangs
    assert turns[1] < -0.2  # the tail floats


def test_a_slung_regulator_displaces_what_its_parts_do() -> None:
    """By hand, 1.39 kg: brass 0.7/8400, plastic 0.22/1500, gauge 0.2/2500, a metre of 11.5 mm hose 0.104 l."""
    with_it = next(p.solid for p in slung(200.0) if p.name.startswith("valve"))
    bare = parts_with(STAGE, "gear.0.regulator_mass=0 kg")["valve and rigging of stage 11.1 l"].solid
    assert with_it.mass - bare.mass == pytest.approx(1.4, rel=1e-9)
    hand = 0.7 / 8400.0 + 0.22 / 1500.0 + 0.2 / 2500.0 + np.pi / 4.0 * 0.0115**2
    assert with_it.volume - bare.volume == pytest.approx(hand * 1.4 / 1.39, rel=1e-6)


def test_a_knife_on_the_leg_is_on_the_shank() -> None:
    """Between knee and ankle of the leg it is strapped to, whichever way that is bent."""
    knife = 'gear=[{ catalogue = "knife on the leg" }]'
    for pose in ("flat, knees bent", "upright"):
        assembled = Case.read(demo_path("single-wetsuit"), (knife, f"pose.name={pose}")).assembled
        assert assembled.worn is not None
        joints = assembled.worn.body.joints
        knee, ankle = joints["right knee"], joints["right ankle"]
        where = next(p.solid.cm for p in assembled.rig.parts if p.name == "knife")
        along = (where - knee) @ (ankle - knee) / ((ankle - knee) @ (ankle - knee))
        assert 0.2 < along < 0.8
        off = np.linalg.norm(where - knee - along * (ankle - knee))
        assert 0.04 < off < 0.12  # beside a calf
