"""A plate's drawing on paper: at full size, as independent readers of the files find it."""

from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pypdf
import pytest
import svgelements

from sim.answers.plate.answer import PlateAnswer, plate_answer
from sim.answers.plate.bench import BenchPlate, bench_plate
from sim.answers.plate.drawn.marks import Word
from sim.answers.plate.drawn.paper import tiled
from sim.answers.plate.drawn.picture import draw_plate
from sim.answers.plate.drawn.sheet import draw_sheet, plate_drawing
from sim.answers.plate.drawn.tiles import draw_tiles

POINT = 25.4 / 72  # mm


@cache
def on_bench(name: str) -> tuple[BenchPlate, PlateAnswer]:
    bench = bench_plate(name)
    return bench, plate_answer(bench)


def test_the_outline_in_the_svg_is_as_large_as_the_sheet(tmp_path: Path) -> None:
    bench, answer = on_bench("standard steel")
    draw_sheet(plate_drawing(bench.plate, answer), tmp_path / "s.svg")
    root = ElementTree.parse(tmp_path / "s.svg").getroot()
    assert [POINT * float(root.attrib[side].removesuffix("pt")) for side in ("width", "height")] == pytest.approx(
        [420.0, 594.0], abs=1e-3
    )
    assert [float(v) for v in root.attrib["viewBox"].split()[2:]] == pytest.approx([420.0 / POINT, 594.0 / POINT])
    lines = [svgelements.Path(e.attrib["d"]) for e in root.findall(".//{*}path") if "d" in e.attrib]
    boxes = [line.bbox() for line in lines if len(line) > 20]
    sizes = POINT * np.array([(b[2] - b[0], b[3] - b[1]) for b in boxes if b is not None])
    # the file's numbers have six digits
    assert np.abs(sizes - [1e3 * answer.flat_width, 1e3 * answer.length]).max(axis=1).min() < 2e-3
    assert np.abs(sizes - [54.0, 11.0]).max(axis=1).min() < 2e-3  # crotch slot


def test_sheet_and_tiles_have_the_size_of_their_paper(tmp_path: Path) -> None:
    bench, answer = on_bench("small carbon")
    drawing = plate_drawing(bench.plate, answer)
    draw_sheet(drawing, tmp_path / "s.pdf")
    (sheet,) = pypdf.PdfReader(tmp_path / "s.pdf").pages
    assert [POINT * float(v) for v in sheet.mediabox[2:]] == pytest.approx([420.0, 594.0], abs=0.01)
    tiling = draw_tiles(drawing, tmp_path / "t.pdf")
    pages = pypdf.PdfReader(tmp_path / "t.pdf").pages
    assert tiling == tiled(drawing.extent)
    assert len(pages) == len(tiling.tiles) + 1
    for page in pages:
        assert [POINT * float(v) for v in page.mediabox[2:]] == pytest.approx(tiling.paper, abs=0.01)
    assert "1-2: row 1 of 2, column 2 of 2" in pages[2].extract_text()


def test_what_is_measured_is_what_the_answer_says() -> None:
    bench, answer = on_bench("standard steel")
    words = [m.text for m in plate_drawing(bench.plate, answer).views if isinstance(m, Word)]
    for length in (answer.length, answer.flat_width, answer.width, answer.depth, answer.channel_depth, 0.279):
        assert f"{1e3 * length:.1f}".removesuffix(".0") in words
    for place in answer.places:
        assert {f"{1e3 * d:.1f}".removesuffix(".0") for d in place.down} <= set(words)
        away = max(map(abs, place.across))
        assert (f"±{1e3 * away:.1f}".removesuffix(".0") if away > 1e-6 else "0") in words
    assert sum(w.startswith("bend 65.0°") for w in words) == len(answer.bends) == 4
    gaps = {f"{1e3 * c.measured:.1f}" for c in answer.checks if c.of.startswith("any") and c.measured}
    assert gaps <= {m.text for m in plate_drawing(bench.plate, answer).views if isinstance(m, Word) and m.bold}


def test_what_fails_is_said_on_the_sheet() -> None:
    bench, answer = on_bench("standard steel")
    warned = [text for text, warns in plate_drawing(bench.plate, answer).told if warns]
    assert warned == ["NOT AS WANTED: crotch slot, sheet to the bend: 2.0 mm, wanted at least 6.0 mm"]


def test_the_picture_shows_the_plate_from_both_sides(tmp_path: Path) -> None:
    from PIL import Image

    bench, answer = on_bench("small carbon")
    draw_plate(bench.plate, bench.material, answer, tmp_path / "p.png")
    seen = np.asarray(Image.open(tmp_path / "p.png").convert("L"))
    dark = seen < 160
    left, right = (dark[150:850, half].mean() for half in (slice(0, 800), slice(800, 1600)))
    # each covers a fifth of its half or more, and both about the same
    assert left > 0.15
    assert right > 0.15
    assert left == pytest.approx(right, rel=0.25)
