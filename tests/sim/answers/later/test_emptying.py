"""The cylinders emptied: what is conserved, a closed form, and the corner where the wing runs empty."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from meshes.solid import Solid
from scenarios.demos import demo_path
from sim.answers.later.emptying import Emptying, emptying
from sim.case import Case
from sim.rig import Part, Rig, Water, rig_of

STANDARD_GRAVITY = 9.80665  # m/s^2, ISO 80000-3

BAR = 1e5
PRESSURES = (200.0, 150.0, 100.0, 60.0, 50.0, 30.0, 10.0)


@cache
def rig_at(pressure: float, *settings: str) -> Rig:
    path, lighter = demo_path("small-woman-carbon"), ("lead.1.mass=0.1 kg",)  # so that the wing runs empty
    return Case.read(path, (*lighter, *settings, f"cylinders.pressure={pressure:.9g} bar")).assembled.rig


@cache
def emptied(*settings: str) -> Emptying:
    return emptying([p * BAR for p in PRESSURES], [rig_at(p, *settings) for p in PRESSURES])


def swelling(found: Emptying) -> np.ndarray:
    """Lift [kg] that the suit's gas has gained since the first pressure."""
    rig = rig_at(200.0)
    assert rig.suit is not None
    return (rig.water.density - rig.suit.gas_density) * (found.suit_gas - found.suit_gas[0])


def test_the_wing_lets_out_what_the_breathed_gas_weighed() -> None:
    found, wing = emptied(), rig_at(200.0).wing
    assert wing is not None
    lift = rig_at(200.0).water.density - wing.gas_density
    # the suit's gas swells by some grams' lift as the CM, whose depth is held, moves off the cylinders
    np.testing.assert_allclose(found.heavy[0] - found.heavy, found.used + swelling(found), rtol=1e-9, atol=1e-9)
    full = found.net_buoyancy < 1e-9
    assert 2 < full.sum() < len(PRESSURES)
    np.testing.assert_allclose(lift * found.wing_gas[full], found.heavy[full], rtol=1e-9)


def test_below_the_pressure_where_the_wing_runs_empty_the_diver_is_light_by_what_was_breathed_since() -> None:
    found = emptied()
    at = found.wing_empty_at
    assert at is not None
    assert 10.0 < at / BAR < 100.0
    exact = emptying([at, 10.0 * BAR], [rig_at(at / BAR), rig_at(10.0)])
    # between 60 and 50 bar air's density bends away from a straight line by 0.05 %, a gram here; it goes as the
    # square of the step, which is 40 bar at most
    assert abs(exact.heavy[0]) < 16e-3
    assert exact.net_buoyancy[1] == pytest.approx(exact.used[1], abs=16e-3)


def test_what_items_do_otherwise_adds_up_to_the_change_of_the_moment() -> None:
    """While neutral the moment is the same about any point, so that the shares about the first one add up."""
    found = emptying([200.0 * BAR, 100.0 * BAR], [rig_at(200.0), rig_at(100.0)])
    assert found.net_buoyancy == pytest.approx([0.0, 0.0], abs=1e-9)
    change = sum(c.last - c.first for c in found.changes)
    assert change == pytest.approx(found.moment[1] - found.moment[0], abs=1e-6)
    assert {c.name for c in found.changes} >= {"gas in wing", "air in left cylinder", "air in right cylinder"}


def test_without_wing_a_lost_mass_is_its_lever() -> None:
    """A gas of m at x, and a body of no apparent weight: the moment about a fixed point falls by g m x."""
    water = Water(1000.0, STANDARD_GRAVITY, 2e5)

    def point(name: str, mass: float, x: float, volume: float) -> Part:
        at = np.array([x, 0.0, 0.0])
        kind = "breathing gas" if name == "gas" else "body"
        return Part(name, kind, Solid(mass, at, np.zeros((3, 3)), volume, at))  # type: ignore[arg-type]

    def rig(gas: float) -> Rig:
        return rig_of([point("body", 80.0, 0.0, 0.080), point("gas", gas, 0.4, 0.0)], water, held=np.zeros(3))

    found = emptying([200e5, 100e5, 1e5], [rig(m) for m in (4.0, 2.0, 0.0)])
    np.testing.assert_allclose(found.moment, [-STANDARD_GRAVITY * m * 0.4 for m in (4.0, 2.0, 0.0)], rtol=1e-12)
    np.testing.assert_allclose(found.used, [0.0, 2.0, 4.0])
    np.testing.assert_allclose(found.net_buoyancy, [-4.0, -2.0, 0.0], atol=1e-12)
    assert np.isnan(found.heavy).all()
    assert found.wing_empty_at is None
    assert [c.name for c in found.changes] == ["gas"]


def test_a_wing_left_alone_lets_nothing_out() -> None:
    found = emptied("wing.gas=2 l")
    assert np.ptp(found.wing_gas) < 1e-12
    np.testing.assert_allclose(np.diff(found.net_buoyancy), np.diff(found.used + swelling(found)), rtol=1e-9)
    assert found.wing_empty_at is None


def test_the_corner_lies_where_the_line_crosses_nil() -> None:
    found = emptied()
    heavy = np.array([2.0, 1.0, -1.0, -2.0])
    made = replace(found, pressure=np.array([40.0, 30.0, 20.0, 10.0]), heavy=heavy)
    assert made.wing_empty_at == pytest.approx(25.0)
    assert replace(made, heavy=heavy - 3.0).wing_empty_at == 40.0
    assert replace(made, heavy=heavy + 3.0).wing_empty_at is None


def test_pressures_have_to_fall() -> None:
    rigs = [rig_at(200.0), rig_at(10.0)]
    for pressures in ([10.0, 200.0], [200.0, 200.0], [200.0, float("nan")], [200.0]):
        with pytest.raises(ValueError, match="pressures that fall"):
            emptying(pressures, rigs)


def test_two_items_of_one_name_are_not_taken_for_each_other() -> None:
    two = ("lead.1.mass=12 kg", "lead.1.place=belt")
    found = emptying([200.0 * BAR, 100.0 * BAR], [rig_at(p, *two) for p in (200.0, 100.0)])
    assert not [c for c in found.changes if "lead" in c.name and abs(c.last - c.first) > 0.2]
