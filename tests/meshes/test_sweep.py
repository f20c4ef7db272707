"""Solids along a curve: Pappus, frames that stay square, loops."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from meshes.primitives import superellipse
from meshes.solid import volume_integrals
from meshes.sweep import frames_along, path_length, rod, smooth_path, swept, swept_loop, tangents, tube


def helix(n: int) -> np.ndarray:
    t = np.linspace(0.0, 4.0 * np.pi, n)
    return np.column_stack([0.3 * np.cos(t), 0.3 * np.sin(t), 0.05 * t])


def test_rod_is_an_n_sided_prism() -> None:
    n, r = 24, 0.02
    got = volume_integrals(rod([0.1, 0.2, 0.3], [0.1, 0.7, 0.3], r, n))
    assert got.volume == pytest.approx(0.5 * n * r**2 * np.sin(2.0 * np.pi / n) * 0.5, rel=1e-12)
    assert got.centroid == pytest.approx([0.1, 0.45, 0.3], rel=1e-12)


def test_tube_along_a_helix_follows_pappus_at_second_order() -> None:
    r, long = 0.03, 4.0 * np.pi * np.hypot(0.3, 0.05)
    volumes = [volume_integrals(tube(helix(n), r, n // 4)).volume for n in (64, 128, 256)]
    errors = [np.pi * r**2 * long - v for v in volumes]
    # a 64-sided section lacks 0.16 % of its circle, the chords of the path 0.04 % of its length
    assert 0.0 < errors[-1] < 3e-3 * volumes[-1]
    # end sections lean by half a step, which adds a little third-order noise to the factor of 4
    assert 3.4 < errors[0] / errors[1] < 4.6
    assert 3.4 < errors[1] / errors[2] < 4.6


def test_loop_against_torus() -> None:
    angle = 2.0 * np.pi * np.arange(400) / 400
    path = np.column_stack([0.4 * np.cos(angle), 0.4 * np.sin(angle), np.zeros(400)])
    mesh = swept_loop(path, superellipse(200, 0.04, 0.10), [0.0, 0.0, 1.0])
    assert trimesh.Trimesh(mesh.vertices, mesh.faces, process=False).is_volume
    # 200-sided section: 0.016 %, 400-sided way round: 0.004 %
    assert volume_integrals(mesh).volume == pytest.approx(np.pi * 0.02 * 0.05 * 2.0 * np.pi * 0.4, rel=3e-4)
    # the section's height stands along the normal
    assert np.ptp(mesh.vertices[:, 2]) == pytest.approx(0.10, rel=1e-9)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(*[st.integers(-20, 20)] * 3), min_size=3, max_size=7, unique=True))
def test_frames_stay_square_and_right_handed(corners: list[tuple[int, int, int]]) -> None:
    path = smooth_path(0.1 * np.array(corners, dtype=float), 0.05)
    first, second = frames_along(path)
    along = tangents(path)
    assert np.einsum("ij,ij->i", first, along) == pytest.approx(0.0, abs=1e-9)
    assert np.linalg.norm(first, axis=1) == pytest.approx(1.0, abs=1e-9)
    assert np.einsum("ij,ij->i", np.cross(first, second), along) == pytest.approx(1.0, abs=1e-9)


def test_frames_of_a_flat_path_do_not_twist() -> None:
    flat = np.column_stack([np.linspace(0, 1, 60), np.sin(np.linspace(0, 6, 60)), np.zeros(60)])
    first, _ = frames_along(flat, [0.0, 0.0, 1.0])
    assert first == pytest.approx(np.tile([0.0, 0.0, 1.0], (60, 1)), abs=1e-12)


@pytest.mark.parametrize("count", [3, 4, 6])
def test_smooth_path_is_the_cubic_without_a_knot_of_scipy(count: int) -> None:
    from scipy.interpolate import CubicSpline

    given_points = np.random.default_rng(count).normal(size=(count, 3))
    chord = np.r_[0.0, np.cumsum(np.linalg.norm(np.diff(given_points, axis=0), axis=1))]
    path = smooth_path(given_points)
    at = np.linspace(0.0, chord[-1], len(path))
    assert path == pytest.approx(CubicSpline(chord, given_points, bc_type="not-a-knot")(at), abs=1e-13)


def test_smooth_path_passes_through_its_points_and_measures_a_circle() -> None:
    t = np.linspace(0.0, 0.5 * np.pi, 9)
    given_points = np.column_stack([np.cos(t), np.sin(t), np.zeros(9)])
    path = smooth_path(given_points, 0.005)
    nearest = np.linalg.norm(path[:, None] - given_points[None], axis=2).min(axis=0)
    # points lie between samples 5 mm apart, on a curve of radius 1 m
    assert nearest.max() < 0.0026
    # cubic spline through 9 points of a quarter circle: error of order (0.2)^4
    assert path_length(path) == pytest.approx(0.5 * np.pi, rel=1e-4)


def test_two_points_make_a_straight_line() -> None:
    path = smooth_path([[0.0, 0.0, 0.0], [0.0, 0.3, 0.4]], 0.1)
    assert path_length(path) == pytest.approx(0.5, rel=1e-12)
    mesh = swept(path, superellipse(4, 0.02, 0.02), [1.0, 0.0, 0.0])
    assert volume_integrals(mesh).volume == pytest.approx(0.5 * 0.5 * 0.02**2, rel=1e-12)


@pytest.mark.parametrize(
    "call",
    [
        lambda: smooth_path([[0.0, 0.0, 0.0]]),
        lambda: smooth_path([[0.0, 0.0, 0.0], [0.0, 0.0, 0.0]]),
        lambda: smooth_path([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0]], float("nan")),
        lambda: tube([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0]], float("nan")),
        lambda: swept(np.array([[0.0, 0, 0], [1.0, 0, 0]]), superellipse(8, 1.0, 1.0), [1.0, 0.0, 0.0]),
    ],
)
def test_refuses_what_makes_no_curve(call: Callable[[], object]) -> None:
    with pytest.raises(ValueError, match=r"path|> 0|side"):
        call()
