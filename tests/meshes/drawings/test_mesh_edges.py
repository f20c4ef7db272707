"""Shells, windings and small holes of triangle meshes, and equal rows and places, against plain counting."""

from collections import Counter

import networkx
import numpy as np
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from meshes.coincident_points import merged_points, repeated_rows
from meshes.drawings.mending import signed_volume
from meshes.drawings.mesh_edges import edges_of, shells_of, small_holes, wound_alike
from meshes.drawings.outline_crossings import check_crossings
from meshes.drawings.shape_file import ShapeFileError
from meshes.mesh import Ints

BALL = trimesh.creation.icosphere(subdivisions=2)
POINTS = np.concatenate([np.array(BALL.vertices), np.array(BALL.vertices) + [3.0, 0.0, 0.0]])
FACES = np.concatenate([np.array(BALL.faces), np.array(BALL.faces) + len(BALL.vertices)]).astype(np.int64)
HALF = len(BALL.faces)


@given(st.integers(0, 2**32))
def test_faces_turned_at_random_are_turned_back_shell_by_shell(seed: int) -> None:
    some = np.random.default_rng(seed).random(len(FACES)) < 0.5
    mixed = np.where(some[:, None], FACES[:, ::-1], FACES)
    whole = wound_alike(mixed, edges_of(mixed))
    assert not edges_of(whole).odd.any()
    for shell in (slice(None, HALF), slice(HALF, None)):
        assert abs(signed_volume(POINTS, whole[shell])) == pytest.approx(BALL.volume, rel=1e-12)


def test_shells_are_told_apart() -> None:
    np.testing.assert_array_equal(shells_of(FACES), np.repeat([0, 1], HALF))


def test_a_strip_with_one_side_has_no_winding() -> None:
    """A Moebius strip: whatever is turned, two neighbours stay wound against one another."""
    top, bottom = np.arange(6), np.arange(6, 12)
    ahead = np.stack([np.append(top[1:], bottom[0]), np.append(bottom[1:], top[0])])
    strip = np.concatenate(
        [np.stack([top, bottom, ahead[0]], axis=1), np.stack([bottom, ahead[1], ahead[0]], axis=1)]
    )
    assert not edges_of(wound_alike(strip, edges_of(strip))).wound_alike


@pytest.mark.parametrize("missing", [1, 2])
def test_a_hole_of_one_or_two_triangles_is_filled(missing: int) -> None:
    faces = np.array(BALL.faces, dtype=np.int64)
    first = faces[0]
    neighbour = next(k for k in range(1, len(faces)) if len(set(faces[k]) & set(first)) == 2)
    gone = [0, neighbour][:missing]
    left = np.delete(faces, gone, axis=0)
    added = small_holes(np.array(BALL.vertices), left)
    assert len(added) == missing
    assert not edges_of(np.concatenate([left, added])).odd.any()
    assert set(added.ravel()) == set(faces[gone].ravel())


def test_a_hole_of_five_edges_stays_open() -> None:
    faces = np.array(BALL.faces, dtype=np.int64)
    fewest = int(np.argmin(np.bincount(faces.ravel())))  # a corner of the icosahedron, where five faces meet
    left = faces[(faces != fewest).all(axis=1)]
    assert len(faces) - len(left) == 5
    assert not len(small_holes(np.array(BALL.vertices), left))


@given(arrays(np.int64, st.tuples(st.integers(1, 30), st.just(3)), elements=st.integers(0, 2)))
def test_rows_that_are_there_again_are_found(rows: Ints) -> None:
    count = Counter(map(tuple, rows.tolist()))
    assert repeated_rows(rows).tolist() == [count[tuple(row)] > 1 for row in rows.tolist()]


@given(
    arrays(np.int64, st.tuples(st.integers(1, 25), st.just(2)), elements=st.integers(-9, 9)),
    st.sampled_from([0, 1, 2]),
)
def test_points_in_steps_of_the_distance_become_one(places: Ints, distance: int) -> None:
    points, label = merged_points(places, float(distance))
    near = np.linalg.norm(places[:, None] - places, axis=2) <= distance
    groups = list(networkx.connected_components(networkx.from_numpy_array(near)))
    assert len(points) == len(groups)
    for group in groups:
        assert len({int(label[k]) for k in group}) == 1


def test_too_many_points_in_one_place_are_no_noise() -> None:
    with pytest.raises(ValueError, match="too many points lie within 1e\\+03 mm"):
        merged_points(np.random.default_rng(1).uniform(0.0, 0.1, (4_000, 3)), 1.0)


@pytest.mark.parametrize(("lines", "refused"), [(141, False), (142, True)])
def test_a_grid_crosses_as_often_as_its_lines_multiply(lines: int, refused: bool) -> None:
    """20,000 crossings are read, which lie between the squares of 141 and 142."""
    at = np.linspace(0.1, 0.9, lines)
    grid = [np.array([(0.0, y), (1.0, y)]) for y in at] + [np.array([(x, 0.0), (x, 1.0)]) for x in at]
    if not refused:
        check_crossings(grid, "grid.dxf")
        return
    with pytest.raises(ShapeFileError, match=r"grid\.dxf: its lines cross or lie over one another more than 20000"):
        check_crossings(grid, "grid.dxf")
