"""Patches of skin: symmetric, outward, of the right area in every pose."""

import numpy as np
import pytest

from meshes.body.topology import SEGMENTS
from sim.person.pose import POSES
from sim.person.posed_body import posed_body


@pytest.mark.parametrize("name", POSES)
def test_patches_are_symmetric_to_the_last_digits(man, name):
    skin = posed_body(man, POSES[name]).skin
    index = {}
    for i, (segment, centre) in enumerate(zip(skin.segment, skin.centre, strict=True)):
        index[segment, tuple(np.round(centre, 9))] = i
    for (segment, centre), i in index.items():
        side = {"left": "right", "right": "left"}.get(segment.split(" ", 1)[0])
        twin = segment if side is None else f"{side} {segment.split(' ', 1)[1]}"
        j = index[twin, (centre[0], -centre[1], centre[2])]
        np.testing.assert_allclose(skin.centre[j], skin.centre[i] * [1.0, -1.0, 1.0], rtol=0, atol=1e-14)
        np.testing.assert_allclose(skin.normal[j], skin.normal[i] * [1.0, -1.0, 1.0], rtol=0, atol=1e-12)
        assert skin.area[j] == pytest.approx(skin.area[i], rel=1e-12)


def test_patches_cover_every_segment(woman):
    skin = posed_body(woman, POSES["upright"]).skin
    assert 60 <= len(skin.area) <= 130
    assert set(skin.segment) == set(SEGMENTS)
    np.testing.assert_allclose(np.linalg.norm(skin.normal, axis=1), 1.0, rtol=1e-12)
    assert (skin.area > 0.0).all()


@pytest.mark.parametrize("name", POSES)
def test_area_does_not_hang_on_the_pose(woman, name):
    upright, posed = (posed_body(woman, POSES[p]).skin for p in ("upright", name))
    names = np.array(upright.segment)
    for segment in SEGMENTS:
        own = names == segment
        assert posed.area[own].sum() == pytest.approx(upright.area[own].sum(), rel=1e-12)


@pytest.mark.parametrize("name", POSES)
def test_normals_point_outwards(woman, name):
    """Away from the segment's centre, but for the armpit, the crotch and the hollow of a bent joint."""
    body = posed_body(woman, POSES[name])
    centres = {n: s.cm for n, s in body.segments}
    away = [
        n @ (c - centres[s]) > 0.0
        for n, c, s in zip(body.skin.normal, body.skin.centre, body.skin.segment, strict=True)
    ]
    assert np.mean(away) > 0.9


def test_skin_is_that_of_the_drawing(man):
    """The area of the drawn skin standing, and the patches lying on it."""
    body = posed_body(man, POSES["upright"])
    a, b, c = (body.drawing.vertices[body.drawing.faces[:, i]] for i in range(3))
    area = 0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1).sum()
    assert body.skin.area.sum() == pytest.approx(area, rel=5e-3)  # elbows a little bent against hanging straight
