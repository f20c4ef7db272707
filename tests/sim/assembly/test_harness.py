"""The harness's metal: as many rings as the catalogue says, where divers clip to them."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh

from meshes.gear.webbing import d_ring
from scenarios.demos import demo_path
from sim.assembly.strap_paths import strap_paths
from sim.case import Case


def test_a_harness_has_five_rings_of_which_two_hang_on_the_crotch_strap() -> None:
    assembled = Case.read(demo_path("tall-man-steel")).assembled
    harness = next(p.solid for p in assembled.rig.parts if p.kind == "harness")
    assert harness.mesh is not None
    pieces = trimesh.Trimesh(harness.mesh.vertices, harness.mesh.faces, process=False).split()
    # of steel, 8000 kg/m^3, a ring weighs what one made alone does
    rings = [p.center_mass for p in pieces if 8000.0 * p.volume == pytest.approx(d_ring().mass, rel=1e-9)]
    assert len(rings) == 5
    assert assembled.worn is not None
    marks = assembled.worn.body.landmarks
    front, back = sorted((r for r in rings if abs(r[1]) < 1e-3), key=lambda r: float(r[2]))
    # before the belly and behind the back, both below the waist strap
    assert front[2] < marks["navel"][2]
    assert back[2] > 0.1
    assert max(front[0], back[0]) < marks["natural waist back"][0] - 0.03
    # one at the left hip, the same on both shoulders
    left = [r for r in rings if r[1] > 1e-3]
    right = [r for r in rings if r[1] < -1e-3]
    assert (len(left), len(right)) == (2, 1)
    assert max(left, key=lambda r: float(r[0])) == pytest.approx(right[0] * [1.0, -1.0, 1.0], abs=1e-9)


def test_a_heavier_harness_weighs_so_where_its_straps_are(woman) -> None:  # type: ignore[no-untyped-def]
    made = [woman(f"harness.mass={kg} kg", "harness.density=2000 kg/m^3").rig.parts for kg in (1, 2)]
    one, two = (next(p.solid for p in parts if p.kind == "harness") for parts in made)
    assert (two.mass, two.volume) == pytest.approx((2.0, 1e-3), rel=1e-12)
    assert two.cm == pytest.approx(one.cm, abs=1e-12)


def test_rings_of_the_crotch_strap_are_8_cm_from_its_ends(woman) -> None:  # type: ignore[no-untyped-def]
    """Along the strap: below the belt in front, below the plate behind (assumed); 4 mm out from the webbing."""
    made = woman()
    worn = made.worn
    paths = strap_paths(worn.plate, worn.seat, worn.body, worn.under_straps, posed=True)
    points = paths.crotch.points
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(points, axis=0), axis=1))])
    harness = next(p.solid for p in made.rig.parts if p.kind == "harness")
    pieces = trimesh.Trimesh(harness.mesh.vertices, harness.mesh.faces, process=False).split()
    rings = [p.center_mass for p in pieces if 8000.0 * p.volume == pytest.approx(d_ring().mass, rel=1e-9)]
    for distance in (0.08, along[-1] - 0.08):
        at = np.array([np.interp(distance, along, column) for column in points.T])
        assert min(np.linalg.norm(r - at) for r in rings) < 0.03
        further = np.array([np.interp(distance + 0.06, along, column) for column in points.T])
        assert min(np.linalg.norm(r - further) for r in rings) > 0.035


def test_thicker_clothing_under_webbing_makes_the_waist_strap_longer(woman) -> None:  # type: ignore[no-untyped-def]
    """10 mm more loft, half of it left: pi/2 to pi times 5 mm more on either side of the body."""
    length = []
    for loft in (10, 20):
        worn = woman(f"suit.undergarment.loft={loft} mm").worn
        length.append(strap_paths(worn.plate, worn.seat, worn.body, worn.under_straps).waist.length)
    assert np.pi * 5e-3 * 0.8 < length[1] - length[0] < 2.0 * np.pi * 5e-3
