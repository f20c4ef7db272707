"""The suit's gas as a layer on the skin, and the wing's as a share of its fullest cell."""

import numpy as np
import pytest

from meshes.mesh import mirrored
from meshes.solid import volume_integrals
from sim.drawing.gas_layer import gas_layer, suit_on, vertex_normals, wing_fill_on
from sim.drawing.scene import SuitGas, WingGas


def patches_of(mesh, thickness, covered=False):
    """One patch a face, ``thickness`` a number or a function of the patch centres."""
    corners = mesh.vertices[mesh.faces]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    area = 0.5 * np.linalg.norm(normal, axis=1)
    centre = corners.mean(axis=1)
    gas = thickness(centre) if callable(thickness) else np.full(len(area), thickness)
    return SuitGas(centre, normal / (2.0 * area[:, None]), area, gas, np.full(len(area), covered))


def test_normals_of_a_sphere_are_radial_and_outward(ball):
    sphere = ball(0.3, [1.0, 2.0, 3.0])
    radial = (sphere.vertices - [1.0, 2.0, 3.0]) / 0.3
    # flat facets of 6 degrees: a mean of their normals strays by a fraction of that
    assert np.einsum("ij,ij->i", vertex_normals(sphere), radial).min() > np.cos(np.radians(1.5))


def test_even_gas_on_a_sphere_makes_a_larger_sphere(ball):
    sphere = ball(0.3, [0.0, 0.0, 0.0])
    suit = suit_on(sphere, patches_of(sphere, 0.01), scale=4.0)
    assert suit.thickness == pytest.approx(0.01)
    grown = volume_integrals(gas_layer(sphere, suit)).volume / volume_integrals(sphere).volume
    # 0.3 m and 4 times 10 mm; evening flattens a sphere of this fineness by under 1 % of its volume
    assert grown == pytest.approx((0.34 / 0.3) ** 3, rel=0.01)


def test_under_the_plate_the_layer_is_as_thick_as_it_is(ball):
    sphere = ball(0.3, [0.0, 0.0, 0.0])
    suit = suit_on(sphere, patches_of(sphere, 0.01, covered=True), scale=4.0)
    assert suit.enlarged == pytest.approx(1.0)


def test_gas_of_one_side_does_not_show_on_the_other(ball):
    sheet = ball(1.0, [0.0, 0.0, 0.0])
    thin = type(sheet)(sheet.vertices * [0.5, 0.5, 0.01], sheet.faces)  # two faces 2 cm apart at most
    suit = suit_on(thin, patches_of(thin, lambda c: np.where(c[:, 2] > 0.0, 0.02, 0.0)), scale=1.0)
    middle = np.hypot(*thin.vertices[:, :2].T) < 0.35
    # the weight of a patch that faces away is 0.02 squared, 4e-4 of one that faces along
    assert suit.thickness[middle & (thin.vertices[:, 2] > 0.0)] == pytest.approx(0.02, rel=2e-3)
    assert suit.thickness[middle & (thin.vertices[:, 2] < 0.0)].max() < 0.02 * 2e-3


def test_bare_skin_has_no_gas(ball):
    sphere = ball(0.3, [0.0, 0.0, 0.0])
    suited = sphere.vertices[:, 0] < 0.1
    suit = suit_on(sphere, patches_of(sphere, 0.01), 4.0, suited)
    assert (suit.thickness > 0.0).tolist() == suited.tolist()


def test_a_suit_without_patches_shows_nothing(ball):
    sphere = ball(0.3, [0.0, 0.0, 0.0])
    none = SuitGas(np.zeros((0, 3)), np.zeros((0, 3)), np.zeros(0), np.zeros(0), np.zeros(0, dtype=bool))
    assert not suit_on(sphere, none, scale=4.0).thickness.any()


def test_the_wing_is_bluest_at_its_fullest_cell_and_the_same_mirrored(flat_scene):
    wing = flat_scene.wing
    fill = wing_fill_on(wing)
    assert ((fill >= 0.0) & (fill <= 1.0)).all()
    headward, footward = wing.bag.vertices[:, 0] > 0.35, wing.bag.vertices[:, 0] < 0.0
    assert fill[headward].min() > fill[footward].max()
    other = WingGas(mirrored(wing.bag), wing.cells * [1.0, -1.0, 1.0], wing.volume)
    # equally distant cells may be taken in either order
    assert wing_fill_on(other) == pytest.approx(fill, abs=1e-12)


def test_an_empty_wing_is_all_cloth(flat_scene):
    wing = flat_scene.wing
    assert not wing_fill_on(WingGas(wing.bag, wing.cells, np.zeros(len(wing.cells)))).any()
