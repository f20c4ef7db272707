"""Bent sheets against closed forms, the flat sheet, and cross sections drawn by another library."""

import numpy as np
import pytest
import shapely
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from meshes.outline import Outline
from meshes.plate.sheet import Bend, bent_points, bent_sheet, both_sides, polygon_of
from meshes.solid import volume_integrals

SHEET = Outline(np.array([[-0.2, -0.15], [0.2, -0.15], [0.2, 0.15], [-0.2, 0.15]]))
PIERCED = Outline(
    SHEET.outer,
    (
        np.array([[0.0, -0.02], [0.05, -0.02], [0.05, 0.10], [0.0, 0.10]]),  # runs through two bends
        np.array([[-0.1, 0.032], [-0.08, 0.032], [-0.08, 0.05], [-0.1, 0.05]]),  # ends inside one
    ),
)
CHANNEL = both_sides([Bend(0.030, -1.0, 0.006), Bend(0.090, 1.0, 0.006)])


def test_a_flat_sheet_is_a_box() -> None:
    sides, t = np.array([0.4, 0.3]), 0.003
    got = volume_integrals(bent_sheet(SHEET, t))
    a, b, c = *sides, t
    volume = a * b * c
    expected = volume / 12.0 * np.diag([b * b + c * c, a * a + c * c, a * a + b * b])
    assert got.volume == pytest.approx(volume, rel=1e-13)
    np.testing.assert_allclose(got.centroid, 0.0, atol=1e-16)
    np.testing.assert_allclose(got.second, expected, rtol=1e-12, atol=1e-17)


def test_a_pierced_flat_sheet_is_what_another_library_extrudes() -> None:
    extruded = trimesh.creation.extrude_polygon(polygon_of(PIERCED), 0.003, engine="earcut")
    extruded.apply_translation([0.0, 0.0, -0.0015])
    got = volume_integrals(bent_sheet(PIERCED, 0.003))
    assert got.volume == pytest.approx(extruded.volume, rel=1e-12)
    np.testing.assert_allclose(got.centroid, extruded.center_mass, atol=1e-14)
    np.testing.assert_allclose(got.second, extruded.moment_inertia, rtol=1e-9, atol=1e-16)


@pytest.mark.parametrize("outline", [SHEET, PIERCED], ids=["whole", "pierced"])
def test_a_bent_sheet_is_closed_and_loses_only_what_the_chords_cut_off(outline: Outline) -> None:
    mesh = bent_sheet(outline, 0.003, CHANNEL, arc_steps=4)
    body = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    assert body.is_volume
    assert body.euler_number == 2 - 2 * len(outline.holes)
    bent = sum(
        polygon_of(outline).intersection(shapely.box(-1, b.at - b.width / 2, 1, b.at + b.width / 2)).area
        for b in CHANNEL
    )
    flat = polygon_of(outline).area
    # a chord's slab keeps sin(s)/s of the sector's area, s the angle of one step
    step = 1.0 / 4
    lost = 0.003 * bent * (1.0 - np.sin(step) / step)
    got = 0.003 * flat - volume_integrals(mesh).volume
    # a hole that ends inside a bend adds a chord's end there, so a little less is lost; elsewhere it is exact
    assert 0.97 * lost < got <= lost * (1.0 + 1e-9) if outline is PIERCED else got == pytest.approx(lost, rel=1e-9)


def test_volume_converges_at_second_order_to_the_flat_sheets() -> None:
    flat = 0.003 * polygon_of(PIERCED).area
    lost = [1.0 - volume_integrals(bent_sheet(PIERCED, 0.003, CHANNEL, n)).volume / flat for n in (4, 8, 16)]
    orders = np.log2(np.array(lost[:-1]) / lost[1:])
    # sin(s)/s alone bends the order by s^2/20 = 0.005; the hole's end inside a bend by a little more
    np.testing.assert_allclose(orders, 2.0, atol=0.02)


def test_the_cross_section_is_that_of_an_offset_line() -> None:
    """Area and centroid of the section, by offsetting the bent mid-line with GEOS."""
    y = np.linspace(-0.15, 0.15, 4001)
    line = bent_points(np.stack([np.zeros_like(y), y], axis=1), 0.0, CHANNEL)[:, 1:]
    section = shapely.LineString(line).buffer(0.0015, cap_style="flat", join_style="mitre")
    got = volume_integrals(bent_sheet(SHEET, 0.003, CHANNEL, arc_steps=64))
    # both lines are chords of the same arcs: 64 a bend here, 80 there, so they differ by (1/64)^2/6 of a bend's share
    assert got.volume == pytest.approx(0.4 * section.area, rel=1e-5)
    np.testing.assert_allclose(got.centroid[1:], [section.centroid.x, section.centroid.y], atol=1e-6)


