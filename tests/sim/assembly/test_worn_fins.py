"""Fins: a pair that weighs what it says, on the soles, and steel springs in place of the rubber straps."""

from __future__ import annotations

import numpy as np
import pytest

from meshes.gear.fins import fin
from scenarios.demos import demo_path
from sim.case import Case
from sim.rig import Part

SINGLE = Case.read(demo_path("single-wetsuit"))


def parts_with(*settings: str) -> dict[str, Part]:
    return {p.name: p for p in SINGLE.vary(settings).rig.parts}


def test_a_pair_weighs_what_it_says_and_displaces_it_by_its_density() -> None:
    both = parts_with("fins.pair_mass=2.4 kg", "fins.density=1200 kg/m^3")
    each = parts_with('fins={ catalogue = "plastic", each_mass = "1.2 kg", density = "1200 kg/m^3" }')
    for side in ("left fin", "right fin"):
        assert both[side].solid.mass == pytest.approx(1.2, rel=1e-9)
        assert both[side].solid.volume == pytest.approx(1.2 / 1200.0, rel=1e-9)
        assert each[side].solid.mass == both[side].solid.mass
    left, right = both["left fin"].solid, both["right fin"].solid
    assert right.cm == pytest.approx(left.cm * [1.0, -1.0, 1.0], abs=1e-9)


def standing(*settings: str) -> tuple[np.ndarray, float]:
    """Points (n, 3) of the left fin with the foot as on the standing body [m], and where that body's floor is [m]."""
    worn = SINGLE.vary(["pose.name=upright", *settings])
    mesh = next(p.solid.mesh for p in worn.rig.parts if p.name == "left fin")
    assert mesh is not None
    assert worn.wearer is not None
    foot, person = worn.wearer.body.placements["left foot"], worn.wearer.body.person
    return (mesh.vertices - foot.at) @ foot.rotation + foot.pivot, person.skeleton.heights["floor"]


def test_a_longer_fin_reaches_further_ahead() -> None:
    """10 cm more of blade, which droops by 10 degrees (common practice) from the sole."""
    short, long = (standing(f"fins.length={cm} cm")[0][:, 2].min() for cm in (60, 70))
    assert short - long == pytest.approx(0.10 * np.cos(np.radians(10.0)), rel=0.02)


def test_a_fin_lies_under_the_boots_sole() -> None:
    """8 mm of boot sole (assumed) between the foot and the fin, whose own sole is half a centimetre of rubber."""
    points, floor = standing("fins=rubber")
    heel = points[points[:, 2] > points[:, 2].max() - 0.20]
    assert heel[:, 0].min() == pytest.approx(floor - 0.008 - 0.006, abs=0.004)


def test_a_fins_pocket_is_made_for_a_boot_25_mm_longer_than_the_foot() -> None:
    """Moments of inertia tell one shape from another, however it is turned (25 mm assumed)."""
    worn = parts_with(
        "diver.measures.foot_length=26 cm", "fins.pair_mass=2 kg", "fins.density=1100 kg/m^3", "fins.length=60 cm"
    )["left fin"].solid
    made = fin(mass=1.0, density=1100.0, length=0.60, width=0.23, foot_length=0.285)
    other = fin(mass=1.0, density=1100.0, length=0.60, width=0.23, foot_length=0.287)
    alike, unlike = (np.linalg.eigvalsh(s.inertia) for s in (made, other))
    assert np.linalg.eigvalsh(worn.inertia) == pytest.approx(alike, rel=1e-9)
    assert unlike != pytest.approx(alike, rel=1e-4)


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
