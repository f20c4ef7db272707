"""What every piece of gear must be: a sound mesh, the stated mass, an inertia that a real body can have."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import trimesh

from meshes.gear.bands import cam_bands, cylinder_boot, single_adapter, twin_bands
from meshes.gear.boots import boot, glove
from meshes.gear.fins import fin
from meshes.gear.headgear import hood, mask
from meshes.gear.hose import cord, hose, inflator_hose
from meshes.gear.lead import (
    ankle_weight,
    channel_weight,
    gap_weight,
    lead_block,
    shot_pouch,
    tail_weight,
    weight_belt,
)
from meshes.gear.light import backup_light, battery_canister, light_head, line_cutter
from meshes.gear.regulator import first_stage, pressure_gauge, second_stage
from meshes.gear.valve import isolation_manifold, valve
from meshes.gear.webbing import belt_buckle, d_ring, stage_rigging, webbing
from meshes.gear.wing_bag import wing_bag
from meshes.solid import Solid

BENT = [[0.0, 0.0, 0.0], [0.2, 0.1, 0.0], [0.4, 0.0, 0.1], [0.5, -0.2, 0.1]]

STATED: dict[str, tuple[Callable[[float], Solid], float]] = {
    "valve": (lambda m: valve(m).solid, 0.55),
    "manifold": (lambda m: isolation_manifold(0.185, m).solid, 2.3),
    "twin bands": (lambda m: twin_bands(0.171, 0.185, mass=m), 1.1),
    "cam bands": (lambda m: cam_bands(0.171, mass=m), 0.5),
    "adapter": (single_adapter, 0.7),
    "cylinder boot": (lambda m: cylinder_boot(0.171, mass=m), 0.25),
    "first stage": (lambda m: first_stage(m).solid, 0.8),
    "second stage": (lambda m: second_stage(m).solid, 0.2),
    "gauge": (pressure_gauge, 0.3),
    "inflator": (lambda m: inflator_hose(BENT, m), 0.4),
    "wing": (lambda m: wing_bag("single", mass=m).solid, 1.3),
    "fin": (lambda m: fin("rubber", mass=m), 1.6),
    "mask": (mask, 0.3),
    "boot": (lambda m: boot(m, 1150.0), 0.6),
    "glove": (glove, 0.08),
    "lead block": (lead_block, 1.5),
    "belt": (lambda m: weight_belt([0.25 * m] * 4, breadth=0.36, depth=0.26, belt=False), 8.0),
    "channel weight": (channel_weight, 3.0),
    "gap weight": (lambda m: gap_weight(m, outer_diameter=0.171, spacing=0.185), 4.0),
    "tail weight": (tail_weight, 2.0),
    "shot pouch": (shot_pouch, 2.0),
    "ankle weight": (ankle_weight, 0.5),
    "canister": (battery_canister, 1.2),
    "light head": (light_head, 0.4),
    "backup light": (backup_light, 0.2),
    "cutter": (line_cutter, 0.2),
    "buckle": (belt_buckle, 0.15),
    "stage rigging": (lambda m: stage_rigging(0.184, neck_x=0.66, band_x=0.2, mass=m), 0.5),
}
NATURAL: dict[str, Callable[[], Solid]] = {
    "hood": hood,
    "fin with spring": lambda: fin("rubber", spring=0.15),
    "hose": lambda: hose(BENT),
    "cord": lambda: cord(BENT),
    "webbing": lambda: webbing(BENT, side=[0.0, 0.0, 1.0]),
    "d-ring": d_ring,
    "twin bands by size": lambda: twin_bands(0.203, 0.215),
}
ALL = {name: (lambda make=make, mass=mass: make(mass)) for name, (make, mass) in STATED.items()} | NATURAL


@pytest.mark.parametrize("name", ALL)
def test_mesh_is_closed_and_inertia_is_possible(name: str) -> None:
    got = ALL[name]()
    assert got.mesh is not None
    body = trimesh.Trimesh(got.mesh.vertices, got.mesh.faces, process=False)
    assert body.is_volume
    assert (body.area_faces > 0.0).all()
    assert got.mass > 0.0
    assert got.volume > 0.0
    inside = (got.mesh.vertices.min(axis=0) <= got.cm) & (got.cm <= got.mesh.vertices.max(axis=0))
    assert inside.all()
    assert got.inertia == pytest.approx(got.inertia.T, abs=1e-12)
    least, middle, most = np.linalg.eigvalsh(got.inertia)
    assert least > 0.0
    # no real body has a principal moment over the sum of the other two
    assert most < (least + middle) * (1.0 + 1e-9)


@pytest.mark.parametrize("name", STATED)
def test_stated_mass_holds_and_a_bad_one_is_refused(name: str) -> None:
    make, mass = STATED[name]
    assert make(mass).mass == pytest.approx(mass, rel=1e-9)
    for bad in (float("nan"), 0.0, -1.0):
        with pytest.raises(ValueError, match=r"mass|weighs something|> 0"):
            make(bad)


@pytest.mark.parametrize(
    "make",
    [
        lambda mirror: valve(mirror=mirror).solid,
        lambda mirror: first_stage(mirror=mirror).solid,
        lambda mirror: second_stage(mirror=mirror).solid,
        lambda mirror: boot(0.5, 1150.0, mirror=mirror),
        lambda mirror: glove(mirror=mirror),
        lambda mirror: ankle_weight(0.5, mirror=mirror),
    ],
    ids=["valve", "first stage", "second stage", "boot", "glove", "ankle weight"],
)
def test_right_is_left_in_the_mirror(make: Callable[[bool], Solid]) -> None:
    left, right = make(False), make(True)
    flip = np.diag([1.0, -1.0, 1.0])
    assert abs(left.cm[1]) > 1e-4  # otherwise the test could not fail
    assert right.cm == pytest.approx(flip @ left.cm, abs=1e-15)
    assert right.inertia == pytest.approx(flip @ left.inertia @ flip, abs=1e-15)
    assert right.mesh is not None
    assert trimesh.Trimesh(right.mesh.vertices, right.mesh.faces, process=False).is_volume


@pytest.mark.parametrize(
    ("solid", "low", "high"),
    [
        (twin_bands(0.171, 0.185), 0.8, 1.3),
        (twin_bands(0.203, 0.215), 0.8, 1.5),
    ],
)
def test_bands_weigh_what_bands_weigh(solid: Solid, low: float, high: float) -> None:
    """0.8-1.3 kg a pair for the usual size (from memory), the larger ones by their length more."""
    assert low < solid.mass < high
    assert solid.volume == pytest.approx(solid.mass / 8000.0, rel=1e-12)


def test_manifold_mirrors_itself_and_names_its_points() -> None:
    got = isolation_manifold(0.185)
    assert got.solid.cm[1] == pytest.approx(0.0, abs=1e-12)
    assert got.left.outlet[1] == pytest.approx(0.5 * 0.185)
    assert got.right.outlet == pytest.approx(got.left.outlet * [1.0, -1.0, 1.0])
    assert got.left.knob[1] > got.left.outlet[1]
    assert got.left.outward == pytest.approx([0.0, 0.0, -1.0])
