"""Cylinders slung at the side: where they hang, what they weigh, and their regulators stowed."""

from __future__ import annotations

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.case import Case
from sim.rig import Part

SEA = 1026.2  # kg/m^3, the demo's water
SINGLE = Case.read(demo_path("single-wetsuit"))


def parts_with(*settings: str) -> dict[str, Part]:
    return {p.name: p for p in SINGLE.vary(settings).rig.parts}


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


def test_left_and_right_are_mirror_images() -> None:
    sides = [parts_with(STAGE, f"gear.0.side={side}")["stage 11.1 l"].solid for side in ("left", "right")]
    assert sides[0].cm[1] > 0.15
    assert sides[1].cm == pytest.approx(sides[0].cm * [1.0, -1.0, 1.0], abs=1e-9)


def test_it_hangs_clear_of_the_shoulder_by_its_radius_and_4_cm() -> None:
    """A cylinder 2 cm thicker hangs 1 cm further out, along a line that leans 0.6 forward for each 1 aside."""
    wide = [parts_with(STAGE, f"gear.0.outer_diameter={mm} mm") for mm in (180, 200)]
    outward = np.array([0.0, 1.0, -0.6]) / np.hypot(1.0, 0.6)
    assembled = SINGLE.vary([STAGE]).assembled
    assert assembled.worn is not None
    body, clothing = assembled.worn.body, assembled.worn.clothing
    half = 0.5 * body.person.measures["hipbreadth"] + clothing
    shoulder = np.array([body.person.skeleton.heights["axilla"], 0.9 * half, body.landmarks["sternum"][2] - clothing])
    for parts, radius in zip(wide, (0.09, 0.10), strict=True):
        solid, valve = parts["stage 11.1 l"].solid, parts["valve and rigging of stage 11.1 l"].solid
        assert solid.mesh is not None
        assert valve.mass > 0.0
        axis = np.linalg.svd(solid.mesh.vertices - solid.mesh.vertices.mean(axis=0), full_matrices=False)[2][0]
        # the ring at the shoulder is beside the cylinder's axis by radius and gap, a hand's breadth below its neck
        off = shoulder - solid.cm
        assert np.linalg.norm(off - (off @ axis) * axis) == pytest.approx(
            np.linalg.norm((radius + 0.04) * (outward - (outward @ axis) * axis)), rel=0.02
        )


def test_put_by_hand_its_middle_is_where_it_was_put() -> None:
    """Halfway from base to neck; metal and gas lie a few centimetres from there along the axis."""
    put = parts_with('gear=[{ catalogue = "stage aluminium 11.1 l", at = [0.2, 0.3, -0.1] }]')
    mesh = put["stage 11.1 l"].solid.mesh
    assert mesh is not None
    middle = 0.5 * (mesh.vertices.min(axis=0) + mesh.vertices.max(axis=0))
    assert middle == pytest.approx([0.2, 0.3, -0.1], abs=0.03)


def test_what_was_weighed_and_filled_weighs_so() -> None:
    parts = parts_with(
        'gear=[{ catalogue = "stage steel 7 l", mass = "9 kg", valve_mass = "0.7 kg", rigging_mass = "0.5 kg",'
        ' regulator_mass = "1 kg" }]'
    )
    assert parts["stage 7 l"].solid.mass == pytest.approx(9.0, rel=1e-12)
    assert parts["valve and rigging of stage 7 l"].solid.mass == pytest.approx(2.2, rel=1e-9)
    gas = [parts_with('gear=[{ catalogue = "stage steel 7 l" }]', f"gear.0.pressure={p} bar") for p in (50, 100)]
    ratio = gas[1]["air in stage 7 l"].solid.mass / gas[0]["air in stage 7 l"].solid.mass
    assert ratio == pytest.approx(101.01325 / 51.01325, rel=0.03)
