"""Cylinders on the plate: their bases, and the rail under a single one."""

from __future__ import annotations

import pytest

from scenarios.demos import demo_path
from scenarios.errors import ScenarioError
from sim.case import Case
from sim.rig import Part

SINGLE = "single-wetsuit"


def parts_with(*settings: str, demo: str = SINGLE) -> dict[str, Part]:
    return {p.name: p for p in Case.read(demo_path(demo), settings).assembled.rig.parts}


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


def test_a_rail_under_a_single_cylinder_lies_between_plate_and_cylinder() -> None:
    parts = parts_with("cylinders.adapter_mass=0.8 kg")
    rail, plate, cylinder = (parts[n].solid for n in ("adapter", "plate", "cylinder"))
    assert rail.mass == pytest.approx(0.8, rel=1e-12)
    assert rail.volume == pytest.approx(0.8 / 8000.0, rel=1e-12)
    assert plate.cm[2] < rail.cm[2] < cylinder.cm[2] - 0.05
    # as high as the middle between the bolts, whose bands hold the cylinder
    assert rail.cm[0] == pytest.approx(parts["bands"].solid.cm[0], abs=0.01)
    assert "adapter" not in parts_with()
    with pytest.raises(ScenarioError, match="rail under a single cylinder"):
        parts_with("cylinders.adapter_mass=0.8 kg", demo="tall-man-steel")
