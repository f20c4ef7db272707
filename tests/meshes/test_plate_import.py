"""A designer's own plate from files: drawn out, saved, read back, and compared with the plate it was made of."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import ezdxf
import numpy as np
import pytest
import trimesh

from meshes.mesh import Floats
from meshes.plate import Plate, plate_of
from meshes.plate_catalogue import small_plate_shape, standard_plate_shape
from meshes.plate_holes import StatedPoints, opening_of
from meshes.plate_import import axis_vector, plate_from_drawing, plate_from_solid_file
from meshes.plate_shape import bends_of, flat_pattern
from meshes.plate_sheet import Bend
from meshes.shape_file import ShapeFileError

STEEL = 8000.0  # kg/m^3
SHAPES = {"standard": standard_plate_shape(), "small": small_plate_shape()}
PLACES = ("upper_bolt", "lower_bolt", "top", "bottom", "shoulder_slots", "waist_slots", "crotch_slot")


def same_plate(got: Plate, expected: Plate, precision: float, mass: float | None = None) -> None:
    """Places to ``precision`` [m]; mass and CM alike (``mass``: relative, where the file rounds)."""
    for place in PLACES:
        np.testing.assert_allclose(getattr(got, place), getattr(expected, place), atol=precision, err_msg=place)
    assert got.channel_depth == pytest.approx(expected.channel_depth, abs=precision)
    assert got.width == pytest.approx(expected.width, abs=2 * precision)
    assert got.solid.mass == pytest.approx(expected.solid.mass, rel=mass or precision)
    np.testing.assert_allclose(got.solid.cm, expected.solid.cm, atol=precision)


def drawn(file: Path, name: str, turn: Floats, bend_layer: str | None = "BEND") -> Path:
    """The flat pattern in mm as a DXF drawing, plate axes (x, y) put at ``turn`` (2, 2) @ (x, y) + an offset."""
    shape = SHAPES[name]
    outline = flat_pattern(shape)
    document = ezdxf.new("R2010")
    document.units = 4
    space = document.modelspace()
    for ring in (outline.outer, *outline.holes):
        space.add_lwpolyline(1e3 * ring @ turn.T + [512.0, 77.0], close=True)
    for bend in bends_of(shape) if bend_layer else ():
        ends = 1e3 * np.array([[-0.3, bend.at], [0.3, bend.at]]) @ turn.T + [512.0, 77.0]
        space.add_line(*ends, dxfattribs={"layer": bend_layer})
    document.saveas(file)
    return file


def turned(degrees: float, mirror: float = 1.0) -> Floats:
    c, s = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    return np.array([[c, -s * mirror], [s, c * mirror]])


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize(
    ("up", "seen_from", "turn"),
    [
        ("+y", "behind", turned(90)),
        ("-x", "behind", turned(180)),
        ("+x", "front", turned(0, -1.0)),
        ("-y", "front", turned(-90, -1.0)),
        ("+y", "behind", turned(90.8)),  # a drawing a little askew is set straight by its bolts
    ],
)
def test_a_drawn_plate_is_the_plate_it_was_drawn_from(
    tmp_path: Path, name: str, up: str, seen_from: Any, turn: Floats
) -> None:
    file = drawn(tmp_path / "plate.dxf", name, turn)
    shape = SHAPES[name]
    got = plate_from_drawing(
        file, thickness=shape.thickness, density=STEEL, up=up, seen_from=seen_from, bends=bends_of(shape)
    )
    # slots are found by the centroid of 32 chords, symmetric to rounding; DXF text holds 16 digits of mm
    same_plate(got, plate_of(shape, STEEL), 1e-9)
    text = " / ".join(got.notes)
    for words in (
        "bounding box",
        "bolts: found at",
        "shoulder slots: found",
        "crotch slot: found",
        "lines are drawn at",
    ):
        assert words in text
    assert "no line is drawn" not in text


def test_bends_that_do_not_match_the_lines_drawn_are_told(tmp_path: Path) -> None:
    file = drawn(tmp_path / "plate.dxf", "standard", turned(90))
    flat = plate_from_drawing(file, thickness=0.003, density=STEEL)
    assert any("no angles were stated: taken as flat" in note for note in flat.notes)
    assert flat.channel_depth == pytest.approx(0.0, abs=1e-15)
    odd = plate_from_drawing(file, thickness=0.003, density=STEEL, bends=[Bend(0.05, 0.2, 0.01)])
    assert any("no line is drawn for the bends stated at 50.0 mm" in note for note in odd.notes)


def test_a_channel_towards_the_back_raises_a_doubt(tmp_path: Path) -> None:
    shape = SHAPES["standard"]
    file = drawn(tmp_path / "plate.dxf", "standard", turned(90), bend_layer=None)
    wrong = [Bend(b.at, -b.angle, b.radius) for b in bends_of(shape)]
    notes = plate_from_drawing(file, thickness=0.003, density=STEEL, bends=wrong).notes
    assert any("nearer the back than the plate's centre of mass" in note for note in notes)
    right = plate_from_drawing(file, thickness=0.003, density=STEEL, bends=bends_of(shape)).notes
    assert not any("nearer the back" in note for note in right)


def test_an_upside_down_plate_raises_a_doubt(tmp_path: Path) -> None:
    file = drawn(tmp_path / "plate.dxf", "standard", turned(90), bend_layer=None)
    notes = plate_from_drawing(file, thickness=0.003, density=STEEL, up="-y").notes
    assert any("see whether the direction to the head is right" in note for note in notes)


def simple(
    file: Path, holes: Sequence[tuple[float, float, float]], slots: Sequence[tuple[float, float]] = ()
) -> Path:
    """A rectangle of 280 by 400 mm about (0, 0), round holes (x, y, diameter), slots of 50 by 10 mm at (x, y)."""
    document = ezdxf.new("R2010")
    document.units = 4
    space = document.modelspace()
    space.add_lwpolyline([(-140, -200), (140, -200), (140, 200), (-140, 200)], close=True)
    for x, y, diameter in holes:
        space.add_circle((x, y), diameter / 2)
    for x, y in slots:
        ends = [(x - 5, y - 20, 0), (x - 5, y - 20, 1), (x + 5, y - 20, 0), (x + 5, y + 20, 1), (x - 5, y + 20, 0)]
        space.add_lwpolyline(ends[1:], format="xyb", close=True)
    document.saveas(file)
    return file


def test_stated_places_are_taken_as_stated(tmp_path: Path) -> None:
    file = simple(tmp_path / "p.dxf", [], [(100, 100), (-100, 100)])
    stated = StatedPoints(
        bolts=np.array([[0.0, -0.1], [0.0, 0.15]]),
        shoulder_slots=np.array([[0.07, 0.16], [-0.07, 0.16]]),
        crotch_slot=np.array([0.0, -0.19]),
    )
    got = plate_from_drawing(file, thickness=0.004, density=2700.0, stated=stated)
    np.testing.assert_allclose(got.upper_bolt, [0.125, 0.0, 0.004], atol=1e-15)
    np.testing.assert_allclose(got.shoulder_slots[:, :2], [[0.135, 0.07], [0.135, -0.07]], atol=1e-15)
    np.testing.assert_allclose(got.crotch_slot[:2], [-0.215, 0.0], atol=1e-15)
    text = " / ".join(got.notes)
    for words in (
        "250.0 mm apart; twin bands are usually 279",
        "crotch slot: as stated",
        "waist slots: none found, assumed",
    ):
        assert words in text


def test_the_pair_of_holes_on_the_centre_line_is_taken(tmp_path: Path) -> None:
    edge = [(120, 139.5, 9), (120, -139.5, 9), (-120, 139.5, 9), (-120, -139.5, 9)]
    got = plate_from_drawing(
        simple(tmp_path / "p.dxf", [(0, 150, 9.5), (0, -129, 9.5), *edge]), thickness=0.003, density=STEEL
    )
    assert got.top[0] == pytest.approx(0.200 - 0.0105, abs=1e-9)


USUAL = [(0, 139.5, 9), (0, -139.5, 9)]


@pytest.mark.parametrize(
    ("holes", "unit", "up", "words"),
    [
        (
            [],
            None,
            "+y",
            r"no two round holes 279 mm apart; the plate measures 280\.0 by 400\.0 mm .*: none\. State both",
        ),
        ([(0, 100, 9), (0, -100, 9)], None, "+y", r"\(0\.0, 100\.0\) mm of 9\.0 mm, \(0\.0, -100\.0\) mm of 9\.0 mm"),
        (USUAL, "cm", "+y", "two would be, were the unit mm in place of cm"),
        (USUAL, None, "+x", "not along the direction said to point to the head"),
        (USUAL, None, "+z", r"'\+z' is no direction of the file; write one of \+x, -x, \+y, -y"),
        (
            [(0, y, 9) for y in (160, 130, -119, -149)],
            None,
            "+y",
            r"2 pairs .* \(0\.0, 160\.0\) mm and \(0\.0, -119\.0\)",
        ),
    ],
    ids=["none", "wrong spacing", "unit", "direction", "axis", "ambiguous"],
)
def test_bolts_that_cannot_be_told_are_asked_for(
    tmp_path: Path, holes: list[tuple[float, float, float]], unit: str | None, up: str, words: str
) -> None:
    with pytest.raises(ShapeFileError, match=words) as caught:
        plate_from_drawing(simple(tmp_path / "p.dxf", holes), thickness=0.003, density=STEEL, unit=unit, up=up)
    assert str(caught.value).startswith("p.dxf: ")


@pytest.mark.parametrize("bolts", [[[0.0, 0.1], [0.0, 0.1]], [[0.0, 0.1]], [[0.0, float("nan")], [0.0, 0.1]]])
def test_stated_bolts_must_be_two_places(tmp_path: Path, bolts: list[list[float]]) -> None:
    with pytest.raises(ShapeFileError, match="two places at least 50 mm apart"):
        plate_from_drawing(
            simple(tmp_path / "p.dxf", []), thickness=0.003, density=STEEL, stated=StatedPoints(bolts=np.array(bolts))
        )


def test_bolts_off_the_plate_s_ends_are_told_with_its_height(tmp_path: Path) -> None:
    stated = StatedPoints(bolts=np.array([[0.0, 0.15], [0.0, -0.2123]]))
    with pytest.raises(ShapeFileError, match=r"400\.0 mm from top to bottom.* 12\.3 mm beyond"):
        plate_from_drawing(simple(tmp_path / "p.dxf", []), thickness=0.003, density=STEEL, stated=stated)


def test_a_plate_beside_its_bolts_is_refused(tmp_path: Path) -> None:
    stated = StatedPoints(bolts=np.array([[0.5, -0.1], [0.5, 0.15]]))
    with pytest.raises(ValueError, match="does not cross its centre line"):
        plate_from_drawing(simple(tmp_path / "p.dxf", []), thickness=0.003, density=STEEL, stated=stated)


def test_openings_are_told_apart_by_their_measures() -> None:
    angle = 2 * np.pi * (np.arange(64) + 0.5) / 64
    circle = 0.0047 * np.stack([np.cos(angle), np.sin(angle)], axis=1)
    half = 0.02 * np.sign(np.cos(angle))[:, None] * [1.0, 0.0]
    hole, slot = opening_of(circle), opening_of(circle + half)
    square = opening_of(0.0047 * np.array([[1, 1], [-1, 1], [-1, -1], [1, -1.0]]))
    assert (hole.is_bolt_hole, hole.is_slot) == (True, False)
    assert (slot.is_bolt_hole, slot.is_slot) == (False, True)
    assert (square.is_bolt_hole, square.is_slot) == (False, False)
    assert (slot.length, slot.width) == pytest.approx((0.0494, 0.0094), rel=2e-3)  # chords: (pi/64)^2/2 = 1.2e-3
    assert square.roundness == pytest.approx(np.pi / 4, rel=1e-12)


@pytest.mark.parametrize("suffix", ["stl", "3mf", "glb"])
@pytest.mark.parametrize(("up", "away"), [("+z", "-y"), ("-x", "+z")])
def test_a_plate_given_as_a_solid_is_the_plate_it_was_made_of(
    tmp_path: Path, suffix: str, up: str, away: str
) -> None:
    expected = plate_of(SHAPES["standard"], STEEL)
    mesh = expected.solid.mesh
    assert mesh is not None
    head, back = axis_vector(up, 3, ""), axis_vector(away, 3, "")
    frame = np.stack([head, np.cross(back, head), back])
    file = tmp_path / f"plate.{suffix}"
    trimesh.Trimesh(1e3 * mesh.vertices @ frame + [10.0, 20.0, 30.0], mesh.faces, process=False).export(file)
    got = plate_from_solid_file(file, density=STEEL, up=up, away=away, unit="mm")
    # single precision of coordinates up to 0.3 m is 2e-8 m, which is 1e-5 of the thickness at worst, both ways
    same_plate(got, expected, 1e-6, mass=1e-5)
    assert got.thickness == 0.0
    assert "bolts: found at" in " / ".join(got.notes)


def test_a_solid_the_wrong_way_round_is_told(tmp_path: Path) -> None:
    mesh = plate_of(SHAPES["standard"], STEEL).solid.mesh
    assert mesh is not None
    file = tmp_path / "plate.ply"
    trimesh.Trimesh(mesh.vertices, mesh.faces, process=False).export(file)
    notes = plate_from_solid_file(file, density=STEEL, up="+x", away="-z", unit="m").notes
    assert any("nearer the back" in note for note in notes)
    with pytest.raises(ShapeFileError, match="no two round holes 279 mm apart"):
        plate_from_solid_file(file, density=STEEL, up="+x", away="+y", unit="m")
    with pytest.raises(ShapeFileError, match="two different axes"):
        plate_from_solid_file(file, density=STEEL, up="+x", away="-x", unit="m")
    with pytest.raises(ShapeFileError, match="not along the direction"):
        plate_from_solid_file(file, density=STEEL, up="+y", away="+z", unit="m")


def test_a_spoilt_solid_plate_is_mended_and_told(tmp_path: Path) -> None:
    expected = plate_of(SHAPES["small"], STEEL)
    mesh = expected.solid.mesh
    assert mesh is not None
    faces = mesh.faces.copy()
    faces[::9] = faces[::9, ::-1]
    file = tmp_path / "plate.ply"
    trimesh.Trimesh(mesh.vertices, faces[1:], process=False).export(file)
    got = plate_from_solid_file(file, density=STEEL, up="+x", away="+z", unit="m")
    same_plate(got, expected, 1e-6, mass=1e-5)
    assert "faces turned" in " / ".join(got.notes)


def test_a_point_off_the_plate_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "plate.ply"
    trimesh.creation.box([0.4, 0.28, 0.003]).export(file)
    bolts = np.array([[0.14, 0.0], [-0.14, 0.0]])
    stated = StatedPoints(bolts=bolts, shoulder_slots=np.array([[0.15, 0.3], [0.15, -0.3]]))
    with pytest.raises(ValueError, match=r"no material within 45 mm of \(150\.0, 300\.0\) mm"):
        plate_from_solid_file(file, density=STEEL, up="+x", away="+z", unit="m", stated=stated)
    got = plate_from_solid_file(file, density=STEEL, up="+x", away="+z", unit="m", stated=StatedPoints(bolts=bolts))
    assert got.solid.mass == pytest.approx(STEEL * 0.4 * 0.28 * 0.003, rel=1e-6)
    np.testing.assert_allclose(got.upper_bolt, [0.14, 0.0, 0.003], atol=1e-8)