def test_bending_keeps_lengths_on_the_mid_surface_and_thickness_across_it() -> None:
    y = np.linspace(-0.15, 0.15, 30001)
    flat = np.stack([np.zeros_like(y), y], axis=1)
    middle = bent_points(flat, 0.0, CHANNEL)
    assert np.linalg.norm(np.diff(middle, axis=0), axis=1).sum() == pytest.approx(0.3, rel=1e-7)  # chords of 10 um
    across = bent_points(flat, 0.0015, CHANNEL) - bent_points(flat, -0.0015, CHANNEL)
    np.testing.assert_allclose(np.linalg.norm(across, axis=1), 0.003, rtol=1e-12)


def test_a_right_angle_is_where_trigonometry_puts_it() -> None:
    radius = 0.010
    bend = Bend(0.050, np.pi / 2, radius)
    begin, end = 0.050 - bend.width / 2, 0.050 + bend.width / 2
    got = bent_points([[0.0, 0.0], [0.0, begin], [0.0, end], [0.0, 0.150], [0.0, -0.1]], 0.0, [bend])
    up = 0.150 - end
    expected = [[0.0, 0.0], [begin, 0.0], [begin + radius, radius], [begin + radius, radius + up], [-0.1, 0.0]]
    np.testing.assert_allclose(got[:, 1:], expected, atol=1e-16)
    mirror = bent_points([[0.0, -0.150]], 0.0, [Bend(-0.050, np.pi / 2, radius)])
    np.testing.assert_allclose(mirror[0, 1:], [-begin - radius, radius + up], atol=1e-16)


def test_a_bend_through_the_middle_leaves_the_origin_level() -> None:
    half = bent_points([[0.0, 0.1], [0.0, -0.1]], 0.0, [Bend(0.0, 0.6, 0.02)])
    np.testing.assert_allclose(half[0] * [1, -1, 1], half[1], atol=1e-16)
    assert np.arctan2(*half[0, [2, 1]]) == pytest.approx(0.3 * (0.1 - 0.003) / 0.1, rel=0.02)  # small-angle estimate


@settings(max_examples=25, deadline=None)
@given(
    st.lists(
        st.tuples(st.floats(-1.5, 1.5).filter(lambda a: abs(a) > 0.05), st.floats(0.002, 0.008)),
        min_size=1,
        max_size=5,
    ),
    st.floats(0.001, 0.004),
)
def test_any_bends_keep_the_volume(turns: list[tuple[float, float]], thickness: float) -> None:
    bends = [Bend(-0.12 + 0.05 * k, angle, radius) for k, (angle, radius) in enumerate(turns)]
    got = volume_integrals(bent_sheet(PIERCED, thickness, bends, arc_steps=3)).volume
    flat = thickness * polygon_of(PIERCED).area
    worst = max(abs(angle) for angle, _ in turns) / 3
    share = sum(b.width for b in bends) / 0.3 * 1.2  # holes make the sheet's area at most 1.2 times less
    assert flat * (1.0 - share * worst**2 / 6.0) <= got <= flat * (1.0 + 1e-12)


@pytest.mark.parametrize(
    ("bends", "thickness", "words"),
    [
        ([Bend(0.05, 1.0, 0.006), Bend(0.055, 1.0, 0.006)], 0.003, "overlap"),
        ([Bend(0.05, 1.0, 0.001)], 0.003, "at least half its thickness"),
        ([Bend(0.05, float("nan"), 0.006)], 0.003, "angle between"),
        ([Bend(0.05, 3.2, 0.006)], 0.003, "angle between"),
        ([Bend(0.05, 1.0, float("nan"))], 0.003, "radius"),
        ([], 0.0, "thickness"),
        ([], float("nan"), "thickness"),
    ],
)
def test_impossible_bends_are_refused(bends: list[Bend], thickness: float, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        bent_sheet(SHEET, thickness, bends)


def test_an_outline_that_crosses_itself_is_refused() -> None:
    with pytest.raises(ValueError, match="Self-intersection"):
        bent_sheet(Outline(np.array([[0.0, 0.0], [1.0, 1.0], [1.0, 0.0], [0.0, 1.0]])), 0.003)


@settings(max_examples=30, deadline=None)
@given(
    st.floats(0.05, 3.1),
    st.floats(0.002, 0.09),
    st.floats(0.0005, 0.004),
    st.sampled_from([-1.0, 1.0]),
)
def test_at_any_bend_the_mesh_weighs_what_the_flat_sheet_weighs_to_a_thousandth(
    angle: float, radius: float, thickness: float, way: float
) -> None:
    """With the chords that are taken by themselves, however large a share of the sheet is bent."""
    bend = Bend(0.0, way * angle, radius)
    outline = SHEET if bend.width < 0.3 else Outline(SHEET.outer * [1.0, bend.width / 0.3])
    got = volume_integrals(bent_sheet(outline, thickness, [bend])).volume
    assert got == pytest.approx(thickness * polygon_of(outline).area, rel=1e-3)
