"""The hand-out as another program reads it: its text, tags, alternative text, fonts, letters' sizes and pages."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator
from itertools import combinations
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf.generic import DictionaryObject

import hangflat
from scenarios.demos import demo_path
from sim.answers.fit.drawn.layout import laid_out
from sim.answers.fit.drawn.seen import fit_scene
from sim.answers.fit.drawn.views_alone import shown_words
from sim.answers.sheet.handout import DiverAnswers, Handout, handout
from sim.answers.sheet.typeset import sheet_pdf
from sim.answers.sheet.words import change, diver_words
from sim.commands.main import main
from sim.telling.caution import CAUTION
from sim.telling.made_by import origin

DIVER = demo_path("single-wetsuit")
HOSTILE = '#panic("x") $x^2$ *bold* _a_ `raw` @b <c> #read("/etc/hostname") // [x'
# A rigid part of 100 kg and 100 l, its CB so far headward of its CM: neutral in this water, turned head-up when flat
# with 1000 kg/m^3 x 10 m/s^2 x 0.1 m^3 x the distance
FLOAT = """\
format = "parts/1"
title = {title}
[water]
density = "1000 kg/m^3"
gravity = "10 m/s^2"
[depth]
pressure = "2 bar"
held = "cm"
[[part]]
name = {title}
mass = "100 kg"
cm = [0.0, 0.0, 0.0]
volume = "100 l"
cb = [{arm}, 0.0, 0.0]
inertia = [[10.0, 0.0, 0.0], [0.0, 10.0, 0.0], [0.0, 0.0, 10.0]]
"""


@pytest.fixture
def floats(tmp_path: Path) -> list[str]:
    """Three files that tell a rig by numbers: 50, 25 and 10 N m head-up."""
    files = []
    for name, title, arm in (("one", HOSTILE, 0.05), ("two", "the second", 0.025), ("three", "the third", 0.01)):
        file = tmp_path / f"{name}.toml"
        file.write_text(FLOAT.format(title=json.dumps(title), arm=arm), encoding="utf-8")
        files.append(str(file))
    return files


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[PdfReader, DiverAnswers]:
    """One diver's hand-out, made by the command, and what was worked out for it."""
    file, kept = tmp_path_factory.mktemp("sheet") / "one.pdf", []

    def keeping(*asked: Any) -> Handout:
        kept.append(handout(*asked))
        return kept[0]

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr("sim.answers.sheet.handout.handout", keeping)
        assert main(["sheet", str(DIVER), "-o", str(file)]) == 0
    return PdfReader(file), kept[0].divers[0]


@pytest.fixture
def printed(made: tuple[PdfReader, DiverAnswers]) -> PdfReader:
    return made[0]


def told(reader: PdfReader, *pages: int) -> str:
    """Text of all pages, or of some, its lines joined."""
    chosen = [reader.pages[p] for p in pages] if pages else reader.pages
    return " ".join(" ".join(page.extract_text() for page in chosen).split())


def tags(reader: PdfReader) -> Iterator[DictionaryObject]:
    """Every element of the structure tree, in the order of reading."""
    waiting: list[Any] = [reader.trailer["/Root"]["/StructTreeRoot"]]
    while waiting:
        found = waiting.pop(0).get_object() if waiting else None
        if not isinstance(found, DictionaryObject):
            continue
        yield found
        below = found.get("/K", [])
        below = below.get_object() if hasattr(below, "get_object") else below
        waiting[:0] = list(below) if isinstance(below, list) else [below]


def figures(reader: PdfReader) -> list[str]:
    """Alternative texts of the pictures."""
    return [str(tag["/Alt"]) for tag in tags(reader) if tag.get("/S") == "/Figure"]


def fonts(holder: Any) -> Iterator[DictionaryObject]:
    """Fonts of a page and of all that is drawn on it."""
    resources = holder.get("/Resources", {})
    resources = resources.get_object() if hasattr(resources, "get_object") else resources
    for font in resources.get("/Font", {}).values():
        yield from (f.get_object() for f in font.get_object().get("/DescendantFonts", [font]))
    for drawn in resources.get("/XObject", {}).values():
        yield from fonts(drawn.get_object())


