"""The sheet for the water: true size, nothing over anything else, a box for whatever the program reads, cautions."""

from __future__ import annotations

import itertools
import re
import shutil

import numpy as np
import pytest

from scenarios.demos import demo_path
from sim.answers.check_bench.bench_file import Balance, Bench, Float, Freeze, Item, read_bench
from sim.answers.check_bench.paper_form import Frame, Text, figure_of, write_pages
from sim.answers.check_bench.sheet_boxes import boxes, weighing_boxes
from sim.answers.check_bench.sheet_diver import ANY_DIVER, gauge_unit, sheet_diver
from sim.answers.check_bench.sheet_pages import sheet_pages
from sim.case import Case
from sim.commands.main import main
from sim.telling.language import spoken

MM = 25.4 / 72.0  # of a point
TENTH = 0.1  # mm
HAIR = 0.05  # mm: what a line's own width takes
SMALLEST_BOX = 9.0  # mm high: a wet hand with a pencil
DRY = """\
title = "a drysuit without gaiters"
diver = { sex = "female", height = "166 cm", mass = "58 kg" }
suit = { catalogue = "trilaminate", undergarment = "medium" }
plate = { catalogue = "standard steel" }
harness = { catalogue = "one-piece webbing" }
cylinders = { catalogue = "twin steel 8.5 l 232 bar", gas = "air", pressure = "2900 psi" }
wing = { catalogue = "twin" }
fins = { catalogue = "rubber" }
"""
PARTS = """\
format = "parts/1"
water = { density = "1000 kg/m^3", gravity = "10 m/s^2" }
depth = { pressure = "2 bar", held = "cm" }
[[part]]
name = "float"
mass = "100 kg"
cm = [0.0, 0.0, 0.0]
volume = "100 l"
cb = [0.05, 0.0, 0.0]
inertia = [[10.0, 0.0, 0.0], [0.0, 10.0, 0.0], [0.0, 0.0, 10.0]]
"""
BARE = 'diver = { sex = "male", height = "180 cm", mass = "80 kg" }\nfins = { catalogue = "plastic" }\n'


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    folder = tmp_path_factory.mktemp("divers")
    (folder / "dry.toml").write_text(DRY, encoding="utf-8")
    (folder / f"bare{'-and-a-very-long-name' * 6}.toml").write_text(BARE, encoding="utf-8")
    shutil.copy(demo_path("single-wetsuit"), folder / "wet.toml")
    return folder


@pytest.fixture(scope="module")
def sheets(files):
    """(diver, pages) by name, laid out once."""
    divers = {p.stem.partition("-")[0]: sheet_diver(Case.read(p), 3) for p in sorted(files.iterdir())}
    return {name: (diver, sheet_pages(diver)) for name, diver in {"any": ANY_DIVER, **divers}.items()}


@pytest.fixture(scope="module")
def words_drawn(sheets):
    """The words of every page with their rooms, by name, drawn once."""
    return {name: [drawn_boxes(page) for page in pages] for name, (_, pages) in sheets.items()}


def words_of(pages):
    return [m for page in pages for m in page.marks if isinstance(m, Text)]


def said(pages):
    return " ".join(w.text for w in words_of(pages))


def test_every_page_is_a5_with_its_fonts_inside_and_the_same_every_time(sheets, tmp_path):
    _, pages = sheets["dry"]
    once, again = tmp_path / "once.pdf", tmp_path / "again.pdf"
    write_pages(pages, once, "sheet")
    write_pages(pages, again, "sheet")
    written = once.read_bytes()
    assert written == again.read_bytes()
    assert b"CreationDate" not in written
    pages_found = re.findall(rb"/MediaBox \[ *([-.\d]+) ([-.\d]+) ([-.\d]+) ([-.\d]+) *\]", written)
    assert 2 <= len(pages_found) <= 4
    for media in pages_found:
        assert MM * np.array([float(x) for x in media]) == pytest.approx([0.0, 0.0, 148.0, 210.0], abs=TENTH)
    fonts = len(re.findall(rb"/Type /FontDescriptor", written))
    assert fonts > 0
    assert len(re.findall(rb"/FontFile2 ", written)) == fonts


def drawn_boxes(page):
    """The rooms (left, bottom, right, top) [mm] that the drawn words take, as the drawing library lays them out."""
    figure = figure_of(page)
    figure.set_dpi(600)  # a letter's advance is rounded to a pixel there, and not in a PDF
    renderer = figure.canvas.get_renderer()
    per_mm = figure.dpi / 25.4
    return [(t.get_text(), t.get_window_extent(renderer).extents / per_mm) for t in figure.axes[0].texts]


def test_no_words_leave_the_page_or_run_over_others(words_drawn):
    for name, pages in words_drawn.items():
        for number, found in enumerate(pages, 1):
            for text, (left, bottom, right, top) in found:
                assert left >= 10.0, (name, number, text)
                assert right <= 148.0 - 10.0, (name, number, text)
                assert bottom >= 5.0, (name, number, text)
                assert top <= 210.0 - 15.0, (name, number, text)
            for (one, a), (other, b) in itertools.combinations(found, 2):
                across = min(a[2], b[2]) - max(a[0], b[0])
                # letters' rooms hold the height of accents and tails: 0.6 mm of it may lie in the next line's
                along = min(a[3], b[3]) - max(a[1], b[1])
                assert across < HAIR or along < 0.6, (name, number, one, other)


