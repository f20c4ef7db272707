"""Places of another thickness against the volumes of their prisms, and against the same plate without them."""

import numpy as np
import pytest
import shapely
import trimesh

from meshes.outline import Outline
from meshes.plate.back_plate import FlatPoints, Plate, Zone, plate_from_flat, plate_of
from meshes.plate.catalogue import small_plate_shape, standard_plate_shape
from meshes.plate.edges import edges_of
from meshes.plate.sheet import Bend, both_sides
from meshes.plate.zones import shape_of, with_zones

STEEL = 8000.0
SHEET = Outline(np.array([[-0.2, -0.15], [0.2, -0.15], [0.2, 0.15], [-0.2, 0.15]]))
PLACES = FlatPoints(
    np.array([0.14, 0.0]), np.array([-0.14, 0.0]), np.array([[0.15, 0.1], [0.15, -0.1]]),
    np.array([[-0.1, 0.1], [-0.1, -0.1]]), np.array([-0.19, 0.0]),
)  # fmt: skip


def flat(bends: tuple[Bend, ...] = ()) -> Plate:
    return plate_from_flat(SHEET, PLACES, 0.003, STEEL, bends)


def test_a_flat_sheet_with_a_doubler_and_a_pocket_is_three_boxes() -> None:
    plate = with_zones(flat(), [Zone(0.05, 0.10, 0.0, 0.06, 0.005), Zone(0.2, 0.3, 0.10, 0.12, 0.001)], STEEL)
    sheet, doubler, pocket = 0.4 * 0.3 * 0.003, 0.05 * 0.12 * 0.002, 2 * 0.1 * 0.02 * 0.002
    volume = sheet + doubler - pocket
    assert plate.solid.volume == pytest.approx(volume, rel=1e-9)
    # x to the head from the middle of the bolts, z from the face against the diver
    moment_x = doubler * (0.2 - 0.075) - pocket * (0.2 - 0.25)
    moment_z = sheet * 0.0015 + doubler * 0.004 - pocket * 0.002
    assert plate.solid.cm == pytest.approx([moment_x / volume, 0.0, moment_z / volume], abs=1e-9)
    assert plate.solid.mesh is not None
    assert np.ptp(plate.solid.mesh.vertices[:, 2]) == pytest.approx(0.005, abs=1e-12)
    body = trimesh.Trimesh(plate.solid.mesh.vertices, plate.solid.mesh.faces, process=False)
    assert body.is_volume


@pytest.mark.parametrize("shape", [standard_plate_shape(), small_plate_shape()], ids=["standard", "small"])
@pytest.mark.parametrize("thickness", [0.0015, 0.0055])
def test_a_zone_over_holes_and_bends_weighs_what_its_sheet_weighs(shape, thickness: float) -> None:  # type: ignore[no-untyped-def]
    """Beyond the mid-surface a bend's sheet is longer or shorter by its turn, by Pappus's theorem."""
    plate = plate_of(shape, STEEL)
    zone = Zone(0.03, 0.31, 0.0, 0.11, thickness)
    got = with_zones(plate, [zone], STEEL)
    edges = edges_of(plate.pattern.outline.outer)
    sheet = shape_of(zone, plate.pattern.outline, edges)
    half, face = plate.thickness / 2, thickness - plate.thickness / 2
    expected = sheet.area * (face - half)
    for bend in plate.pattern.bends:
        strip = shapely.box(-1.0, bend.at - bend.width / 2, 1.0, bend.at + bend.width / 2)
        # turned toward +z the back is the hollow side
        stretch = -np.sign(bend.angle) * (face + half) / 2 / bend.radius
        expected += sheet.intersection(strip).area * (face - half) * stretch
    assert got.solid.volume - plate.solid.volume == pytest.approx(expected, rel=2e-3)
    assert got.solid.mesh is not None
    assert trimesh.Trimesh(got.solid.mesh.vertices, got.solid.mesh.faces, process=False).is_volume


def test_a_bolt_bears_on_the_face_of_its_zone_and_nothing_else_moves() -> None:
    plate = plate_of(standard_plate_shape(), STEEL)
    got = with_zones(plate, [Zone(0.04, 0.09, 0.0, 0.025, 0.006)], STEEL)
    assert got.upper_bolt - plate.upper_bolt == pytest.approx([0.0, 0.0, 0.003], abs=1e-12)
    for name in ("lower_bolt", "shoulder_slots", "waist_slots", "crotch_slot", "top", "bottom", "channel_depth"):
        np.testing.assert_array_equal(getattr(got, name), getattr(plate, name))


@pytest.mark.parametrize(
    ("zones", "bends", "words"),
    [
        ([Zone(0.0, 0.1, 0.0, 0.05, 0.004), Zone(0.05, 0.2, 0.04, 0.1, 0.004)], (), "zones 1 and 2 overlap"),
        ([Zone(0.41, 0.5, 0.0, 0.05, 0.004)], (), "holds no sheet"),
        ([Zone(0.0, 0.1, 0.0, 0.12, 0.009)], both_sides([Bend(0.09, 1.0, 0.006)]), "too thick for the bend 90.0 mm"),
    ],
)
def test_zones_that_cannot_be_are_refused(zones: list[Zone], bends: tuple[Bend, ...], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        with_zones(flat(bends), zones, STEEL)
