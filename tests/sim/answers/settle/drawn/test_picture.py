"""The whole picture: marks where the physics puts them, words on no line and on no other word, files as asked."""

import re
from dataclasses import replace

import numpy as np
import pytest
from lxml import etree
from matplotlib.image import imread
from matplotlib.patches import Polygon
from matplotlib.text import Text
from matplotlib.transforms import Bbox
from pypdf import PdfReader

from sim.answers.settle.drawn import foot, painting, picture
from sim.answers.settle.drawn.flat_panel import FORCE, TURN
from sim.answers.settle.drawn.painting import FORCE_FLAT_SHAPES
from sim.answers.settle.drawn.picture import annotate, draw_story, laid_out
from sim.answers.settle.drawn.placed_view import seen_triangles
from sim.answers.settle.drawn.several import annotate_rows, rows_of
from sim.drawing.canvas import blank, points
from sim.drawing.marks import HALO, MARK
from sim.drawing.sheet_options import USUAL, Chosen
from sim.telling.language import LANGUAGES, say, spoken
from sim.telling.words import thickness_words
from tests.sim.answers.settle.drawn.conftest import told

SMALL = (800, 500)
DIVERS = [
    ("small-woman-steel", ()),
    ("tall-man-carbon", ()),
    ("side-hung", ()),
    ("single-wetsuit", ()),
    ("rebreather", ()),
    ("tall-man-carbon", ("diver.height=205 cm", "diver.mass=110 kg")),
    ("single-wetsuit", ("diver.mass=130 kg",)),
    ("small-woman-carbon", ("diver.height=145 cm", "diver.mass=48 kg")),
    ("loose-legs", ()),
]


@pytest.fixture
def flat_shapes_only(monkeypatch):
    """No renderer, and coarse: tests of files need no fine outlines."""
    monkeypatch.setattr(painting, "FINENESS", 5.0)
    monkeypatch.setenv(FORCE_FLAT_SHAPES, "1")


def in_rows(stories, chosen=None):
    """Canvas with everything but several divers, the rows, and the divers' triangles."""
    chosen = chosen or Chosen()
    canvas = blank(chosen.size, style=chosen.look)
    rows = rows_of(canvas, stories, chosen)
    annotate_rows(canvas, rows, chosen)
    shown = [pair for row in rows for pair in zip((row.flat, *row.end), row.dresses, strict=True)]
    return canvas, rows, triangles(canvas, shown)


def annotated(story, chosen=None):
    """Canvas with everything but the diver, the panels, the moments, and the diver's triangles."""
    chosen = chosen or Chosen()
    canvas = blank(chosen.size, style=chosen.look)
    dresses = picture._dressed(story, chosen)
    panels, moments = laid_out(canvas, story, dresses, chosen)
    annotate(canvas, story, panels, moments, dresses[0], chosen)
    shown = [*((p, dresses[0]) for p in panels), *zip(moments, dresses[1:], strict=True)]
    return canvas, panels, moments, triangles(canvas, shown)


def triangles(canvas, shown):
    """(n, 3, 2) pixels of all divers."""
    found = []
    for panel, dress in shown:
        corners, faces = seen_triangles(panel.view, dress)
        at = canvas.axes.transData.transform(panel.placement.on_canvas(corners)).astype(np.float32)  # 1e-4 of a pixel
        found.append(at[faces])
    return np.concatenate(found)


def words_of(canvas):
    texts = [t for t in canvas.figure.findobj(Text) if t.axes is canvas.axes and t.get_gid() != HALO]
    return [t for t in texts if t.get_text().strip() and t.get_visible()]


def touches(drawn, low, high, box):
    """Whether any of triangles (n, 3, 2) has a point inside a box, as no line parts them (separating axes).

    low, high : (2, n) least and greatest of the triangles
    """
    near = (low[0] < box.x1) & (low[1] < box.y1) & (high[0] > box.x0) & (high[1] > box.y0)
    near = drawn[near]
    edges = np.roll(near, -1, axis=1) - near
    normals = np.stack([-edges[..., 1], edges[..., 0]], axis=-1)
    corners = np.array([[box.x0, box.y0], [box.x1, box.y0], [box.x1, box.y1], [box.x0, box.y1]])
    own, others = normals @ near.swapaxes(1, 2), normals @ corners.T
    apart = (own.max(axis=2) <= others.min(axis=2)) | (others.max(axis=2) <= own.min(axis=2))
    return bool((~apart.any(axis=1)).any())


