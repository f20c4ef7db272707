"""The model to turn: what it shows is what was worked out, and its files open elsewhere."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest
import trimesh

from scenarios.demos import demo_path
from sim.answers.model.glb import write_glb
from sim.answers.model.motion import motion_of, turns
from sim.answers.model.page import write_page
from sim.answers.model.parts import shown_parts
from sim.answers.model.view import packed, view_of
from sim.answers.settle.drawn.settled import scene_at, scene_of
from sim.answers.settle.report import report_of
from sim.case import Case
from sim.commands.main import main
from sim.drawing.surfaces import dressed_all

CHROMIUM = next((p for p in map(Path, ("/usr/bin/chromium", "/usr/bin/chromium-browser")) if p.exists()), None)
GRAPHICS = ("--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader")


@pytest.fixture(scope="module")
def report():
    return report_of(Case.read(demo_path("small-woman-steel")).assembled)


@pytest.fixture(scope="module")
def shown(report):
    scene = scene_of(report)
    return scene, shown_parts(scene), motion_of(report)


@pytest.fixture(scope="module")
def page(report, shown, tmp_path_factory):
    path = tmp_path_factory.mktemp("page") / "diver.html"
    write_page(report, *shown, path)
    return path


def told(page: Path):
    text = page.read_text(encoding="utf-8")
    return json.loads(re.search(r'<script id="told"[^>]*>(.*?)</script>', text, re.DOTALL)[1])


def test_the_first_frame_is_the_diver_held_flat(report, shown):
    """Weight at the CM and push at the CB turn the diver as the statics say, to rounding."""
    motion = shown[2]
    assert motion.moment[0] == pytest.approx(report.flat.pitch_moment, rel=1e-9)
    assert motion.cm[0] == pytest.approx(report.flat.cm, abs=1e-9)
    assert motion.pitch[0] == pytest.approx(0.0, abs=1e-9)


def test_frames_turn_the_diver_without_a_jump(shown):
    motion = shown[2]
    rotation = motion.rotation
    assert rotation @ rotation.transpose(0, 2, 1) == pytest.approx(
        np.broadcast_to(np.eye(3), rotation.shape), abs=1e-9
    )
    steps = np.linalg.norm(rotation[1:] - rotation[:-1], axis=(1, 2))
    assert steps.max() < np.radians(60.0)  # an eighth of a second at the greatest speed there is
    assert np.linalg.norm(motion.suit.sum(axis=1) - motion.suit[0].sum()) < 0.01  # m^3: the gas goes about, not away


def test_a_suit_without_any_gas_moves_too():
    case = Case.read(demo_path("small-woman-steel")).vary({"suit.gas": "0 l", "suit.fill_law": "logistic"})
    motion = motion_of(report_of(case.assembled))
    assert motion.suit is None
    assert motion.moment[0] == pytest.approx(report_of(case.assembled).flat.pitch_moment, rel=1e-9)


def test_turns_past_the_vertical_go_on(report):
    """Kept from rolling, a turn of the pitch axis alone, by as much as the pitch says, the vertical included."""
    pitch = np.radians(np.arange(0.0, -170.0, -5.0))
    up = np.stack([np.sin(pitch), np.zeros_like(pitch), np.cos(pitch)], axis=1)
    c, s = np.cos(pitch), np.sin(pitch)
    head = turns(up)[:, :, 0]  # where the head points, in the world
    assert head == pytest.approx(np.stack([c, np.zeros_like(c), s], axis=1), abs=1e-9)


def test_a_glb_has_every_part_at_its_true_size(shown, tmp_path):
    parts = shown[1]
    target = tmp_path / "diver.glb"
    write_glb(parts, np.eye(3), target, title="A diver", caution="Careful")
    opened = trimesh.load(target)
    assert sorted(opened.geometry) == sorted(p.surface.name for p in parts)
    for part in parts:
        mesh = opened.geometry[part.surface.name]
        mesh.merge_vertices()
        own = trimesh.Trimesh(part.surface.mesh.vertices, part.surface.mesh.faces)
        assert mesh.volume == pytest.approx(own.volume, rel=1e-4, abs=1e-8)  # single precision
    points = np.concatenate([p.surface.mesh.vertices for p in parts])
    wanted = np.array([np.ptp(points[:, 0]), np.ptp(points[:, 2]), np.ptp(points[:, 1])])  # its y is up
    assert opened.extents == pytest.approx(wanted, rel=1e-4)


def test_the_page_asks_nothing_of_other_machines(page):
    text = page.read_text(encoding="utf-8")
    assert not re.search(r"""(?:src|href)\s*=\s*["']""", text.replace("xmlns", "")[: text.index("<script")])
    assert "default-src 'none'" in text
    assert page.stat().st_size < 6_000_000