def test_no_word_crosses_the_edge_of_a_box_and_no_two_boxes_touch(sheets, words_drawn):
    for name, (_, pages) in sheets.items():
        for number, (page, found) in enumerate(zip(pages, words_drawn[name], strict=True), 1):
            frames = [m for m in page.marks if isinstance(m, Frame)]
            rooms = [(f.left, 210.0 - f.top - f.height, f.left + f.width, 210.0 - f.top) for f in frames]
            for a, b in itertools.combinations(rooms, 2):
                assert apart(a, b) or inside(a, b) or inside(b, a), (name, number, a, b)
            for text, extent in found:
                for room in rooms:
                    assert apart(extent, room, 0.6) or inside(extent, room), (name, number, text, room)


def apart(a, b, slack=0.0):
    return (
        min(a[2], b[2]) - max(a[0], b[0]) <= (HAIR if slack else 0.0)
        or min(a[3], b[3]) - max(a[1], b[1]) <= slack
    )  # fmt: skip


def inside(a, b):
    return a[0] >= b[0] - HAIR and a[1] >= b[1] - HAIR and a[2] <= b[2] + HAIR and a[3] <= b[3] + HAIR


def test_boxes_are_high_enough_for_a_wet_hand_and_each_is_on_a_page(sheets):
    for diver, pages in sheets.values():
        numbers = [w.text for w in words_of(pages) if re.fullmatch(r"[0-4][a-z]", w.text)]
        frames = [m for page in pages for m in page.marks if isinstance(m, Frame)]
        to_write_in = [f for f in frames if max(f.width, f.height) > 5.0]
        wanted = [b.number for b in boxes(diver)]
        assert sorted(n for n in numbers if n[0] != "4") == sorted(wanted)
        assert len(set(wanted)) == len(wanted)
        assert all(f.height >= SMALLEST_BOX for f in to_write_in)
        assert all(f.width >= 12.0 for f in to_write_in)


def test_letters_are_large_but_for_what_is_read_at_home(sheets):
    for _, pages in sheets.values():
        for word in words_of(pages):
            assert word.size >= 9.0 or word.fixed or word.colour != "#000000" or re.fullmatch(r"\d[a-z]", word.text)


def test_whatever_the_file_may_hold_of_the_water_has_a_box():
    """Walks the models; a key that is added to one of them must get a box."""
    given = {b.table: set() for b in boxes(ANY_DIVER)}
    for box in (*boxes(ANY_DIVER), *weighing_boxes(0)):
        given.setdefault(box.table, set()).update({box.key, box.also} - {""})
    ways = {b.worn for b in boxes(ANY_DIVER)} - {None}
    assert given["float"] == set(Float.model_fields) - {"spreads"}
    assert given["balance"] | {"worn"} == set(Balance.model_fields) - {"spreads"}
    assert ways == set(Balance.model_fields["worn"].annotation.__args__)
    assert given["freeze"] | {"time_to_30"} == set(Freeze.model_fields) - {"spreads"}  # the mean of the times
    assert given["item"] == set(Item.model_fields) - {"spreads"}
    assert given[""] | {"format"} == set(Bench.model_fields) - {
        "water",
        "item",
        "float",
        "balance",
        "freeze",
        "spreads",
    }


def test_the_last_page_is_a_file_that_can_be_read_once_the_boxes_are_copied(sheets, tmp_path):
    """Every box's value put where its number stands."""
    examples = {
        "lead": "2 +- 0.1 kg", "depth": "4 m", "pressure": "60 bar", "place": "ankles", "taken_from": "belt",
        "kind": "fresh", "temperature": "27 °C", "measured_on": "2025-05-31", "scenario": "dry.toml",
        "drift": "head-down", "times_to_30": "2.4 s", "name": "thing", "dry_mass": "5 lb", "wet_mass": "2 kg",
        "balance_point": "20 cm", "balance_from": "head end",
    }  # fmt: skip
    for name, (diver, pages) in sheets.items():
        typed = [w for w in words_of(pages[-1:]) if w.fixed and not w.text.startswith("hangflat")]
        columns = sorted({w.at[0] for w in typed})
        lines = [w.text for left in columns for w in sorted(typed, key=lambda w: w.at[1]) if w.at[0] == left]
        text = "\n".join(lines).partition("# below the name of")[0]
        for box in (*boxes(diver), *weighing_boxes(0)):
            value = examples[box.key] if box.number[0] != "4" else None
            if value is not None:
                text = text.replace(f"({box.number})", value)
        text = re.sub(r'(\w+) = "\(4a\)"', lambda m: f'{m[1]} = "{examples[m[1]]}"', text)
        assert not re.search(r"\(\d\w\)", text), (name, text)
        file = tmp_path / f"{name}.toml"
        file.write_text(text, encoding="utf-8")
        bench = read_bench(file).bench
        assert len(bench.balance) == len({b.worn for b in boxes(diver)} - {None})
        assert bench.freeze.times_to_30 == (2.4,) * 5
        assert bench.float[0].lead == 2.0
        assert (bench.float[0].pressure is None) == (not diver.cylinders)