def faults(canvas, drawn):
    """Words off the page, on other words, on lines, arrows or the lens, and on a diver of triangles ``drawn``."""
    one, two, three = (np.ascontiguousarray(drawn[:, k].T) for k in range(3))
    low, high = np.minimum(np.minimum(one, two), three), np.maximum(np.maximum(one, two), three)
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
            if mark.get_gid() != MARK and text in (say("CM"), say("CB")):
                continue
            path = mark.get_transform().transform_path(mark.get_path())
            filled = not hasattr(mark, "get_xdata")
            if path.intersects_bbox(inner, filled=filled):
                found.append(f"{text!r} on a {type(mark).__name__}")
        if text not in (say("CM"), say("CB")) and touches(drawn, low, high, inner):
            found.append(f"{text!r} on a diver")
    return found


def found_in(made):
    """Faults of what annotated or in_rows made."""
    return faults(made[0], made[-1])


@pytest.mark.parametrize(("name", "settings"), DIVERS)
def test_words_stand_on_no_line_no_diver_and_no_other_word(name, settings):
    story = told(name, settings)
    with spoken("de" if settings else "en"):
        found = {view: found_in(annotated(story, Chosen(view=view))) for view in ("side", "all")}
    assert found == {"side": [], "all": []}


@pytest.mark.parametrize(
    "chosen",
    [Chosen(view=v) for v in ("front", "top", "three-quarter")]
    + [Chosen(size=s) for s in ((1000, 1000), (900, 1600), (3200, 900))],
)
def test_so_they_do_from_every_side_and_in_every_shape(steel, chosen):
    assert found_in(annotated(steel, chosen)) == []


def test_so_they_do_with_the_longest_names(steel):
    """60 letters, as many as an item's name may have, of one word and of many, the other names being usual ones."""
    names = (
        "Unterwasserscheinwerferakkumulatorbehaelterhalterungsschelle",
        "a torch that was lent by a friend of the diver for the night",
    )
    first, second, *others = steel.turners
    long = replace(steel, turners=(replace(first, name=names[0]), replace(second, name=names[1]), *others))
    assert found_in(annotated(long, Chosen(view="all"))) == []


def test_a_word_on_the_diver_is_noticed(steel):
    canvas, *_, drawn = annotated(steel)
    middle = canvas.axes.transData.inverted().transform(drawn[0].mean(axis=0))
    canvas.axes.text(*middle, "here")
    assert "'here' on a diver" in faults(canvas, drawn)


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_longest_words_keep_to_the_page(steel, language):
    """A title as long as a file may have, in every language; 24 pixels at either edge stay free."""
    title = "Waagerechte Wassertemperaturuntersuchungsgesellschaft, " * 3
    long = replace(steel, flat=replace(steel.flat, title=title[:120]))
    with spoken(language):
        drawn = [annotated(long)]
        if language == "de":  # whose words are the longest
            drawn += [annotated(long, Chosen(size=(900, 1600))), in_rows([long] * 2)]
        found = [found_in(made) for made in drawn]
    assert found == [[]] * len(drawn)
    for canvas, *_ in drawn:
        renderer, edge = canvas.figure.canvas.get_renderer(), 24.0 * canvas.zoom
        boxes = [t.get_window_extent(renderer) for t in words_of(canvas)]
        assert min(box.x0 for box in boxes) >= edge
        assert max(box.x1 for box in boxes) <= canvas.width * canvas.zoom - edge
        said = [t.get_text() for t in words_of(canvas)]
        assert language != "fr" or not [w for w in said if re.search(r"\S;", w)], "French sets a blank before it"


def test_words_can_be_read_at_half_the_size(steel):
    canvas, *_ = annotated(steel)
    # 18 pixels of 1000 high: 9 pixels when halved, about the least that sans-serif letters need (from memory)
    assert min(t.get_fontsize() for t in words_of(canvas)) >= points(18.0) - 1e-9


def test_several_divers_stand_in_one_frame_to_one_scale(steel):
    stories = [steel, *(told(name) for name in ("single-wetsuit", "tall-man-carbon", "side-hung"))]
    canvas, rows, drawn = in_rows(stories)
    assert faults(canvas, drawn) == []
    assert len({row.flat.placement.scale for row in rows}) == 1
    assert len({row.flat.full for row in rows}) == 1
    titles = [t.get_text() for t in words_of(canvas)]
    assert all(row.story.flat.title in titles for row in rows)


