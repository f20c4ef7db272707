"""A designer's own plate from files: drawn out, saved, read back, and compared with the plate it was made of."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import ezdxf
import numpy as np
import pytest
import trimesh

from meshes.drawings.shape_file import FileUnit, ShapeFileError
from meshes.mesh import Floats
from meshes.plate.back_plate import Plate, plate_of
from meshes.plate.catalogue import small_plate_shape, standard_plate_shape
from meshes.plate.from_drawing import axis_vector, plate_from_drawing, plate_from_solid_file
from meshes.plate.openings import StatedPlaces, opening_of
from meshes.plate.shape import bends_of, flat_pattern, unfold
from meshes.plate.sheet import Bend, both_sides

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
    assert got.reading is not None
    assert {name: place.source for name, place in got.reading.places.items()} == {
        "bolts": "found",
        "shoulder_slots": "found",
        "waist_slots": "found",
        "crotch_slot": "found",
    }
    assert got.reading.unit == FileUnit("mm", True)
    assert got.reading.bend_lines == pytest.approx(sorted(b.at for b in bends_of(shape)), abs=1e-9)
    assert got.reading.doubts == ()


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize(("up", "turn"), [("+y", turned(90)), ("-x", turned(180)), ("+y", turned(90.8))])
def test_places_are_told_from_the_top_edge_and_the_middle_line(
    tmp_path: Path, name: str, up: str, turn: Floats
) -> None:
    """Wherever the drawing lies on its sheet, by the numbers of the shape that it was drawn from."""
    shape = SHAPES[name]
    got = plate_from_drawing(drawn(tmp_path / "plate.dxf", name, turn), thickness=0.003, density=STEEL, up=up)
    flat = flat_pattern(shape).outer
    top, half = flat[:, 0].max(), shape.bolt_spacing / 2
    assert got.reading is not None
    places = got.reading.places
    assert places["bolts"].down == pytest.approx((top - half, top + half), abs=1e-9)
    for slots, slot in (("shoulder_slots", shape.shoulder), ("waist_slots", shape.waist)):
        out = float(unfold(slot.y, shape.channel))
        assert places[slots].down == pytest.approx((top - slot.x,) * 2, abs=1e-9)
        assert places[slots].across == pytest.approx((out, -out), abs=1e-9)
    assert places["crotch_slot"].down == pytest.approx((top - shape.crotch.x,), abs=1e-9)
    assert got.reading.edges.length == pytest.approx(np.ptp(flat[:, 0]), abs=1e-9)


@pytest.mark.parametrize("name", SHAPES)
def test_what_is_told_can_be_stated_and_means_the_same(tmp_path: Path, name: str) -> None:
    file = drawn(tmp_path / "plate.dxf", name, turned(90))
    found = plate_from_drawing(file, thickness=0.003, density=STEEL, bends=bends_of(SHAPES[name]))
    assert found.reading is not None
    told = found.reading.places
    stated = StatedPlaces(
        bolts=told["bolts"].down[::-1],
        shoulder_slots=(told["shoulder_slots"].down[0], told["shoulder_slots"].across[0]),
        waist_slots=(told["waist_slots"].down[0], told["waist_slots"].across[0]),
        crotch_slot=told["crotch_slot"].down[0],
    )
    again = plate_from_drawing(file, thickness=0.003, density=STEEL, bends=bends_of(SHAPES[name]), stated=stated)
    same_plate(again, found, 1e-9)
    assert again.reading is not None
    assert {place.source for place in again.reading.places.values()} == {"stated"}


def test_bends_that_do_not_match_the_lines_drawn_are_told(tmp_path: Path) -> None:
    file = drawn(tmp_path / "plate.dxf", "standard", turned(90))
    flat = plate_from_drawing(file, thickness=0.003, density=STEEL)
    (told,) = doubts(flat)
    assert told.startswith("bend lines are drawn 32.4 and 93.4 mm from the middle line, but no angles are stated")
    assert flat.channel_depth == pytest.approx(0.0, abs=1e-15)
    odd = plate_from_drawing(file, thickness=0.003, density=STEEL, bends=[Bend(0.05, 0.2, 0.01)])
    assert any("no bend line is drawn for the bends stated 50.0 mm from the middle line" in d for d in doubts(odd))


def test_bend_lines_across_the_plate_are_left_out_and_told(tmp_path: Path) -> None:
    file = drawn(tmp_path / "plate.dxf", "standard", turned(90))
    document = ezdxf.readfile(file)
    space = document.modelspace()
    for y in (0.0, -20.0):
        space.add_line((400.0, y), (620.0, y), dxfattribs={"layer": "BEND"})
    space.add_text("90 deg", dxfattribs={"layer": "BEND"}).set_placement((512.0, 1.0))
    document.saveas(file)
    plate = plate_from_drawing(file, thickness=0.003, density=STEEL, bends=bends_of(SHAPES["standard"]))
    same_plate(plate, plate_of(SHAPES["standard"], STEEL), 1e-9)
    (told,) = doubts(plate)
    assert told.startswith("2 bend lines across the plate are left out: only what runs")


def test_a_flat_drawing_without_bend_lines_is_told_to_be_flat(tmp_path: Path) -> None:
    file = drawn(tmp_path / "plate.dxf", "standard", turned(90), bend_layer=None)
    assert doubts(plate_from_drawing(file, thickness=0.003, density=STEEL))[0].startswith(
        "no bends are stated: it is"
    )


def test_bends_are_stated_from_the_middle_line_wherever_the_bolts_are(tmp_path: Path) -> None:
    """Bolts 4 mm off the middle line: the channel is still midway between the plate's edges."""
    plates = []
    for off in (0.0, 4.0):
        file = simple(tmp_path / f"{off}.dxf", [(off, 139.5, 9), (off, -139.5, 9)])
        bends = both_sides([Bend(0.04, -1.0, 0.006), Bend(0.09, 1.0, 0.006)])
        plates.append(plate_from_drawing(file, thickness=0.003, density=STEEL, bends=bends))
    straight, aside = plates
    assert aside.reading is not None
    assert aside.reading.places["bolts"].across == pytest.approx((-0.004, -0.004), abs=1e-9)  # +x is the right
    np.testing.assert_allclose(aside.outline[:, 1] - straight.outline[:, 1], 0.004, atol=1e-9)