def test_the_page_holds_the_shapes_to_half_a_grain(page, shown):
    held = told(page)
    for one, part in zip(held["surfaces"], shown[1], strict=True):
        places = np.frombuffer(base64.b64decode(one["positions"]), "<i2").reshape(-1, 3) * held["grain"]
        assert places == pytest.approx(part.surface.mesh.vertices, abs=0.51 * held["grain"])


def test_a_title_cannot_end_the_script(tmp_path):
    case = Case.read(demo_path("single-wetsuit"), ['title="</script><b>x"', "gear=none"])
    report = report_of(case.assembled)
    scene = scene_of(report)
    path = tmp_path / "x.html"
    write_page(report, scene, shown_parts(scene), None, path)
    assert "</script><b>" not in path.read_text(encoding="utf-8")
    assert told(path)["title"] == "</script><b>x"


def test_numbers_are_rounded_not_cut():
    assert base64.b64decode(packed([0.6, -0.6, 300.0], np.int8)) == bytes([1, 255, 127])


def test_the_viewer_was_made_from_what_lies_beside_it():
    web = files("sim.drawing.web")
    digest = hashlib.sha256(web.joinpath("viewer.js").read_bytes()).hexdigest()
    assert digest in web.joinpath("viewer.min.js").read_text(encoding="utf-8")[:200]


def test_the_command_writes_both_and_refuses_other_endings(tmp_path, capsys):
    demo = str(demo_path("single-wetsuit"))
    both = [tmp_path / "d.html", tmp_path / "d.glb"]
    assert main(["model", demo, *map(str, both), "--at", "rest"]) == 0
    assert all(path.stat().st_size > 100_000 for path in both)
    assert "not a measurement" in capsys.readouterr().out
    assert main(["model", demo, str(tmp_path / "d.obj")]) == 2
    assert "give a name that ends in .html or .glb" in capsys.readouterr().err
    assert main(["model", demo, str(both[0]), str(tmp_path / "e.html")]) == 2
    assert sorted(p.name for p in tmp_path.iterdir()) == ["d.glb", "d.html"]


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium to open the page with")
def test_in_a_browser_it_draws_switches_and_moves(page):
    sync_api = pytest.importorskip("playwright.sync_api")
    wrong: list[str] = []
    with sync_api.sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=str(CHROMIUM), args=list(GRAPHICS))
        context = browser.new_context(offline=True, viewport={"width": 640, "height": 480})
        tab = context.new_page()
        tab.on("console", lambda said: wrong.append(said.text) if said.type == "error" else None)
        tab.on("pageerror", lambda error: wrong.append(str(error)))
        tab.goto(page.as_uri())
        seen = tab.locator("canvas")
        first = seen.screenshot()
        tab.uncheck("input[name=cylinders]")
        bare = seen.screenshot()
        tab.evaluate("const t = document.getElementById('time'); t.value = 3; t.dispatchEvent(new Event('input'))")
        later, words = seen.screenshot(), tab.inner_text("#now")
        tab.set_viewport_size({"width": 390, "height": 780})  # a phone: what moves the diver is under the diver
        diver, slider, views = (tab.locator(f"#{name}").bounding_box() for name in ("diver", "time", "views"))
        browser.close()
    assert diver["y"] + diver["height"] <= slider["y"] < 780 - slider["height"]
    assert slider["y"] < views["y"]
    assert wrong == []
    assert len({first, bare, later}) == 3
    assert len(first) > 5_000  # not one colour
    assert words.startswith("3.0 s: ")
    assert "head-down" in words


def test_a_thing_called_wing_is_shown_as_what_it_is():
    """The wing's own bag is another surface, whatever it is called."""
    keys = 'mass = "1 kg", volume = "0.5 l", place = "left hip"'
    case = Case.read(demo_path("small-woman-steel")).vary([f'gear=[{{ name = "wing", {keys} }}]'])
    report = report_of(case.assembled)
    parts = shown_parts(scene_of(report))
    layers = {p.surface.name: p.layer for p in parts}
    assert sorted((layers["wing"], layers["wing 2"])) == ["lead", "wing"]
    view = view_of(report, scene_of(report), parts, None, {})
    assert view.wing is not None
    assert view.surfaces[view.wing.surface].group == "wing"
    own = next(p.solid.mesh for p in case.rig.parts if p.name == "wing" and p.kind == "other")
    turned = dressed_all([scene_of(report), scene_at(report, np.array([1.0, 0.0, 0.0]))])[1]
    assert [s.mesh is own for s in turned.surfaces if s.name == "wing"] == [
        True,
        False,
    ]  # it stays, the bag's gas moves
