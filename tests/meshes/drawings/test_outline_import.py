"""Drawings in DXF and SVG: what they enclose, in which unit, and what is said when they are not right."""

from collections.abc import Callable
from pathlib import Path

import ezdxf
import numpy as np
import pytest
from ezdxf.document import Drawing as Dxf
from ezdxf.layouts import Modelspace

from meshes.drawings.outline_assembly import outline_from_chains
from meshes.drawings.outline_import import Drawing, read_outline
from meshes.drawings.shape_file import ShapeFileError
from meshes.plate.sheet import polygon_of

CURVE_TOLERANCE = 1e-5  # m: chords are off their curve by a hundredth of a millimetre at most

RECTANGLE = [(0, 0), (280, 0), (280, 400), (0, 400)]
MILLIMETRES, INCHES, UNITLESS = 4, 1, 0


def saved(
    folder: Path, draw: Callable[[Modelspace], object], units: int = MILLIMETRES, version: str = "R2010"
) -> Path:
    document: Dxf = ezdxf.new(version)
    document.units = units
    draw(document.modelspace())
    document.saveas(folder / "plate.dxf")
    return folder / "plate.dxf"


def svg(folder: Path, body: str, head: str = 'width="280mm" height="400mm" viewBox="0 0 280 400"') -> Path:
    file = folder / "plate.svg"
    file.write_text(f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{body}</svg>', encoding="utf-8")
    return file


def area(drawing: Drawing) -> float:
    return float(polygon_of(drawing.outline).area)


def rectangle_with_holes(space: Modelspace) -> None:
    space.add_lwpolyline(RECTANGLE, close=True)
    space.add_circle((140, 339.5), 4.75)
    space.add_circle((140, 60.5), 4.75)


# a cubic curve whose control points are a rectangle's corners covers 18 x integral of t^2 (1 - t)^2 = 3/5 of it
LOBE = 0.6


def chord_loss(radius: float) -> float:
    """Most area [m^2] lost round a circle to chords off by CURVE_TOLERANCE: 2/3 of that times the girth."""
    return 2.0 / 3.0 * CURVE_TOLERANCE * 2.0 * np.pi * radius


def test_a_rectangle_with_two_holes(tmp_path: Path) -> None:
    got = read_outline(saved(tmp_path, rectangle_with_holes))
    assert len(got.outline.holes) == 2
    exact = 0.28 * 0.4 - 2 * np.pi * 0.00475**2
    assert exact <= area(got) <= exact + 2 * chord_loss(0.00475)
    assert got.report.size_mm == pytest.approx((280.0, 400.0), rel=1e-12)
    assert got.report.unit.words == "mm, as the file states"


@pytest.mark.parametrize(("units", "metres"), [(4, 1e-3), (5, 1e-2), (6, 1.0), (1, 0.0254), (2, 0.3048)])
def test_the_files_own_unit_is_used(tmp_path: Path, units: int, metres: float) -> None:
    sides = np.array([0.28, 0.4]) / metres
    file = saved(
        tmp_path, lambda s: s.add_lwpolyline([(0, 0), (sides[0], 0), sides, (0, sides[1])], close=True), units
    )
    assert area(read_outline(file)) == pytest.approx(0.28 * 0.4, rel=1e-9)


def test_a_drawing_without_a_unit_is_refused_until_one_is_stated(tmp_path: Path) -> None:
    file = saved(tmp_path, rectangle_with_holes, UNITLESS)
    with pytest.raises(ShapeFileError, match=r'plate\.dxf: .* no usable unit; write unit = "mm".*280 by 400 units'):
        read_outline(file)
    assert read_outline(file, "mm").report.size_mm == pytest.approx((280.0, 400.0), rel=1e-12)
    with pytest.raises(ShapeFileError, match="the unit 'parsec' is not known; write one of mm, cm, m, in, ft"):
        read_outline(file, "parsec")


def test_an_old_format_without_a_unit_is_refused_too(tmp_path: Path) -> None:
    with pytest.raises(ShapeFileError, match="no usable unit"):
        read_outline(saved(tmp_path, lambda s: s.add_circle((0, 0), 100), version="R12"))


def test_a_stated_unit_overrules_the_files_and_says_so(tmp_path: Path) -> None:
    got = read_outline(saved(tmp_path, rectangle_with_holes, INCHES), "mm")
    assert got.report.size_mm == pytest.approx((280.0, 400.0), rel=1e-12)
    assert got.report.unit.words == "mm, as stated"
    assert got.report.unit.doubt is not None
    assert "the file says that its unit is in, and mm was used" in got.report.unit.doubt


@pytest.mark.parametrize("unit", ["ft", "m"])
def test_an_absurd_size_asks_for_the_unit(tmp_path: Path, unit: str) -> None:
    with pytest.raises(ShapeFileError, match="write the unit it was drawn in"):
        read_outline(saved(tmp_path, rectangle_with_holes, UNITLESS), unit)


def test_bulges_arcs_and_lines_make_one_outline(tmp_path: Path) -> None:
    """A stadium, half of it one polyline with a bulge, half of it a line and an arc; a gap of 0.01 mm between."""

    def draw(space: Modelspace) -> None:
        space.add_lwpolyline([(0, -50, 0), (200, -50, 1), (200, 50, 0)], format="xyb")
        space.add_line((200.01, 50), (0, 50))
        space.add_arc((0, 0), 50, 90, 270)

    got = read_outline(saved(tmp_path, draw))
    exact = 0.2 * 0.1 + np.pi * 0.05**2
    # closing the gap moves two ends by 5 um each, along edges at most 0.2 m long
    assert area(got) == pytest.approx(exact, abs=chord_loss(0.05) + 2 * 5e-6 * 0.2)


def test_ellipses_and_splines_are_followed(tmp_path: Path) -> None:
    def draw(space: Modelspace) -> None:
        space.add_lwpolyline(RECTANGLE, close=True)
        space.add_ellipse((140, 200), major_axis=(60, 0), ratio=0.5)
        space.add_open_spline([(60, 350), (60, 390), (220, 390), (220, 350)], degree=3)
        space.add_line((60, 350), (220, 350))

    got = read_outline(saved(tmp_path, draw))
    exact = 0.28 * 0.4 - np.pi * 0.06 * 0.03 - LOBE * 0.16 * 0.04
    assert area(got) == pytest.approx(exact, abs=chord_loss(0.06) + chord_loss(0.08))


def test_block_references_are_taken_apart(tmp_path: Path) -> None:
    document = ezdxf.new("R2010")
    document.units = MILLIMETRES
    block = document.blocks.new("HOLE")
    block.add_circle((0, 0), 5)
    space = document.modelspace()
    space.add_lwpolyline(RECTANGLE, close=True)
    for y in (100, 200):
        space.add_blockref("HOLE", (140, y), dxfattribs={"xscale": 2.0, "yscale": 2.0})
    document.saveas(tmp_path / "blocks.dxf")
    got = read_outline(tmp_path / "blocks.dxf")
    assert area(got) == pytest.approx(0.112 - 2 * np.pi * 0.01**2, abs=2 * chord_loss(0.01))


def test_bend_lines_and_notes_are_no_outline(tmp_path: Path) -> None:
    document = ezdxf.new("R2010", setup=True)
    document.units = MILLIMETRES
    document.layers.add("Bend up")
    document.layers.add("Sketch").off()
    space = document.modelspace()
    rectangle_with_holes(space)
    for x in (100, 180):
        space.add_line((x, -10), (x, 410), dxfattribs={"layer": "Bend up"})
    space.add_line((0, 0), (280, 400), dxfattribs={"layer": "Sketch"})
    space.add_line((0, 0), (400, 400), dxfattribs={"layer": "Frame"})
    space.add_text("plate", height=10)
    space.add_linear_dim(base=(0, -20), p1=(0, 0), p2=(280, 0)).render()
    document.saveas(tmp_path / "full.dxf")
    got = read_outline(tmp_path / "full.dxf", skip_layers=["FRAME"])
    assert len(got.outline.holes) == 2
    np.testing.assert_allclose(got.bend_lines[:, :, 0], [[0.1, 0.1], [0.18, 0.18]], atol=1e-15)
    (skipped,) = [note for note in got.report.notes if note.startswith("left out")]
    for what in ("1 TEXT", "1 DIMENSION", "1 LINE on layer 'Sketch'", "1 LINE on layer 'Frame'"):
        assert what in skipped


def test_lines_inside_a_hole_are_ignored_and_said(tmp_path: Path) -> None:
    def draw(space: Modelspace) -> None:
        rectangle_with_holes(space)
        space.add_line((137, 60.5), (143, 60.5))
        space.add_line((140, 57), (140, 64))

    got = read_outline(saved(tmp_path, draw))
    assert len(got.outline.holes) == 2
    assert any("inside holes were left out" in note for note in got.report.notes)


@pytest.mark.parametrize(
    ("draw", "words"),
    [
        (
            lambda s: s.add_lwpolyline(RECTANGLE),
            r"no closed outline; lines end at \(0\.00, 0\.00\) mm, \(0\.00, 400\.00\) mm",
        ),
        (
            lambda s: (rectangle_with_holes(s), s.add_arc((70, 200), 20, 10, 350)),
            r"outline or a hole is open.*lines end at \(89\.70, 203\.47\) mm, \(89\.70, 196\.53\) mm",
        ),
        (
            lambda s: (rectangle_with_holes(s), s.add_line((100, 0), (100, 400))),
            r"a line divides the outline.*near \(100\.00, 200\.00\) mm; put bend lines on a layer",
        ),
        (
            lambda s: (rectangle_with_holes(s), s.add_circle((500, 200), 50)),
            r"2 separate outlines \(around \(140\.00, 200\.00\) mm, \(500\.00, 200\.00\) mm\)",
        ),
        (lambda s: s.add_text("no plate", height=5), r"no lines or curves found \(left out: 1 TEXT\)"),
        (lambda s: s.add_line((0, 0), (1e9, 0)), "runs more than 1000 m"),
        (lambda s: s.add_line((0, 0), (float("nan"), 0)), "runs more than 1000 m|damaged"),
    ],
    ids=["open outline", "open hole", "divided", "two outlines", "text only", "endless", "not a number"],
)
def test_a_wrong_drawing_is_refused_saying_where(
    tmp_path: Path, draw: Callable[[Modelspace], object], words: str
) -> None:
    with pytest.raises(ShapeFileError, match=words) as caught:
        read_outline(saved(tmp_path, draw))
    assert str(caught.value).startswith("plate.dxf: ")


def test_a_gap_is_closed_only_when_it_is_small(tmp_path: Path) -> None:
    def draw(space: Modelspace) -> None:
        space.add_lwpolyline([(0, 0), (280, 0), (280, 400), (0, 400), (0, 0.4)])

    with pytest.raises(ShapeFileError, match=r"\(0\.00, 0\.00\) mm, \(0\.00, 0\.40\) mm"):
        read_outline(saved(tmp_path, draw))
    got = read_outline(saved(tmp_path, draw), gap=5e-4)
    assert area(got) == pytest.approx(0.112, abs=0.4e-3 * 0.28)


def test_svg_obeys_page_size_viewbox_and_transforms(tmp_path: Path) -> None:
    body = (
        '<g transform="translate(560 0) scale(-2 2)"><rect width="280" height="400" rx="20"/></g>'
        '<circle cx="280" cy="121" r="9.5"/><path d="M 200 500 C 200 420 360 420 360 500 S 200 580 200 500 Z"/>'
    )
    got = read_outline(svg(tmp_path, body, 'width="28cm" height="40cm" viewBox="0 0 560 800"'))
    # svgelements counts 0.0393701 in to a millimetre
    assert got.report.size_mm == pytest.approx((280.0, 400.0), rel=1e-6)
    assert len(got.outline.holes) == 2
    exact = 0.112 - (4 - np.pi) * 0.02**2 - np.pi * 0.00475**2 - 2 * LOBE * 0.08 * 0.04
    loss = chord_loss(0.02) + chord_loss(0.00475) + chord_loss(0.08)
    assert area(got) == pytest.approx(exact, abs=loss + 1e-6 * 0.112)


def test_svg_y_points_down_and_the_outline_up(tmp_path: Path) -> None:
    got = read_outline(svg(tmp_path, '<path d="M0 0 H280 V400 H0 Z"/><circle cx="140" cy="40" r="5"/>'))
    hole = got.outline.holes[0].mean(axis=0)
    top = got.outline.outer[:, 1].max()
    assert top - hole[1] == pytest.approx(0.040, abs=1e-6)


@pytest.mark.parametrize(
    ("unit", "millimetres"),
    [("mm", 1.0), ("cm", 10.0), ("in", 25.4), ("pt", 25.4 / 72), ("pc", 25.4 / 6), ("Q", 0.25)],
)
def test_a_page_in_any_css_unit_has_the_size_that_css_gives_it(tmp_path: Path, unit: str, millimetres: float) -> None:
    """CSS Values and Units, absolute lengths: 1 in = 25.4 mm = 72 pt = 6 pc, 1 Q = a quarter of a millimetre."""
    head = f'width="{280 / millimetres:.9f}{unit}" height="{400 / millimetres:.9f}{unit}" viewBox="0 0 140 200"'
    got = read_outline(svg(tmp_path, '<rect width="140" height="200"/><defs><path id="none"/></defs>', head))
    assert got.report.size_mm == pytest.approx((280.0, 400.0), rel=1e-6)


def test_svg_without_a_physical_size_needs_a_unit(tmp_path: Path) -> None:
    shape = '<rect width="11" height="15.75"/>'
    for head in ('width="11" height="15.75"', 'width="100%" height="100%" viewBox="0 0 11 15.75"', 'width="11px"'):
        with pytest.raises(ShapeFileError, match=r'no physical size.*write unit = "mm"'):
            read_outline(svg(tmp_path, shape, head))
    got = read_outline(svg(tmp_path, shape, 'width="11" height="15.75"'), "in")
    assert got.report.size_mm == pytest.approx((279.4, 400.05), rel=1e-9)


@pytest.mark.parametrize(
    ("head", "unit", "words", "doubted"),
    [
        ('width="280mm" height="400mm" viewBox="0 0 280 400"', None, "mm", False),
        ('width="280mm" height="400mm" viewBox="0 0 280 400"', "mm", "mm", False),
        ('width="28cm" height="40cm" viewBox="0 0 280 400"', "mm", "cm", False),  # the page's users' units are mm
        ('width="280mm" height="400mm" viewBox="0 0 280 400"', "in", "mm", True),
    ],
)
def test_a_page_gives_an_svg_its_size_whatever_is_stated(
    tmp_path: Path, head: str, unit: str | None, words: str, doubted: bool
) -> None:
    got = read_outline(svg(tmp_path, '<rect width="280" height="400"/>', head), unit).report
    assert got.size_mm == pytest.approx((280.0, 400.0), rel=1e-6)  # the library's inch is 5e-7 off
    assert got.unit.words.startswith(f"{words}, as the file states (its page is ")
    assert (got.unit.doubt is not None) is doubted


def test_svg_hidden_text_and_bend_groups_are_no_outline(tmp_path: Path) -> None:
    body = (
        '<rect width="280" height="400"/><g style="display:none"><circle cx="50" cy="50" r="9"/></g>'
        '<text x="5" y="5">plate</text><g id="bends"><line x1="90" y1="0" x2="90" y2="400" id="bend1"/></g>'
        '<circle id="sketch" cx="99" cy="99" r="9"/>'
    )
    got = read_outline(svg(tmp_path, body), skip_layers=["Sketch"])
    assert not got.outline.holes
    assert got.bend_lines.shape == (1, 2, 2)
    assert any("1 text" in note for note in got.report.notes)


def test_an_entity_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "entity.svg"
    file.write_text(
        '<!DOCTYPE s [<!ENTITY a "b">]><svg xmlns="http://www.w3.org/2000/svg">&a;</svg>', encoding="utf-8"
    )
    with pytest.raises(ShapeFileError, match="entities"):
        read_outline(file)


@pytest.mark.parametrize("suffix", [".dxf", ".svg"])
@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\x00" * 64,
        bytes(range(256)) * 20,
        b"hello\n" * 9,
        b"<svg/>",
        b"0\nEOF\n",
        b"0\nSECTION\n2\nENTITIES\n0\nLINE\n",
    ],
)
def test_broken_files_give_one_plain_message(tmp_path: Path, suffix: str, content: bytes) -> None:
    file = tmp_path / f"broken{suffix}"
    file.write_bytes(content)
    with pytest.raises(ShapeFileError, match=r"broken\.") as caught:
        read_outline(file, "mm")
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("share", [0.02, 0.5, 0.9, 0.99])
def test_a_file_cut_short_is_refused(tmp_path: Path, share: float) -> None:
    for file in (saved(tmp_path, rectangle_with_holes), svg(tmp_path, '<rect width="280" height="400"/>')):
        whole = file.read_bytes()
        file.write_bytes(whole[: int(share * len(whole))])
        with pytest.raises(ShapeFileError):
            read_outline(file, "mm")