def test_one_diver_fills_two_pages_of_a4_and_says_where_it_comes_from(made):
    printed, diver = made
    assert len(printed.pages) == 2
    width, height = (float(v) for v in printed.pages[0].mediabox[2:])
    assert (width, height) == pytest.approx((210.0 / 25.4 * 72.0, 297.0 / 25.4 * 72.0), abs=0.01)
    assert printed.metadata is not None
    assert printed.metadata.title == "Single cylinder, 5 mm wetsuit"
    assert printed.metadata.subject == DIVER.name
    assert origin(diver.case.content, DIVER).sha256 in printed.metadata["/Keywords"]


def test_it_is_tagged_and_every_picture_has_words(printed):
    root = printed.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] == True  # noqa: E712  pypdf's own kind of true
    assert root["/Lang"] == "en"
    assert b"pdfuaid:part>1<" in root["/Metadata"].get_data().replace(b'="1"', b">1<")
    kinds = [str(tag.get("/S")) for tag in tags(printed)]
    assert kinds.count("/H1") == 1
    assert kinds.count("/H2") >= 5
    assert kinds.count("/TH") >= 5
    flat, rest, fit = figures(printed)
    assert "held flat" in flat
    assert "let go" in rest
    assert "from behind" in fit


def test_fonts_are_embedded_and_no_letter_is_smaller_than_ten_points(printed):
    found = [font for page in printed.pages for font in fonts(page)]
    assert found
    for font in found:
        assert any(f"/FontFile{k}" in font["/FontDescriptor"] for k in ("", "2", "3"))
    sizes: list[float] = []

    def seen(text: str, cm: list[float], tm: list[float], font: Any, size: float) -> None:
        if text.strip():
            sizes.append(abs(size * tm[3] * cm[3]))

    for page in printed.pages:
        page.extract_text(visitor_text=seen)
    assert len(sizes) > 50
    assert min(sizes) >= 10.0 - 1e-3  # single precision in the file


def test_what_the_rooms_answer_stands_in_it(made):
    printed, diver = made
    text, moment = told(printed), diver.why.flat.pitch_moment
    assert f"turned head-down with {-moment:.1f} N m" in text
    assert f"Wear {diver.weigh.told.lead:.1f} kg of lead" in text
    assert f"{diver.posture.all_up:.1f} N m head-up" in text
    steps = diver.change.advice.changes if abs(moment) > diver.change.within and diver.change.advice else ()
    assert all(step in text for step in steps)
    for verdict in diver.fit.verdicts:
        words = verdict.sentence.rstrip(".")
        assert words[1:].replace(" ", "") in text.replace(" ", ""), verdict.subject
    assert all(" ".join(CAUTION.split()) in told(printed, page) for page in range(2))
    assert "body density" in text.split("What was estimated, not given")[1]


def test_the_items_printed_add_up_to_the_moment(made):
    printed, diver = made
    table = told(printed, 0).split("What turns the diver")[1].split("Together:")[0].replace("\N{MINUS SIGN}", "-")
    rows = re.findall(r"([+-]\d+\.\d) ([+-]\d+\.\d)(?= |$)", table)
    assert len(rows) == 9
    assert sum(float(m) for _, m in rows) == pytest.approx(
        diver.why.flat.pitch_moment, abs=0.05 * len(rows)
    )  # each to its rounding


def test_no_words_of_the_fit_drawing_lie_on_others(made):
    _, diver = made
    scene = fit_scene(diver.case.assembled, diver.fit)
    boxes = [word.box for word in shown_words(scene, laid_out(scene))]
    assert len(boxes) >= 9
    assert not [(a, b) for a, b in combinations(boxes, 2) if a.overlaps(b)]


