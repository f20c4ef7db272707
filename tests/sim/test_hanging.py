"""A cylinder on two lines, against rests derived by hand: what sinks hangs, what is light floats."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from sim.hanging import Hanging, Lies, Loads, TwoLines, cylinder_frame, hung, loads

# Rings 40 cm apart and level, holds as far apart, lines of 10 and 15 cm, and a trunk too thin to be in the way
FREE = TwoLines(
    upper=(0.5, 0.3, 0.0),
    lower=(0.1, 0.3, 0.0),
    upper_reach=0.10,
    lower_reach=0.15,
    collar=0.6,
    band=0.2,
    shoulder=0.5,
    radius=0.02,
    breadth=0.03,
    depth=0.03,
    middle=0.0,
)
FLANK = replace(FREE, radius=0.09, breadth=0.19, depth=0.13, upper=(0.5, 0.19, 0.0), lower=(0.1, 0.19, 0.0))


def energy(lies: Lies, on: Loads) -> float:
    return on.collar * lies.collar[2] + on.band * lies.band[2]


def test_the_loads_are_a_lever_s() -> None:
    """10 kg at 30 cm and 8 l at 40 cm from the base, in water of 1000: W = 2, M = 10 x 0.3 - 8 x 0.2 = 1.4."""
    on = loads(FREE, [(10.0, 0.3)], [(0.008, 0.4)], 1000.0)
    assert on.band == pytest.approx((10.0 * 0.3 - 8.0 * 0.2) / 0.4, rel=1e-8)
    assert on.collar + on.band == pytest.approx(2.0, rel=1e-8)


@pytest.mark.parametrize(("on", "way"), [(Loads(1.0, 2.0), -1.0), (Loads(-1.0, -2.0), 1.0)])
def test_with_equal_lines_all_hangs_straight_down_or_floats_straight_up(on: Loads, way: float) -> None:
    how = replace(FREE, lower_reach=0.10)
    lies = hung(how, on)
    assert lies.collar == pytest.approx((0.5, 0.3, way * 0.10), abs=1e-4)
    assert lies.band == pytest.approx((0.1, 0.3, way * 0.10), abs=1e-4)


def test_a_light_base_floats_while_a_heavy_valve_hangs() -> None:
    """By brute force in the plane of the lines: the collar 10 cm round its ring, the band as far off as it may be."""
    on = Loads(1.0, -1.0)
    lies = hung(FREE, on)
    assert lies.collar[2] < 0.0 < lies.band[2]
    best = np.inf
    for a in np.linspace(0.0, 2.0 * np.pi, 721):
        collar = np.array([0.5 + 0.1 * np.cos(a), 0.1 * np.sin(a)])
        around = np.linspace(0.0, 2.0 * np.pi, 1441)
        band = collar + 0.4 * np.stack([np.cos(around), np.sin(around)], axis=1)
        held = np.hypot(band[:, 0] - 0.1, band[:, 1]) <= 0.15
        if held.any():
            best = min(best, float(collar[1] - band[held, 1].max()))
    assert energy(lies, on) == pytest.approx(best, abs=2e-3)  # steps of half and a quarter of a degree


@pytest.mark.parametrize("on", [Loads(2.0, 1.0), Loads(1.0, -0.5), Loads(0.5, -1.3), Loads(-0.2, -1.0)])
def test_lines_and_trunk_hold_and_nothing_near_has_less_energy(on: Loads) -> None:
    lies = hung(FLANK, on)
    collar, band = np.array(lies.collar), np.array(lies.band)
    assert np.linalg.norm(collar - FLANK.upper) <= 0.10 + 1e-5
    assert np.linalg.norm(band - FLANK.lower) <= 0.15 + 1e-5
    assert np.linalg.norm(collar - band) == pytest.approx(0.4, abs=1e-6)
    for x in (0.0, 0.25, 0.5):
        _, y, z = band + (x - 0.2) / 0.4 * (collar - band)
        assert np.hypot(y / 0.28, z / 0.22) >= 1.0 - 1e-5
    drawn, least = np.random.default_rng(7), energy(lies, on)
    tried = 0
    for _ in range(4000):
        c = collar + drawn.normal(0.0, 0.01, 3)
        way = band + drawn.normal(0.0, 0.01, 3) - c
        b = c + 0.4 * way / np.linalg.norm(way)
        ends = [b + (x - 0.2) / 0.4 * (c - b) for x in (0.0, 0.25, 0.5)]
        free = all(np.hypot(p[1] / 0.28, p[2] / 0.22) >= 1.0 for p in ends)
        if free and np.linalg.norm(c - FLANK.upper) <= 0.10 and np.linalg.norm(b - FLANK.lower) <= 0.15:
            tried += 1
            assert on.collar * c[2] + on.band * b[2] >= least - 1e-5
    assert tried > 5


def test_energy_is_concave_in_the_loads() -> None:
    """As the least of functions that are straight in them: so no moment jumps as a base goes light."""
    found = [energy(hung(FREE, on), on) for on in (Loads(1.0, b) for b in np.linspace(1.0, -1.0, 9).tolist())]
    assert all(after <= before + 1e-6 for before, after in pairwise(np.diff(found).tolist()))


def test_only_the_ratio_of_the_loads_counts_and_right_mirrors_left() -> None:
    one, three = hung(FLANK, Loads(1.0, -0.5)), hung(FLANK, Loads(3.0, -1.5))
    assert three.band == pytest.approx(one.band, abs=1e-9)
    right = replace(FLANK, upper=(0.5, -0.19, 0.0), lower=(0.1, -0.19, 0.0))
    assert hung(right, Loads(1.0, -0.5)).band == (one.band[0], -one.band[1], one.band[2])


def test_lines_too_short_are_refused() -> None:
    with pytest.raises(ValueError, match="too short"):
        hung(replace(FLANK, upper_reach=0.01, lower_reach=0.01), Loads(1.0, 1.0))


def test_the_frame_is_along_the_holds() -> None:
    turn, origin = cylinder_frame(Hanging(FREE, Lies((0.5, 0.3, 0.0), (0.1, 0.3, 0.0)), 1.0))
    assert np.linalg.det(turn) == pytest.approx(1.0, rel=1e-12)
    assert turn[:, 0] == pytest.approx([1.0, 0.0, 0.0], abs=1e-12)
    assert turn[:, 2] == pytest.approx([0.0, 1.0, 0.0], abs=1e-12)
    assert origin == pytest.approx([-0.1, 0.3, 0.0], abs=1e-12)
