"""The picture at the surface: what it shows is what is told, the water line is level, and it gets drawn."""

from dataclasses import replace

import numpy as np
import pytest
from matplotlib.path import Path
from matplotlib.textpath import TextPath

from scenarios.demos import demo_path
from sim.answers.settle.afloat.panel import (
    BODY,
    LINE,
    draw_marks,
    draw_water,
    draw_words,
    fitting_size,
    texts,
    wrapped_to,
)  # fmt: skip
from sim.answers.settle.afloat.picture import divers, draw_afloat, panels_on
from sim.answers.settle.afloat.surface import surface_told
from sim.answers.settle.afloat.words import lies_of
from sim.commands.main import main
from sim.drawing.canvas import blank
from sim.drawing.marks import HALO
from sim.drawing.saved import save
from sim.drawing.style import DARK, LIGHT
from sim.drawing.views import projected
from sim.telling.language import spoken
from tests.sim.answers.settle.drawn.test_picture import touches


@pytest.fixture(scope="module")
def answer(single_afloat):
    return single_afloat()


@pytest.fixture(scope="module")
def surface(answer):
    return surface_told(answer)


@pytest.fixture(scope="module")
def every(answer, surface):
    return divers(answer, surface)


@pytest.fixture(scope="module")
def sunk(single_afloat):
    return single_afloat("wing=none", "lead.0.mass=30 kg")


def test_every_way_of_lying_that_is_told_is_drawn(every, surface):
    drawn, told = [a.lie for a in every], lies_of(surface)
    assert [(lie.lying, lie.attitude) for lie in drawn] == [(lie.lying, lie.attitude) for lie in told]


def test_the_water_is_a_level_line_and_heights_over_it_are_true(every):
    rng = np.random.default_rng(1)
    anywhere = rng.normal(size=(20, 3))
    for afloat in every:
        lying = afloat.lie.lying
        up, level = lying.up, lying.water_level
        in_water = anywhere + np.outer(level - anywhere @ up, up)
        assert projected(afloat.view, in_water)[:, 1] == pytest.approx(np.zeros(20), abs=1e-12)
        # the mouth of the body drawn anew in its pose is where the floating diver's was
        mouth = projected(afloat.view, afloat.mouth[None])[0, 1]
        assert mouth == pytest.approx(lying.mouth_above_water, abs=1e-9)
        along = afloat.view.axes @ [1.0, 0.0, 0.0]
        assert along[2] == pytest.approx(0.0, abs=1e-12)  # the angle of the trunk is seen true
        assert np.arccos(along[1]) == pytest.approx(lying.trunk_from_vertical, abs=1e-11)


def test_an_upright_diver_faces_the_way_of_a_push_forward(every):
    """The arrow for forward points to the right of the sheet: there is the front."""
    upright = next(a for a in every if a.lie.attitude.name == "upright")
    assert (upright.view.axes @ [0.0, 0.0, -1.0])[0] == pytest.approx(1.0)


@pytest.mark.parametrize("count", [1, 2, 4, 6])
def test_divers_keep_to_their_panels_and_panels_to_the_sheet(every, surface, count):
    """All at one scale, each diver inside its water, no panel or words over another."""
    canvas = blank((1600, 1000))
    some = [*every, *every][:count]
    panels = panels_on(canvas, some, surface)
    assert len(panels) == count
    assert len({round(p.scale, 9) for p in panels}) == 1
    boxes = [b for p in panels for b in (p.scene, p.words)]
    for number, box in enumerate(boxes):
        assert box.left >= 0.0
        assert box.right <= canvas.width
        assert box.bottom >= 0.0
        assert box.top <= canvas.height
        assert not any(box.overlaps(other) for other in boxes[number + 1 :])
    for panel in panels:
        low, high = panel.afloat.extent() * panel.scale + panel.at
        assert panel.scene.left <= low[0]
        assert high[0] <= panel.scene.right
        assert panel.scene.bottom <= low[1]
        assert high[1] <= panel.scene.top
        assert panel.scene.bottom < panel.at[1] < panel.scene.top


