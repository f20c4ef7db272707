"""Blocks on a plate against where geometry puts them."""

from dataclasses import replace

import numpy as np
import pytest

from meshes.plate.additions import block_on
from meshes.plate.back_plate import Addition, plate_of
from meshes.plate.catalogue import standard_plate_shape
from meshes.plate.edges import edges_of
from meshes.plate.solid import plate_from_mesh

PLATE = plate_of(standard_plate_shape(), 8000.0)
TOP = edges_of(PLATE.pattern.outline.outer).top
SIZE = (0.08, 0.04, 0.012)


def test_a_weight_on_the_channel_lies_flat_on_its_floor() -> None:
    block = block_on(PLATE, 0.2, 0.0, SIZE, 1.0, "back")
    assert block.mass == pytest.approx(1.0, rel=1e-12)
    assert block.volume == pytest.approx(0.08 * 0.04 * 0.012, rel=1e-12)
    assert block.cm == pytest.approx([TOP - 0.2, 0.0, PLATE.upper_bolt[2] + 0.006], abs=1e-12)
    expected = np.diag([0.04**2 + 0.012**2, 0.08**2 + 0.012**2, 0.08**2 + 0.04**2]) / 12.0
    np.testing.assert_allclose(block.inertia, expected, atol=1e-15)


def test_a_pad_on_the_left_flat_lies_between_plate_and_diver() -> None:
    pad = block_on(PLATE, 0.2, 0.13, SIZE, 0.01, "front")
    assert pad.cm[[0, 2]] == pytest.approx([TOP - 0.2, -0.006], abs=1e-12)
    assert pad.mesh is not None
    assert pad.mesh.vertices[:, 2].max() == pytest.approx(0.0, abs=1e-12)
    assert np.ptp(pad.mesh.vertices[:, 1]) == pytest.approx(0.04, abs=1e-12)


def test_on_a_slanted_wall_it_is_turned_as_the_wall_and_mirrored_on_the_other_side() -> None:
    """The wall leaves the floor by 65 degrees."""
    left, right = (block_on(PLATE, 0.2, side * 0.063, SIZE, 1.0, "back") for side in (1.0, -1.0))
    np.testing.assert_allclose(left.cm, right.cm * [1.0, -1.0, 1.0], atol=1e-12)
    turn = np.radians(65.0)
    across = np.array([0.0, np.cos(turn), -np.sin(turn)])
    assert left.mesh is not None
    along = (left.mesh.vertices - left.cm) @ across
    assert np.ptp(along) == pytest.approx(0.04, abs=1e-9)


def test_on_a_finished_solid_it_lies_on_the_face_that_is_there() -> None:
    assert PLATE.solid.mesh is not None
    solid = plate_from_mesh(PLATE.solid.mesh, PLATE.pattern.outline, PLATE.pattern.points, 8000.0)
    on_floor = block_on(solid, 0.1, 0.02, SIZE, 1.0, "back")
    np.testing.assert_allclose(on_floor.cm, block_on(PLATE, 0.1, 0.02, SIZE, 1.0, "back").cm, atol=1e-9)


def test_a_loaded_plate_is_plate_and_load_together() -> None:
    block = block_on(PLATE, 0.3, 0.0, SIZE, 1.5, "back")
    loaded = replace(PLATE, additions=(Addition("weight", block),)).loaded
    assert loaded.mass == pytest.approx(PLATE.solid.mass + 1.5, rel=1e-12)
    assert loaded.cm == pytest.approx((PLATE.solid.mass * PLATE.solid.cm + 1.5 * block.cm) / loaded.mass, abs=1e-15)
    assert PLATE.loaded is PLATE.solid


@pytest.mark.parametrize(("down", "across"), [(0.5, 0.0), (0.2, 0.3), (-0.01, 0.0)])
def test_beside_the_plate_nothing_can_be_fixed(down: float, across: float) -> None:
    with pytest.raises(ValueError, match="lies beside the plate; check its place"):
        block_on(PLATE, down, across, SIZE, 1.0, "back")
