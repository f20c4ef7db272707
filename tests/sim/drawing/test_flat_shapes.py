"""Shapes traced without a graphics library: areas, hiding, tones."""

import numpy as np
import pytest
import shapely

from sim.drawing.flat_shapes import flat_shapes
from sim.drawing.palette import INK, rgb
from sim.drawing.surfaces import Surface, dressed
from sim.drawing.views import side_view

VIEW = side_view([0.0, 0.0, 1.0], [0.0, 0.0, 0.0])
FINENESS = 0.002


def coloured(mesh, colour):
    return Surface("ball", mesh, np.tile(np.array([*colour, 255], dtype=np.uint8), (len(mesh.vertices), 1)), 0.2)


def area_of(shape):
    """Area [m^2] of a shape whose rings run round holes the other way."""
    return abs(sum(shapely.Polygon(ring).area * np.sign(_turn(ring)) for ring in shape.rings))


def _turn(ring):
    x, y = ring.T
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))


def test_the_outline_of_a_ball_encloses_its_disc(ball):
    whole = flat_shapes((coloured(ball(0.2, [0.0, 0.0, 0.0]), (200, 60, 60)),), VIEW, FINENESS)[0]
    assert whole.colour[:3] == pytest.approx(rgb(INK))
    # the slide of near points makes the circle an ellipse longer by sqrt(1 + slide^2); facets take off 0.3 %
    stretch = np.sqrt(1.0 + np.square(VIEW.slide).sum())
    assert area_of(whole) == pytest.approx(np.pi * 0.2**2 * stretch, rel=0.006)


def test_lighter_tones_lie_on_darker_ones_and_are_smaller(ball):
    shapes = flat_shapes((coloured(ball(0.2, [0.0, 0.0, 0.0]), (200, 60, 60)),), VIEW, FINENESS)
    tones = [s for s in shapes if s.colour[0] > 1.5 * s.colour[2] + 0.1]
    areas = [area_of(s) for s in tones]
    assert len(tones) == 5
    assert areas == sorted(areas, reverse=True)
    assert [s.colour[0] for s in tones] == sorted(s.colour[0] for s in tones)


@pytest.mark.parametrize("order", [1, -1])
def test_what_lies_behind_is_not_drawn_whatever_the_order(ball, order):
    near = coloured(ball(0.2, [0.0, -0.5, 0.0]), (200, 60, 60))
    # straight behind along the oblique line of sight
    far = coloured(ball(0.05, [-0.1, 0.5, -0.22]), (60, 60, 200))
    shapes = flat_shapes((near, far)[::order], VIEW, FINENESS)
    assert not [s for s in shapes if s.colour[2] > 0.3]
    seen = flat_shapes((near, coloured(ball(0.05, [0.5, 0.5, -0.22]), (60, 60, 200)))[::order], VIEW, FINENESS)
    assert [s for s in seen if s.colour[2] > 0.3]


def test_gas_is_laid_over_in_steps_that_build_up(flat_scene):
    shapes = flat_shapes(dressed(flat_scene).surfaces, side_view(flat_scene.up, flat_scene.cm), 0.004)
    veils = [s for s in shapes if 0.0 < s.colour[3] < 1.0]
    assert len(veils) >= 3
    assert [area_of(s) for s in veils] == sorted((area_of(s) for s in veils), reverse=True)
