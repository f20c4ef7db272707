"""Solids from mesh files: the table of spoilt meshes, units, formats, and files that are none."""

import re
import sys
import zipfile
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest
import trimesh

from meshes.drawings.mending import mended, signed_volume
from meshes.drawings.shape_file import ShapeFileError
from meshes.drawings.solid_import import read_solid
from meshes.mesh import Floats, Ints
from meshes.solid import volume_integrals

RADIUS = 0.15
BODY = trimesh.creation.capsule(radius=RADIUS, height=0.16, count=[32, 32])
POINTS, FACES = np.array(BODY.vertices), np.array(BODY.faces)
VOLUME = signed_volume(POINTS, FACES)
RNG = np.random.default_rng(7)
SOUP_POINTS, SOUP = POINTS[FACES].reshape(-1, 3), np.arange(3 * len(FACES)).reshape(-1, 3)


def flipped() -> Ints:
    faces = FACES.copy()
    faces[::7] = faces[::7, ::-1]
    return faces


@dataclass(frozen=True)
class Spoilt:
    """A spoilt mesh, what trimesh says of it, and the volume it must have when mended (None: refused)."""

    points: Floats
    faces: Ints
    claims_closed: bool
    volume: float | None
    accuracy: float = 1e-12
    words: str = ""


def both(other: Floats, faces: Ints) -> tuple[Floats, Ints]:
    return np.concatenate([POINTS, other]), np.concatenate([FACES, faces + len(POINTS)])


