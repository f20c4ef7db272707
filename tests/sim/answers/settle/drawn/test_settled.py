"""From a report on a shipped demo diver to the scene: places and gas agree with what the report says."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from meshes.solid import volume_integrals
from sim.answers.settle.drawn.picture import draw_story, how_drawn
from sim.answers.settle.drawn.settled import centres, gas_there, scene_of, worn_on
from sim.answers.settle.drawn.story import story_of
from sim.answers.settle.report import SettleReport, report_of
from sim.case import Case
from sim.drawing.surfaces import dressed

DEMO = Path(__file__).parents[5] / "scenarios" / "demos" / "small-woman-steel.toml"
PARTS = """
format = "parts/1"
[water]
density = "1025 kg/m^3"
gravity = "9.81 m/s^2"
[depth]
pressure = "2.5 bar"
held = "cm"
[[part]]
name = "trunk"
mass = "80 kg"
cm = [0.1, 0.0, 0.0]
volume = "76 l"
cb = [0.1, 0.0, 0.02]
[suit]
gas = "1 l"
softness = "500 Pa"
cells = [{ at = [0.3, 0.1, 0.0], least = "0 l", most = "1.5 l" },
{ at = [0.3, -0.1, 0.0], least = "0 l", most = "1.5 l" }]
[wing]
gas = "neutral"
softness = "200 Pa"
cells = [{ at = [0.0, 0.12, 0.1], most = "3 l" }, { at = [0.0, -0.12, 0.1], most = "3 l" }]
"""


@pytest.fixture(scope="module")
def report() -> SettleReport:
    return report_of(Case.read(DEMO).assembled)


def test_flat_the_centres_and_the_gas_are_those_of_the_report(report):
    gas = gas_there(report.soft, np.array([0.0, 0.0, 1.0]))
    mass, cm, cb = centres(report.assembled.rig, gas)
    flat = report.flat
    # the same sums in another order
    assert mass == pytest.approx(flat.mass, rel=1e-12)
    assert cm == pytest.approx(flat.cm, abs=1e-12)
    assert cb == pytest.approx(flat.cb, abs=1e-12)
    assert gas.suit.sum() == pytest.approx(flat.suit_gas, rel=1e-9)
    assert gas.wing.sum() == pytest.approx(flat.wing_gas, rel=1e-9)


def test_solids_are_closed_and_look_outward_so_that_half_of_each_need_not_be_drawn(report):
    """Every edge is walked both ways, corners within 1 um being one, and the volume within comes out above nil."""
    for surface in dressed(scene_of(report)).surfaces:
        if surface.layer:
            continue
        places, one = np.unique(np.round(surface.mesh.vertices, 6), axis=0, return_inverse=True)
        a, b, c = one.ravel()[surface.mesh.faces].T
        walked = np.concatenate([np.stack(e, axis=1) for e in ((a, b), (b, c), (c, a))])
        walked = walked[walked[:, 0] != walked[:, 1]]
        there, back = (w[:, 0] * len(places) + w[:, 1] for w in (walked, walked[:, ::-1]))
        assert np.isin(there, back).all(), surface.name
        assert volume_integrals(surface.mesh).volume > 0.0, surface.name


def test_the_drawn_attitude_is_the_settled_one_with_cb_over_cm(report):
    scene = scene_of(report)
    settled = report.settled
    assert np.sin(scene.pitch) == pytest.approx(settled.up[0], abs=1e-12)
    assert scene.title == "Small woman, standard steel plate, too long for her"
    assert scene.trimming_moment == report.flat.pitch_moment
    if settled.outcome in ("at rest", "past the vertical"):
        apart = scene.cb - scene.cm
        off = apart - (apart @ scene.up) * scene.up
        # settling ends within 0.01 degree of rest; the gas is solved afresh with the wing neutral
        assert abs(off[0]) < 0.02 * np.linalg.norm(apart)


def test_layer_and_bag_hold_the_gas_that_was_computed(report):
    scene = scene_of(report)
    gas = gas_there(report.soft, scene.up)
    assert scene.suit.thickness @ scene.suit.area == pytest.approx(gas.suit.sum(), rel=1e-12)
    assert scene.wing.volume.sum() == pytest.approx(gas.wing.sum(), rel=1e-12)
    bag = volume_integrals(scene.wing.bag).volume
    capacity = report.assembled.rig.wing.law.most.sum()
    # the drawn bag holds the gas and its own folded cloth, at most 4 % of what it can hold, smoothed between cells
    assert gas.wing.sum() - 0.02 * capacity < bag < gas.wing.sum() + 0.06 * capacity


def test_suit_ends_at_head_and_hands_and_a_hood_leaves_the_face_free(report):
    scene = scene_of(report)
    worn = dict(scene.worn)
    at = scene.skin.vertices
    assert worn["suit"][(np.abs(at) < [0.1, 0.2, 0.2]).all(axis=1)].all()
    assert not worn["suit"][at[:, 0].argmax()]  # crown or finger tips
    if "hood" in worn:
        mask = next(p.solid.mesh for p in scene.parts if p.kind == "mask")
        lens = mask.vertices.mean(axis=0)
        assert not worn["hood"][np.linalg.norm(at - lens, axis=1).argmin()]
        assert not (worn["hood"] & worn["suit"]).all()
        assert worn["hood"].sum() > 50


def test_a_face_without_a_mask_is_no_less_free(report):
    """Skin at the mouth and about as much of it as with a mask, none of it at the crown."""
    looks, rig = report.assembled.looks, report.assembled.rig
    masked, bare = (
        dict(worn_on(looks, tuple(p for p in rig.parts if p.kind not in without)))["hood"]
        for without in ((), ("mask",))
    )
    at = looks.skin.vertices
    assert not bare[np.linalg.norm(at - looks.mouth, axis=1).argmin()]
    assert bare.sum() == pytest.approx(masked.sum(), rel=0.3)


def test_an_indifferent_rig_is_drawn_flat(report):
    scene = scene_of(replace(report, settled=None))
    assert scene.up.tolist() == [0.0, 0.0, 1.0]


def test_a_rig_told_by_numbers_is_drawn_as_balls_of_its_volume(tmp_path, monkeypatch):
    monkeypatch.setenv("HANGFLAT_FLAT_PICTURES", "1")
    file = tmp_path / "rig.toml"
    file.write_text(PARTS, encoding="utf-8")
    report = report_of(Case.read(file).assembled)
    scene = scene_of(report)
    ball = volume_integrals(scene.parts[0].solid.mesh)
    # a sphere of 28 rings by 48 points lacks 0.8 % of its volume
    assert ball.volume == pytest.approx(0.076, rel=0.01)
    assert ball.centroid == pytest.approx([0.1, 0.0, 0.02], abs=1e-9)
    gas = gas_there(report.soft, scene.up)
    assert scene.loose_gas.volume.tolist() == [*gas.suit, *gas.wing]
    how = how_drawn(draw_story(story_of(report), tmp_path / "rig.png"))
    assert how.startswith("in flat shapes: ")
    assert (tmp_path / "rig.png").stat().st_size > 10_000
