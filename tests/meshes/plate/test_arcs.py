"""Arcs found in chords, against the circles that the chords were taken from."""

import numpy as np
import pytest
from ezdxf.entities import Circle, LWPolyline
from ezdxf.math import bulge_to_arc
from ezdxf.path import make_path

from meshes.plate.arcs import arcs_of, circle_of, with_bulges
from meshes.plate.shape import rounded

BOX = [(0.0, 0.0), (0.4, 0.0), (0.4, 0.3), (0.0, 0.3)]


@pytest.mark.parametrize("first", [0, 3, 7, 20])
def test_a_rounded_box_has_four_arcs_of_its_radius_wherever_its_list_begins(first: int) -> None:
    ring = np.roll(rounded([(*p, 0.05) for p in BOX], 8), first, axis=0)
    corners = with_bulges(ring)
    assert len(corners) == 8
    ahead = np.roll(corners, -1, axis=0)
    arcs = [
        bulge_to_arc(tuple(a[:2]), tuple(b[:2]), a[2]) for a, b in zip(corners, ahead, strict=True) if a[2] != 0.0
    ]
    assert len(arcs) == 4
    centres = sorted((round(c.x, 9), round(c.y, 9)) for c, _, _, _ in arcs)
    assert centres == [(0.05, 0.05), (0.05, 0.25), (0.35, 0.05), (0.35, 0.25)]
    assert [r for *_, r in arcs] == pytest.approx([0.05] * 4, abs=1e-12)
    assert corners[corners[:, 2] != 0.0, 2] == pytest.approx(np.tan(np.pi / 8), abs=1e-12)


def test_straight_corners_stay_as_they_are() -> None:
    for ring in (np.array(BOX), np.array(BOX[::-1]), np.array([(0.0, 0.0), (1.0, 0.0), (0.5, 0.8)])):
        corners = with_bulges(ring)
        assert len(corners) == len(ring)
        assert not corners[:, 2].any()


def test_a_circle_is_one_and_a_hexagon_is_none() -> None:
    angle = 2.0 * np.pi * np.arange(24) / 24
    circle = circle_of(np.stack([0.3 + 0.005 * np.cos(angle), 0.005 * np.sin(angle)], axis=1))
    assert circle is not None
    assert circle.radius == pytest.approx(0.005, rel=1e-12)
    assert circle.middle == pytest.approx([0.3, 0.0], abs=1e-15)
    six = angle[::4]
    assert circle_of(np.stack([np.cos(six), np.sin(six)], axis=1)) is None
    assert circle_of(np.stack([np.cos(angle), 1.1 * np.sin(angle)], axis=1)) is None


@pytest.mark.parametrize("turned", [1, -1])
def test_each_round_corner_is_told_with_its_middle_its_radius_and_the_way_out(turned: int) -> None:
    found = arcs_of(rounded([(*p, 0.05) for p in BOX], 8)[::turned])
    out = 0.05 * (1.0 - np.sqrt(0.5))
    assert sorted((round(a.middle[0], 9), round(a.middle[1], 9)) for a in found) == sorted(
        (round(abs(x - out), 9), round(abs(y - out), 9)) for x, y in BOX
    )
    for arc in found:
        assert arc.radius == pytest.approx(0.05, rel=1e-12)
        assert arc.outward == pytest.approx(np.sign(arc.middle - [0.2, 0.15]) * np.sqrt(0.5), abs=1e-9)


@pytest.mark.parametrize("radius", [4.75, 22.0, 150.0])
def test_arcs_flattened_unevenly_by_a_library_are_found(radius: float) -> None:
    """As a drawing is read: a slot with half turns and a rounded box, by ezdxf's curves, and a circle."""
    slot = LWPolyline()
    slot.append_points([(0, 0, 0), (60, 0, 1), (60, 2 * radius, 0), (0, 2 * radius, 1)], format="xyb")
    slot.closed = True
    ring = np.array([(p.x, p.y) for p in make_path(slot).flattening(0.01)])[:-1]
    corners = with_bulges(ring)
    found = corners[corners[:, 2] != 0.0]
    assert len(found) == 2
    assert np.abs(found[:, 2]) == pytest.approx(1.0, abs=2e-3)
    assert sorted(map(tuple, np.round(corners[:, :2], 6).tolist())) == [
        (0.0, 0.0), (0.0, 2 * radius), (60.0, 0.0), (60.0, 2 * radius)
    ]  # fmt: skip
    around = make_path(Circle.new(dxfattribs={"center": (3, 4), "radius": radius}))
    circle = circle_of(np.array([(p.x, p.y) for p in around.flattening(0.01)])[:-1])
    assert circle is not None
    assert circle.middle == pytest.approx([3.0, 4.0], abs=1e-3 * radius)
    assert circle.radius == pytest.approx(radius, rel=3e-4)  # what cubic curves stand off a circle
