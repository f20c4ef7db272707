"""A plate written for others: read back here, and looked through by the libraries that own the formats."""

from pathlib import Path

import ezdxf
import numpy as np
import pytest
import trimesh

from meshes.drawings.outline_lines import CURVE_TOLERANCE
from meshes.plate.back_plate import Plate, Zone, plate_of
from meshes.plate.catalogue import small_plate_shape, standard_plate_shape
from meshes.plate.from_drawing import plate_from_drawing, plate_from_solid_file
from meshes.plate.written import UP, write_flat, write_solid
from meshes.plate.zones import with_zones
from tests.meshes.drawings.step_text import step_text

STEEL = 8000.0
SHAPES = {"standard": standard_plate_shape(), "small": small_plate_shape()}
PLATES = {name: plate_of(shape, STEEL) for name, shape in SHAPES.items()}
PLACES = ("upper_bolt", "lower_bolt", "shoulder_slots", "waist_slots", "crotch_slot")


def agree(got: Plate, plate: Plate, *, mass: float, place: float) -> None:
    assert got.solid.mass == pytest.approx(plate.solid.mass, rel=mass)
    np.testing.assert_allclose(got.solid.cm, plate.solid.cm, atol=place)
    for name in PLACES:
        np.testing.assert_allclose(getattr(got, name), getattr(plate, name), atol=place, err_msg=name)


@pytest.mark.parametrize("name", PLATES)
def test_the_flat_pattern_is_read_back_as_the_plate_bends_and_all(tmp_path: Path, name: str) -> None:
    """The file's arcs are those of the shape, not of our chords: against the same with 16 times as many chords.

    The reader's own chords lie within its tolerance of the arcs, along the whole girth.
    """
    plate, file = PLATES[name], tmp_path / "flat.dxf"
    fine = plate_of(SHAPES[name], STEEL, corner_steps=128)
    write_flat(plate, file, ["a title"])
    got = plate_from_drawing(file, thickness=plate.thickness, density=STEEL)
    girth = sum(
        np.linalg.norm(np.diff(r, axis=0, append=r[:1]), axis=1).sum()
        for r in (fine.pattern.outline.outer, *fine.pattern.outline.holes)
    )
    agree(got, fine, mass=girth * CURVE_TOLERANCE * fine.thickness / fine.solid.volume, place=1e-5)
    assert len(got.pattern.outline.holes) == len(plate.pattern.outline.holes)
    assert got.reading is not None
    assert got.reading.doubts == ()
    for bend, other in zip(got.pattern.bends, sorted(plate.pattern.bends, key=lambda b: b.at), strict=True):
        assert (bend.at, bend.angle, bend.radius) == pytest.approx((other.at, other.angle, other.radius), abs=1e-9)


@pytest.mark.parametrize("name", PLATES)
def test_the_flat_pattern_passes_its_library_s_audit_layer_by_layer(tmp_path: Path, name: str) -> None:
    plate, file = PLATES[name], tmp_path / "flat.dxf"
    write_flat(plate, file, ["a title", "another"])
    document = ezdxf.readfile(file)
    audit = document.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    assert document.units == ezdxf.units.MM
    space = document.modelspace()
    cut = len(plate.pattern.outline.holes) + 1
    assert len(space.query('LWPOLYLINE CIRCLE[layer=="CUT"]')) == cut
    assert {e.dxf.layer for e in space} == {"CUT", "BEND", "TEXT"}
    assert [e.dxf.text for e in space.query('TEXT[layer=="TEXT"]')] == ["a title", "another"]
    bolts = [c for c in space.query("CIRCLE") if abs(c.dxf.center.x) < 1e-9]
    assert sorted(c.dxf.center.y for c in bolts)[::3] == pytest.approx([-139.5, 139.5], abs=1e-9)
    assert {round(c.dxf.radius, 9) for c in bolts} == {4.75}


@pytest.mark.parametrize("name", PLATES)
@pytest.mark.parametrize("kind", ["stl", "glb"])
def test_the_solid_is_watertight_to_another_library_and_the_same_plate_here(
    tmp_path: Path, name: str, kind: str
) -> None:
    """STL and GLB hold single precision: 6e-8 of 0.2 m is 12 nm on each corner."""
    plate, file = PLATES[name], tmp_path / f"plate.{kind}"
    write_solid(plate, file, kind)
    (body,) = trimesh.load_scene(file).geometry.values()
    body.merge_vertices()
    assert body.is_watertight
    assert body.is_volume
    unit = 1e-3 if kind == "stl" else 1.0
    assert STEEL * body.volume * unit**3 == pytest.approx(plate.solid.mass, rel=1e-5)
    got = plate_from_solid_file(file, density=STEEL, up="+y", away="+z", unit="mm" if kind == "stl" else None)
    agree(got, plate, mass=1e-5, place=1e-7)
    assert len(got.pattern.outline.holes) == len(plate.pattern.outline.holes)


def test_a_step_file_is_read_as_the_plate_that_it_holds(tmp_path: Path) -> None:
    """Single precision between reader and us, as above."""
    pytest.importorskip("cascadio")
    plate, file = plate_of(SHAPES["small"], STEEL, corner_steps=3), tmp_path / "plate.step"
    assert plate.solid.mesh is not None
    file.write_text(step_text(plate.solid.mesh.vertices @ UP.T, plate.solid.mesh.faces), encoding="ascii")
    got = plate_from_solid_file(file, density=STEEL, up="+y", away="+z")
    agree(got, plate, mass=1e-5, place=1e-7)
    assert len(got.pattern.outline.holes) == len(plate.pattern.outline.holes)
    assert got.reading is not None
    assert got.reading.doubts == ()


def test_a_solid_that_is_no_even_sheet_has_no_flat_pattern(tmp_path: Path) -> None:
    thicker = with_zones(PLATES["small"], [Zone(0.05, 0.25, 0.0, 0.02, 0.005)], STEEL)
    write_solid(thicker, tmp_path / "p.glb", "glb")
    solid = plate_from_solid_file(tmp_path / "p.glb", density=STEEL, up="+y", away="+z")
    with pytest.raises(ValueError, match="no flat pattern"):
        write_flat(solid, tmp_path / "p.dxf")
