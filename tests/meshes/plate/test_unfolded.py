"""Sheets found in finished solids, against the sheets that these were bent from."""

from dataclasses import replace

import numpy as np
import pytest
import trimesh
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from meshes.mesh import mesh_of
from meshes.outline import Outline
from meshes.plate.additions import block_on
from meshes.plate.back_plate import FlatPoints, Plate, Zone, plate_from_flat, plate_of
from meshes.plate.catalogue import small_plate_shape, standard_plate_shape
from meshes.plate.edges import edges_of
from meshes.plate.shape import PlateShape
from meshes.plate.sheet import Bend, both_sides
from meshes.plate.solid import plate_from_mesh, silhouette
from meshes.plate.unfolded import unfolded
from meshes.plate.zones import with_zones
from meshes.solid import solid_of

STEEL = 8000.0
SHAPES = {"standard": standard_plate_shape(), "small": small_plate_shape()}
SHEET = Outline(
    np.array([[-0.2, -0.16], [0.2, -0.16], [0.2, 0.16], [-0.2, 0.16]]),
    (np.array([[0.0, -0.02], [0.05, -0.02], [0.05, 0.10], [0.0, 0.10]]),),  # runs through bends
)
PLACES = FlatPoints(
    np.array([0.14, 0.0]), np.array([-0.14, 0.0]), np.array([[0.15, 0.14], [0.15, -0.14]]),
    np.array([[-0.1, 0.14], [-0.1, -0.14]]), np.array([-0.19, 0.0]),
)  # fmt: skip


def as_solid(plate: Plate) -> Plate:
    """What a plate is when nothing but its solid is known, as rounded as in a file of single precision."""
    assert plate.solid.mesh is not None
    mesh = mesh_of(plate.solid.mesh.vertices.astype(np.float32).astype(float), plate.solid.mesh.faces)
    seen = silhouette(mesh, "solid")
    places = FlatPoints(
        plate.upper_bolt[:2], plate.lower_bolt[:2], plate.shoulder_slots[:, :2], plate.waist_slots[:, :2],
        plate.crotch_slot[:2],
    )  # fmt: skip
    return plate_from_mesh(mesh, seen, places, STEEL)


@pytest.mark.parametrize("name", SHAPES)
@pytest.mark.parametrize(("steps", "precision"), [(None, 1e-6), (5, 1e-6)])
def test_a_plate_is_unfolded_to_the_sheet_it_was_bent_from(name: str, steps: int | None, precision: float) -> None:
    """Bends in 5 chords are of 13 and 15 degrees, as programs export them."""
    shape: PlateShape = SHAPES[name]
    plate = plate_of(shape, STEEL, arc_steps=steps)
    got = unfolded(as_solid(plate), STEEL, "solid")
    assert got.thickness == pytest.approx(plate.thickness, abs=1e-8)
    found, true = edges_of(got.pattern.outline.outer), edges_of(plate.pattern.outline.outer)
    assert (found.length, found.width) == pytest.approx((true.length, true.width), abs=2.0 * precision)
    assert len(got.pattern.outline.holes) == len(plate.pattern.outline.holes)
    for bend, made in zip(got.pattern.bends, sorted(plate.pattern.bends, key=lambda b: b.at), strict=True):
        assert bend.at == pytest.approx(made.at, abs=precision)
        assert bend.angle == pytest.approx(made.angle, abs=1e-5)
        assert bend.radius == pytest.approx(made.radius, rel=1e-3)
    for place in ("upper_bolt", "lower_bolt", "shoulder_slots", "waist_slots", "crotch_slot"):
        np.testing.assert_allclose(
            getattr(got.pattern.points, place), getattr(plate.pattern.points, place), atol=precision
        )


