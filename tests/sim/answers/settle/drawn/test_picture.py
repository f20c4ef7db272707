"""The whole picture: marks where the physics puts them, words that neither overlap nor shrink, files as asked."""

from dataclasses import replace

import numpy as np
import pytest
from lxml import etree
from matplotlib.image import imread
from matplotlib.text import Text

from meshes.primitives import ellipsoid
from meshes.solid import solid_of
from sim.answers.settle.drawn.picture import FORCE_FLAT_SHAPES, annotate, draw_settled, laid_out
from sim.drawing import offscreen
from sim.drawing.canvas import blank, points
from sim.drawing.palette import BUOYANCY, WEIGHT, rgb
from sim.drawing.scene import LooseGas
from sim.drawing.surfaces import dressed
from sim.drawing.views import projected
from sim.rig import Part

TOP_BAND, BOTTOM_BAND = 140.0, 180.0  # reference pixels kept for the title and for the small print

SMALL = (800, 500)
ATTITUDES = [
    (0.0, 0.0),
    (-4.0, 0.0),
    (6.0, 3.0),
    (-17.0, 0.0),
    (35.0, -20.0),
    (-62.0, 0.0),
    (88.0, 0.0),
    (10.0, 175.0),
]


@pytest.fixture
def flat_shapes_only(monkeypatch):
    monkeypatch.setenv(FORCE_FLAT_SHAPES, "1")


def annotated(scene, size=(1600, 1000)):
    """Canvas with everything but the diver, and the layout."""
    canvas = blank(size)
    dress = dressed(scene)
    layout = laid_out(canvas, scene, dress)
    annotate(canvas, scene, dress, layout)
    return canvas, layout


def words_of(canvas):
    return [t for t in canvas.figure.findobj(Text) if t.get_text().strip() and t.get_visible()]


@pytest.mark.parametrize(("pitch", "roll"), ATTITUDES)
def test_words_overlap_nowhere_and_stay_on_the_page(scene_at, pitch, roll):
    canvas, _ = annotated(scene_at(pitch, roll))
    renderer = canvas.figure.canvas.get_renderer()
    boxes = [(t.get_text(), t.get_window_extent(renderer)) for t in words_of(canvas) if t.axes is canvas.axes]
    for number, (text, box) in enumerate(boxes):
        assert box.x0 >= 0 and box.y0 >= 0 and box.x1 <= 1600 and box.y1 <= 1000, text  # noqa: PT018
        for other, second in boxes[number + 1 :]:
            assert not box.overlaps(second), f"{text!r} on {other!r}"


@pytest.mark.parametrize("pitch", [0.0, 88.0, -82.0])
def test_long_small_print_keeps_off_the_card_of_the_roll_view(scene_at, pitch):
    told = "kept from rolling: on the back by tipping over; wing 5.4 l; suit 8.2 l; mass 144.5 kg; net 0.51 kg, sinks"
    canvas, layout = annotated(scene_at(pitch, caption=(told, told)))
    renderer = canvas.figure.canvas.get_renderer()
    card = layout.roll_box
    for text in words_of(canvas):
        if text.get_text() and text.get_text() in " ".join([told, told]):
            box = text.get_window_extent(renderer)
            beside = box.x1 <= card.left or box.x0 >= card.right
            assert beside or box.y1 <= card.bottom or box.y0 >= card.top, text.get_text()


@pytest.mark.parametrize("pitch", [0.0, 40.0, -82.0, 88.0])
def test_a_ball_with_bubbles_stays_between_title_and_small_print(scene_at, pitch):
    """A rig told by numbers may be a ball much smaller than the arrows, and its gas far off."""
    ball = Part("load", "body", solid_of(ellipsoid([0.25, 0.25, 0.25], [0.16, 0.0, 0.05]), 1000.0))
    gas = LooseGas(np.array([[-0.5, -0.1, 0.0], [0.4, 0.1, 0.1]]), np.array([5e-3, 1e-3]))
    bare = {"parts": (ball,), "skin": None, "suit": None, "wing": None, "worn": (), "loose_gas": gas}
    scene = scene_at(pitch, **bare)
    canvas, layout = annotated(scene)
    radii = layout.placement.scale * np.cbrt(0.75 * gas.volume / np.pi)
    middles = layout.placement.on_canvas(projected(layout.side, gas.centre))[:, 1]
    assert (middles + radii).max() <= 1000.0 - TOP_BAND + 1e-6
    assert (middles - radii).min() >= BOTTOM_BAND
    renderer = canvas.figure.canvas.get_renderer()
    boxes = {t.get_text(): t.get_window_extent(renderer) for t in words_of(canvas) if t.axes is canvas.axes}
    named = [box for text, box in boxes.items() if text.startswith(("weight", "buoyancy"))]
    title = next(box for text, box in boxes.items() if text.startswith("Held flat"))
    assert len(named) == 2
    assert all(box.y0 >= BOTTOM_BAND - 10.0 and box.y1 <= title.y0 for box in named)


def test_words_can_be_read_at_half_the_size(scene_at):
    canvas, _ = annotated(scene_at(-17.0))
    # 18 pixels of 1000 high: 9 pixels when halved, about the least that sans-serif letters need (from memory)
    assert min(t.get_fontsize() for t in words_of(canvas)) >= points(18.0)


