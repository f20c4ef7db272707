"""Bolts and slots of a plate by its dimensions, put where a user states them, and read off the finished plate."""

from dataclasses import replace

import numpy as np
import pytest

from meshes.plate.back_plate import Plate, plate_of
from meshes.plate.catalogue import small_plate_shape, standard_plate_shape
from meshes.plate.edges import edges_of
from meshes.plate.openings import StatedPlaces
from meshes.plate.rearranged import rearranged
from meshes.plate.shape import PlateShape

STATED = StatedPlaces(
    bolts=(0.340, 0.055), shoulder_slots=(0.045, 0.128), waist_slots=(0.30, 0.155), crotch_slot=0.383
)


def built(stated: StatedPlaces, shape: PlateShape = standard_plate_shape()) -> Plate:  # noqa: B008
    return plate_of(rearranged(replace(shape, cutouts=()), stated), 8000.0)


def test_places_stated_are_the_places_found_on_the_flat_sheet() -> None:
    plate = built(STATED)
    flat, points = edges_of(plate.pattern.outline.outer), plate.pattern.points
    bolts = flat.told([points.upper_bolt, points.lower_bolt], "stated")
    assert bolts.down == pytest.approx((0.055, 0.340), abs=1e-12)
    for slots, (down, out) in (
        (points.shoulder_slots, (0.045, 0.128)),
        (points.waist_slots, (0.30, 0.155)),
    ):
        told = flat.told(slots, "stated")
        assert told.down == pytest.approx((down, down), abs=1e-12)
        assert told.across == pytest.approx((out, -out), abs=1e-12)
    assert flat.told(points.crotch_slot, "stated").down == pytest.approx((0.383,), abs=1e-12)
    assert plate.upper_bolt[0] == -plate.lower_bolt[0] == pytest.approx(0.285 / 2, abs=1e-12)


def test_only_the_holes_move() -> None:
    """The outline is the same one, and a hole weighs as much wherever it is."""
    as_it_was, moved = built(StatedPlaces()), built(replace(STATED, bolts=None))
    np.testing.assert_allclose(moved.pattern.outline.outer, as_it_was.pattern.outline.outer, atol=1e-15)
    assert moved.solid.mass == pytest.approx(as_it_was.solid.mass, rel=1e-6)  # a chord more or less in a bend
    lifted = built(StatedPlaces(bolts=(0.070, 0.349)))
    shift = lifted.pattern.outline.outer - as_it_was.pattern.outline.outer
    np.testing.assert_allclose(shift, np.broadcast_to(shift[0], shift.shape), atol=1e-15)
    assert shift[0] == pytest.approx(
        [(0.070 + 0.349) / 2 - as_it_was.pattern.outline.outer[:, 0].max(), 0.0], abs=1e-12
    )


@pytest.mark.parametrize("across", [0.020, 0.060, 0.094, 0.150])
def test_a_place_on_floor_wall_or_flat_unfolds_to_where_it_was_stated(across: float) -> None:
    plate = rearranged(small_plate_shape(), StatedPlaces(waist_slots=(0.2, across)))
    from meshes.plate.shape import unfold

    assert float(unfold(plate.waist.y, plate.channel)) == pytest.approx(across, abs=1e-15)


@pytest.mark.parametrize(
    ("stated", "says"),
    [
        (StatedPlaces(bolts=(0.06,)), "bolts must be two places"),
        (StatedPlaces(bolts=(0.06, 0.42)), "bolts 420 mm from the top edge lie off the plate, which is 400 mm"),
        (StatedPlaces(crotch_slot=0.5), "crotch_slot 500 mm from the top edge lie off the plate"),
        (StatedPlaces(bolts=(0.06, float("nan"))), "bolts must be two places"),
    ],
)
def test_places_off_the_plate_are_refused(stated: StatedPlaces, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        rearranged(standard_plate_shape(), stated)