@settings(max_examples=15, phases=[Phase.generate], deadline=None)
@given(
    st.lists(st.tuples(st.floats(0.12, 0.5), st.booleans(), st.floats(0.004, 0.012)), min_size=0, max_size=3),
    st.floats(0.0012, 0.006),
)
def test_any_bends_are_found_again(turns: list[tuple[float, bool, float]], thickness: float) -> None:
    """They turn by no more than a right angle in all, so that nothing hides behind the sheet; each by 7 degrees at
    least. Corners may lie 2 micrometres off, as those in single precision do, and so may the arc that is found: its
    radius is known the better, the further it stands off its chord."""
    bends = [
        Bend(0.03 + 0.04 * k, angle * (1.0 if up else -1.0), radius) for k, (angle, up, radius) in enumerate(turns)
    ]
    plate = plate_from_flat(SHEET, PLACES, thickness, STEEL, both_sides(bends))
    got = unfolded(as_solid(plate), STEEL, "solid")
    assert got.thickness == pytest.approx(thickness, abs=1e-7)
    assert len(got.pattern.bends) == 2 * len(bends)
    for bend, made in zip(got.pattern.bends, sorted(plate.pattern.bends, key=lambda b: b.at), strict=True):
        assert (bend.at, bend.angle) == pytest.approx((made.at, made.angle), abs=2e-5)
        off_its_chord = 1.0 - np.cos(0.5 * made.angle)  # of the radius
        assert bend.radius == pytest.approx(made.radius, rel=5e-3, abs=2e-6 / off_its_chord)


def rolled(radius: float, finest: float) -> Plate:
    """The sheet rolled to ``radius`` [m] at its face to the diver, in triangles no longer than ``finest`` [m]."""
    flat = plate_from_flat(SHEET, PLACES, 0.003, STEEL, ()).solid.mesh
    assert flat is not None
    (x, y, z), faces = (lambda v, f: (v.T, f))(*trimesh.remesh.subdivide_to_size(flat.vertices, flat.faces, finest))
    bent = np.column_stack([x, (radius - z) * np.sin(y / radius), radius - (radius - z) * np.cos(y / radius)])
    whole = trimesh.Trimesh(bent, faces, process=True)
    seen = mesh_of(whole.vertices, whole.faces)
    return plate_from_mesh(seen, silhouette(seen, "rolled"), PLACES, STEEL)


@pytest.mark.parametrize(
    ("radius", "finest"), [(0.18, 0.012), (0.35, 0.012), (0.18, 0.03), (0.18, 0.05), (0.35, 0.05)]
)
def test_a_rolled_sheet_has_one_bend(radius: float, finest: float) -> None:
    """Its corners lie unevenly, as far apart as triangles are long; it is 0.32 m wide on the face to the diver."""
    got = unfolded(rolled(radius, finest), STEEL, "rolled")
    (bend,) = got.pattern.bends
    middle = radius - got.thickness / 2
    assert bend.radius == pytest.approx(middle, rel=0.01)
    # a triangle's length is what may be lost of it at either end
    assert abs(bend.angle) == pytest.approx(0.32 / radius, abs=2.0 * finest / radius)
    assert np.ptp(got.pattern.outline.outer[:, 1]) == pytest.approx(0.32 * middle / radius, rel=5e-3)


def test_like_bends_with_level_sheet_between_stay_two() -> None:
    """A hand's breadth apart or a finger's: a tangent of 15 mm leaves a circle of 60 mm by 1.9 mm."""
    for gap in (0.015, 0.05):
        half = 0.4 * 0.06 / 2
        bends = [Bend(at, 0.4, 0.06) for at in (-half - gap / 2, half + gap / 2)]
        got = unfolded(as_solid(plate_from_flat(SHEET, PLACES, 0.003, STEEL, bends)), STEEL, "solid")
        assert [b.angle for b in got.pattern.bends] == pytest.approx([0.4, 0.4], abs=1e-3)


def test_what_is_no_even_sheet_stays_a_solid() -> None:
    plate = plate_of(SHAPES["standard"], STEEL)
    thicker = as_solid(with_zones(plate, [Zone(0.05, 0.35, 0.0, 0.02, 0.006)], STEEL))
    assert unfolded(thicker, STEEL, "solid") is thicker
    block = block_on(plate, 0.2, 0.12, (0.1, 0.03, 0.02), 1.0, "back")
    assert plate.solid.mesh is not None
    assert block.mesh is not None
    both = trimesh.boolean.union(
        [trimesh.Trimesh(s.vertices, s.faces, process=False) for s in (plate.solid.mesh, block.mesh)],
        engine="manifold",
    )
    loaded = as_solid(replace(plate, solid=solid_of(mesh_of(both.vertices, both.faces), STEEL)))
    assert unfolded(loaded, STEEL, "solid") is loaded