OVERLAP = trimesh.boolean.union([BODY, BODY.copy().apply_translation([0.1, 0.0, 0.0])], engine="manifold").volume
TABLE = {
    "sound": Spoilt(POINTS, FACES, True, VOLUME),
    "one face missing": Spoilt(POINTS, FACES[1:], False, VOLUME, words="holes filled with 1 triangles"),
    "60 faces missing": Spoilt(POINTS, FACES[60:], False, None, words=r"not a closed solid: .* edges .* at x"),
    "every 7th face flipped": Spoilt(POINTS, flipped(), True, VOLUME, words="faces turned"),
    "inside out": Spoilt(POINTS, FACES[:, ::-1], True, VOLUME, words="faces turned: volume -"),
    "triangle soup": Spoilt(SOUP_POINTS, SOUP, False, VOLUME),
    # each corner is the mean of about six noisy ones, so the volume moves by far less than noise times surface
    "soup with noise of 1 um": Spoilt(
        SOUP_POINTS + RNG.normal(0.0, 1e-6, SOUP_POINTS.shape), SOUP, False, VOLUME, 1e-5, "points closer than"
    ),
    "two overlapping shells": Spoilt(*both(POINTS + [0.1, 0, 0], FACES), True, OVERLAP, 1e-9, "overlap united"),
    "a cavity": Spoilt(*both(0.5 * POINTS, FACES[:, ::-1]), True, 0.875 * VOLUME, 1e-9, "1 of them cavities"),
    "an inside-out neighbour": Spoilt(
        *both(0.5 * POINTS + [1.0, 0, 0], FACES[:, ::-1]), True, 1.125 * VOLUME, 1e-9, "1 of 2 shells faced inwards"
    ),
    "open sheet": Spoilt(POINTS, FACES[: len(FACES) // 2], False, None, words="not a closed solid"),
    "sheet of no thickness": Spoilt(
        POINTS * [1, 1, 0], FACES, True, None, words="no volume|not a closed|not that of"
    ),
    "a tenth missing": Spoilt(
        POINTS, np.delete(FACES, np.s_[::10], axis=0), False, None, words="too much is missing|not a closed solid"
    ),
}


@pytest.mark.parametrize("name", TABLE)
def test_spoilt_meshes_are_mended_or_refused(tmp_path: Path, name: str) -> None:
    spoilt = TABLE[name]
    raw = trimesh.Trimesh(spoilt.points, spoilt.faces, process=False)
    assert raw.is_watertight is spoilt.claims_closed  # being closed is not being sound: half of these claim it
    if spoilt.volume is None:
        with pytest.raises(ShapeFileError, match=spoilt.words) as caught:
            mended([(spoilt.points, spoilt.faces)], "body.stl")
        assert str(caught.value).startswith("body.stl: ")
        return
    got = mended([(spoilt.points, spoilt.faces)], "body.stl")
    assert volume_integrals(got.mesh).volume == pytest.approx(spoilt.volume, rel=spoilt.accuracy)
    assert trimesh.Trimesh(got.mesh.vertices, got.mesh.faces, process=False).is_volume
    assert got.volume_before == pytest.approx(signed_volume(spoilt.points, spoilt.faces), rel=1e-12)
    assert spoilt.words in " / ".join(got.steps)
    if abs(got.volume_before - spoilt.volume) > 1e-6 * VOLUME:
        assert any(f"to {1e3 * spoilt.volume:.5g} litres" in step for step in got.steps)  # the change is told


def test_parts_that_overlap_are_united_and_apart_are_kept() -> None:
    parts = [(POINTS, FACES), (POINTS + [0.1, 0.0, 0.0], FACES), (POINTS + [2.0, 0.0, 0.0], FACES)]
    got = mended(parts, "parts.3mf")
    assert volume_integrals(got.mesh).volume == pytest.approx(OVERLAP + VOLUME, rel=1e-9)


def test_one_solid_in_open_parts_is_put_together() -> None:
    """As files that split a body by colour have it."""
    half = len(FACES) // 2
    got = mended([(POINTS, FACES[:half]), (POINTS, FACES[half:])], "colours.glb")
    assert volume_integrals(got.mesh).volume == pytest.approx(VOLUME, rel=1e-12)


def test_boxes_that_share_a_face_become_one() -> None:
    box = trimesh.creation.box([0.1, 0.1, 0.1])
    points = np.concatenate([box.vertices, box.vertices + [0.1, 0.0, 0.0]])
    got = mended([(points, np.concatenate([box.faces, box.faces + 8]))], "boxes.obj")
    assert volume_integrals(got.mesh).volume == pytest.approx(0.002, rel=1e-9)
    mirror = np.concatenate([box.vertices, box.vertices * [-1.0, 1.0, 1.0] + [0.1, 0.0, 0.0]])
    faces = np.concatenate([box.faces, box.faces[:, ::-1] + 8])
    soup = mended([(mirror[faces].reshape(-1, 3), np.arange(72).reshape(-1, 3))], "boxes.stl")
    assert volume_integrals(soup.mesh).volume == pytest.approx(0.002, rel=1e-12)


@pytest.mark.parametrize("suffix", ["stl", "3mf", "glb", "obj", "ply"])
@pytest.mark.parametrize(("unit", "metres"), [("mm", 1e-3), ("in", 0.0254)])
def test_every_format_comes_back_in_metres(tmp_path: Path, suffix: str, unit: str, metres: float) -> None:
    file = tmp_path / f"body.{suffix}"
    trimesh.Trimesh(POINTS / metres, FACES, process=False).export(file)
    got = read_solid(file, unit)
    # STL, GLB and PLY hold single precision: 6e-8 of each coordinate
    assert volume_integrals(got.mesh).volume == pytest.approx(VOLUME, rel=1e-6)
    assert got.report.size_mm == pytest.approx((300.0, 300.0, 460.0), rel=1e-6)
    own = {"3mf": "mm", "glb": "m"}.get(suffix)  # what the library's writer puts down, and what GLB means by itself
    assert got.report.unit.words == f"{unit}, as {'the file states' if own == unit else 'stated'}"
    assert (got.report.unit.doubt is None) is (own in (None, unit))
    if own is not None:
        return
    with pytest.raises(ShapeFileError, match=r'state the unit .* unit = "mm" \(or cm, m, in, ft\); it measures'):
        read_solid(file, None)


@pytest.mark.parametrize(("word", "metres"), [("inch", 0.0254), ("centimeter", 0.01), (None, 0.001)])
def test_a_3mf_is_read_in_its_own_unit(tmp_path: Path, word: str | None, metres: float) -> None:
    """The attribute of its <model>; millimetres without one (3MF core specification)."""
    file, plain = tmp_path / "body.3mf", tmp_path / "plain.3mf"
    trimesh.Trimesh(POINTS / metres, FACES, process=False).export(plain)
    with zipfile.ZipFile(plain) as source, zipfile.ZipFile(file, "w") as target:
        for name in source.namelist():
            text = source.read(name)
            if name.endswith(".model"):
                text = re.sub(rb' unit="\w+"', f' unit="{word}"'.encode() if word else b"", text, count=1)
            target.writestr(name, text)
    got = read_solid(file, None)
    assert got.report.size_mm == pytest.approx((300.0, 300.0, 460.0), rel=1e-6)
    assert got.report.unit.by_file


def test_a_glb_is_in_metres(tmp_path: Path) -> None:
    file = tmp_path / "body.glb"
    trimesh.Trimesh(POINTS, FACES, process=False).export(file)
    assert read_solid(file, None).report.size_mm == pytest.approx((300.0, 300.0, 460.0), rel=1e-6)
    trimesh.Trimesh(1e3 * POINTS, FACES, process=False).export(file)
    with pytest.raises(ShapeFileError, match="measures 300 x 300 x 460 m with 1 unit = m; state the unit"):
        read_solid(file, None)


def test_placed_parts_of_a_scene_are_placed(tmp_path: Path) -> None:
    scene = trimesh.Scene()
    scene.add_geometry(BODY, transform=trimesh.transformations.translation_matrix([1.0, 2.0, 3.0]))
    scene.export(tmp_path / "scene.glb")
    centroid = volume_integrals(read_solid(tmp_path / "scene.glb", "m").mesh).centroid
    np.testing.assert_allclose(
        centroid, volume_integrals(read_solid_of(tmp_path, BODY)).centroid + [1, 2, 3], atol=1e-6
    )


def read_solid_of(folder: Path, body: trimesh.Trimesh):  # type: ignore[no-untyped-def]
    body.export(folder / "alone.ply")
    return read_solid(folder / "alone.ply", "m").mesh


@pytest.mark.parametrize(
    ("unit", "words"), [("parsec", "not known; write one of"), ("ft", None), ("mm", "measures .* state the unit")]
)
def test_wrong_units_are_refused(tmp_path: Path, unit: str, words: str | None) -> None:
    file = tmp_path / "body.ply"
    BODY.export(file)
    if words is None:
        assert read_solid(file, unit).report.size_mm[2] == pytest.approx(460 * 0.3048, rel=1e-6)
        return
    with pytest.raises(ShapeFileError, match=words):
        read_solid(file, unit)


def test_step_needs_its_reader(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "cascadio", None)
    (tmp_path / "plate.step").write_text("ISO-10303-21;", encoding="utf-8")
    with pytest.raises(
        ShapeFileError,
        match=r'STEP needs the optional package cascadio; export STL.*pip install.* -e "\.\[step\]"',
    ):
        read_solid(tmp_path / "plate.step", None)


@pytest.mark.parametrize("text", ["solid", "ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\n#1="])
def test_what_is_no_step_is_refused_in_a_line(tmp_path: Path, text: str) -> None:
    pytest.importorskip("cascadio")
    (tmp_path / "plate.stp").write_text(text, encoding="ascii")
    with pytest.raises(ShapeFileError, match=r"cannot be read as STEP|no triangles"):
        read_solid(tmp_path / "plate.stp", None)


@pytest.mark.parametrize("end", ["raise SystemExit(0)", "import os, signal; os.kill(os.getpid(), signal.SIGSEGV)"])
def test_a_step_reader_that_breaks_down_costs_an_answer_and_no_crash(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, end: str
) -> None:
    monkeypatch.setattr("importlib.util.find_spec", lambda name: object())
    monkeypatch.setattr("meshes.drawings.step_reader.READER", (sys.executable, "-c", end))
    (tmp_path / "plate.stp").write_text("ISO-10303-21;", encoding="ascii")
    with pytest.raises(ShapeFileError, match="cannot be read as STEP; it may be damaged"):
        read_solid(tmp_path / "plate.stp", None)


def test_a_zip_bomb_is_refused(tmp_path: Path) -> None:
    import zipfile

    with zipfile.ZipFile(tmp_path / "bomb.3mf", "w", zipfile.ZIP_DEFLATED) as archive:
        for k in range(4):
            archive.writestr(f"3D/{k}.model", b"0" * 80_000_000)
    with pytest.raises(ShapeFileError, match="320 MB in 4 models when unzipped, at most 150 MB"):
        read_solid(tmp_path / "bomb.3mf", "mm")


def test_points_that_are_no_numbers_are_refused(tmp_path: Path) -> None:
    (tmp_path / "nan.obj").write_text(
        "v 0 0 0\nv nan 1 0\nv 1 0 0\nv 0 0 1\nf 1 2 3\nf 1 2 4\nf 2 3 4\nf 1 3 4\n", encoding="utf-8"
    )
    with pytest.raises(ShapeFileError, match="not a finite number"):
        read_solid(tmp_path / "nan.obj", "m")


@pytest.mark.parametrize("suffix", ["stl", "3mf", "glb", "obj", "ply"])
@pytest.mark.parametrize(
    "content", [b"", b"\x00" * 90, bytes(range(256)) * 20, b"hello\n" * 9, b"{}", b"solid\nendsolid\n"]
)
def test_broken_files_give_one_plain_message(tmp_path: Path, suffix: str, content: bytes) -> None:
    file = tmp_path / f"broken.{suffix}"
    file.write_bytes(content)
    with pytest.raises(ShapeFileError, match=r"broken\.") as caught:
        read_solid(file, "mm")
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize("suffix", ["stl", "3mf", "glb", "obj", "ply"])
@pytest.mark.parametrize("share", [0.01, 0.5, 0.9])
def test_a_file_cut_short_is_refused(tmp_path: Path, suffix: str, share: float) -> None:
    file = tmp_path / f"body.{suffix}"
    BODY.export(file)
    whole = file.read_bytes()
    file.write_bytes(whole[: int(share * len(whole))])
    with pytest.raises(ShapeFileError):
        read_solid(file, "m")
