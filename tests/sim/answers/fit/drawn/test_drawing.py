"""The fit drawing: what is drawn stands where the body is, at the scale told, and no words meet."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely
from scipy.optimize import minimize

import scenarios
from meshes.mesh import Mesh, joined, moved
from meshes.primitives import box, ellipsoid
from sim.answers.fit.drawn.drawing import all_words, draw_fit
from sim.answers.fit.drawn.layout import SCALES, laid_out
from sim.answers.fit.drawn.plate_inset import inset_dimensions, inset_view
from sim.answers.fit.drawn.scene import FitScene
from sim.answers.fit.drawn.seen import fit_scene
from sim.answers.fit.drawn.sheet import A4, BACK_AXES, PIXEL, Word, spread_out
from sim.answers.fit.drawn.verdict_list import laid_rows
from sim.answers.fit.report import fit_report
from sim.case import Case
from sim.drawing.silhouettes import silhouette
from sim.drawing.views import View, projected
from sim.person.person import STANDING
from sim.person.posed_body import posed_body

DEMOS = Path(scenarios.__file__).parent / "demos"
BACK = View(BACK_AXES, np.zeros(3))
CASES = {
    "small woman": ("small-woman-steel.toml", ()),
    "tall man": ("tall-man-steel.toml", ("plate=small steel",)),
    "single": ("single-wetsuit.toml", ()),
    "least, hung low": ("small-woman-steel.toml", ("diver.height=146 cm", "diver.mass=43 kg", "harness.drop=8 cm")),
    "greatest, hung high": ("tall-man-steel.toml", (
        "diver.height=205 cm", "diver.mass=130 kg", "harness.drop=-7 cm",
    )),
}  # fmt: skip


@pytest.fixture(scope="module", params=list(CASES))
def scene(request: pytest.FixtureRequest) -> FitScene:
    file, settings = CASES[request.param]
    fitted = fit_report(Case.read(DEMOS / file, settings)).plates[0]
    return fit_scene(fitted.case.assembled, fitted.answer)


def written(scene: FitScene) -> list[Word]:
    layout = laid_out(scene)
    rows = laid_rows(scene.verdicts, layout.column)
    return all_words(scene, layout) + [w for row in rows for w in row.words]


def test_no_words_meet_and_all_are_on_the_page(scene):
    words = written(scene)
    for word in words:
        room = word.box
        assert min(room.left, room.bottom) > 0.0, word.text
        assert room.right < A4[0], word.text
        assert room.top < A4[1], word.text
    for one, other in itertools.combinations(words, 2):
        assert not one.box.overlaps(other.box), (one.text, other.text)


def test_measured_lines_are_as_long_as_they_say_at_the_scale_told(scene):
    layout = laid_out(scene)
    assert layout.one_to in SCALES
    paper = PIXEL * layout.one_to  # metres of body a reference pixel
    for dimension in layout.dimensions:
        feet = dimension.feet
        assert np.hypot(*(feet[1] - feet[0])) * paper == pytest.approx(abs(dimension.length), abs=1e-12)
        told = re.match(r"[^\d]*([\d.]+) cm", dimension.word.text)
        assert told is not None
        assert float(told[1]) == pytest.approx(100.0 * abs(dimension.length), abs=0.0501)


def test_heights_of_both_views_are_the_body_s(scene):
    layout, marks = laid_out(scene), scene.body.landmarks
    drawn = {level.name.text: level.y for level in layout.levels}
    metre = 1.0 / (PIXEL * layout.one_to)
    assert drawn["neck bone (C7)"] - drawn["hip bones (iliac crest)"] == pytest.approx(
        metre * (marks["c7"][0] - marks["iliac crest back"][0]), abs=1e-9
    )
    for view in (layout.back, layout.side):
        for name in ("c7", "left acromion", "right acromion", "crotch"):
            assert view.at(marks[name])[0, 1] == pytest.approx(
                drawn["neck bone (C7)"] + metre * (marks[name][0] - marks["c7"][0])
            )


def test_from_behind_the_left_is_on_the_left_and_from_the_left_the_back_is_on_the_right(scene):
    layout, marks = laid_out(scene), scene.body.landmarks
    left, right = (layout.back.at(marks[f"{s} acromion"])[0, 0] for s in ("left", "right"))
    assert left < right
    assert layout.side.at(marks["eyes"])[0, 0] < layout.side.at(marks["c7"])[0, 0]
    words = {w.text.split()[0]: w.box for w in layout.words if "hand" in w.text}
    assert set(words) == {h.side for h in scene.hands} != set()
    assert "left" not in words or words["left"].right < left
    assert "right" not in words or words["right"].left > right


def test_both_views_keep_to_their_boxes_and_the_boxes_apart(scene):
    layout = laid_out(scene)
    assert layout.back_box.right < layout.side_box.left
    assert layout.side_box.right < layout.column.left
    gear = np.concatenate([m.vertices for m in (*scene.cylinders, *scene.valves)])
    for view, room in ((layout.back, layout.back_box), (layout.side, layout.side_box)):
        at = view.at(gear)
        assert at[:, 0].min() >= room.left - 1e-6
        assert at[:, 0].max() <= room.right + 1e-6
        assert at[:, 1].min() > room.bottom
        assert at[:, 1].max() <= room.top + 1e-6


def test_what_fails_is_told_first_and_the_column_holds_all(scene):
    layout = laid_out(scene)
    rows = laid_rows(scene.verdicts, layout.column)
    order = [{False: 0, True: 1, None: 2}[row.passes] for row in rows]
    assert order == sorted(order)
    assert len(rows) == len(scene.verdicts)
    assert min(w.box.bottom for row in rows for w in row.words) >= layout.column.bottom - 3.0
    assert max(w.box.right for row in rows for w in row.words) <= layout.column.right + 1e-6


def test_the_plate_by_itself_has_the_plate_s_measures(scene):
    room = laid_out(scene).inset
    page = inset_view(scene.plate, room)
    told = {d.words: d.length for d in inset_dimensions(scene.plate, page)}
    plate = scene.plate
    assert told["long"] == pytest.approx(plate.top[0] - plate.bottom[0])
    assert told["width"] == pytest.approx(plate.width)
    assert told["bolts"] == pytest.approx(plate.upper_bolt[0] - plate.lower_bolt[0])
    assert told["shoulder slots"] == pytest.approx(plate.shoulder_slots[0, 1] - plate.shoulder_slots[1, 1])
    edge = page.placement.on_canvas(np.column_stack([-plate.outline[:, 1], plate.outline[:, 0]]))
    assert edge.min(axis=0) == pytest.approx(np.maximum(edge.min(axis=0), [room.left, room.bottom]))
    assert edge.max(axis=0) == pytest.approx(np.minimum(edge.max(axis=0), [room.right, room.top]))


def test_the_page_is_a4(tmp_path):
    fitted = fit_report(Case.read(DEMOS / CASES["small woman"][0])).plates[0]
    page = draw_fit(fit_scene(fitted.case.assembled, fitted.answer), tmp_path / "page.pdf").read_bytes()
    corner = re.search(rb"/MediaBox \[ 0 0 ([\d.]+) ([\d.]+) \]", page)
    assert corner is not None
    # A4 across is 297 by 210 mm; the page is whole hundredths of an inch
    assert [float(c) / 72.0 * 25.4 for c in corner.groups()] == pytest.approx([297.0, 210.0], abs=0.3)


def test_a_ball_covers_a_disc_and_a_thing_with_a_hole_shows_it():
    ball = ellipsoid([0.1, 0.1, 0.1], rings=40, points=80)
    (ring,) = silhouette([ball], BACK)
    x, y = ring[:-1].T
    disc = 0.5 * abs(float(np.dot(x, np.roll(y, 1)) - np.dot(y, np.roll(x, 1))))
    # inscribed: 80 chords take 2/3 (pi/80)^2, and rings in height as much again
    assert disc == pytest.approx(np.pi * 0.01, rel=2e-3)
    frame = joined([moved(box([0.1, 0.02, 0.02]), None, [0.0, s, 0.0]) for s in (0.05, -0.05)]
                   + [moved(box([0.02, 0.1, 0.02]), None, [s, 0.0, 0.0]) for s in (0.04, -0.04)])  # fmt: skip
    rings = silhouette([frame], BACK)
    assert sorted(len(r) > 0 for r in rings) == [True, True]
    hole = min(rings, key=lambda r: float(np.ptp(r[:, 0]) * np.ptp(r[:, 1])))
    assert np.ptp(hole, axis=0) == pytest.approx([0.08, 0.06], abs=1e-4)


@pytest.mark.parametrize("seed", range(3))
def test_whatever_lies_over_one_another_is_covered_once(seed):
    """Loose triangles that cross, face away or lie apart: the area is that of their union by a geometry library."""
    rng = np.random.default_rng(seed)
    corners = rng.uniform(-1.0, 1.0, (60, 1, 3)) + rng.uniform(-0.3, 0.3, (60, 3, 3))
    rings = silhouette([Mesh(corners.reshape(-1, 3), np.arange(180).reshape(-1, 3))], BACK)
    seen = projected(BACK, corners.reshape(-1, 3))[:, :2].reshape(-1, 3, 2)
    towards = shapely.is_ccw(shapely.linearrings(seen))
    union = shapely.union_all(shapely.polygons(seen[towards]))
    assert 10 < len(rings) < 60
    covered = shapely.build_area(shapely.multilinestrings(list(map(shapely.linestrings, rings))))
    # cracks of 2e-5 m are closed along the rings
    assert covered.symmetric_difference(union).area < 2e-5 * union.length


def test_the_plate_s_slots_and_holes_are_open(scene):
    assert scene.plate.solid.mesh is not None
    rings = silhouette([scene.plate.solid.mesh], BACK)
    areas = sorted(float(np.prod(np.ptp(r, axis=0))) for r in rings)
    # 4 strap slots, the crotch strap's, 2 bolts, 2 further holes, an opening in the channel, 4 beside it (small: 2)
    assert len(rings) == 1 + 4 + 1 + 2 + 2 + 1 + (4 if scene.plate.width > 0.26 else 2)
    assert areas[-1] > 100.0 * areas[0]


@pytest.mark.parametrize("seed", range(6))
def test_labels_are_moved_no_more_than_they_must(seed):
    rng = np.random.default_rng(seed)
    wanted, gap = np.sort(rng.uniform(0.0, 60.0, 6)), 12.0
    placed = np.array(spread_out(wanted.tolist(), gap))
    assert (np.diff(placed) >= gap - 1e-9).all()
    best = minimize(
        lambda p: ((p - wanted) ** 2).sum(), placed + rng.normal(size=6), jac=lambda p: 2.0 * (p - wanted),
        constraints=[{"type": "ineq", "fun": lambda p: np.diff(p) - gap}],
    )  # fmt: skip
    assert ((placed - wanted) ** 2).sum() == pytest.approx(best.fun, abs=1e-5)


def test_labels_of_their_own_heights_keep_their_own_gaps():
    assert spread_out([0.0, 1.0, 2.0], [4.0, 6.0]) == pytest.approx([-3.0 - 2.0 / 3.0, 1.0 / 3.0, 6.0 + 1.0 / 3.0])
    assert spread_out([0.0, 10.0, 40.0], [4.0, 6.0]) == [0.0, 10.0, 40.0]


@pytest.fixture(scope="module")
def woman():
    fitted = fit_report(Case.read(DEMOS / CASES["small woman"][0])).plates[0]
    return fitted.answer, fit_scene(fitted.case.assembled, fitted.answer)


def test_the_drawn_reach_agrees_with_its_margin(woman):
    answer, scene = woman
    hands = {h.hand: h for h in answer.reach if h.valve != "isolator"}
    assert {h.side for h in scene.hands} == set(hands)
    for hand in scene.hands:
        told = hands[hand.side]
        assert hand.knob == pytest.approx(told.at)
        below = [ring[np.abs(ring[:, 1] - hand.knob[1]) < 0.012] for ring in hand.behind]
        lowest = min(float(part[:, 0].min()) for part in below if len(part))
        # the margin is how much lower the knob could sit; the plane is tried every 16 mm and smoothed over as much
        assert hand.knob[0] - lowest == pytest.approx(min(told.margin, hand.radius), abs=0.02)
        assert all(ring[:, 2] == pytest.approx(hand.knob[2]) for ring in hand.behind)
        assert all(ring[:, 1] == pytest.approx(hand.knob[1]) for ring in hand.beside)
        far = max(float(np.linalg.norm(r - hand.knob, axis=1).max()) for r in (*hand.behind, *hand.beside))
        assert far <= hand.radius + 1e-3


def test_the_two_hands_of_a_symmetric_diver_are_drawn_alike(woman):
    _, scene = woman
    left, right = (next(h for h in scene.hands if h.side == s) for s in ("left", "right"))
    mirror = np.array([1.0, -1.0, 1.0])
    assert left.chain * mirror == pytest.approx(right.chain, abs=1e-9)
    assert left.margin == pytest.approx(right.margin, abs=1e-9)


def test_the_lifted_head_and_its_sight_are_those_of_the_answer(woman):
    answer, scene = woman
    lift, told = scene.lift, answer.look_ahead
    assert lift is not None
    turned = posed_body(scene.body.person, replace(STANDING, neck_extension=told.lift))
    assert lift.eyes == pytest.approx(turned.landmarks["eyes"], abs=1e-9)
    assert np.degrees(np.arcsin(lift.sight[2])) == pytest.approx(np.degrees(told.ahead), abs=1e-9)
    assert lift.below_ahead == pytest.approx(-told.ahead)
