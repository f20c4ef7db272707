"""Films as others read them: the MP4's own index, FFmpeg's decoder, a GIF, subtitles; and what they show."""

from __future__ import annotations

import json
import struct
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from types import SimpleNamespace

import av
import numpy as np
import pytest
from matplotlib.path import Path as Outline
from PIL import Image

import hangflat
from scenarios.demos import demo_path
from sim.answers.change.candidate import Candidate
from sim.answers.film import encoder
from sim.answers.film.along import emptying_film, sweep_film
from sim.answers.film.correction import corrected
from sim.answers.film.footage import RATE, Cue, said_in_turn
from sim.answers.film.graph_names import Name, named
from sim.answers.film.graphs import Graphs
from sim.answers.film.let_go import let_go
from sim.answers.film.moving_marks import ForceMarks
from sim.answers.film.stage import FOOT, HEAD, PANEL
from sim.answers.film.sweep import swept
from sim.answers.film.words import at_the_vertical
from sim.answers.film.written import write_film
from sim.case import Case
from sim.commands.main import main
from sim.drawing.canvas import blank
from sim.drawing.film_renderer import FilmRenderer, NoRendererError
from sim.drawing.palette import GRID
from sim.telling.language import spoken

# A rigid sphere of 100 kg and 100 l with its CB 1 cm headward of its CM: neutral, and turned head-up when flat
# with 1000 kg/m^3 x 10 m/s^2 x 0.1 m^3 x 0.01 m = 10 N m
FLOAT = """\
format = "parts/1"
title = "a <float> & more"
[water]
density = "1000 kg/m^3"
gravity = "10 m/s^2"
[depth]
pressure = "2 bar"
held = "cm"
[[part]]
name = "float"
mass = "100 kg"
cm = [0.0, 0.0, 0.0]
volume = "100 l"
cb = [0.01, 0.0, 0.0]
inertia = [[10.0, 0.0, 0.0], [0.0, 10.0, 0.0], [0.0, 0.0, 10.0]]
"""
SECONDS, SIZE = 4.0, (640, 360)


@pytest.fixture(scope="module")
def rig(tmp_path_factory):
    file = tmp_path_factory.mktemp("rig") / "float.toml"
    file.write_text(FLOAT, encoding="utf-8")
    return file


@pytest.fixture(scope="module")
def folder(rig, tmp_path_factory):
    """All kinds of files of one film."""
    place = tmp_path_factory.mktemp("film")
    files = [place / f"f{ending}" for ending in (".mp4", ".gif", ".png", ".srt", ".vtt")]
    try:
        hangflat.write_film(hangflat.load(rig), files, seconds=SECONDS, size=SIZE)
    except NoRendererError as why:
        pytest.skip(str(why))
    return place


@pytest.fixture(scope="module")
def woman():
    return Case.read(demo_path("small-woman-steel"))


def boxes(data: bytes) -> Iterator[tuple[str, bytes]]:
    """Name and content of the boxes of an ISO base media file (ISO/IEC 14496-12, 4.2), one after another."""
    at = 0
    while at < len(data):
        size, name = struct.unpack_from(">I4s", data, at)
        yield name.decode("latin-1"), data[at + 8 : at + size]
        at += size


def inner(data: bytes, *path: str) -> bytes:
    for name in path:
        data = next(content for kind, content in boxes(data) if kind == name)
    return data


def pictures(path: Path) -> list[np.ndarray]:
    with av.open(str(path)) as film:
        return [frame.to_ndarray(format="rgb24").astype(int) for frame in film.decode(video=0)]


def test_the_mp4s_index_stands_first_and_tells_pictures_and_length(folder):
    data = (folder / "f.mp4").read_bytes()
    names = [name for name, _ in boxes(data)]
    assert names.index("moov") < names.index("mdat")
    header = inner(data, "moov", "mvhd")
    scale, length = struct.unpack_from(">II", header, 12)
    assert length / scale == pytest.approx(SECONDS, abs=1.0 / scale)
    table = inner(data, "moov", "trak", "mdia", "minf", "stbl")
    assert struct.unpack_from(">I", inner(table, "stsz"), 8)[0] == round(SECONDS * RATE)
    runs = inner(table, "stts")
    assert struct.unpack_from(">I", runs, 4)[0] == 1, "every picture is shown for the same time"


