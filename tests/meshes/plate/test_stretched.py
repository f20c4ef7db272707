"""A flat pattern made longer and wider."""

import numpy as np
import pytest
import shapely

from meshes.plate.back_plate import plate_of
from meshes.plate.catalogue import small_plate_shape, standard_plate_shape
from meshes.plate.edges import edges_of
from meshes.plate.stretched import stretched

PATTERNS = [plate_of(make(), 2700.0).pattern for make in (standard_plate_shape, small_plate_shape)]


def area(ring):
    return shapely.Polygon(ring).area


@pytest.mark.parametrize("pattern", PATTERNS)
def test_length_and_width_grow_by_what_is_asked_and_places_stay(pattern):
    longer, wider = 0.008, -0.002
    found = stretched(pattern, longer, wider)
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
    drawn_out = area(stretched(pattern, 0.01, 0.0).outline.outer) - area(outer)
    # no wider than the plate, no narrower than its lower edge
    low = np.ptp(outer[outer[:, 0] < outer[:, 0].min() + 1e-9, 1])
    assert 0.01 * low < drawn_out < 0.01 * edges_of(outer).width
    wider = area(stretched(pattern, 0.0, 0.01).outline.outer) / area(outer)
    assert wider == pytest.approx(1.0 + 0.01 / edges_of(outer).width, rel=1e-12)


def test_openings_over_the_edge_or_into_one_another_are_refused():
    for longer, wider in ((-0.05, 0.0), (0.0, -0.05)):
        with pytest.raises(ValueError, match=r"edge|touch"):
            stretched(PATTERNS[1], longer, wider)