@pytest.mark.parametrize(("pitch", "roll"), ATTITUDES)
def test_the_head_is_where_up_says(scene_at, pitch, roll):
    scene = scene_at(pitch, roll)
    _, layout = annotated(scene)
    place, scale = layout.placement, layout.placement.scale
    assert layout.cm == pytest.approx(place.origin)
    # CB straight above the CM by 12 mm, whatever the attitude
    assert layout.cb - layout.cm == pytest.approx([0.0, 0.012 * scale], abs=1e-6)
    way = np.array([np.cos(np.radians(pitch)), np.sin(np.radians(pitch))])
    along = (layout.drawn - layout.cm) @ way / scale
    # the crown is 0.91 - 0.16 m ahead of the CM, the fins' tips 1.20 + 0.16 m behind
    assert along.max() == pytest.approx(0.75, abs=0.05)
    assert along.min() == pytest.approx(-1.36, abs=0.08)


def shaft_length(picture, colour, row, column, step):
    """Pixels of exactly this colour, one after the other, from the mark of a centre up (-1) or down (+1)."""
    pure = np.abs(picture[:, column, :3] - rgb(colour)).max(axis=1) < 0.004
    at = row + 12 * step  # beyond the marks, 7 pixels in radius, the CB's 3 pixels higher
    while pure[at]:
        at += step
    return abs(at - row)


@pytest.mark.usefixtures("flat_shapes_only")
def test_weight_points_down_from_the_cm_and_buoyancy_up_to_scale(scene_at, tmp_path):
    heavy = scene_at(-17.0, net_buoyancy=-60.0)  # half the weight is left
    drawn = draw_settled(heavy, tmp_path / "diver.png", size=SMALL)
    assert drawn.renderer == "vector"
    picture = imread(drawn.path)
    assert picture.shape[:2] == (500, 800)
    cm = 0.5 * annotated(heavy)[1].cm  # half-size picture
    column, row = int(cm[0]), 500 - int(cm[1])
    lengths = [shaft_length(picture, *arrow) for arrow in ((WEIGHT, row, column, 1), (BUOYANCY, row, column, -1))]
    # 205 reference pixels for the greater force; the sharp tip, edged in white, is pure for all but its last 6 pixels
    assert lengths[0] == pytest.approx(0.5 * 205, abs=6)
    # half the force makes half the arrow; a shorter head and the CB 3 pixels higher take their part
    assert lengths[0] - lengths[1] == pytest.approx(0.5 * 205 * 0.5, abs=5)


@pytest.mark.usefixtures("flat_shapes_only")
def test_the_vector_files_are_whole_and_the_same_each_time(scene_at, tmp_path):
    scene = scene_at(12.0)
    first, again = (draw_settled(scene, tmp_path / f"{name}.svg").path.read_bytes() for name in ("one", "two"))
    assert first == again
    root = etree.fromstring(first)
    assert root.tag.endswith("svg")
    page = [float(v) for v in root.get("viewBox").split()]
    assert page[2] / page[3] == pytest.approx(1.6)
    pdf = draw_settled(scene, tmp_path / "one.pdf", size=SMALL).path.read_bytes()
    assert pdf.startswith(b"%PDF")
    assert pdf.rstrip().endswith(b"%%EOF")


def test_without_graphics_the_flat_shapes_are_drawn_and_it_is_said(scene_at, tmp_path, monkeypatch):
    monkeypatch.setattr(offscreen, "windows_to_try", lambda: ())
    monkeypatch.setattr(
        "sim.answers.settle.drawn.picture.rendered",
        lambda surfaces, sheets: offscreen.Rendered((), "no OpenGL library works here"),
    )
    drawn = draw_settled(scene_at(5.0), tmp_path / "diver.png", size=SMALL)
    assert drawn.renderer == "vector"
    assert "no OpenGL" in drawn.note
    assert imread(drawn.path)[..., :3].std() > 0.05


def test_shaded_and_flat_pictures_show_the_same_diver(scene_at, tmp_path, monkeypatch):
    scene = scene_at(-17.0, 8.0)
    shaded = draw_settled(scene, tmp_path / "shaded.png", size=SMALL)
    if shaded.renderer != "shaded":
        pytest.skip(shaded.note)
    monkeypatch.setenv(FORCE_FLAT_SHAPES, "yes")
    flat = draw_settled(scene, tmp_path / "flat.png", size=SMALL)
    one, two = (imread(d.path)[..., :3].mean(axis=2) for d in (shaded, flat))
    assert one.shape == two.shape == (500, 800)
    # the same page but for tones of the diver: they differ by steps of light, nowhere by a missing limb
    assert np.corrcoef(one.ravel(), two.ravel())[0, 1] > 0.97


@pytest.mark.usefixtures("flat_shapes_only")
def test_a_rig_without_a_body_is_drawn_too(scene_at, tmp_path):
    bare = scene_at(0.0, skin=None, suit=None, wing=None)
    assert draw_settled(bare, tmp_path / "gear.png", size=SMALL).path.stat().st_size > 10_000
    with pytest.raises(ValueError, match="nothing in the scene"):
        draw_settled(replace(bare, parts=()), tmp_path / "none.png", size=SMALL)


@pytest.mark.parametrize(("name", "size"), [("diver.gif", SMALL), ("diver", SMALL), ("diver.png", (100, 100))])
def test_what_cannot_be_drawn_is_refused_and_leaves_no_file(scene_at, tmp_path, name, size):
    with pytest.raises(ValueError, match="picture"):
        draw_settled(scene_at(0.0), tmp_path / name, size=size)
    assert not list(tmp_path.iterdir())


def test_a_missing_folder_is_named(scene_at, tmp_path):
    with pytest.raises(FileNotFoundError, match="no folder"):
        draw_settled(scene_at(0.0), tmp_path / "nowhere" / "diver.png")
