import numpy as np
import pytest

from meshes.primitives import box, ellipsoid
from sim.fill_laws import garment_law, logistic_law
from sim.floating.body import SoftGas, Specks, floating_body, homogeneous, hull_of
from sim.floating.energy import afloat, submergence
from sim.floating.equilibrium import draught, floats_from, sinks
from sim.rig import Part, SuitPocket, Water, WingPocket, rig_of
from sim.statics.field import tangent_basis
from sim.statics.gas import bag_of

UP = np.array([0.0, 0.0, 1.0])


def soft_body(seed):
    """A lumpy body with specks, a suit of fixed amount and a wing of fixed volume, floating half out of the water."""
    rng = np.random.default_rng(seed)
    hulls = [hull_of(ellipsoid([0.8, 0.3, 0.2], rings=12, points=20)), hull_of(box([0.2, 0.5, 0.1], [0.3, 0.1, 0.2]))]
    air = 101325.0
    rig = rig_of([Part("b", "body", homogeneous_part())], Water(1025.0, 9.81, air))
    n = 40
    cells = np.stack([rng.uniform(-0.8, 0.8, n), rng.uniform(-0.3, 0.3, n), rng.uniform(-0.2, 0.2, n)], axis=1)
    loft = rng.uniform(0.1e-3, 0.4e-3, n)
    suit = SuitPocket(cells, garment_law(loft, 0.5 * loft, 500.0), float(0.6 * loft.sum()), 1.2)
    back = np.stack([rng.uniform(-0.3, 0.3, 12), rng.uniform(-0.3, 0.3, 12), np.full(12, 0.3)], axis=1)
    wing = WingPocket(back, logistic_law(np.zeros(12), np.full(12, 1e-3), 300.0), 6e-3, 1.2)
    gas = [SoftGas(cells, bag_of(suit, rig), None, air, 0.05), SoftGas(back, bag_of(wing, rig), 6e-3, air, 0.06)]
    specks = [Specks(rng.normal(size=(30, 3)) * 0.2, rng.uniform(0.0, 2e-4, 30), 0.03)]
    cm = rng.normal([0.0, 0.0, 0.05], 0.03)
    return floating_body(hulls, 130.0, cm, density=1025.0, gravity=9.81, specks=specks, gas=gas)


def homogeneous_part():
    from meshes.solid import point_mass

    return point_mass(1.0, [0.0, 0.0, 0.0], 1e-3)


@pytest.mark.parametrize("seed", range(4))
def test_slope_and_bend_are_the_derivatives_of_the_energy(seed):
    """Central differences over 1e-5 m and rad: rounding of 100 J is 1e-9 N, their own error 1e-10 of the third."""
    body = soft_body(seed)
    u = np.random.default_rng(seed + 50).normal(size=3)
    u /= np.linalg.norm(u)
    level, step = 0.03, 1e-5
    now, basis = afloat(body, u, level), tangent_basis(u[None])[0]
    frame = np.zeros((4, 3))
    frame[0, 0], frame[1:, 1:] = 1.0, basis.T

    def at(change):
        there = u + change[1:] @ basis
        length = np.linalg.norm(there)
        return afloat(body, there / length, level + change[0])

    for k, one in enumerate(np.eye(3)):
        plus, minus = at(step * one), at(-step * one)
        assert (plus.energy - minus.energy) / (2.0 * step) == pytest.approx((frame.T @ now.slope)[k], abs=1e-5)
        change = frame.T @ (plus.slope - minus.slope) / (2.0 * step)
        assert change == pytest.approx((frame.T @ now.bend @ frame)[k], rel=1e-5, abs=0.05)


@pytest.mark.parametrize("seed", range(4))
def test_rests_are_minima(seed):
    """No nudge in level or attitude lowers the energy of a rest."""
    body = soft_body(seed)
    for start in (UP, -UP, np.array([1.0, 0.05, 0.02])):
        rest = floats_from(body, start)
        assert rest is not None
        assert rest.settled
        assert rest.stiffness[0] > 0.0
        assert -sinks(body, rest.up) > 0.0
        rng = np.random.default_rng(seed)
        for _ in range(12):
            turned = rest.up + 0.02 * rng.normal(size=3)
            there = afloat(body, turned / np.linalg.norm(turned), rest.level + 0.005 * rng.normal())
            assert there.energy > rest.state.energy


def test_archimedes():
    """A box of half the water's density lies half under, whatever way up it is held."""
    body = homogeneous(box([0.3, 0.5, 0.7]), 0.5)
    for u in np.random.default_rng(1).normal(size=(5, 3)):
        u = u / np.linalg.norm(u)
        assert draught(body, u) == pytest.approx(0.0, abs=1e-12)  # half by symmetry


def test_heavier_than_water_sinks():
    body = homogeneous(box([0.3, 0.5, 0.7]), 1.25)
    assert draught(body, UP) is None
    assert floats_from(body, UP) is None
    assert sinks(body, UP) == pytest.approx(0.25 * 105.0, rel=1e-12)  # kg of 0.105 m^3 of water


def test_a_symmetric_start_is_not_left_on_a_saddle():
    """A plank set exactly on edge balances there; it must not be told as a rest."""
    rest = floats_from(homogeneous(box([2.0, 1.0, 0.1]), 0.5), np.array([0.0, 1.0, 0.0]))
    assert abs(rest.up[2]) == pytest.approx(1.0, abs=1e-9)
    assert rest.stiffness[0] > 0.0


def test_weight_decides_which_way_up():
    """A ball with its CM off the middle floats with the CM straight below."""
    ball = ellipsoid([0.2, 0.2, 0.2], rings=16, points=32)
    heavy = np.array([0.012, -0.02, 0.016])
    body = floating_body([hull_of(ball)], 15.0, heavy, density=1000.0, gravity=9.80665)
    rest = floats_from(body, np.array([0.3, -0.5, 0.8]))
    # the flat facets of 11 degrees shift the metacentre by some 1e-2 of 0.2 m times (pi/16)^2
    assert rest.up == pytest.approx(-heavy / np.linalg.norm(heavy), abs=0.05)


def test_ball_caps():
    """Cap of height h of a ball of radius r: pi h^2 (3 r - h)/3, over 4/3 pi r^3; mean depth is its integral."""
    radius, depth = 0.05, np.linspace(-0.08, 0.08, 4001)
    mean, share, rate = submergence(depth, radius)
    h = np.clip(depth + radius, 0.0, 2.0 * radius)
    assert share == pytest.approx(h**2 * (3.0 * radius - h) / (4.0 * radius**3), abs=1e-14)
    step = depth[1] - depth[0]
    assert np.gradient(mean, step)[1:-1] == pytest.approx(share[1:-1], abs=1e-6)  # third derivative times step^2/6
    assert np.gradient(share, step)[1:-1] == pytest.approx(rate[1:-1], abs=2e-2)  # kinks at both ends


@pytest.mark.parametrize("bad", [float("nan"), 0.0, -1.0])
def test_refuses_what_is_no_mass(bad):
    with pytest.raises(ValueError, match="mass"):
        floating_body([hull_of(box([1.0, 1.0, 1.0]))], bad, UP, density=1000.0, gravity=9.8)


def test_refuses_a_mesh_inside_out():
    cube = box([1.0, 1.0, 1.0])
    from meshes.mesh import mesh_of

    with pytest.raises(ValueError, match="inside out"):
        hull_of(mesh_of(cube.vertices, cube.faces[:, ::-1]))