def test_words_of_marks_stand_beside_the_diver_and_on_no_line(every, surface):
    canvas = blank((1600, 1000))
    pixels = canvas.axes.transData.transform
    for panel in panels_on(canvas, every, surface):
        there = len(canvas.axes.texts), len(canvas.axes.lines)
        draw_water(canvas, panel)
        draw_marks(canvas, panel)
        words = [t for t in canvas.axes.texts[there[0] :] if t.get_gid() != HALO]
        assert "water" in [t.get_text() for t in words]
        turned = panel.afloat.lie.lying.trunk_from_vertical > np.radians(1.0)
        assert any(t.get_text().endswith("°") for t in words) == turned
        lines = [pixels(np.column_stack(line.get_data())) for line in canvas.axes.lines[there[1] :]]
        drawn = np.concatenate(
            [pixels(panel.on_canvas(s.mesh.vertices))[s.mesh.faces] for s in panel.afloat.surfaces]
        )
        low, high = drawn.min(axis=1).T, drawn.max(axis=1).T
        for box in [t.get_window_extent() for t in words]:
            assert not touches(drawn, low, high, box)
            assert not any(Path(line).intersects_bbox(box, filled=False) for line in lines)


@pytest.mark.parametrize(("language", "more"), [("en", 0), ("de", 2)])
def test_words_keep_to_their_box(every, surface, language, more):
    """As wide as measured, letter by letter, and no lower than the box, in letters of at least two thirds; so they do
    in German with two more rests on a side."""
    side = next(a for a in every if a.lie.attitude.name == "on the side")
    rest = replace(side, lie=replace(side.lie, attitude=None))
    with spoken(language):
        for panel in panels_on(blank((1600, 1000)), [*every, *[rest] * more], surface):
            said = texts(panel.afloat.lie, surface)
            wide, size = panel.words.right - panel.words.left, fitting_size(said, panel.words)
            assert size >= BODY * 2.0 / 3.0
            lines = [line for text in said[1:] for line in wrapped_to(text, wide, size)]
            ink = [TextPath((0.0, 0.0), line, size=size).get_extents().width for line in lines]
            assert max(ink) <= wide
            assert len(lines) * LINE * size / BODY < panel.words.top - panel.words.bottom


def test_a_sunk_diver_is_drawn_under_the_surface(sunk):
    (afloat,) = divers(sunk, surface_told(sunk))
    assert afloat.lie is None
    assert afloat.extent()[1, 1] < 0.0


def test_drawn_without_a_graphics_library(answer, surface, tmp_path, monkeypatch):
    monkeypatch.setenv("HANGFLAT_FLAT_PICTURES", "1")
    how = draw_afloat(answer, surface, tmp_path / "afloat.png", size=(640, 400))
    assert how.startswith("in flat shapes: asked for")
    assert (tmp_path / "afloat.png").stat().st_size > 10_000


def test_a_sunk_diver_is_drawn_too(sunk, tmp_path, monkeypatch):
    monkeypatch.setenv("HANGFLAT_FLAT_PICTURES", "1")
    assert draw_afloat(sunk, surface_told(sunk), tmp_path / "sunk.svg", size=(640, 400)) == "in flat shapes"
    assert (tmp_path / "sunk.svg").stat().st_size > 10_000


def test_a_dark_picture_has_nothing_in_the_colours_of_a_light_one(every, surface, tmp_path):
    canvas = blank((640, 400), style=DARK)
    panels = panels_on(canvas, every, surface)
    for panel in panels:
        draw_water(canvas, panel)
        draw_marks(canvas, panel)
    draw_words(canvas, panels, surface)
    save(canvas, tmp_path / "afloat.svg")
    drawn = (tmp_path / "afloat.svg").read_text(encoding="utf-8").lower()
    assert DARK.ink in drawn
    assert not [c for c in (LIGHT.ink, LIGHT.soft_ink, LIGHT.sea, LIGHT.sky, LIGHT.halo) if f": {c}" in drawn]


def test_the_command_draws_the_surface_when_asked(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr("sim.answers.settle.report.settle", lambda *_, **__: None)
    monkeypatch.setattr("sim.answers.settle.afloat.surface.attitudes", lambda *_: None)
    monkeypatch.setattr(
        "sim.answers.settle.afloat.picture.draw_afloat",
        lambda *told, size, look: f"{told[-1].write_bytes(b'drawn')} bytes of {size[0]} x {size[1]}, {look.paper}",
    )
    where, words = tmp_path / "there.png", ["--size", "640x400", "--style", "dark"]
    assert main(["settle", str(demo_path("single-wetsuit")), "--surface", "--picture", str(where), *words]) == 0
    assert where.read_bytes() == b"drawn"
    assert f"Picture: {where} (5 bytes of 640 x 400, #10222e)" in capsys.readouterr().out