def test_what_is_no_file_of_ours_is_refused(tmp_path: Path) -> None:
    (tmp_path / "folder.dxf").mkdir()
    (tmp_path / "plate.docx").write_text("x", encoding="utf-8")
    huge = tmp_path / "huge.svg"
    with huge.open("wb") as stream:
        stream.truncate(60_000_000)  # a hole on the disk, not bytes
    for name, words in (
        ("missing.dxf", "no such file"),
        ("folder.dxf", "not a file"),
        ("plate.docx", r"'\.docx' is not read; use \.dxf, \.svg"),
        ("huge.svg", "60 MB, at most 50 MB"),
    ):
        with pytest.raises(ShapeFileError, match=words):
            read_outline(tmp_path / name, "mm")


def test_a_line_drawn_ten_times_is_one_line() -> None:
    """What copies of copies on one place come to; noding them took a gigabyte for 170,000 points."""
    square = np.array([(0.0, 0.0), (0.3, 0.0), (0.3, 0.4), (0.0, 0.4), (0.0, 0.0)])
    hole = 0.1 + 0.01 * square
    once, notes = outline_from_chains([square, hole], 1e-4, "x")
    again, more = outline_from_chains([square, *[hole.copy() for _ in range(10)]], 1e-4, "x")
    assert notes == more == ()
    np.testing.assert_array_equal(again.outer, once.outer)
    assert len(again.holes) == len(once.holes) == 1
