"""Cylinders on the plate: their bases, and the rail under a single one."""

from __future__ import annotations

from typing import Any

import CoolProp.CoolProp
import pytest

from scenarios.breathing import FreeGas
from scenarios.demos import demo_path
from scenarios.errors import ScenarioError
from sim.assembly.back_cylinders import water_capacity_of
from sim.case import Case
from sim.rig import Part
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.telling.language import spoken, told

SINGLE = "single-wetsuit"
CASES = {name: Case.read(demo_path(name)) for name in (SINGLE, "tall-man-steel")}


def parts_with(*settings: str, demo: str = SINGLE) -> dict[str, Part]:
    return {p.name: p for p in CASES[demo].vary(settings).rig.parts}


BARE = (
    "suit=none", "harness=none", "cylinders.regulators.first_stages=0", "cylinders.regulators.second_stages=0",
    "cylinders.regulators.hoses=[]", "cylinders.regulators.gauge_mass=0 kg",
)  # fmt: skip
ABOVE_THE_DIAMETER = 0.0125  # m between the axes of a twin set: 10 to 15 mm, from memory
CUSHION = 0.020  # m of folded wing between plate and cylinders (assumed)


@pytest.mark.parametrize(("gas", "told_as"), [("air", "Luft"), ("oxygen", "Sauerstoff"), ("nitrox 32", "nitrox 32")])
def test_gas_is_named_in_the_readers_language(gas: str, told_as: str) -> None:
    made = next(name for name in parts_with(f"cylinders.gas={gas}") if name.endswith(" in cylinder"))
    assert made == f"{gas} in cylinder"
    with spoken("de"):
        assert told(made) == f"{told_as}, Flasche"


def test_cylinders_5_cm_lower_on_the_plate_turn_the_diver_by_their_weight_in_water(dressed: Any) -> None:
    """Of what is strapped on, apparent weight x g x 0.05 m, along the plate, which is tilted; head-up is plus.

    The whole is neutral by the wing, so that the moment is the same about any point, and no gas moves.
    """
    there, lower = (dressed("small-woman-steel", *BARE, f"cylinders.shift={cm} cm") for cm in (0, -5))
    assert lower.worn.shift == pytest.approx(-0.05)
    strapped = [p.solid for p in there.rig.parts if p.told_by == "cylinders"]
    weight = sum(s.mass - there.rig.water.density * s.volume for s in strapped) * 9.80665
    before, after = (flat_answer(soft_rig(x.rig)).pitch_moment for x in (there, lower))
    assert after - before == pytest.approx(weight * 0.05 * there.worn.seat.rotation[0, 0], rel=1e-9)


@pytest.mark.parametrize(("demo", "count"), [("small-woman-steel", 2), (SINGLE, 1)])
def test_where_cylinders_lie_on_the_plate(dressed: Any, demo: str, count: int) -> None:
    """The upper bolt holds the upper band, 5 cm below the shoulder (common practice). Twins lie on the flats."""
    worn = dressed(demo, "cylinders.shift=0 cm").worn
    seat, plate, made = worn.seat, worn.plate, worn.cylinders.made
    at = [(w.origin - seat.origin) @ seat.rotation for w in worn.cylinders.each]
    assert len(at) == count
    for where in at:
        assert where[0] + made.shoulder_x - 0.05 == pytest.approx(plate.upper_bolt[0], abs=1e-9)
        under = 0.0 if count == 2 else plate.channel_depth
        assert where[2] == pytest.approx(0.5 * made.outer_diameter + CUSHION + under + plate.thickness, abs=1e-9)
    apart = made.outer_diameter + ABOVE_THE_DIAMETER if count == 2 else 0.0
    assert at[0][1] - at[-1][1] == pytest.approx(apart, abs=1e-9)


def test_a_stated_spacing_is_the_distance_of_the_axes(dressed: Any) -> None:
    left, right = dressed("small-woman-steel", "cylinders.spacing=215 mm").worn.cylinders.each
    assert left.origin[1] - right.origin[1] == pytest.approx(0.215, abs=1e-9)


def test_more_gas_weighs_more_and_displaces_nothing(dressed: Any) -> None:
    """Ideal gas: mass goes with absolute pressure, within the 3 % or so that air is off at 100 bar."""
    half, full = (
        {p.name: p.solid for p in dressed(SINGLE, f"cylinders.pressure={bar} bar").rig.parts}["air in cylinder"]
        for bar in (50, 100)
    )
    assert full.mass / half.mass == pytest.approx(101.01325 / 51.01325, rel=0.03)
    assert full.volume == half.volume == 0.0
    assert full.cm == pytest.approx(half.cm, abs=1e-12)


def test_colder_gas_of_the_same_pressure_weighs_more(dressed: Any) -> None:
    """As 1/T, and where nothing is said the gas is as cold as the water."""

    def gas(*settings: str) -> float:
        return float(next(p.solid.mass for p in dressed(SINGLE, *settings).rig.parts if p.kind == "breathing gas"))

    warm, cold = (gas(f"cylinders.temperature={c} °C") for c in (25, 5))
    assert cold / warm == pytest.approx(298.15 / 278.15, rel=0.03)  # real gas: 1.5 % more at 200 bar
    assert gas("water.temperature=12 °C") == gas("cylinders.temperature=12 °C", "water.temperature=20 °C")