def test_measures_take_the_colour_of_how_they_are_found(steel):
    measured = told("small-woman-steel", layers=frozenset({"fit", "reach", "sight"}))
    assert [m.passes for m in measured.measures] == [False, True, True, True, False]  # as hangflat fit has it
    for view in ("side", "top", "all"):
        chosen = Chosen(view=view, layers=USUAL | {"fit", "reach", "sight"})
        canvas, *_, drawn = annotated(measured, chosen)
        assert faults(canvas, drawn) == []
        colours = [line.get_color() for line in canvas.axes.lines]
        assert canvas.style.passes in colours
        assert canvas.style.fails in colours


def test_the_key_is_of_what_is_drawn(steel):
    """From ahead nothing that turns has an arrow; from above it is discs, whose length says nothing."""
    colours, lengths = "turns head-down", "Length of an arrow"

    def said(canvas):
        words = " ".join(text.get_text() for text in words_of(canvas))
        return colours in words, lengths in words

    for view, expected in (("side", (True, True)), ("front", (False, False)), ("top", (True, False))):
        assert said(annotated(steel, Chosen(view=view))[0]) == expected
        assert said(in_rows([steel, steel], Chosen(view=view))[0]) == expected


def test_the_gas_scale_is_in_the_readers_units():
    """25.4 mm are an inch."""
    assert thickness_words(0.0254, unit=True) == "25.4 mm"
    with spoken("en", "imperial"):
        assert thickness_words(0.0254, unit=True) == "1 in"
    with spoken("de", "imperial"):
        assert thickness_words(0.0127, unit=False) == "0,5"


def test_a_layer_that_is_not_wanted_is_not_drawn(steel):
    bare = annotated(steel, Chosen(layers=frozenset()))[0]
    said = " ".join(t.get_text() for t in words_of(bare))
    assert "buoyancy" not in said
    assert "horizon" not in said
    assert "gas in suit" not in said


@pytest.mark.parametrize(("share", "longest"), [(0.5, 0.5), (1.0, 1.0)])
def test_arrows_are_in_proportion(steel, share, longest):
    """The greatest arrow is as long as TURN; one of half its moment is half as long."""
    first = steel.turners[0]
    two = replace(steel, turners=(first, replace(first, moment=share * first.moment)))
    tall = [float(np.ptp(p.get_xy()[:, 1])) for p in annotated(two)[0].axes.findobj(Polygon) if len(p.get_xy()) == 8]
    arrows = sorted(t for t in tall if t not in (FORCE,))
    assert any(t == pytest.approx(TURN * longest) for t in arrows)


def test_the_arrows_and_the_rest_add_up_to_the_moment(steel):
    # sums of some 40 numbers of up to 1000 N m
    total = sum(t.moment for t in steel.turners) + steel.others
    assert total == pytest.approx(steel.flat.trimming_moment, abs=1e-9)


def test_svg_and_pdf_hold_the_words_as_words(steel, tmp_path, flat_shapes_only):
    short = replace(steel, moments=steel.moments[-1:])
    for ending in ("svg", "pdf"):
        draw_story(short, tmp_path / f"a.{ending}", Chosen(size=SMALL, style="print"))
    tree = etree.parse(tmp_path / "a.svg")
    assert tree.getroot().tag == "{http://www.w3.org/2000/svg}svg"
    text = PdfReader(tmp_path / "a.pdf").pages[0].extract_text()
    assert "head-down" in text


def test_a_picture_has_the_size_asked_for_and_may_be_seen_through(steel, tmp_path, flat_shapes_only):
    short = replace(steel, moments=())
    draw_story(short, tmp_path / "a.png", Chosen(size=SMALL, clear=True))
    pixels = imread(tmp_path / "a.png")
    assert pixels.shape == (SMALL[1], SMALL[0], 4)
    assert pixels[2, 2, 3] == 0.0
    assert pixels[..., 3].max() == 1.0


def test_foot_holds_a_long_caution_whole():
    """Languages that take more words: smaller letters, and not a word lost."""
    words = "Każdą zmianę balastu lub sprzętu sprawdź na basenie z wykwalifikowanym instruktorem. " * 5
    canvas = blank((1600, 1000), style=Chosen().look)
    _, lines = foot.two_lines(words, canvas.width - 2.0 * foot.LEFT)
    assert len(lines) == 2
    assert " ".join(lines).split() == words.split()