def doubts(plate: Plate) -> tuple[str, ...]:
    assert plate.reading is not None
    return plate.reading.doubts


def test_a_channel_towards_the_back_raises_a_doubt(tmp_path: Path) -> None:
    shape = SHAPES["standard"]
    file = drawn(tmp_path / "plate.dxf", "standard", turned(90), bend_layer=None)
    wrong = [Bend(b.at, -b.angle, b.radius) for b in bends_of(shape)]
    told = doubts(plate_from_drawing(file, thickness=0.003, density=STEEL, bends=wrong))
    assert any("nearer the back than the plate's centre of mass" in doubt for doubt in told)
    assert doubts(plate_from_drawing(file, thickness=0.003, density=STEEL, bends=bends_of(shape))) == ()


def test_an_upside_down_plate_raises_a_doubt(tmp_path: Path) -> None:
    file = drawn(tmp_path / "plate.dxf", "standard", turned(90), bend_layer=None)
    told = doubts(plate_from_drawing(file, thickness=0.003, density=STEEL, up="-y"))
    assert any("see whether the direction to the head is right" in doubt for doubt in told)


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
    stated = StatedPlaces(bolts=(0.3, 0.05), shoulder_slots=(0.04, 0.07), crotch_slot=0.39)
    got = plate_from_drawing(file, thickness=0.004, density=2700.0, stated=stated)
    np.testing.assert_allclose(got.upper_bolt, [0.125, 0.0, 0.004], atol=1e-15)
    np.testing.assert_allclose(got.shoulder_slots[:, :2], [[0.135, 0.07], [0.135, -0.07]], atol=1e-15)
    np.testing.assert_allclose(got.crotch_slot[:2], [-0.215, 0.0], atol=1e-15)
    assert any("250.0 mm apart; twin bands are usually 279" in doubt for doubt in doubts(got))
    assert got.reading is not None
    assert got.reading.places["crotch_slot"].source == "stated"
    assert got.reading.places["waist_slots"].source == "assumed"


def test_the_pair_of_holes_on_the_centre_line_is_taken(tmp_path: Path) -> None:
    edge = [(120, 139.5, 9), (120, -139.5, 9), (-120, 139.5, 9), (-120, -139.5, 9)]
    got = plate_from_drawing(
        simple(tmp_path / "p.dxf", [(0, 150, 9.5), (0, -129, 9.5), *edge]), thickness=0.003, density=STEEL
    )
    assert got.top[0] == pytest.approx(0.200 - 0.0105, abs=1e-9)


BENT = both_sides([Bend(0.04, -1.0, 0.006), Bend(0.09, 1.0, 0.006)])
USUAL = [(0, 139.5, 9), (0, -139.5, 9)]


