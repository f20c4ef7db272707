"""Plates by their dimensions: sizes, masses, places and the two of the catalogue."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
import trimesh

from meshes.mesh import Floats
from meshes.plate.back_plate import Plate, plate_of
from meshes.plate.catalogue import small_plate_shape, standard_plate_shape
from meshes.plate.shape import Channel, Hole, PlateShape, Slot, bends_of, flat_pattern, rounded, unfold
from meshes.plate.sheet import bent_points, polygon_of
from meshes.plate.solid import heights_around

SHAPES = {"standard": standard_plate_shape(), "small": small_plate_shape()}
STAINLESS, ALUMINIUM, LAMINATE = 8000.0, 2700.0, 1550.0  # kg/m^3, handbook values


@pytest.fixture(scope="module", params=SHAPES)
def shape(request: pytest.FixtureRequest) -> PlateShape:
    return SHAPES[request.param]


@pytest.fixture(scope="module")
def plate(shape: PlateShape) -> Plate:
    return plate_of(shape, STAINLESS)


@pytest.mark.parametrize(
    ("density", "thickness", "mass"), [(STAINLESS, 0.003, 3.0), (ALUMINIUM, 0.0032, 1.0), (LAMINATE, 0.002, 0.3)]
)
def test_a_standard_plate_weighs_what_such_plates_weigh(density: float, thickness: float, mass: float) -> None:
    got = plate_of(standard_plate_shape(thickness=thickness), density).solid.mass
    assert got == pytest.approx(mass, rel=0.2)  # common practice, about 3, 1 and 0.3 kg within 20 %


def test_the_net_area_is_that_of_common_plates() -> None:
    areas = {name: polygon_of(flat_pattern(shape)).area for name, shape in SHAPES.items()}
    assert 0.09 <= areas["standard"] <= 0.12  # m^2, common practice
    assert areas["small"] < areas["standard"]


def test_a_plate_is_a_closed_symmetric_solid(plate: Plate) -> None:
    assert plate.solid.mesh is not None
    body = trimesh.Trimesh(plate.solid.mesh.vertices, plate.solid.mesh.faces, process=False)
    assert body.is_volume
    assert body.volume == pytest.approx(plate.solid.volume, rel=1e-12)
    assert plate.solid.mass == pytest.approx(STAINLESS * body.volume, rel=1e-12)
    np.testing.assert_allclose(plate.solid.cm, body.center_mass, atol=1e-12)
    assert abs(plate.solid.cm[1]) < 1e-12  # made of mirror images
    np.testing.assert_allclose(plate.solid.inertia[1, [0, 2]], 0.0, atol=1e-14)


def test_bending_keeps_the_mass_of_the_flat_pattern(shape: PlateShape) -> None:
    flat = STAINLESS * shape.thickness * polygon_of(flat_pattern(shape)).area
    bent = plate_of(shape, STAINLESS, arc_steps=4).solid.mass
    step = abs(bends_of(shape)[0].angle) / 4
    share = sum(b.width for b in bends_of(shape)) * (shape.profile[0][0] - shape.profile[-1][0])
    lost = STAINLESS * shape.thickness * share * step**2 / 6.0
    assert flat - 1.01 * lost <= bent <= flat


def test_volume_converges_at_second_order() -> None:
    volumes = [plate_of(SHAPES["standard"], 1.0, corner_steps=n, arc_steps=n).solid.volume for n in (4, 8, 16, 32)]
    change = np.abs(np.diff(volumes))
    np.testing.assert_allclose(np.log2(change[:-1] / change[1:]), 2.0, atol=0.02)  # the fourth-order term, at n = 4


def test_places_are_where_the_dimensions_put_them(shape: PlateShape, plate: Plate) -> None:
    channel = shape.channel
    assert channel is not None
    t, depth = shape.thickness, channel.depth
    np.testing.assert_allclose(plate.upper_bolt, [0.1395, 0.0, depth + t], atol=1e-12)
    np.testing.assert_allclose(plate.lower_bolt, [-0.1395, 0.0, depth + t], atol=1e-12)
    assert np.linalg.norm(plate.upper_bolt - plate.lower_bolt) == pytest.approx(0.279, rel=1e-12)
    np.testing.assert_allclose(plate.top, [shape.profile[0][0], 0.0, depth + t / 2], atol=1e-12)
    np.testing.assert_allclose(plate.bottom, [shape.profile[-1][0], 0.0, depth + t / 2], atol=1e-12)
    left = np.array([1.0, -1.0, 1.0])
    for slots, slot in ((plate.shoulder_slots, shape.shoulder), (plate.waist_slots, shape.waist)):
        np.testing.assert_allclose(slots[0], [slot.x, slot.y, t / 2], atol=1e-12)
        np.testing.assert_allclose(slots[0] * left, slots[1], atol=1e-12)
    np.testing.assert_allclose(plate.crotch_slot, [shape.crotch.x, 0.0, depth + t / 2], atol=1e-12)
    assert plate.channel_depth == pytest.approx(depth, rel=1e-12)


def test_the_flats_touch_the_back_and_the_floor_stands_off(plate: Plate) -> None:
    mesh = plate.solid.mesh
    assert mesh is not None
    assert mesh.vertices[:, 2].min() == pytest.approx(0.0, abs=1e-15)
    low, high = heights_around(mesh, plate.upper_bolt[:2])
    assert (low, high) == pytest.approx((plate.channel_depth, plate.channel_depth + plate.thickness), abs=1e-12)
    for x, y, _ in (*plate.shoulder_slots, *plate.waist_slots):
        assert heights_around(mesh, (x, y)) == pytest.approx((0.0, plate.thickness), abs=1e-12)


@pytest.mark.parametrize("make", [standard_plate_shape, small_plate_shape])
@pytest.mark.parametrize("scale", [0.97, 1.0, 1.05])
def test_a_resized_plate_has_the_size_asked_for(make, scale: float) -> None:  # type: ignore[no-untyped-def]
    length, width = (0.40 * scale, 0.28 * scale) if make is standard_plate_shape else (0.34 * scale, 0.235 * scale)
    plate = plate_of(make(length=length, width=width, channel_depth=0.05), ALUMINIUM)
    assert plate.top[0] - plate.bottom[0] == pytest.approx(length, rel=1e-12)
    assert plate.width == pytest.approx(width, rel=1e-12)
    assert np.ptp(plate.outline[:, 1]) == pytest.approx(width, rel=1e-12)
    assert plate.channel_depth == pytest.approx(0.05, rel=1e-12)


def test_the_small_plate_is_smaller_with_closer_shoulders() -> None:
    small, standard = (plate_of(SHAPES[name], ALUMINIUM) for name in ("small", "standard"))
    assert np.ptp(small.shoulder_slots[:, 1]) < np.ptp(standard.shoulder_slots[:, 1])
    assert small.top[0] < standard.top[0]
    assert small.top[0] - small.bottom[0] < standard.top[0] - standard.bottom[0]
    assert small.solid.mass < standard.solid.mass


def test_the_small_plate_hangs_the_set_lower_by_what_the_survey_says_of_backs() -> None:
    """From waist to C7 women measure so much less than men, by the means of ANSUR II (Gordon et al. 2014)."""
    men = 1.5173 - 0.5 * (1.1207 + 1.0616)
    women = 1.3957 - 0.5 * (1.0563 + 0.9957)
    small, standard = (plate_of(SHAPES[name], ALUMINIUM) for name in ("small", "standard"))
    lower = (standard.upper_bolt - standard.waist_slots[0])[0] - (small.upper_bolt - small.waist_slots[0])[0]
    assert lower == pytest.approx(men - women, abs=1e-3)  # drawn to the millimetre


@pytest.mark.parametrize("channel", [SHAPES["standard"].channel, Channel(0.04, 0.03, np.pi / 2, 0.004)])
def test_unfolding_undoes_the_bending(channel: Channel) -> None:
    """Flats and floor go back exactly to where the bends took them from."""
    bends = bends_of(replace(SHAPES["standard"], channel=channel))
    flats = np.array([channel.flat_mouth, channel.flat_mouth + 0.03, -channel.flat_mouth - 0.01, 0.01, -0.015])
    seen = bent_points(np.stack([np.zeros(5), flats], axis=1), 0.0, bends)
    np.testing.assert_allclose(unfold(seen[:, 1], channel), flats, atol=1e-12)
    np.testing.assert_allclose(seen[:3, 2], -channel.depth, atol=1e-12)


def test_rounded_corners_take_off_what_they_should() -> None:
    def area(points: Floats) -> float:
        return float(shapely.Polygon(points).area)

    square = [(0.0, 0.0, 0.2), (1.0, 0.0, 0.2), (1.0, 1.0, 0.2), (0.0, 1.0, 0.2)]
    exact = 1.0 - (4.0 - np.pi) * 0.2**2
    off = [abs(area(rounded(square, n)) - exact) for n in (8, 16, 32)]
    np.testing.assert_allclose(np.log2(np.array(off[:-1]) / off[1:]), 2.0, atol=0.01)
    whole = [(x, y, 0.5) for x, y, _ in square]  # half the side: a circle, each point once
    circle = rounded(whole, 16)
    np.testing.assert_allclose(np.linalg.norm(circle - 0.5, axis=1), 0.5, rtol=1e-12)
    assert np.linalg.norm(circle - np.roll(circle, 1, axis=0), axis=1).min() > 0.04
    # a corner that turns inwards is filled by as much as the same corner turned outwards would lose
    step = [(0, 0, 0), (2, 0, 0), (2, 1, 0), (1, 1, 0.3), (1, 2, 0), (0, 2, 0)]
    filled = area(rounded(step, 64)) - 3.0
    assert filled == pytest.approx((1.0 - np.pi / 4) * 0.3**2, rel=4e-4)  # chords: (pi/128)^2/6 of pi/4 : 1 - pi/4
    straight = [(0, 0, 0), (1, 0, 0), (0.5, 0.5, 0.1), (0, 1, 0)]
    np.testing.assert_array_equal(rounded(straight), np.array(straight)[:, :2])


def test_holes_take_their_area_away() -> None:
    bare = replace(SHAPES["standard"], holes=(), cutouts=())
    pierced = replace(bare, holes=(Hole(0.0, 0.09, 0.02), Hole(0.0, 0.0, 0.03)))
    n = 64
    gone = polygon_of(flat_pattern(bare, n)).area - polygon_of(flat_pattern(pierced, n)).area
    # two holes of 20 mm and one of 30 mm; chords of 1/256 of a turn leave (pi/128)^2/6 = 1e-4 of them
    assert gone == pytest.approx(np.pi / 4 * (2 * 0.02**2 + 0.03**2), rel=1.1e-4)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"shoulder": Slot(0.2, 0.1, 0.054, 0.011)}, "shoulder slot reaches over the plate's edge"),
        ({"waist": Slot(-0.06, 0.08, 0.054, 0.011)}, "the opening .* and the waist slot touch"),
        ({"bolt_spacing": 0.5}, "upper bolt hole reaches over"),
        ({"crotch": Slot(-0.178, 0.0, 0.01, 0.02)}, "at least as long as wide"),
        ({"crotch": Slot(-0.178, 0.0, float("nan"), 0.02)}, "at least as long as wide"),
        ({"channel": Channel(0.058, 0.005, 1.1, 0.006)}, "leave room for both bends"),
        ({"channel": Channel(0.058, float("nan"), 1.1, 0.006)}, "no channel"),
        ({"channel": Channel(0.058, 0.05, 1.6, 0.006)}, "walls at most upright"),
        ({"thickness": 0.02}, "at least half its thickness"),
        ({"thickness": float("nan")}, "thickness must be > 0"),
    ],
)
def test_impossible_plates_are_refused_in_plain_words(change: dict[str, object], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        plate_of(replace(SHAPES["standard"], **change), STAINLESS)  # type: ignore[arg-type]


def test_a_flat_plate_has_no_channel() -> None:
    flat = replace(SHAPES["standard"], channel=None, cutouts=())
    plate = plate_of(flat, STAINLESS)
    assert plate.channel_depth == pytest.approx(0.0, abs=1e-15)
    assert plate.upper_bolt[2] == pytest.approx(flat.thickness, rel=1e-12)
    area = polygon_of(flat_pattern(flat)).area
    assert plate.solid.volume == pytest.approx(area * flat.thickness, rel=1e-12)
