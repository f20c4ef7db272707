"""The wing: where its bag lies, what it weighs, and the gas in it."""

import numpy as np
import pytest

from meshes.gear.hose import inflator_hose
from meshes.solid import combined, moved
from sim.breathing_gas import AIR, gas_density


def wing_part(assembled):
    return next(p.solid for p in assembled.rig.parts if p.kind == "wing")


def test_a_heavier_wing_weighs_so_and_displaces_it_by_its_density(woman):
    part = wing_part(woman("wing.mass=2.2 kg", "wing.density=1100 kg/m^3"))
    assert part.mass == pytest.approx(2.2, rel=1e-12)
    assert part.volume == pytest.approx(2.2 / 1100.0, rel=1e-12)


def test_its_cells_hold_what_the_bag_can_hold_and_lie_behind_the_plate(woman):
    assembled = woman("wing.capacity=20 l")
    wing, worn = assembled.rig.wing, assembled.worn
    assert wing.law.most.sum() == pytest.approx(20e-3, rel=1e-9)
    local = (wing.cells - worn.seat.origin) @ worn.seat.rotation
    assert (local[:, 2] > worn.plate.thickness).all()
    # as many left as right
    assert np.abs(wing.law.most @ local[:, 1]) < 1e-9


def test_a_thicker_plate_holds_the_bag_further_from_the_back(woman):
    """By the difference in thickness, along the plate's normal."""
    thin, thick = (woman(f"plate.thickness={mm} mm") for mm in (2, 6))
    seat = thin.worn.seat
    moved = (thick.looks.wing.where.origin - thick.worn.seat.origin) - (thin.looks.wing.where.origin - seat.origin)
    assert moved @ seat.rotation[:, 2] == pytest.approx(4e-3, rel=1e-6)


def test_its_gas_is_neutral_or_as_stated_and_as_dense_as_air_at_depth(woman):
    """Air at the water's temperature and pressure."""
    assembled = woman("wing.gas=5 l", "wing.softness=300 Pa", "wing.gas_time=0.8 s")
    wing = assembled.rig.wing
    assert (wing.gas, wing.law.scale, wing.time_constant) == pytest.approx((5e-3, 300.0, 0.8))
    assert woman().rig.wing.gas is None
    assert wing.gas_density == pytest.approx(gas_density(AIR, assembled.rig.water.pressure, 283.15), rel=1e-12)


def test_its_mass_lies_where_bag_and_hose_do(woman):
    """By hand: the hose from 0.42 of the bag's length up and 2 cm behind it, 5 cm over the shoulder at 0.6 of its
    breadth, down to 8 cm below the notch at 0.55 of it (all assumed)."""
    assembled = woman("wing.length=64 cm", "wing.capacity=18 l")
    bag, where = assembled.looks.wing.bag, assembled.looks.wing.where
    marks = assembled.worn.body.landmarks
    x, y, z = marks["left acromion"]
    way = [
        where.rotation @ [0.42 * 0.64, 0.0, 0.02] + where.origin,
        [x + 0.05, 0.6 * y, z + 0.02],
        [marks["notch"][0] - 0.08, 0.55 * y, marks["notch"][2] - 0.02],
    ]
    whole = combined([moved(bag.solid, where.rotation, where.origin), inflator_hose(np.array(way))])
    assert wing_part(assembled).cm == pytest.approx(whole.cm, abs=1e-9)


def test_its_hose_comes_over_the_left_shoulder(woman):
    """From the bag to the chest: the empty wing's CM is to the left, and the hose ends before the chest."""
    assembled = woman()
    part, marks = wing_part(assembled), assembled.worn.body.landmarks
    assert 0.003 < part.cm[1] < 0.05
    ahead = part.mesh.vertices[part.mesh.vertices[:, 2].argmin()]
    assert ahead[1] == pytest.approx(0.55 * marks["left acromion"][1], abs=0.03)
    assert ahead[2] < marks["notch"][2]
    assert ahead[0] == pytest.approx(marks["notch"][0] - 0.08, abs=0.06)