def test_free_gas_of_a_size_known_by_both() -> None:
    """80 cubic feet at 3000 psi is 11.1 l of water: the trade's, from memory; both are rounded (77.4 in fact)."""
    litres = 1e3 * water_capacity_of(
        None, FreeGas.model_validate({"volume": "77.4 cu ft", "pressure": "3000 psi"}), 207e5
    )
    assert litres == pytest.approx(11.1, abs=0.1)
    # by CoolProp: moles of free air at 1 atm and 70 F over the density at 3000 psi gauge
    density = [
        CoolProp.CoolProp.PropsSI("D", "T", 294.26, "P", p, "Air") for p in (101325.0, 101325.0 + 3000 * 6894.757)
    ]
    assert litres == pytest.approx(77.4 * 28.316846592 * density[0] / density[1], rel=2e-3)
    with pytest.raises(ValueError, match="a water capacity or a free-gas capacity"):
        water_capacity_of(None, None, 207e5)


def test_a_singles_straps_and_boot_where_nothing_is_stated(dressed: Any) -> None:
    """0.5 kg of straps (from memory, 0.4 to 0.6); a boot weighs what it is told to and hangs at the foot."""
    parts = {p.name: p.solid for p in dressed(SINGLE, "cylinders.boot_mass=0.3 kg").rig.parts}
    assert parts["bands"].mass == pytest.approx(0.5, rel=1e-12)
    assert parts["cylinder boots"].mass == pytest.approx(0.3, rel=1e-12)
    assert parts["cylinder boots"].cm[0] < parts["cylinder"].cm[0] - 0.2
    assert "cylinder boots" not in {p.name for p in dressed(SINGLE).rig.parts}
    assert "bands" not in {p.name for p in dressed(SINGLE, "cylinders.bands_mass=0 kg").rig.parts}


def test_a_twin_sets_boots_and_manifold_weigh_what_was_told(dressed: Any) -> None:
    told = ("cylinders.boot_mass=0.3 kg", "cylinders.manifold_mass=2 kg", "cylinders.bands_mass=1.1 kg")
    parts = {p.name: p.solid for p in dressed("small-woman-steel", *told).rig.parts}
    found = [parts[n].mass for n in ("cylinder boots", "manifold with valves", "bands")]
    assert found == pytest.approx([0.6, 2.0, 1.1], rel=1e-12)


def test_a_singles_knob_is_at_the_right_hand(dressed: Any) -> None:
    """Common practice; of a twin set the isolator is between two valves."""
    one = dressed(SINGLE).worn.cylinders
    assert one.valves[0].knob[1] < 0.0
    assert one.isolator is None
    two = dressed("small-woman-steel").worn.cylinders
    assert two.isolator[1] == pytest.approx(0.0, abs=0.03)


@pytest.mark.parametrize("metal", ["steel", "aluminium"])
def test_usual_base_goes_with_the_metal(metal: str) -> None:
    """A steel cylinder's base is domed outward, an aluminium one's flat, unless another is told."""
    sizes = 'water_capacity = "10 l", working_pressure = "200 bar", outer_diameter = "171 mm", pressure = "200 bar"'
    told = [
        parts_with(f'cylinders={{ material = "{metal}", {sizes}{base} }}')["cylinder"].solid
        for base in ("", ', base = "convex"', ', base = "concave"', ', base = "flat"')
    ]
    usual = 1 if metal == "steel" else 3
    assert told[0].mass == told[usual].mass
    assert len({round(s.mass, 6) for s in told[1:]}) == 3


def test_valves_stay_where_they_are_whatever_the_base() -> None:
    """Bands sit below the shoulder: a shorter cylinder ends higher, its valve does not move."""
    convex, concave = (parts_with(f"cylinders.base={b}") for b in ("convex", "concave"))
    assert concave["valve"].solid.cm == pytest.approx(convex["valve"].solid.cm, abs=1e-9)
    ends = [float(p["cylinder"].solid.mesh.vertices[:, 0].min()) for p in (convex, concave)]  # type: ignore[union-attr]
    assert ends[1] > ends[0] + 0.01


def test_a_rail_under_a_single_cylinder_lies_between_plate_and_cylinder(dressed: Any) -> None:
    """Flat on the channel's back; its own middle, by its three strips of 3 mm: floor, and wings 18 mm high."""
    parts = parts_with("cylinders.adapter_mass=0.8 kg")
    rail, plate, cylinder = (parts[n].solid for n in ("adapter", "plate", "cylinder"))
    assert rail.mass == pytest.approx(0.8, rel=1e-12)
    assert rail.volume == pytest.approx(0.8 / 8000.0, rel=1e-12)
    assert plate.cm[2] < rail.cm[2] < cylinder.cm[2] - 0.05
    # as high as the middle between the bolts, whose bands hold the cylinder
    assert rail.cm[0] == pytest.approx(parts["bands"].solid.cm[0], abs=0.01)
    assert "adapter" not in parts_with()
    worn = dressed(SINGLE).worn
    local = (rail.cm - worn.seat.origin) @ worn.seat.rotation
    middle = (75.0 * 1.5 + 2.0 * 18.0 * 9.0) / (75.0 + 2.0 * 18.0) / 1e3
    assert local[2] == pytest.approx(worn.plate.channel_depth + worn.plate.thickness + middle, abs=1e-3)
    with pytest.raises(ScenarioError, match="rail under a single cylinder"):
        parts_with("cylinders.adapter_mass=0.8 kg", demo="tall-man-steel")
