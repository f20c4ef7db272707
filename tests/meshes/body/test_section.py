"""Plane sections against closed forms."""

import numpy as np
import pytest

from meshes.body.section import section_centroid
from meshes.loft import loft
from meshes.mesh import joined, moved


def prism(corners, length=1.0):
    ring = np.array([[0.0, y, z] for y, z in corners])
    return loft([ring, ring + [length, 0.0, 0.0]])


TRIANGLE = prism([(0.0, 0.0), (0.3, 0.0), (0.0, 0.6)])


def test_triangle_prism_has_the_triangles_centroid_at_every_height():
    for x in (0.01, 0.5, 0.99):
        np.testing.assert_allclose(section_centroid(TRIANGLE, 0, x), [0.1, 0.2], rtol=0, atol=1e-14)


def test_section_of_a_tilted_cone_is_on_its_axis():
    t = 2.0 * np.pi * np.arange(64) / 64
    base = np.stack([np.zeros(64), 0.2 * np.cos(t), 0.2 * np.sin(t)], axis=1)
    apex = np.tile([1.0, 0.5, -0.3], (64, 1))
    cone = loft([base, apex])
    for x in (0.0001, 0.37, 0.9):
        np.testing.assert_allclose(section_centroid(cone, 0, x), [0.5 * x, -0.3 * x], rtol=0, atol=1e-13)


def test_two_loops_count_by_their_area():
    small, big = TRIANGLE, moved(prism([(0.0, 0.0), (0.6, 0.0), (0.0, 1.2)]), shift=[0.0, 2.0, 0.0])
    together = section_centroid(joined([small, big]), 0, 0.5)
    np.testing.assert_allclose(together, (1 * np.array([0.1, 0.2]) + 4 * np.array([2.2, 0.4])) / 5, rtol=1e-13)


def test_plane_through_vertices():
    rings = [[[x, y, z] for y, z in ((0, 0), (1, 0), (1, 1), (0, 1))] for x in (0.0, 0.5, 1.0)]
    # The section just beyond the plane is meant: 1e-12 m further on
    np.testing.assert_allclose(section_centroid(loft(rings), 0, 0.5), [0.5, 0.5], rtol=0, atol=1e-9)


def test_a_plane_that_misses_is_an_error():
    with pytest.raises(ValueError, match="misses"):
        section_centroid(TRIANGLE, 0, 1.5)
