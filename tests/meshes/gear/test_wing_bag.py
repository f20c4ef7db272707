"""Wing bag: capacity, symmetry, and a drawn outside that holds as much as is said."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest
import trimesh
from scipy.integrate import quad

from meshes.gear.wing_bag import WingBag, _section, wing_bag
from meshes.solid import volume_integrals

FOLDED = 0.04  # of its room: an empty bag is drawn as some 4 mm of folded cloth

BAGS: dict[str, Callable[..., WingBag]] = {
    "twin": lambda **more: wing_bag("twin", **more),
    "single": lambda **more: wing_bag("single", **more),
    "horseshoe": lambda **more: wing_bag("twin", outline="horseshoe", **more),
}


@pytest.mark.parametrize("name", BAGS)
def test_capacity_adds_up_and_mirrors_exactly(name: str) -> None:
    bag = BAGS[name](lift_volume=0.0175) if name != "single" else BAGS[name](lift_volume=0.0125)
    lift = 0.0125 if name == "single" else 0.0175
    half = len(bag.cells) // 2
    assert 24 <= len(bag.cells) <= 40
    assert bag.capacity.sum() == pytest.approx(lift, rel=1e-12)
    assert (bag.capacity > 0.0).all()
    assert (bag.capacity[:half] == bag.capacity[half:]).all()
    assert (bag.cells[:half] * [1.0, -1.0, 1.0] == bag.cells[half:]).all()
    assert (bag.cells[:half, 1] > 0.0).all()
    # behind the plate, top first
    assert (bag.cells[:, 2] > 0.0).all()
    assert bag.cells[0, 0] > 0.15
    assert bag.cells[half - 1, 0] < -0.1


@pytest.mark.parametrize("name", BAGS)
def test_drawn_bag_encloses_gas_and_folded_fabric(name: str) -> None:
    bag = BAGS[name]()
    generator = np.random.default_rng(7)
    shift = np.clip(0.5 + 1.5 * bag.cells[:, 0] + 0.2 * bag.cells[:, 1], 0.0, 1.0)
    for fill in (np.zeros(32), np.full(32, 0.3), np.ones(32), shift, generator.uniform(0.0, 1.0, 32)):
        mesh = bag.bag_mesh(fill)
        assert trimesh.Trimesh(mesh.vertices, mesh.faces, process=False).is_volume
        want = float(bag.capacity @ (FOLDED + (1.0 - FOLDED) * fill))
        # a 32-sided ellipse lacks 0.6 %; fills are drawn as straight lines between cells, which rounds off jumps
        rough = float(np.abs(np.diff(fill)).max())
        assert volume_integrals(mesh).volume == pytest.approx(want, rel=0.012 + 0.06 * rough)


@pytest.mark.parametrize("name", ["twin", "single"])
def test_drawn_volume_converges_at_second_order(name: str) -> None:
    errors = []
    for n in (1, 2, 4):
        bag = BAGS[name](nodes_a_cell=8 * n, sides=16 * n)
        errors.append(float(bag.capacity.sum()) - volume_integrals(bag.bag_mesh(np.ones(32))).volume)
    # 64-sided sections lack 0.16 %
    assert 0.0 < errors[2] < 2e-3 * 0.020
    for coarse, fine in pairwise(errors):
        assert 3.6 < coarse / fine < 4.4


def test_gas_on_the_left_shows_on_the_left() -> None:
    bag = BAGS["twin"]()
    half = len(bag.cells) // 2
    left, right = (np.repeat([a, b], half) for a, b in ((0.9, 0.1), (0.1, 0.9)))
    one, other = volume_integrals(bag.bag_mesh(left)), volume_integrals(bag.bag_mesh(right))
    assert one.centroid[1] > 0.05
    # vertices mirror exactly; the triangles' diagonals all run one way round, which skews the jump between the halves
    assert other.centroid == pytest.approx(one.centroid * [1.0, -1.0, 1.0], abs=1e-4)
    flat = wing_bag("twin", curl=0.0)
    top = flat.bag_mesh(np.where(flat.cells[:, 0] > 0.1, 1.0, 0.05))
    thick = {sign: np.ptp(top.vertices[sign * top.vertices[:, 0] > 0.15][:, 2]) for sign in (1.0, -1.0)}
    assert thick[1.0] > 3.0 * thick[-1.0]


@pytest.mark.parametrize("fill", [0.01, 0.04, 0.3, 0.7, 0.99, 1.0])
def test_section_keeps_the_fabric_and_the_area(fill: float) -> None:
    """Perimeter by quadrature, area by pi a b."""
    flat, thick = (float(v[0]) for v in _section(np.array([fill]), np.array([0.2])))
    round_it = quad(
        lambda t: np.hypot(flat * np.sin(t), thick * np.cos(t)), 0.0, 0.5 * np.pi, limit=200, epsabs=1e-11
    )[0]
    # the inverse is a table of 801 points: 1e-4 where it bends most
    assert 4.0 * round_it == pytest.approx(2.0 * 0.2, rel=1e-8)
    assert np.pi * flat * thick == pytest.approx(fill * 0.2**2 / np.pi, rel=2e-3)


def test_curl_lifts_the_sides_and_keeps_every_volume() -> None:
    flat, curled = wing_bag("twin", curl=0.0), wing_bag("twin", curl=0.1)
    fill = np.full(len(flat.capacity), 0.6)
    assert curled.capacity == pytest.approx(flat.capacity)
    volumes = [volume_integrals(b.bag_mesh(fill)).volume for b in (flat, curled)]
    assert volumes[1] == pytest.approx(volumes[0], rel=2e-3)  # a shear, but for the chords between sections
    lift = curled.cells[:, 2] - flat.cells[:, 2]
    assert lift.max() == pytest.approx(0.1, rel=0.05)
    assert lift[np.abs(flat.cells[:, 1]).argmin()] < 0.005


def test_empty_bag_is_thin_and_weighs_what_is_said() -> None:
    bag = wing_bag("twin", mass=1.5)
    assert bag.solid.mass == 1.5
    assert bag.solid.mesh is not None
    lying = wing_bag("twin", curl=0.0).solid.mesh
    assert lying is not None
    assert np.ptp(lying.vertices[:, 2]) < 0.006
    # fabric is near neutral: within a quarter of its mass in sea water
    assert abs(1.5 - 1025.0 * bag.solid.volume) < 0.25 * 1.5
    assert bag.solid.cm[1] == 0.0


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: wing_bag("twin", lift_volume=0.2), "holds up to"),
        (lambda: wing_bag("twin", lift_volume=float("nan")), "lift volume"),
        (lambda: wing_bag("twin", mass=-1.0), "mass > 0"),
        (lambda: wing_bag("triple"), "twin"),  # type: ignore[arg-type]
        (lambda: wing_bag("twin").bag_mesh(np.full(32, 1.5)), "between 0 and 1"),
        (lambda: wing_bag("twin").bag_mesh(np.full(32, np.nan)), "between 0 and 1"),
        (lambda: wing_bag("twin").bag_mesh(np.zeros(31)), "32 fractions"),
    ],
)
def test_refuses(call: Callable[[], object], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        call()