def test_the_sheet_is_for_this_diver(sheets):
    wet, wet_pages = sheets["wet"]
    dry, dry_pages = sheets["dry"]
    bare, bare_pages = sheets["bare"]
    assert "strap" not in said(wet_pages).replace("wing", "")
    assert "lower legs" in said(dry_pages)
    assert not wet.straps
    assert dry.straps
    assert "wet.toml" in said(wet_pages)
    assert (dry.gauge, wet.gauge) == ("psi", "bar")
    assert {w.text for w in words_of(dry_pages)} & {"psi", "bar"} == {"psi"}
    assert {w.text for w in words_of(wet_pages)} & {"psi", "bar"} == {"bar"}
    assert "pressure" not in {b.key for b in boxes(bare)}
    assert "Gauge" not in said(bare_pages)
    assert "EMPTY" not in said(bare_pages)


def test_a_diver_whose_gaiters_are_on_is_not_asked_to_strap_the_legs(files, tmp_path):
    file = tmp_path / "gaitered.toml"
    file.write_text(DRY.replace('"medium" }', '"medium", gaiters = true }'), encoding="utf-8")
    assert {b.worn for b in boxes(sheet_diver(Case.read(file), 3))} == {None, "as worn", "legs straight"}


def test_things_to_weigh_are_the_models_own_parts_each_named_once(files):
    from sim.case import Case

    for file in files.iterdir():
        diver = sheet_diver(Case.read(file), 99)
        parts = Case.read(file).assembled.rig.parts
        named = [p for t in diver.to_weigh for p in t.parts]
        assert len(named) == len(set(named))
        assert set(named) == {p.name for p in parts if p.kind != "body"}
        assert all(t.name == t.parts[0] for t in diver.to_weigh if len(t.parts) == 1)


@pytest.mark.parametrize(
    ("text", "unit"),
    [("200 bar", "bar"), ("3000psi", "psi"), ("20 MPa", "MPa"), ("200 +- 5 bar", "bar"), (None, "bar")],
)
def test_the_gauge_keeps_the_unit_of_the_file(text, unit):
    assert gauge_unit({"cylinders": {"pressure": text}}) == unit
    assert gauge_unit({"cylinders": "twin steel 12 l 232 bar"}) == "bar"


def test_cautions_are_on_the_first_page(sheets):
    for _, pages in sheets.values():
        first = said(pages[:1])
        for words in (
            "Confined water", "standing depth beside it", "buddy within reach", "qualified instructor",
            "Never hold your breath", "End a try at once", "dropped or handed up", "no dive plan",
        ):  # fmt: skip
            assert words in first


def test_the_command_writes_the_sheet_and_the_template_together(files, tmp_path, capsys):
    sheet, template = tmp_path / "sheet.pdf", tmp_path / "pool.toml"
    words = ["check-bench", "--sheet", str(sheet), "--diver", str(files / "wet.toml"), "--template", str(template)]
    assert main(words) == 0
    assert sheet.read_bytes().startswith(b"%PDF")
    assert template.exists()
    told = capsys.readouterr()
    assert str(sheet) in told.out
    assert told.err == ""


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--sheet", "sheet.png"], "ends in '.png'"),
        (["--sheet", "none/sheet.pdf"], "there is no folder"),
        (["--sheet", "sheet.pdf", "--diver", "nobody.toml"], "nobody.toml"),
        (["--sheet", "sheet.pdf", "--diver", "bad.toml"], "diver.height"),
        (["--sheet", "sheet.pdf", "--diver", "parts.toml"], "parts file"),
        (["--sheet", "sheet.pdf", "measured.toml"], "--sheet OUT.pdf"),
        (["--diver", "bad.toml"], "--sheet OUT.pdf"),
    ],
)
def test_what_cannot_be_used_is_told_once_and_nothing_is_written(words, told, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "bad.toml").write_text(
        'diver = { sex = "male", height = "18 m", mass = "80 kg" }\n', encoding="utf-8"
    )
    (tmp_path / "parts.toml").write_text(PARTS, encoding="utf-8")
    before = sorted(tmp_path.iterdir())
    assert main(["check-bench", *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert told in err
    assert "Traceback" not in err
    assert sorted(tmp_path.iterdir()) == before


@pytest.mark.parametrize("code", ["de", "pl", "fr"])
def test_longer_words_stay_on_their_page_and_say_how_they_are_typed(code):
    with spoken(code):
        pages = sheet_pages(ANY_DIVER)
    for page in pages:
        foot = max(w.at[1] for w in words_of([page]))
        rest = [w for w in words_of([page]) if w.at[1] < foot - TENTH]
        assert max(w.at[1] for w in rest) < foot - MM * 7.5  # the size of the letters at the foot
    for typed in ("= fresh", "= head-down", "= foot end", "= plate channel"):
        assert typed in said(pages)
