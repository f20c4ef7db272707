"""Lead: so many kilograms more where it is said to be, and where that is by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from scenarios.demos import demo_path
from scenarios.loose_gear import Lead
from sim.assembly.worn_lead import Bearers, worn_lead
from sim.case import Case
from sim.rig import Part
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer

SINGLE, WOMAN = (Case.read(demo_path(n)) for n in ("single-wetsuit", "small-woman-steel"))
BOLTS = 0.279  # m between the bolts of the bands: 11 inches, common practice


def lead(case: Case, *settings: str) -> Part:
    (found,) = (p for p in case.vary(settings).rig.parts if p.kind == "lead")
    return found


def at(place: str, kg: float = 2.0) -> tuple[str, str]:
    return f"lead.0.place={place}", f"lead.0.mass={kg} kg"


@pytest.mark.parametrize("place", ["belt", "plate channel", "tail", "between cylinders", "upper band", "ankles"])
def test_so_many_kilograms_more_are_so_many_more_in_that_place(place: str) -> None:
    """Lead of 11340 kg/m^3 wherever it is; an alloy displaces more."""
    less, more = (WOMAN.vary(at(place, kg)).rig for kg in (1.0, 2.5))
    assert more.whole.mass - less.whole.mass == pytest.approx(1.5, rel=1e-9)
    assert more.whole.volume - less.whole.volume == pytest.approx(1.5 / 11340.0, rel=1e-7)
    alloy = lead(WOMAN, *at(place, 2.0), "lead.0.density=11000 kg/m^3")
    assert alloy.solid.volume == pytest.approx(2.0 / 11000.0, rel=1e-12)


def test_a_belt_is_at_the_waist_over_the_suit() -> None:
    """Level with the waist, midway between navel and back and between left and right; as far out as both."""
    part, wearer = lead(SINGLE, *at("belt", 5.0)), SINGLE.wearer
    assert wearer is not None
    marks = wearer.body.landmarks
    assert part.solid.cm[0] == pytest.approx(marks["waist back"][0], abs=1e-3)
    assert part.solid.cm[1] == pytest.approx(0.0, abs=1e-9)
    assert part.solid.mesh is not None
    reach = np.abs(part.solid.mesh.vertices[:, 1]).max()
    half = 0.5 * wearer.body.person.measures["waistbreadth"] + 0.005
    assert half < reach < half + 0.05


def test_over_a_thicker_suit_a_belt_is_wider_both_ways() -> None:
    """By twice the 2 mm more at most; blocks that lie aside of an axis go out by a part of that."""
    size = [
        np.ptp(mesh.vertices, axis=0)
        for mesh in (lead(SINGLE, *at("belt", 5.0), f"suit.thickness={mm} mm").solid.mesh for mm in (5, 7))
        if mesh is not None
    ]
    grown = size[1] - size[0]
    assert 0.002 < grown[1] < 0.004
    assert 0.0005 < grown[2] < 0.004


@pytest.mark.parametrize(("kg", "blocks"), [(2.0, 2), (4.0, 2), (4.1, 4), (8.0, 4), (8.1, 6)])
def test_a_belts_blocks_are_2_kg_at_most_and_in_pairs(kg: float, blocks: int) -> None:
    import trimesh

    mesh = lead(SINGLE, *at("belt", kg)).solid.mesh
    assert mesh is not None
    pieces = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False).split()
    assert len(pieces) == blocks
    assert [11340.0 * p.volume for p in pieces] == pytest.approx([kg / blocks] * blocks, rel=0.01)


def test_2_kg_on_the_belt_turn_the_diver_by_their_weight_and_arm() -> None:
    """The wing makes up for it: as much lift, m g (1 - rho/11340), where its gas is."""
    bare = ("suit=none", "wing.gas=neutral")
    without, with_it = (SINGLE.vary([*bare, *at("belt", kg)]).rig for kg in (2.0, 4.0))
    before, after = (flat_answer(soft_rig(r)) for r in (without, with_it))
    gas = [a.field.wing.volume[0] @ with_it.wing.cells[:, 0] for a in (before, after)]
    weight = 2.0 * 9.80665 * (1.0 - with_it.water.density / 11340.0)
    belt = lead(SINGLE, *at("belt", 2.0)).solid.cm[0]
    # gas that was there already spreads within the bag: its first moment is taken as it is
    buoyancy = (with_it.water.density - with_it.wing.gas_density) * 9.80665 * (gas[1] - gas[0])
    assert after.pitch_moment - before.pitch_moment == pytest.approx(buoyancy - weight * belt, abs=2e-3)


def test_ankle_weights_are_6_cm_above_the_ankle_joint() -> None:
    """Standing, round the shank's axis (assumed place); half the mass on each side."""
    upright = SINGLE.vary(["pose.name=upright"])
    part, wearer = lead(upright, *at("ankles")), upright.wearer
    assert wearer is not None
    ankle = wearer.body.person.skeleton.joints["ankle"]
    shank = wearer.body.placements["left shank"]
    place = shank.carried(np.array([ankle[0] + 0.06, ankle[1], ankle[2]]))
    assert part.solid.cm[[0, 2]] == pytest.approx(place[[0, 2]], abs=0.01)
    assert part.solid.cm[1] == pytest.approx(0.0, abs=1e-9)


