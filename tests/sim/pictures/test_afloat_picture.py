"""The picture at the surface: what it shows is what is told, the water line is level, and it gets drawn."""

from dataclasses import replace

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.commands.main import main
from sim.pictures.afloat_picture import draw_afloat, panels_of, view_of
from sim.pictures.views import projected
from sim.report.surface import surface_answer, told_surface


@pytest.fixture(scope="module")
def answer():
    return surface_answer(demo_path("single-wetsuit"))


@pytest.fixture(scope="module")
def sunk():
    return surface_answer(demo_path("single-wetsuit"), ["wing=none", "lead.0.mass=30 kg"])


def test_the_water_is_a_level_line_and_heights_over_it_are_true(answer):
    rest = told_surface(answer)["rests"][0]
    up, level = np.array(rest["up"]), rest["water_level_m"]
    view = view_of(up, up * level)
    rng = np.random.default_rng(1)
    anywhere = rng.normal(size=(20, 3))
    afloat = anywhere + np.outer(level - anywhere @ up, up)
    assert projected(view, afloat)[:, 1] == pytest.approx(np.zeros(20), abs=1e-12)
    mouth = projected(view, answer.diver.mouth[None])[0, 1]
    assert 1e3 * mouth == pytest.approx(rest["mouth_above_water_mm"], abs=1e-9)
    trunk = view.axes @ [1.0, 0.0, 0.0]
    assert trunk[2] == pytest.approx(0.0, abs=1e-12)  # the angle of the trunk is seen true
    assert np.degrees(np.arccos(trunk[1])) == pytest.approx(rest["trunk_from_vertical_deg"], abs=1e-9)


def test_each_rest_once_and_mirrored_ones_together(answer):
    panels = panels_of(answer)
    assert 1 <= len(panels) <= 2
    rest, starts = answer.rests[0]
    mirrored = replace(rest, up=rest.up * [1.0, -1.0, 1.0])
    two = replace(answer, rests=((rest, starts), (mirrored, ("upright",))))
    assert [p.heading for p in panels_of(two)] == [f"Face down; reached from {' and '.join(starts)}; or mirrored"]


def test_a_sunk_diver_is_drawn_under_the_surface(sunk):
    (panel,) = panels_of(sunk)
    assert panel.sunk
    assert panel.heading.startswith("Sinks: ")
    tops = [float((h.mesh.vertices @ panel.up).max()) for h in sunk.diver.body.hulls]
    assert max(tops) < panel.level


def test_drawn_without_a_graphics_library(answer, tmp_path, monkeypatch):
    monkeypatch.setenv("HANGFLAT_FLAT_PICTURES", "1")
    how = draw_afloat(answer, tmp_path / "afloat.png", size=(640, 400))
    assert how.startswith("in flat shapes: asked for")
    assert (tmp_path / "afloat.png").stat().st_size > 10_000


def test_the_command_draws_the_surface_when_asked(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr("sim.report.settle_report.settle", lambda *_, **__: None)
    monkeypatch.setattr(
        "sim.pictures.afloat_picture.draw_afloat", lambda answer, path: f"{path.write_bytes(b'drawn')} bytes"
    )
    where = tmp_path / "there.png"
    assert main(["settle", str(demo_path("single-wetsuit")), "--surface", "--picture", str(where)]) == 0
    assert where.read_bytes() == b"drawn"
    assert f"Picture: {where} (5 bytes)" in capsys.readouterr().out
