"""The whole picture: marks where the physics puts them, words on no line and on no other word, files as asked."""

import pytest
from matplotlib.text import Text
from matplotlib.transforms import Bbox

from sim.answers.settle.drawn import picture
from sim.answers.settle.drawn.picture import FORCE_FLAT_SHAPES, annotate, laid_out
from sim.drawing.canvas import blank, points
from sim.drawing.marks import MARK
from sim.drawing.sheet_options import Chosen
from tests.sim.answers.settle.drawn.conftest import told

SMALL = (800, 500)
DIVERS = [
    ("small-woman-steel", ()),
    ("small-woman-carbon", ()),
    ("tall-man-carbon", ()),
    ("side-hung", ()),
    ("single-wetsuit", ()),
    ("rebreather", ()),
    ("loose-legs", ()),
    ("small-woman-carbon", ("diver.height=150 cm", "diver.mass=43 kg")),
    ("tall-man-carbon", ("diver.height=205 cm", "diver.mass=110 kg")),
    ("single-wetsuit", ("diver.mass=130 kg",)),
]


@pytest.fixture
def flat_shapes_only(monkeypatch):
    monkeypatch.setenv(FORCE_FLAT_SHAPES, "1")


def annotated(story, chosen=None):
    """Canvas with everything but the diver."""
    chosen = chosen or Chosen()
    canvas = blank(chosen.size, style=chosen.look)
    dresses = picture._dressed(story, chosen)
    panels, moments = laid_out(canvas, story, dresses, chosen)
    annotate(canvas, story, panels, moments, dresses[0], chosen)
    return canvas, panels, moments


def words_of(canvas):
    return [
        t for t in canvas.figure.findobj(Text) if t.get_text().strip() and t.get_visible() and t.axes is canvas.axes
    ]


def faults(canvas):
    """Words off the page, on other words, and on lines, arrows or the lens."""
    renderer = canvas.figure.canvas.get_renderer()
    width, height = canvas.figure.canvas.get_width_height()
    boxes = [(t.get_text(), t.get_window_extent(renderer)) for t in words_of(canvas)]
    marks = canvas.figure.findobj(lambda artist: (artist.get_gid() or "").startswith(MARK))
    found = []
    for number, (text, box) in enumerate(boxes):
        if not (box.x0 >= 0 and box.y0 >= 0 and box.x1 <= width and box.y1 <= height):
            found.append(f"{text!r} leaves the page")
        found += [f"{text!r} on {other!r}" for other, second in boxes[number + 1 :] if box.overlaps(second)]
        inner = Bbox.from_extents(box.x0, box.y0 + 0.15 * box.height, box.x1, box.y1 - 0.15 * box.height)
        for mark in marks:
            if mark.get_gid() != MARK and text in ("CM", "CB"):
                continue
            path = mark.get_transform().transform_path(mark.get_path())
            filled = not hasattr(mark, "get_xdata")
            if path.intersects_bbox(inner, filled=filled):
                found.append(f"{text!r} on a {type(mark).__name__}")
    return found


@pytest.mark.parametrize(("name", "settings"), DIVERS)
def test_words_stand_on_no_line_and_on_no_other_word(name, settings):
    story = told(name, settings)
    assert faults(annotated(story)[0]) == []


@pytest.mark.parametrize(
    "chosen",
    [Chosen(view=v) for v in ("front", "top", "three-quarter", "all")]
    + [Chosen(size=s) for s in ((1920, 1080), (1000, 1000), (900, 1600), (3200, 900))],
)
def test_so_they_do_from_every_side_and_in_every_shape(steel, chosen):
    assert faults(annotated(steel, chosen)[0]) == []


def test_words_can_be_read_at_half_the_size(steel):
    canvas, *_ = annotated(steel)
    # 18 pixels of 1000 high: 9 pixels when halved, about the least that sans-serif letters need (from memory)
    assert min(t.get_fontsize() for t in words_of(canvas)) >= points(18.0) - 1e-9
