"""Bodies of revolution against closed forms and against the lathe's mesh."""

from __future__ import annotations

import numpy as np
import pytest

from meshes.loft import lathe
from meshes.revolved import elliptic_arc, revolved_integrals
from meshes.solid import volume_integrals


def test_cylinder_and_cone_are_exact() -> None:
    r, h = 0.2, 0.7
    got = revolved_integrals([(0.1, 0.0), (0.1, r), (0.1 + h, r), (0.1 + h, 0.0)])
    v = np.pi * r**2 * h
    assert got.volume == pytest.approx(v, rel=1e-14)
    assert got.centroid == pytest.approx([0.1 + 0.5 * h, 0.0, 0.0], rel=1e-14)
    across = v * (r**2 / 4.0 + h**2 / 12.0)
    assert np.diag(got.second) == pytest.approx([0.5 * v * r**2, across, across], rel=1e-12)
    cone = revolved_integrals([(0.0, 0.0), (h, r)])
    assert cone.volume == pytest.approx(v / 3.0, rel=1e-14)
    assert cone.centroid[0] == pytest.approx(0.75 * h, rel=1e-14)
    assert cone.second[0, 0] == pytest.approx(0.3 * cone.volume * r**2, rel=1e-12)
    assert cone.second[1, 1] == pytest.approx(3.0 / 80.0 * cone.volume * (4.0 * r**2 + h**2), rel=1e-12)


def test_ball_at_second_order() -> None:
    errors = []
    for n in (16, 32, 64):
        got = revolved_integrals(elliptic_arc((0.0, 0.0), (0.3, 0.3), np.pi, 0.0, n))
        errors.append(4.0 / 3.0 * np.pi * 0.027 - got.volume)
        assert got.centroid == pytest.approx(np.zeros(3), abs=1e-15)
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.02)
    assert errors[1] / errors[2] == pytest.approx(4.0, rel=0.02)


def test_mesh_of_the_same_profile_converges_to_it_with_a_dish_taken_out() -> None:
    profile = [(0.05, 0.0), (0.0, 0.1), (0.02, 0.15), (0.4, 0.15), (0.5, 0.05), (0.5, 0.0)]
    want = revolved_integrals(profile)
    got = [volume_integrals(lathe(profile, n)) for n in (32, 64)]
    errors = [want.volume - g.volume for g in got]
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.01)
    # an n-gon's section is n/(2 pi) sin(2 pi/n) of the circle whatever the profile
    assert got[1].volume == pytest.approx(want.volume * 64 / (2 * np.pi) * np.sin(2 * np.pi / 64), rel=1e-12)
    assert got[1].centroid == pytest.approx(want.centroid, abs=1e-12)
    # second moments across the axis go as the fourth power of the radius: 0.32 % at 64 sides
    assert got[1].second == pytest.approx(want.second, rel=4e-3, abs=1e-12)


def test_refuses_a_profile_walked_backwards() -> None:
    with pytest.raises(ValueError, match="encloses no volume"):
        revolved_integrals([(1.0, 0.0), (0.0, 0.5)])