def test_a_tail_weight_is_at_the_plates_lower_end_and_goes_where_the_plate_goes() -> None:
    high, low = (WOMAN.vary([*at("tail"), f"harness.drop={cm} cm"]).assembled for cm in (0, 4))
    there = []
    for made in (high, low):
        worn = made.worn
        assert worn is not None
        cm = next(p.solid.cm for p in made.rig.parts if p.kind == "lead")
        there.append((cm - worn.seat.origin) @ worn.seat.rotation)
        assert there[-1] == pytest.approx(worn.plate.bottom + [0.03, 0.0, 0.02], abs=1e-9)
    assert there[0] == pytest.approx(there[1], abs=1e-12)


def test_lead_in_the_channel_lies_in_it_and_a_flat_plate_says_that_it_has_none() -> None:
    made = WOMAN.vary(at("plate channel")).assembled
    assert made.worn is not None
    cm = next(p.solid.cm for p in made.rig.parts if p.kind == "lead")
    local = (cm - made.worn.seat.origin) @ made.worn.seat.rotation
    # its back lies 2 mm before the channel's floor (assumed), it is a few centimetres thick, and its middle is there
    assert made.worn.plate.channel_depth - 0.06 < local[2] < made.worn.plate.channel_depth - 0.002
    assert not any("holds no lead" in note for note in made.notes)
    for depth, told in ((9.9e-3, True), (10.1e-3, False)):  # a strip of lead and the webbing over it (assumed)
        flat = replace(made.worn.plate, channel_depth=depth)
        bearers = Bearers(made.worn.body, flat, made.worn.seat, None, (0.0, 0.0, 0.3, 0.2))
        _, note = worn_lead(Lead(mass="2 kg", place="plate channel"), bearers)  # type: ignore[arg-type]
        assert (note is not None) is told


def test_lead_beside_twin_cylinders_is_at_the_bands() -> None:
    """The upper band is 5 cm below the shoulder, lead by it 6 cm lower; else midway between the bands."""
    worn = WOMAN.worn
    assert worn is not None
    assert worn.cylinders is not None
    made, each = worn.cylinders.made, worn.cylinders.each
    middle = 0.5 * (each[0].origin + each[1].origin)
    upper = made.shoulder_x - 0.05
    for place, along in (("upper band", upper - 0.06), ("between cylinders", upper - 0.5 * BOLTS)):
        cm = lead(WOMAN, *at(place)).solid.cm
        assert (cm - middle) @ each[0].rotation[:, 0] == pytest.approx(along, abs=1e-9)
        assert (cm - middle) @ each[0].rotation[:, 1] == pytest.approx(0.0, abs=1e-9)


def test_lead_beside_a_single_cylinder_lies_on_its_band() -> None:
    """Behind it: a radius and 2 cm (assumed) from the axis."""
    worn = SINGLE.worn
    assert worn is not None
    assert worn.cylinders is not None
    made, (where,) = worn.cylinders.made, worn.cylinders.each
    local = (lead(SINGLE, *at("upper band")).solid.cm - where.origin) @ where.rotation
    assert local == pytest.approx([made.shoulder_x - 0.11, 0.0, 0.5 * made.outer_diameter + 0.02], abs=1e-9)


def test_without_cylinders_it_goes_on_the_plate_and_says_so() -> None:
    made = SINGLE.vary(["cylinders=none", *at("upper band")]).assembled
    assert any(note.startswith('Lead "upper band" needs cylinders, and none are worn') for note in made.notes)
    assert made.worn is not None
    cm = next(p.solid.cm for p in made.rig.parts if p.kind == "lead")
    local = (cm - made.worn.seat.origin) @ made.worn.seat.rotation
    plate = made.worn.plate
    assert local == pytest.approx([0.0, 0.0, plate.channel_depth + plate.thickness + 0.01], abs=1e-9)
