"""The harness's metal: as many rings as the catalogue says, where divers clip to them."""

from __future__ import annotations

import pytest
import trimesh

from meshes.gear.webbing import d_ring
from scenarios.demos import demo_path
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
