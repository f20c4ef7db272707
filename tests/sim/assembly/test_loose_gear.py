"""What hangs on a diver: the gas in mask and mouthpiece, and cylinders slung at the side."""

from __future__ import annotations

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.assembly.from_file import assembled_from_file
from sim.rig import Part

SEA = 1026.2  # kg/m^3, the demo's water


def parts_with(*settings: str) -> dict[str, Part]:
    rig = assembled_from_file(demo_path("single-wetsuit"), settings).rig
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
