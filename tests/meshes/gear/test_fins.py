"""Fins: stated mass, symmetry, and a shape that refines to one volume."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from meshes.gear.fins import FinMaterial, _blade, _Fin, _pocket, fin
from meshes.solid import volume_integrals

# kg/m^3 and kg of one fin, both from memory
FIN_MATERIALS: dict[FinMaterial, tuple[float, float]] = {"rubber": (1250.0, 1.5), "plastic": (1040.0, 0.9)}

SEA_WATER = 1025.0


@pytest.mark.parametrize("material", FIN_MATERIALS)
def test_walls_are_fitted_to_mass_and_density(material: FinMaterial) -> None:
    density, mass = FIN_MATERIALS[material]
    got = fin(material)
    assert got.mass == pytest.approx(mass, rel=1e-12)
    assert got.mesh is not None
    # the drawn shape is the material itself: nothing is scaled afterwards
    assert volume_integrals(got.mesh).volume == pytest.approx(mass / density, rel=1e-9)
    assert got.volume == pytest.approx(mass / density, rel=1e-9)


def test_usual_fins_weigh_what_divers_find_in_the_water() -> None:
    """A pair of rubber fins sinks with 0.3 to 1.0 kg, plastic ones are near neutral (common practice)."""
    rubber, plastic = (2.0 * (f.mass - SEA_WATER * f.volume) for f in (fin("rubber"), fin("plastic")))
    assert 0.3 < rubber < 1.0
    assert abs(plastic) < 0.15


def test_shape_is_where_a_fin_is() -> None:
    got = fin("rubber", length=0.58, width=0.22)
    assert got.mesh is not None
    low, high = got.mesh.vertices.min(axis=0), got.mesh.vertices.max(axis=0)
    # strap behind the heel, blade to its length (its corners are drawn out 9 mm), sole near z = 0
    assert -0.10 < low[0] < -0.06
    assert high[0] == pytest.approx(0.585, abs=0.015)
    assert high[1] - low[1] == pytest.approx(0.22, abs=0.005)
    assert 0.15 < got.cm[0] < 0.32
    assert got.cm[1] == 0.0


def test_left_and_right_are_mirror_images() -> None:
    left, right = fin("rubber"), fin("rubber", mirror=True)
    assert right.cm == pytest.approx(left.cm * [1.0, -1.0, 1.0], abs=1e-15)
    assert right.inertia[0, 1] == -left.inertia[0, 1]
    assert right.mesh is not None
    assert volume_integrals(right.mesh).volume > 0.0


def test_a_steel_spring_takes_the_straps_place_round_the_heel() -> None:
    """What changes between the two fins is a strap of rubber taken off and a spring of 0.15 kg put on, both in the
    same place, behind the ankle: by hand the strap is a bar of 11 mm round 0.3 m of heel, 0.036 kg."""
    strapped, sprung = fin("rubber"), fin("rubber", spring=0.15)
    more = sprung.mass - strapped.mass
    assert more == pytest.approx(0.15 - 1250.0 * np.pi * 0.0055**2 * 0.30, abs=0.006)
    # steel displaces an eighth of its mass in water, rubber nearly all of it
    strap = 0.15 - more
    assert sprung.volume - strapped.volume == pytest.approx(0.15 / 8000.0 - strap / 1250.0, rel=1e-9)
    where = (sprung.mass * sprung.cm - strapped.mass * strapped.cm) / more
    assert -0.05 < where[0] < 0.03
    assert where[1] == pytest.approx(0.0, abs=1e-12)
    assert 0.04 < where[2] < 0.06
    # in the water the pair is heavier by a quarter of a kilogram
    sinks = [2.0 * (f.mass - SEA_WATER * f.volume) for f in (strapped, sprung)]
    assert sinks[1] - sinks[0] == pytest.approx(2.0 * (0.15 * (1.0 - 1025.0 / 8000.0) - strap * 0.18), rel=1e-6)


@pytest.mark.parametrize("part", [lambda s: _blade(s, 1.0), lambda s: _pocket(s, 0.0055)], ids=["blade", "pocket"])
def test_shape_converges_at_second_order(part: Callable[[_Fin], object]) -> None:
    """By differences of three refinements; rails and ribs are narrow, so the coarsest has 128 points round."""
    volumes = [
        volume_integrals(part(_Fin(0.29, 0.60, 0.215, 40 * n + 1, 128 * n))).volume  # type: ignore[arg-type]
        for n in (1, 2, 4)
    ]
    first, second = volumes[1] - volumes[0], volumes[2] - volumes[1]
    # the second-order term leads; rails still cost the coarsest step a tenth of it
    assert 3.5 < first / second < 4.5
    assert abs(second) < 5e-4 * volumes[2]


@pytest.mark.parametrize(
    "call",
    [
        lambda: fin(mass=float("nan")),
        lambda: fin(mass=20.0),
        lambda: fin(mass=0.05),
        lambda: fin(density=-1.0),
        lambda: fin(length=0.2),
        lambda: fin(spring=float("nan")),
        lambda: fin(width=float("nan")),
    ],
)
def test_refuses(call: Callable[[], object]) -> None:
    with pytest.raises(ValueError, match="fin"):
        call()
