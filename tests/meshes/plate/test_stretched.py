"""A flat pattern made longer and wider."""

import numpy as np
import pytest
import shapely

from meshes.plate.back_plate import plate_of
from meshes.plate.catalogue import small_plate_shape, standard_plate_shape
from meshes.plate.edges import edges_of
from meshes.plate.stretched import Moves, stretched

PATTERNS = [plate_of(make(), 2700.0).pattern for make in (standard_plate_shape, small_plate_shape)]


def area(ring):
    return shapely.Polygon(ring).area


@pytest.mark.parametrize("pattern", PATTERNS)
def test_length_and_width_grow_by_what_is_asked_and_places_stay(pattern):
    longer, wider = 0.008, -0.002
    found = stretched(pattern, Moves(longer, wider))
    before, after = edges_of(pattern.outline.outer), edges_of(found.outline.outer)
    assert after.length - before.length == pytest.approx(longer, abs=1e-12)
    assert after.width - before.width == pytest.approx(wider, abs=1e-12)
    assert after.top == before.top
    for name in ("upper_bolt", "lower_bolt", "shoulder_slots", "waist_slots"):
        assert np.array_equal(getattr(found.points, name), getattr(pattern.points, name))
    assert found.points.crotch_slot == pytest.approx(pattern.points.crotch_slot - [longer, 0.0], abs=1e-12)


@pytest.mark.parametrize("pattern", PATTERNS)
def test_area_grows_by_the_width_where_it_is_drawn_out_and_in_proportion_to_the_width(pattern):
    outer = pattern.outline.outer
    sides = np.concatenate([[h[:, 0].min() for h in pattern.outline.holes if np.abs(h[:, 1]).min() > 0.03]])
    assert len(sides) > 0
    drawn_out = area(stretched(pattern, Moves(0.01)).outline.outer) - area(outer)
    # no wider than the plate, no narrower than its lower edge
    low = np.ptp(outer[outer[:, 0] < outer[:, 0].min() + 1e-9, 1])
    assert 0.01 * low < drawn_out < 0.01 * edges_of(outer).width
    wider = area(stretched(pattern, Moves(wider=0.01)).outline.outer) / area(outer)
    assert wider == pytest.approx(1.0 + 0.01 / edges_of(outer).width, rel=1e-12)


def test_openings_over_the_edge_or_into_one_another_are_refused():
    for longer, wider in ((-0.05, 0.0), (0.0, -0.05)):
        with pytest.raises(ValueError, match=r"edge|touch"):
            stretched(PATTERNS[1], Moves(longer, wider))


@pytest.mark.parametrize("pattern", PATTERNS)
def test_openings_keep_their_shape_and_slots_and_bolts_go_where_they_are_asked_to(pattern):
    moves = Moves(0.006, 0.004, shoulders=(0.003, -0.001), waist=(-0.007, 0.001), bolts=0.002)
    found = stretched(pattern, moves)
    for before, after in zip(pattern.outline.holes, found.outline.holes, strict=True):
        assert np.ptp(after - before, axis=0) == pytest.approx([0.0, 0.0], abs=1e-12)
    here, there = pattern.points, found.points
    assert there.upper_bolt - there.lower_bolt == pytest.approx(here.upper_bolt - here.lower_bolt, abs=1e-12)
    assert there.upper_bolt == pytest.approx(here.upper_bolt - [0.002, 0.0], abs=1e-12)
    assert there.shoulder_slots - here.shoulder_slots == pytest.approx(np.array([[-3, -1], [-3, 1]]) / 1e3)
    assert there.waist_slots - here.waist_slots == pytest.approx(np.array([[7, 1], [7, -1]]) / 1e3)
    for name in ("upper_bolt", "lower_bolt", "crotch_slot"):  # each in its hole still
        hole = [shapely.Polygon(h).contains(shapely.Point(getattr(there, name))) for h in found.outline.holes]
        assert sum(hole) == 1


def test_the_edge_moves_with_the_slot_beside_it_and_nowhere_beyond_the_next():
    """Where a slot moves alone, edge and bolts' middle stay, and what lies at the slot's height goes as far as it."""
    pattern = PATTERNS[0]
    low = pattern.points.waist_slots[0, 0]
    found = stretched(pattern, Moves(waist=(0.004, 0.0)))
    shift = pattern.outline.outer - found.outline.outer
    x = pattern.outline.outer[:, 0]
    assert np.all(shift[:, 1] == 0.0)
    assert np.all(shift[x >= 0.0] == 0.0)
    assert shift[np.argmin(x)] == pytest.approx([0.0, 0.0], abs=1e-15)
    # level at the slot: what lies d from it is short of it by three times (d / gap)^2 at most
    near = np.abs(x - low) < 0.01
    assert near.any()
    assert shift[near, 0] == pytest.approx(0.004, rel=0.15)


def test_an_edge_that_would_fold_over_itself_is_refused():
    with pytest.raises(ValueError, match="drawn in"):
        stretched(PATTERNS[0], Moves(longer=-0.2))
