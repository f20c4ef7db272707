"""Names of holes beside a plate's picture: clear of the plate, of one another, and their lines of each other."""

from itertools import combinations

import numpy as np
import shapely
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from sim.answers.plate.drawn.place_names import beside, column_width, rooms_beside, seen_pieces

NAMES = ("upper bolt", "lower bolt", "shoulder strap", "waist strap", "crotch strap", "CM")
SPOT = st.tuples(st.floats(40.0, 600.0), st.floats(90.0, 880.0))


@settings(max_examples=30, phases=[Phase.generate], deadline=None)
@given(st.lists(SPOT, min_size=6, max_size=6, unique_by=(lambda s: round(s[0]), lambda s: round(s[1]))))
def test_no_name_lies_over_the_plate_or_another_name(spots: list[tuple[float, float]]) -> None:
    """Wherever the holes are; the plate ends at the room's right edge, where there is least room left."""
    rooms = rooms_beside(column_width(NAMES))
    assert rooms[0].right - rooms[0].left == rooms[1].right - rooms[1].left
    inside = np.minimum(np.array(spots), [rooms[0].right, np.inf])
    labels = beside([(name, "o") for name in NAMES], inside, rooms[0].right)
    assert [label.name for label in labels] == list(NAMES)
    for label, spot in zip(labels, inside, strict=True):
        assert rooms[0].right < label.box.left
        assert label.box.right < rooms[1].left
        assert rooms[0].bottom <= label.box.bottom
        assert label.box.top <= rooms[0].top
        np.testing.assert_array_equal(label.leader[0], spot)
        assert label.leader[1, 0] < label.box.left
        assert label.box.bottom < label.leader[1, 1] < label.box.top
    for one, other in combinations(labels, 2):
        assert not one.box.overlaps(other.box)
        assert not shapely.LineString(one.leader).crosses(shapely.LineString(other.leader))
    for label in labels:
        assert not any(shapely.LineString(label.leader).intersects(shapely.box(
            o.box.left, o.box.bottom, o.box.right, o.box.top)) for o in labels)  # fmt: skip


def test_a_name_is_as_high_as_its_hole_where_there_is_room() -> None:
    spots = np.array([[300.0, 800.0], [300.0, 300.0], [420.0, 700.0], [400.0, 400.0], [300.0, 150.0], [310.0, 500.0]])
    labels = beside([(name, "o") for name in NAMES], spots, 500.0)
    np.testing.assert_allclose([label.leader[1, 1] for label in labels], spots[:, 1])


def test_a_line_begins_in_its_own_hole_and_leaves_out_the_next() -> None:
    """Strips 100 wide, gaps of 20: from the middle of the first gap over a second one, and on beyond the sheet."""
    strips = [(0.0, 100.0), (120.0, 220.0), (240.0, 340.0)]
    corners = [np.array([[a, -50.0], [b, -50.0], [b, 50.0], [a, 50.0]]) for a, b in strips]
    triangles = np.array([c[order] for c in corners for order in ([0, 1, 2], [0, 3, 2])])
    pieces = seen_pieces(np.array([[110.0, 0.0], [400.0, 10.0]]), triangles)
    ends = [piece[:, 0].tolist() for piece in pieces]
    np.testing.assert_allclose(ends, [[110.0, 220.0], [240.0, 400.0]], atol=1.1)  # a place a pixel
    assert seen_pieces(np.array([[0.0, 90.0], [9.0, 90.0]]), triangles)[0].tolist() == [[0.0, 90.0], [9.0, 90.0]]