def test_the_mp4_shows_the_float_turning_and_ends_as_it_does(folder):
    shown = pictures(folder / "f.mp4")
    assert len(shown) == round(SECONDS * RATE)
    assert {p.shape for p in shown} == {(SIZE[1], SIZE[0], 3)}
    first, last = shown[0], shown[-1]
    assert first.std() > 20.0, "not blank"
    assert np.abs(last - first).max(axis=2).mean() > 2.0
    # held at first and at the end, moving between
    changes = [np.abs(b - a).mean() for a, b in pairwise(shown)]
    assert max(changes[:15]) < 0.3 < max(changes[30:36])
    assert max(changes[-30:]) < 0.3


def test_poster_and_gif_are_of_the_same_film(folder):
    """GIF: every second picture at half the size; the same colours within what 255 of them and H.264 allow."""
    shown = pictures(folder / "f.mp4")
    poster = np.asarray(Image.open(folder / "f.png").convert("RGB")).astype(int)
    assert min(np.abs(p - poster).mean() for p in shown) < 2.0
    with Image.open(folder / "f.gif") as gif:
        assert gif.size == (SIZE[0] // 2, SIZE[1] // 2)
        lasts = []
        for number in range(gif.n_frames):
            gif.seek(number)
            lasts.append(gif.info["duration"])
        last = np.asarray(gif.convert("RGB")).astype(int)
    assert sum(lasts) == 1000 * SECONDS
    assert set(lasts) <= {80 * n for n in range(1, 60)}
    half = shown[-1].reshape(SIZE[1] // 2, 2, SIZE[0] // 2, 2, 3).mean(axis=(1, 3))
    assert np.abs(last - half).mean() < 6.0


def test_a_gif_written_in_parts_shows_the_same(monkeypatch, tmp_path):
    """A square that moves and stands, in parts of 7 frames and in one."""
    pictures = np.zeros((60, 40, 64, 3), dtype=np.uint8)
    for number, one in enumerate(pictures):
        at = min(number, 37)
        one[8:20, at : at + 12] = (200, 90, 30)
    seen = []
    for at_once in (7, 1000):
        monkeypatch.setattr(encoder, "GIF_AT_ONCE", at_once)
        encoder.write_gif(tmp_path / "p.gif", iter(pictures), pictures[:6])
        shown: list[tuple[bytes, int]] = []
        with Image.open(tmp_path / "p.gif") as gif:
            assert gif.info["loop"] == 0
            for number in range(gif.n_frames):
                gif.seek(number)
                same = shown and shown[-1][0] == gif.convert("RGB").tobytes()
                before = shown.pop()[1] if same else 0
                shown.append((gif.convert("RGB").tobytes(), before + gif.info["duration"]))
        seen.append(shown)
    assert seen[0] == seen[1]
    assert sum(lasts for _, lasts in seen[0]) == 60 * 1000 // RATE


def test_subtitles_are_read_by_another_program_and_span_the_film(folder):
    said = []
    for ending in ("srt", "vtt"):
        with av.open(str(folder / f"f.{ending}")) as file:
            packets = [p for p in file.demux() if p.size]
            spans = [(float(p.pts * p.time_base), float((p.pts + p.duration) * p.time_base)) for p in packets]
            said.append([bytes(p).decode() for p in packets])
        assert spans[0][0] == 0.0
        assert spans[-1][1] == pytest.approx(SECONDS, abs=1e-3)
        assert all(a[1] == pytest.approx(b[0], abs=1e-3) for a, b in pairwise(spans))
    assert said[0] == said[1]
    assert "10.0 N m head-up" in said[0][0]


def test_captions_stand_in_the_picture_unless_in_subtitles(rig, folder, tmp_path):
    other = tmp_path / "burnt.png"
    hangflat.write_film(hangflat.load(rig), other, seconds=SECONDS, size=SIZE)
    without, burnt = (np.asarray(Image.open(p).convert("RGB")).astype(int) for p in (folder / "f.png", other))
    rows = np.flatnonzero(np.abs(burnt - without).max(axis=2).any(axis=1))
    assert len(rows)
    assert rows.min() > 0.8 * SIZE[1]


def test_the_command_tells_what_it_made(rig, tmp_path, capsys):
    file = tmp_path / "f.srt"
    assert main(["film", str(rig), str(file), "--seconds", "4", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["format"], told["shows"], told["seconds_s"]) == ("hangflat.film/1", "let-go", 4.0)
    assert told["files"] == [{"file": str(file)}]
    assert told["pictures"] == 4 * told["rate"]
    assert file.read_text(encoding="utf-8").startswith("1\n00:00:00,000 --> ")


def test_the_first_picture_is_the_diver_held_flat_and_the_last_the_diver_at_rest(woman):
    film = let_go(woman.assembled)
    answer = hangflat.settle(woman)
    first, last = film.pictures[0].pose, film.pictures[-1].pose
    assert first.moment == pytest.approx(answer.flat.pitch_moment, rel=1e-9)
    assert first.up == pytest.approx([0.0, 0.0, 1.0])
    assert answer.settled is not None
    # 3 degrees: where the film ends, the diver only sways about rest
    assert last.up @ np.asarray(film.pictures[-1].up) == pytest.approx(1.0)
    assert abs(np.sin(last.pitch) - np.sin(answer.settled.pitch)) < np.radians(3.0)


def test_slowed_film_shows_the_same_motion_in_more_pictures(woman):
    real, slow = (let_go(woman.assembled, speed=speed) for speed in (1.0, 0.5))
    begun, slowly = (next(n for n, p in enumerate(film.pictures) if p.pose.at > 0.0) - 1 for film in (real, slow))
    for n in (10, 30, 60):
        one, other = real.pictures[begun + n].pose, slow.pictures[slowly + 2 * n].pose
        assert other.at == pytest.approx(one.at)
        # a tenth of a degree: the motion is followed at other instants
        assert other.pitch == pytest.approx(one.pitch, abs=np.radians(0.1))


def test_a_film_lasts_as_long_as_asked(woman):
    for seconds in (3.0, 30.0):
        assert let_go(woman.assembled, seconds=seconds).seconds == pytest.approx(seconds, abs=1.0 / RATE)
    change = Candidate("lead", frozenset(), "1 kg more lead on the ankles", ())
    assert corrected(woman, (change,), seconds=8.0).seconds == pytest.approx(8.0, abs=7.0 / RATE)  # of 7 stretches


@pytest.mark.parametrize("seconds", [None, 3.0, 5.0, 10.0])
@pytest.mark.parametrize("language", ["en", "de"])
def test_every_caption_can_be_read(woman, language, seconds):
    """Subtitles hold 12 to 20 letters a second (common practice), and a tenth more where time is short."""
    change = Candidate("lead", frozenset(), "2 kg of lead from the belt to the ankles", ("suit.gas=8 l",))
    with spoken(language):
        films = [let_go(woman.assembled, seconds=seconds), corrected(woman, (change,), seconds=seconds)]
        if seconds is None:
            films.append(emptying_film(woman.vary({"cylinders.pressure": "30 bar"})))
    for film in films:
        spans = [(c.start, c.end) for c in film.captions]
        assert all(a[1] == b[0] for a, b in pairwise(spans))
        assert spans[-1][1] == pytest.approx(film.seconds)
        told = [len(c.text) / (c.end - c.start) for c in film.captions]
        assert max(told) < 22.5 or len(told) == 1, film.captions
        if seconds is None:
            assert len(told) > 2
            assert told[0] < 15.5  # nothing moves yet: time to look as well


def test_captions_wait_for_the_one_before_and_the_least_that_matters_goes():
    """66 letters take 3 s at 22 a second: the second, wanted after 2 s, waits 1 s, and the third, too late, goes."""
    long = "x" * 66
    said = said_in_turn([Cue(0.0, long), Cue(2.0, long, 1), Cue(2.5, long, 3), Cue(6.0, long, 2)], 9.0)
    assert [(c.start, c.end) for c in said] == [(0.0, 3.0), (3.0, 6.0), (6.0, 9.0)]
    assert len(said_in_turn([Cue(0.0, long), Cue(2.0, long, 1)], 4.0)) == 1


def test_pictures_that_look_alike_are_rendered_once(rig, monkeypatch, tmp_path):
    rendered = list[int]()
    ask = FilmRenderer.rendered
    monkeypatch.setattr(FilmRenderer, "rendered", lambda *a: rendered.append(1) or ask(*a))
    film = let_go(Case.read(rig).assembled, seconds=3.0)
    try:
        write_film(film, {".gif": tmp_path / "f.gif"}, SIZE)
    except NoRendererError as why:
        pytest.skip(str(why))
    poses = len({id(p.pose) for p in film.pictures})
    assert poses < 0.7 * len(film.pictures)
    assert len(rendered) <= poses + 8  # a probe, and six pictures that a GIF's colours are taken from


def test_a_sweep_ends_at_the_moments_of_its_ends(woman):
    film = sweep_film(woman, swept(woman, "cylinders.pressure; from=200 bar; to=50 bar; steps=3"), seconds=5.0)
    for picture, bar in ((film.pictures[0], 200), (film.pictures[-1], 50)):
        flat = hangflat.settle(woman.vary({"cylinders.pressure": f"{bar} bar"})).flat
        assert picture.number("moment") == pytest.approx(flat.pitch_moment, rel=1e-9)
    assert film.seconds == pytest.approx(5.0, abs=1.0 / RATE)
    assert film.captions[0].text.startswith("At 200 bar: ")


def test_what_is_swept_is_named_in_the_readers_language(woman):
    with spoken("de"):
        assert swept(woman, "drop").words == "wie weit das Gerät unter der Taille hängt"


@pytest.mark.parametrize("language", ["de", "pl", "fr"])
def test_names_in_the_graphs_stand_on_no_curve_and_none_passes_the_axis(woman, language):
    """Boxes as drawn, in true pixels, against the curves all through the film."""
    with spoken(language):
        film = let_go(woman.assembled, seconds=8.0)
        canvas = blank((1280, 720))
        Graphs(canvas, film, PANEL, HEAD, FOOT)
        vertical = at_the_vertical(-90.0)
    canvas.figure.draw_without_rendering()
    graphs = [a for a in canvas.figure.axes if a is not canvas.axes]
    for axes in graphs:
        names = [t.get_window_extent() for t in axes.texts]
        lines = [axes.transData.transform(line.get_xydata()) for line in axes.lines if line.get_color() == GRID]
        assert names
        assert len(lines) == 1
        for number, box in enumerate(names):
            assert not Outline(lines[0]).intersects_bbox(box, filled=False)
            assert axes.bbox.x0 <= box.x0
            assert box.x1 <= axes.bbox.x1
            assert not any(box.overlaps(other) for other in names[number + 1 :])
    assert vertical in [t.get_text() for t in graphs[1].texts]
    (label,) = (t.get_window_extent() for t in canvas.axes.texts if t.get_text() == film.axis.words)
    assert graphs[1].bbox.x0 <= label.x0
    assert label.x1 <= graphs[1].bbox.x1 + 1.0  # a pixel, letters being set on whole ones


def test_a_graph_grows_where_a_name_has_no_room():
    """A curve up and down all along leaves no place at either end; one at rest does, and nothing grows."""
    along = np.linspace(0.0, 1.0, 500)
    wanted = [Name("head-up", -1), Name("head-down", 1)]
    quick = np.stack([along, 10.0 * np.sin(40.0 * np.pi * along)], axis=1)
    still = np.stack([along, np.full(500, 1.0)], axis=1)
    for curve, grows in ((quick, True), (still, False)):
        found = named(wanted, [curve], (-11.0, 11.0), (400.0, 180.0), 22.0)
        assert (found.limits[0] < -11.0) == (found.limits[1] > 11.0) == grows
        level = (curve[:, 1] - found.limits[0]) * 180.0 / (found.limits[1] - found.limits[0])
        for box in found.boxes:
            assert box is not None
            assert not box.holds(np.stack([along * 400.0, level], axis=1))


@pytest.mark.parametrize("ahead", [0.5, -0.5, np.pi - 0.5, 0.5 - np.pi])
def test_names_of_forces_stand_away_from_the_high_and_the_low_end_of_the_diver(ahead):
    """The line through the diver from head to feet, carried on, meets neither name; of one who lies level the names
    stand over the arrows."""
    marks, at = ForceMarks(blank((1280, 720))), np.array([[500.0, 400.0], [500.0, 400.0]])
    picture = SimpleNamespace(number=lambda _: 1000.0)
    marks.set(at, ahead, picture)
    away = np.array([name.get_position() for name in marks.artists[-2:]]) - at
    assert (np.sign(away[:, 1]) == [-1.0, 1.0]).all()
    assert (away[:, 0] * away[:, 1] * np.sin(ahead) * np.cos(ahead) < 0.0).all()
    marks.set(at, 0.0, picture)
    assert [name.get_position()[0] for name in marks.artists[-2:]] == [500.0, 500.0]


def test_a_sweep_of_nothing_is_refused(woman):
    with pytest.raises(ValueError, match="nothing would move"):
        swept(woman, "cylinders.pressure; from=200 bar; to=200 bar")


def test_the_gas_breathed_is_the_mass_that_goes(woman):
    film = emptying_film(woman.vary({"cylinders.pressure": "40 bar"}), seconds=9.0)
    first, last = film.pictures[0], film.pictures[-1]
    told = float(next(c.text for c in film.captions if "breathed" in c.text).split(" kg")[0])
    gravity = film.divers[0].rig.water.gravity
    assert (first.number("weight") - last.number("weight")) / gravity > told - 0.06  # the wing's gas goes as well
    # neutral throughout, but that 2 s after letting go the wing still follows the motion (a tenth of a newton)
    assert last.number("push") == pytest.approx(last.number("weight"), rel=1e-4)


def test_a_correction_shows_the_diver_before_and_after(woman):
    change = Candidate("lead", frozenset(), "3 kg of lead less", ("suit.gas=8 l",))
    film = corrected(woman, (change,), seconds=10.0)
    after = hangflat.settle(woman.vary({"suit.gas": "8 l"})).flat.pitch_moment
    assert film.pictures[0].pose.moment == pytest.approx(hangflat.settle(woman).flat.pitch_moment, rel=1e-9)
    held = next(p for p in film.pictures if p.curve == 1)
    assert held.pose.moment == pytest.approx(after, rel=1e-9)
    assert any("3 kg of lead less" in c.text for c in film.captions)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["f.mp4", "g.mp4"], "give each ending once"),
        (["f.avi"], "ends in '.avi'"),
        (["f.srt", "--show", "sweep"], "--show sweep and --sweep go together"),
        (["f.srt", "--sweep", "no such key; from=1; to=2"], "no such key"),
        (["f.srt", "--sweep", "cylinders.pressure; from=200 bar"], "goes to"),
        (["f.srt", "--show", "emptying", "--speed", "2"], "--seconds"),
        (["f.srt", "--speed", "nan"], "--speed"),
        (["f.srt", "--seconds", "1"], "--seconds is 3 to 120"),
        (["f.srt", "--size", "641x360"], "even numbers"),
        (["f.srt", "--size", "3840x2160"], "no more pixels than 1920x1080"),
        (["f.srt", "--size", "1920x1200"], "no more pixels than 1920x1080"),
        (["f.srt", "--show", "correction"], "a parts file has no gear to change"),
    ],
)
def test_what_cannot_be_filmed_is_said_in_a_line_and_leaves_nothing(words, said, rig, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(["film", str(rig), *words]) == 2
    out, err = capsys.readouterr()
    assert said in err
    assert out == ""
    assert list(tmp_path.iterdir()) == []
