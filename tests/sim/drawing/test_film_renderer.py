"""The renderer of films: what it shows is where geometry says, and follows what moves, comes and goes."""

from __future__ import annotations

import sys
from dataclasses import replace

import numpy as np
import pytest

from meshes.mesh import moved
from sim.drawing import film_renderer as module
from sim.drawing.film_renderer import NoRendererError, film_renderer
from sim.drawing.offscreen import Sheet
from sim.drawing.surfaces import Surface
from sim.drawing.views import projected, side_view
from sim.drawing.visibility import NOTHING, rastered

VIEW = side_view([0.0, 0.0, 1.0], [0.0, 0.0, 0.0])
SCALE, PIXELS = 300.0, (240, 200)
SHEET = Sheet(VIEW, (0.0, 0.0), PIXELS, SCALE)


@pytest.fixture(scope="module")
def renderer():
    with film_renderer_or_skip() as made:
        yield made


def film_renderer_or_skip():
    try:
        with film_renderer():
            pass
    except NoRendererError as why:
        pytest.skip(str(why))
    return film_renderer()


@pytest.fixture
def red(ball):
    mesh = ball(0.1, [0.0, 0.0, 0.0])
    return Surface("ball", mesh, np.tile(np.array([200, 60, 60, 255], np.uint8), (len(mesh.vertices), 1)), 0.2)


def inside(surface):
    """(h, w) whether the surface is there, by the flat drawing's own depth buffer."""
    seen = projected(VIEW, surface.mesh.vertices) * [SCALE, -SCALE, 1.0] + [PIXELS[0] / 2, PIXELS[1] / 2, 0.0]
    return rastered(seen[surface.mesh.faces], (PIXELS[1], PIXELS[0])).owner != NOTHING


def covers(picture, surface):
    """All of the surface, and beyond it no more than an outline of a pixel and a half."""
    opaque, there = picture[..., 3] > 127, inside(surface)
    rim = 2.0 * np.pi * 0.1 * SCALE
    return not (there & ~opaque).any() and opaque.sum() - there.sum() < 1.6 * rim


def test_it_shows_what_moved_where_it_is_now_and_nothing_that_is_gone(renderer, red):
    other = replace(red, mesh=moved(red.mesh, shift=[0.2, 0.0, 0.1]))
    blue = replace(red, colours=red.colours[:, [2, 1, 0, 3]])
    for surfaces in ((red,), (other,), (red, other), (red,)):
        picture = renderer.rendered(surfaces, SHEET)
        assert picture.shape == (PIXELS[1], PIXELS[0], 4)
        assert all(covers(picture, s) for s in surfaces) or len(surfaces) == 2
        assert bool((picture[..., 3] > 127)[inside(other) & ~inside(red)].any()) is (other in surfaces)
    assert np.array_equal(renderer.rendered((red,), SHEET), renderer.rendered((red,), SHEET))
    middle = PIXELS[1] // 2, PIXELS[0] // 2
    assert renderer.rendered((red,), SHEET)[middle][0] > 1.8 * renderer.rendered((red,), SHEET)[middle][2]
    assert renderer.rendered((blue,), SHEET)[middle][2] > 1.8 * renderer.rendered((blue,), SHEET)[middle][0]


def test_gas_veils_what_is_behind_it_and_shows_beside_it(renderer, red, ball):
    """Of opacity a over the ball alone: (1 - a) of the ball's colour and a of the gas's, to what 8 bits can hold."""
    mesh, share = ball(0.15, [0.0, 0.0, 0.0]), 102 / 255
    gas = Surface(
        "gas", mesh, np.tile(np.array([0, 0, 255, 102], np.uint8), (len(mesh.vertices), 1)), 0.2, layer=True
    )
    bare, veiled = (renderer.rendered(s, SHEET).astype(float) for s in ((red,), (gas, red)))
    middle = np.s_[PIXELS[1] // 2 - 8 : PIXELS[1] // 2 + 8, PIXELS[0] // 2 - 8 : PIXELS[0] // 2 + 8]
    mixed = (1.0 - share) * bare[middle][..., :3] + share * np.array([0.0, 0.0, 255.0])
    assert np.abs(veiled[middle][..., :3] - mixed).max() < 3.0
    assert covers(veiled, gas) or (veiled[..., 3] > 0)[inside(gas)].all()
    assert not (veiled[..., 3] > 0)[0].any()


def test_colours_are_multiplied_by_opacity(renderer, red):
    picture = renderer.rendered((red,), SHEET)
    assert (picture[..., :3] <= picture[..., 3:]).all()


def test_only_what_is_new_is_sent(renderer, red):
    renderer.rendered((red,), SHEET)
    assert renderer._news(0, red) == {}
    assert set(renderer._news(0, replace(red, mesh=moved(red.mesh, shift=[0.1, 0.0, 0.0])))) == {"points"}
    assert set(renderer._news(0, replace(red, shine=0.5))) == {"look", "points", "faces", "colours"}
    assert set(renderer._news(1, red)) == {"look", "points", "faces", "colours"}


def test_a_renderer_that_ends_says_why(monkeypatch):
    words = "import sys; sys.stderr.write('no such display'); sys.exit(3)"
    monkeypatch.setattr(module, "RENDERER", (sys.executable, "-c", words))
    with pytest.raises(NoRendererError, match="no OpenGL library works here"), film_renderer():
        pass
