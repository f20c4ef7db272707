"""Curves and sections against scipy and closed forms."""

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator
from scipy.special import ellipe

from meshes.body.curves import (
    equal_area,
    exponent_of_girth,
    half_breadth_of_girth,
    kept_above,
    side_by_side,
    smooth_step,
    station_curves,
)


def test_curves_are_scipys_monotone_cubics_inside():
    rng = np.random.default_rng(3)
    x, y = np.cumsum(rng.uniform(0.02, 0.3, 9)), rng.normal(size=(9, 4))
    where = np.linspace(x[1], x[-2], 301)  # the slopes of the end stations are chosen otherwise
    reference = PchipInterpolator(x, y)(where)
    np.testing.assert_allclose(station_curves(x, y)(where), reference, rtol=0, atol=1e-13)


def test_curves_pass_through_stations_and_stay_between_them():
    x, y = np.array([0.0, 1.0, 1.5, 4.0]), np.array([[2.0], [5.0], [5.0], [1.0]])
    curve = station_curves(x, y)
    np.testing.assert_allclose(curve(x), y, rtol=0, atol=1e-15)
    fine = curve(np.linspace(-1.0, 5.0, 500))
    assert fine.min() >= 1.0 - 1e-15
    assert fine.max() <= 5.0 + 1e-15
    assert curve(np.array([-3.0, 9.0])).ravel().tolist() == [2.0, 1.0]


def test_curves_side_by_side_are_the_curves():
    rng = np.random.default_rng(4)
    parts = [
        station_curves(np.cumsum(rng.uniform(0.1, 0.4, k)), rng.normal(size=(k, p))) for k, p in ((5, 2), (8, 1))
    ]
    where = np.linspace(-0.5, 4.0, 400).reshape(20, 20)
    apart = np.concatenate([c(where) for c in parts], axis=-1)
    np.testing.assert_allclose(side_by_side(parts)(where), apart, rtol=0, atol=1e-13)


@pytest.mark.parametrize("x", [[0.0, 0.0, 1.0], [0.0, np.nan, 1.0], [1.0, 0.5]])
def test_stations_must_rise(x):
    with pytest.raises(ValueError, match="rise"):
        station_curves(x, np.zeros((len(x), 1)))


@pytest.mark.parametrize(("a", "b"), [(0.2, 0.1), (0.15, 0.15), (0.17, 0.12)])
def test_the_girth_of_an_ellipse_gives_one_back(a, b):
    girth = 4.0 * max(a, b) * ellipe(1.0 - (min(a, b) / max(a, b)) ** 2)
    # 512 chords of an ellipse are short by about (2 pi / 512)^2 / 24 of themselves
    assert half_breadth_of_girth(b, 2.0, girth) == pytest.approx(a, rel=2e-5)
    assert exponent_of_girth(a, b, girth) == pytest.approx(2.0, rel=1e-4)


@pytest.mark.parametrize("n", [1.9, 2.4, 3.3, 4.4])
def test_girth_gives_back_exponent_and_breadth(n):
    """Held against the girth by another parameter, the polar angle, in 20,000 steps."""
    angle = np.linspace(0.0, 0.5 * np.pi, 20001)
    r = ((np.cos(angle) / 0.18) ** n + (np.sin(angle) / 0.11) ** n) ** (-1.0 / n)
    girth = 4.0 * np.hypot(np.diff(r * np.cos(angle)), np.diff(r * np.sin(angle))).sum()
    # chords leave 1e-4 of the girth, and a girth grows by a third as fast as its exponent at most
    assert exponent_of_girth(0.18, 0.11, girth) == pytest.approx(n, rel=2e-3)
    assert half_breadth_of_girth(0.11, n, girth) == pytest.approx(0.18, rel=2e-4)


def test_a_girth_that_no_section_has_gives_the_nearest():
    assert exponent_of_girth(0.18, 0.11, 0.5) == 1.7
    assert exponent_of_girth(0.18, 0.11, 5.0) == pytest.approx(4.5, rel=1e-12)
    # flat, yet twice as deep as it is round: held at the least breadth
    assert half_breadth_of_girth(0.4, 2.0, 1.0) == pytest.approx(0.2 / (2.0 * np.pi), rel=1e-12)


def test_equal_area_polygon():
    for n in (6, 24, 32):
        r = 0.1 * equal_area(n)
        assert 0.5 * n * r**2 * np.sin(2.0 * np.pi / n) == pytest.approx(np.pi * 0.1**2, rel=1e-14)


def test_smooth_step_is_odd_about_its_middle():
    x = np.linspace(-0.5, 1.5, 41)
    np.testing.assert_allclose(smooth_step(x) + smooth_step(1.0 - x), 1.0, rtol=0, atol=1e-15)
    assert smooth_step(np.array([-1.0, 0.0, 1.0, 2.0])).tolist() == [0.0, 0.0, 1.0, 1.0]


def test_what_is_kept_above_solves_its_equation_and_never_touches():
    low, nearest = 1.25, 0.01
    apart = np.array([-1e9, -10.0, -0.1, -0.01, 0.0, 0.003, 0.05, 2.0])
    above = kept_above(low, low + apart, nearest) - low
    asked = np.array([-10.0, -0.1, -0.01, 0.0, 0.003, 0.05, 2.0])
    kept = kept_above(np.zeros(7), asked, nearest)
    np.testing.assert_allclose(kept - nearest**2 / kept, asked, rtol=1e-9, atol=1e-12)
    assert kept_above(0.0, 0.0, nearest) == pytest.approx(nearest, rel=1e-15)
    assert (np.diff(kept) > 0.0).all()
    assert (kept > 0.0).all()
    assert (above >= 0.0).all()
    assert kept[-1] == pytest.approx(2.0, abs=1e-4)  # far above: left where it is