@pytest.mark.parametrize(
    ("holes", "unit", "up", "words"),
    [
        (
            [],
            None,
            "+y",
            r"no two round holes 279 mm apart; the plate is 400\.0 mm long and 280\.0 mm wide.*: none\. State both",
        ),
        (
            [(0, 100, 9), (20, -100, 9)],
            None,
            "+y",
            r"9\.0 mm wide 100\.0 mm from the top edge, on the middle line; "
            r"9\.0 mm wide 300\.0 mm from the top edge, 20\.0 mm to the right of the middle line\. State both",
        ),
        (USUAL, "cm", "+y", "two would be, were the unit mm in place of cm"),
        (USUAL, None, "+x", "not along the direction said to point to the head"),
        (USUAL, None, "+z", r"'\+z' is no direction of the file; write one of \+x, -x, \+y, -y"),
        (
            [(0, y, 9) for y in (160, 130, -119, -149)],
            None,
            "+y",
            r"2 pairs .* 40\.0 and 319\.0 mm from the top edge, on the middle line; or 70\.0 and 349\.0 mm",
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


@pytest.mark.parametrize("bolts", [(0.1, 0.1), (0.1,), (float("nan"), 0.1)])
def test_stated_bolts_must_be_two_places(tmp_path: Path, bolts: tuple[float, ...]) -> None:
    with pytest.raises(ShapeFileError, match="two places at least 50 mm apart"):
        plate_from_drawing(
            simple(tmp_path / "p.dxf", []), thickness=0.003, density=STEEL, stated=StatedPlaces(bolts=bolts)
        )


def test_bolts_off_the_plate_s_ends_are_told_with_its_height(tmp_path: Path) -> None:
    stated = StatedPlaces(bolts=(0.05, 0.4123))
    with pytest.raises(ShapeFileError, match=r"400\.0 mm from top to bottom.* 12\.3 mm beyond"):
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
    assert got.thickness == pytest.approx(expected.thickness, abs=1e-7)
    assert got.reading is not None
    assert got.reading.places["bolts"].source == "found"
    outer = got.outline
    assert got.reading.places["bolts"].down == pytest.approx(
        (outer[:, 0].max() - expected.upper_bolt[0], outer[:, 0].max() - expected.lower_bolt[0]), abs=1e-6
    )


def test_a_solid_the_wrong_way_round_is_told(tmp_path: Path) -> None:
    mesh = plate_of(SHAPES["standard"], STEEL).solid.mesh
    assert mesh is not None
    file = tmp_path / "plate.ply"
    trimesh.Trimesh(mesh.vertices, mesh.faces, process=False).export(file)
    told = doubts(plate_from_solid_file(file, density=STEEL, up="+x", away="-z", unit="m"))
    assert any("nearer the back" in doubt for doubt in told)
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
    assert got.reading is not None
    assert "faces turned" in " / ".join(got.reading.notes)


def test_a_point_off_the_plate_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "plate.ply"
    trimesh.creation.box([0.4, 0.28, 0.003]).export(file)
    bolts = (0.06, 0.34)
    stated = StatedPlaces(bolts=bolts, shoulder_slots=(0.05, 0.3))
    with pytest.raises(ValueError, match=r"shoulder_slots \[50 mm, 300 mm\] lie off the plate, which is 400 mm long"):
        plate_from_solid_file(file, density=STEEL, up="+x", away="+z", unit="m", stated=stated)
    got = plate_from_solid_file(file, density=STEEL, up="+x", away="+z", unit="m", stated=StatedPlaces(bolts=bolts))
    assert got.solid.mass == pytest.approx(STEEL * 0.4 * 0.28 * 0.003, rel=1e-6)
    np.testing.assert_allclose(got.upper_bolt, [0.14, 0.0, 0.003], atol=1e-8)


def test_a_place_in_a_wide_opening_is_refused_by_its_distances(tmp_path: Path) -> None:
    sheet = trimesh.creation.box([0.4, 0.28, 0.003])
    opening = trimesh.creation.box([0.15, 0.15, 0.1])
    file = tmp_path / "plate.ply"
    sheet.difference(opening).export(file)
    stated = StatedPlaces(bolts=(0.06, 0.34), crotch_slot=0.2)
    with pytest.raises(
        ValueError, match=r"no material within 45 mm of the place 200\.0 mm from the top edge, on the"
    ):
        plate_from_solid_file(file, density=STEEL, up="+x", away="+z", unit="m", stated=stated)


def test_what_is_stated_otherwise_than_drawn_is_told(tmp_path: Path) -> None:
    file = simple(tmp_path / "p.dxf", [(0, 139.5, 9), (0, -139.5, 9)], [(100, 130), (-100, 130)])
    stated = StatedPlaces(bolts=(0.070, 0.349), shoulder_slots=(0.09, 0.100))
    told = doubts(plate_from_drawing(file, thickness=0.003, density=STEEL, bends=BENT, stated=stated))
    assert told == (
        "holes for bolts are drawn 60.5 and 339.5 mm from the top edge, on the middle line, and bolts were stated "
        "70.0 and 349.0 mm from the top edge, on the middle line: is that right?",
        "shoulder slots are drawn 70.0 mm from the top edge, 100.0 mm to either side of the middle line, and stated "
        "90.0 mm from the top edge, 100.0 mm to either side of the middle line: is that right?",
    )
    near = StatedPlaces(bolts=(0.062, 0.341), shoulder_slots=(0.071, 0.100))
    assert doubts(plate_from_drawing(file, thickness=0.003, density=STEEL, bends=BENT, stated=near)) == ()


def test_slots_go_by_the_middle_line_where_the_bolts_lie_beside_it(tmp_path: Path) -> None:
    file = simple(tmp_path / "p.dxf", [(3, 139.5, 9), (3, -139.5, 9)], [(100, 130), (-100, 130)])
    got = plate_from_drawing(file, thickness=0.003, density=STEEL, bends=BENT)
    assert doubts(got) == (
        "the bolts, on which the cylinders hang, are 60.5 and 339.5 mm from the top edge, 3.0 mm to the right of the "
        "middle line: is that right?",
    )
    assert got.reading is not None
    slots = got.reading.places["shoulder_slots"]
    assert (slots.source, slots.across) == ("found", pytest.approx((0.1, -0.1), abs=1e-9))