def test_pictures_keep_their_size_where_there_is_most_to_say(made, monkeypatch):
    """Advice four times as long, twice the findings, on Letter, the shorter paper; by the PDF's own boxes, in points
    of 1/72 inch."""
    told_of = diver_words

    def wordy(diver: DiverAnswers) -> dict[str, Any]:
        words = told_of(diver)
        words["change"]["sets"][0]["mind"] *= 4
        words["fit"]["told"] *= 2
        return words

    monkeypatch.setattr("sim.answers.sheet.typeset.diver_words", wordy)
    reader = PdfReader(io.BytesIO(sheet_pdf(Handout((made[1],), None), "letter")))
    assert len(reader.pages) == 2
    boxes = [box(tag) for tag in tags(reader) if tag.get("/S") == "/Figure"]
    held, fit = boxes[0], boxes[-1]
    assert held[3] - held[1] > 35.0 / 25.4 * 72.0
    assert fit[2] - fit[0] > 80.0 / 25.4 * 72.0


def test_what_goes_for_both_advised_sets_is_said_once(monkeypatch):
    sets = {"at hand": ("x", "Not enough.", ["heavy", "slow"]), "other": ("y", "Not enough.", ["dear", "slow"])}
    monkeypatch.setattr(
        "sim.answers.sheet.words._set",
        lambda one, _: {"then": sets[one][0], "short": sets[one][1], "mind": list(sets[one][2])},
    )
    told_sets = change(SimpleNamespace(advice="at hand", with_gear="other"))["sets"]
    assert told_sets == [{"then": "x", "mind": ["heavy", "slow"]}, {"then": "y Not enough.", "mind": ["dear"]}]


def box(tag: DictionaryObject) -> list[float]:
    """Left, bottom, right and top that a figure takes (PDF 1.7, 14.8.5.4)."""
    said = tag["/A"]
    return [float(v) for v in (said[0] if isinstance(said, list) else said).get_object()["/BBox"]]


def test_a_title_in_the_typesetters_language_is_just_text(floats, tmp_path):
    file = tmp_path / "hostile.pdf"
    assert main(["sheet", floats[0], "-o", str(file)]) == 0
    reader = PdfReader(file)
    text = told(reader)
    assert text.replace(" ", "").count(HOSTILE.replace(" ", "")) == 2  # heading, and the item named so
    assert reader.metadata is not None
    assert reader.metadata.title == HOSTILE
    assert len(reader.pages) == 1
    assert "turned head-up with 50.0 N m" in text
    assert "not a person with gear: fit, posture and what to change cannot be said" in text


def test_two_are_compared(floats, tmp_path):
    file = tmp_path / "two.pdf"
    assert main(["sheet", *floats[:2], "-o", str(file)]) == 0
    reader = PdfReader(file)
    assert told(reader).startswith("Two divers compared A: #panic")
    assert "All of it: 25.0 N m toward head-down" in told(reader)
    assert "A parts file has no keys to compare" in told(reader)
    assert len(figures(reader)) == 4  # each flat and let go
    assert len(reader.pages) == 2


def test_a_class_is_one_document_on_letter_with_the_pages_named(floats, tmp_path):
    file = tmp_path / "class.pdf"
    assert main(["sheet", *floats, "-o", str(file), "--paper", "letter"]) == 0
    reader = PdfReader(file)
    assert [tuple(map(float, page.mediabox[2:])) for page in reader.pages] == [(612.0, 792.0)] * 4
    overview = told(reader, 0)
    for page, (title, moment) in enumerate((("the second", "25.0"), ("the third", "10.0")), start=2):
        heading = title[:1].upper() + title[1:]
        assert re.search(rf"{heading} {moment} N m head-up not told .* not told {page + 1} ", overview)
        assert told(reader, page).startswith(heading)


def test_command_and_python_write_the_same_bytes(floats, tmp_path):
    first, second = tmp_path / "first.pdf", tmp_path / "second.pdf"
    assert main(["sheet", floats[1], "-o", str(first)]) == 0
    assert hangflat.write_sheet(hangflat.load(floats[1]), second) == second
    assert first.read_bytes() == second.read_bytes()
