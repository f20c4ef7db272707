"""Cylinders slung at the side: where they hang, what they weigh, and their regulators stowed."""

from __future__ import annotations

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.assembly.refilled import gas_sources, refilled
from sim.case import Case
from sim.hanging import TwoLines
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


def test_the_rings_are_where_divers_have_them() -> None:
    """Chest ring a hand's breadth over the armpit, hip ring below the waist; side-hung, under the arm and behind."""
    assembled = SINGLE.vary([STAGE]).assembled
    assert assembled.worn is not None
    heights = assembled.worn.body.person.skeleton.heights
    chest, flank = (how_of(*more) for more in ((), ("gear.0.hangs=along the flank",)))
    assert chest.upper[0] == pytest.approx(heights["axilla"] + 0.03, abs=1e-12)
    assert flank.upper[0] == pytest.approx(heights["axilla"], abs=1e-12)
    landmarks = assembled.worn.body.landmarks
    assert chest.lower[0] == pytest.approx(landmarks["waist back"][0] - 0.06, abs=1e-12)
    assert flank.lower[0] == pytest.approx(landmarks["sacrum"][0], abs=1e-12)
    assert chest.upper[2] < -0.03 < chest.lower[2]  # the chest ring is in front
    assert flank.upper[2] == pytest.approx(chest.lower[2], abs=1e-12)  # both at the middle of the flank
    assert flank.lower[2] > 0.03  # the clip at the lower back is behind


@pytest.mark.parametrize(
    ("setting", "reach"),
    [("gear.0.lower_line=20 cm", (0.13, 0.2921)), ("gear.0.upper_line=5 cm", (0.08, 0.1921))],
)
def test_lines_reach_from_ring_to_axis(setting: str, reach: tuple[float, float]) -> None:
    """The neck's cord lies 3 cm off the axis, the band half of 184.2 mm; both snaps are 10 cm unless told."""
    how = how_of(setting)
    assert (how.upper_reach, how.lower_reach) == pytest.approx(reach, abs=1e-12)


@pytest.mark.parametrize(("wide", "reach"), [("203 mm", 0.1015 - 0.02 + 0.03), ("140 mm", 0.06 + 0.03)])
def test_a_bungee_stretches_round_a_wide_cylinder(wide: str, reach: float) -> None:
    """2 cm less than its radius where that is more than 6 cm, and 3 cm to the neck's cord."""
    table = 'kind = "stage", name = "it", hangs = "along the flank", material = "steel", working_pressure = "232 bar"'
    hangs = parts_with(f'gear=[{{ {table}, water_capacity = "10 l", outer_diameter = "{wide}" }}]')["it"].hangs
    assert hangs is not None
    assert hangs.how.upper_reach == pytest.approx(reach, abs=1e-12)


@pytest.mark.parametrize("hangs", ["under the chest", "along the flank"])
def test_aluminium_ends_with_its_base_up_and_steel_with_its_base_down(hangs: str) -> None:
    """Common practice: an aluminium cylinder's base rises as it empties; a steel one's stays down to the last."""
    for name, falls in (("stage aluminium 11.1 l", False), ("stage steel 7 l", True)):
        full, empty = (
            parts_with(f'gear=[{{ catalogue = "{name}", hangs = "{hangs}", name = "it", pressure = "{bar} bar" }}]')
            for bar in (200, 10)
        )
        bases = [2.0 * p["it"].solid.cm[2] - p["valve and rigging of it"].solid.cm[2] for p in (full, empty)]
        assert bases[0] < 0.0
        assert (bases[1] < 0.0) == falls
        assert (bases[1] - bases[0] < 0.03) == falls


def test_a_rig_refilled_hangs_as_one_made_with_that_gas() -> None:
    sources = gas_sources(SINGLE.vary([STAGE]).scenario(""))
    case = SINGLE.vary([STAGE, "gear.0.pressure=200 bar"])
    emptied = refilled(case.rig, {sources[1]: sources[1].mass(30e5)})
    anew = SINGLE.vary([STAGE, "gear.0.pressure=30 bar"]).rig
    for was, now in zip(anew.parts, emptied.parts, strict=True):
        assert now.solid.cm == pytest.approx(was.solid.cm, abs=1e-5), now.name  # what a search leaves open
        assert now.solid.mass == pytest.approx(was.solid.mass, rel=1e-12)


def how_of(*settings: str) -> TwoLines:
    hangs = parts_with(STAGE, *settings)["stage 11.1 l"].hangs
    assert hangs is not None
    return hangs.how


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
