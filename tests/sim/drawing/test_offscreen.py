"""Rendering in a child process: what it shows, what it says when it cannot."""

import os
import subprocess
import sys

import numpy as np
import pytest

from sim.drawing import offscreen
from sim.drawing.offscreen import WINDOW_VARIABLE, Sheet, rendered, windows_to_try
from sim.drawing.surfaces import Surface, dressed
from sim.drawing.views import projected, side_view
from sim.drawing.visibility import NOTHING, rastered

VIEW = side_view([0.0, 0.0, 1.0], [0.0, 0.0, 0.0])
SHEET = Sheet(VIEW, (0.0, 0.0), (240, 200), 300.0)
CRASHING = (sys.executable, "-c", "import os; os.abort()")


def red(mesh):
    return Surface("ball", mesh, np.tile(np.array([200, 60, 60, 255], dtype=np.uint8), (len(mesh.vertices), 1)), 0.2)


def shown_or_skipped(surfaces, sheet):
    answer = rendered(surfaces, (sheet,))
    if not answer.pictures:
        pytest.skip(answer.failure)
    return answer.pictures[0]


def test_a_rendered_ball_covers_what_the_depth_buffer_says(ball):
    mesh = ball(0.2, [0.05, 0.0, 0.02])
    picture = shown_or_skipped((red(mesh),), SHEET)
    assert picture.shape == (200, 240, 4)
    seen = projected(VIEW, mesh.vertices) * [300.0, -300.0, 1.0] + [120.0, 100.0, 0.0]
    inside = rastered(seen[mesh.faces], (200, 240)).owner != NOTHING
    opaque = picture[..., 3] > 127
    # the outline stands one pixel beyond the silhouette
    rim = 2.0 * np.pi * 0.2 * 300.0
    assert not (inside & ~opaque).any()
    assert 0.0 < opaque.sum() - inside.sum() < 1.6 * rim
    assert picture[0, 0, 3] == 0
    middle = picture[100 - 6, 120 + 15, :3].astype(int)
    assert middle[0] > 1.8 * middle[1]


def test_nearer_things_hide_farther_ones(ball):
    blue = red(ball(0.05, [-0.1, 0.5, -0.22]))
    blue = Surface("far", blue.mesh, blue.colours[:, [2, 1, 0, 3]], 0.2)
    picture = shown_or_skipped((blue, red(ball(0.2, [0.0, -0.5, 0.0]))), SHEET)
    solid = picture[picture[..., 3] == 255].astype(int)
    assert not (solid[:, 2] > 1.5 * solid[:, 0] + 40).any()


def test_a_mirrored_scene_seen_along_the_body_is_mirrored(scene_at, mirrored_scene):
    from sim.drawing.views import head_view

    scene = scene_at(0.0, 20.0)
    other = mirrored_scene(scene)
    pictures = [
        shown_or_skipped(dressed(s).surfaces, Sheet(head_view(s.up, s.cm), (0.0, 0.0), (200, 200), 150.0))
        for s in (scene, other)
    ]
    here, there = pictures[0][..., 3] > 127, pictures[1][:, ::-1, 3] > 127
    # a row of pixels may fall to either side of an edge
    assert (here != there).sum() < 0.02 * here.sum()


def test_a_renderer_that_crashes_is_an_answer_in_words(monkeypatch, ball):
    monkeypatch.setattr(offscreen, "RENDERER", CRASHING)
    answer = rendered((red(ball(0.2, [0.0, 0.0, 0.0])),), (SHEET,))
    assert answer.pictures == ()
    assert answer.failure.startswith("no OpenGL library works here")


def test_a_renderer_that_cannot_be_started_or_stops_short_is_too(monkeypatch, ball):
    surfaces = (red(ball(0.2, [0.0, 0.0, 0.0])),)
    monkeypatch.setattr(offscreen, "RENDERER", (os.path.join("no", "such", "program"),))
    assert "could not be started" in rendered(surfaces, (SHEET,)).failure
    monkeypatch.setattr(offscreen, "RENDERER", (sys.executable, "-c", "print('pixels')"))
    assert "cut short" in rendered(surfaces, (SHEET,)).failure


def test_windows_are_tried_in_order_and_an_empty_variable_counts_as_none(monkeypatch):
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv(WINDOW_VARIABLE, "")
    assert windows_to_try() == ("vtkEGLRenderWindow", None)
    monkeypatch.setenv(WINDOW_VARIABLE, "vtkOSOpenGLRenderWindow")
    assert windows_to_try() == ("vtkOSOpenGLRenderWindow", "vtkEGLRenderWindow", None)
    monkeypatch.delenv(WINDOW_VARIABLE)
    monkeypatch.setattr(sys, "platform", "darwin")
    assert windows_to_try() == (None,)


DRAW = """
import sys
import numpy as np
if "without-vtk" in sys.argv:
    sys.modules["vtkmodules"] = sys.modules["pyvista"] = None
from meshes.primitives import ellipsoid
from sim.drawing.scene import HangingScene
from sim.answers.settle.drawn.picture import draw_story
from sim.answers.settle.drawn.story import Story
from sim.drawing.sheet_options import Chosen
up, cm = np.array([0.0, 0.0, 1.0]), np.zeros(3)
skin = ellipsoid([0.8, 0.2, 0.15])
scene = HangingScene((), skin, up, 0.0, 0.0, cm, cm + 0.01 * up, 80.0, 0.0, 3.0, "A ball")
print(draw_story(Story(scene, (), 0.0, ""), sys.argv[1], Chosen(size=(480, 320))).renderer)
"""


@pytest.mark.parametrize(
    ("word", "flat", "renderers"), [("", "0", {"shaded", "vector"}), ("without-vtk", "1", {"vector"})]
)
def test_nothing_reaches_the_users_error_stream(tmp_path, word, flat, renderers):
    quiet = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY", WINDOW_VARIABLE)}
    quiet |= {"HANGFLAT_FLAT_PICTURES": flat, "PYTHONPATH": os.pathsep.join(sys.path)}
    target = tmp_path / "ball.png"
    child = subprocess.run(
        [sys.executable, "-W", "error", "-c", DRAW, str(target), word],
        capture_output=True, text=True, env=quiet, check=False,
    )  # fmt: skip
    assert child.stderr == ""
    assert child.stdout.strip() in renderers
    assert target.stat().st_size > 5_000


def test_a_logs_last_words_are_plain():
    line = "\x1b[0;31m(   0.1s) [  4F60] vtkRenderWindow.cxx:112  ERR| no context could be made\x1b[0m\n"
    assert offscreen.last_words("first\n" + line) == "no context could be made"
    assert offscreen.last_words("") == ""


def test_more_things_than_can_be_told_apart_are_drawn_all_the_same(ball):
    many = tuple(red(ball(0.01, [0.1 * (k % 2), 0.0, 0.1])) for k in range(256))
    green = red(ball(0.05, [-0.1, 0.0, -0.1]))
    green = Surface("last", green.mesh, green.colours[:, [1, 0, 2, 3]], 0.2)
    picture = shown_or_skipped((*many, green), SHEET)
    last = projected(VIEW, [[-0.1, 0.0, -0.1]])[0] * [300.0, -300.0, 1.0] + [120.0, 100.0, 0.0]
    seen = picture[round(last[1]), round(last[0])].astype(int)
    assert seen[3] == 255
    assert seen[1] > 1.8 * seen[0]
