"""Attitudes of rest against closed forms, and the completeness of the search."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq, minimize

from meshes.solid import point_mass
from sim.fill_laws import logistic_law
from sim.rig import Part, Water, WingPocket, rig_of
from sim.statics.energy import energy
from sim.statics.equilibria import equilibria
from sim.statics.field import field, soft_rig
from sim.statics.held import held_pitches

WATER = Water(1025.0, 9.81, 252153.75)


def _pendulum(mass, cm, cb):
    """A rigid body that displaces its own mass of water."""
    volume = mass / WATER.density
    weight, float_ = point_mass(mass, cm), point_mass(0.0, cb, volume)
    return [Part("weight", "body", weight), Part("float", "body", float_)]


def test_rigid_body_hangs_with_cb_above_cm():
    """Two rests only: u along CB - CM (stable) and against it (unstable); stiffness m g |CB - CM|."""
    cm, cb = np.array([0.05, -0.02, 0.03]), np.array([0.07, 0.01, 0.06])
    found = equilibria(soft_rig(rig_of(_pendulum(100.0, cm, cb), WATER))).found
    arm = cb - cm
    assert [e.kind for e in found] == ["stable", "unstable"]
    np.testing.assert_allclose(found[0].up, arm / np.linalg.norm(arm), atol=1e-12)
    np.testing.assert_allclose(found[1].up, -arm / np.linalg.norm(arm), atol=1e-12)
    swing = 100.0 * 9.81 * np.linalg.norm(arm)
    np.testing.assert_allclose(found[0].stiffness, swing, rtol=1e-12)
    assert found[1].energy == pytest.approx(2.0 * swing, rel=1e-12)


def test_body_with_one_centre_is_indifferent():
    rig = rig_of(_pendulum(90.0, [0.1, 0.0, 0.0], [0.1, 0.0, 0.0]), WATER)
    answer = equilibria(soft_rig(rig))
    assert answer.indifferent
    assert answer.found == ()
    assert held_pitches(soft_rig(rig)) == ()


TUBE = {"half": 0.8, "area": 0.01, "gas": 6e-3, "softness": 60.0, "pendulum": 30.0}


def _tube_rig(cells=3200):
    """A rigid pendulum (CB 3 cm above CM, say) with a straight tube along x that holds one bubble."""
    half = TUBE["half"]
    x = (np.arange(cells) + 0.5) / cells * 2.0 * half - half
    at = np.stack([x, 0.0 * x, 0.0 * x], axis=1)
    room = np.full(cells, 2.0 * half * TUBE["area"] / cells)
    wing = WingPocket(at, logistic_law(0.0 * room, room, TUBE["softness"]), TUBE["gas"])
    height = TUBE["pendulum"] / (80.0 * 9.81)
    parts = [
        Part("weight", "body", point_mass(80.0, [0.0, 0.0, -height])),
        Part("float", "body", point_mass(0.0, [0.0, 0.0, 0.0], 80.0 / WATER.density - TUBE["gas"])),
    ]
    return rig_of(parts, WATER, wing=wing, held=np.zeros(3))


def test_bubble_in_a_straight_tube():
    r"""The bubble runs to the raised end and holds the tube tilted at +-theta.

    With w = p0/(rho g sin theta), edge x_e = L - W/A and P the pendulum's stiffness, the bubble's first moment is
    A [(L^2 - x_e^2)/2 - pi^2 w^2/6] (Sommerfeld's expansion, exact but for exp(-(L - |x_e|)/w)), so that
    P sin theta = rho g A [(L^2 - x_e^2)/2 - pi^2 w^2/6] cos theta.
    """
    weight = WATER.density * WATER.gravity
    half, area, gas = TUBE["half"], TUBE["area"], TUBE["gas"]
    edge = half - gas / area

    def balance(theta):
        w = TUBE["softness"] / (weight * np.sin(theta))
        first = area * (0.5 * (half**2 - edge**2) - (np.pi * w) ** 2 / 6.0)
        return TUBE["pendulum"] * np.sin(theta) - weight * first * np.cos(theta)

    theta = brentq(balance, 0.3, 1.5)
    soft = soft_rig(_tube_rig())
    answer = equilibria(soft)
    stable = [e for e in answer.found if e.kind == "stable"]
    assert sorted(np.arcsin(e.up[0]) for e in stable) == pytest.approx([-theta, theta], abs=1e-7)
    assert [e.kind for e in answer.found if e.up[2] > 0.999] == ["saddle"]  # flat: unstable in pitch alone
    held = held_pitches(soft)
    assert [h.pitch for h in held] == pytest.approx([-theta, 0.0, theta], abs=1e-7)
    assert [h.stable for h in held] == [True, False, True]


def test_bubble_takes_the_free_surface_stiffness_when_flat():
    """Half-way round the logistic the loss is (rho g)^2 sum k x^2, k = dV t(1-t)/p0: the free-surface term."""
    rig = _tube_rig(400)
    values = field(soft_rig(rig), np.array([[0.0, 0.0, 1.0]]))
    fill = TUBE["gas"] / rig.wing.law.most.sum()
    k = rig.wing.law.most / TUBE["softness"] * fill * (1.0 - fill)
    by_hand = (WATER.density * WATER.gravity) ** 2 * (k @ rig.wing.cells[:, 0] ** 2)
    assert -values.bend[0, 0, 0] == pytest.approx(by_hand, rel=1e-9)


def test_axisymmetric_rig_has_rings_of_rests():
    """Gas free to move all round the x axis, and no pendulum off it: every roll is alike."""
    angle = 2.0 * np.pi * np.arange(24) / 24
    at = np.stack([0.0 * angle, 0.2 * np.cos(angle), 0.2 * np.sin(angle)], axis=1)
    room = np.full(24, 0.5e-3)
    wing = WingPocket(at, logistic_law(0.0 * room, room, 900.0), 6e-3)
    parts = [
        Part("weight", "body", point_mass(80.0, [-0.002, 0.0, 0.0])),
        Part("float", "body", point_mass(0.0, [0.0, 0.0, 0.0], 80.0 / WATER.density - 6e-3)),
    ]
    answer = equilibria(soft_rig(rig_of(parts, WATER, wing=wing, held=np.zeros(3))))
    assert answer.complete
    assert any(e.degenerate for e in answer.found)
    assert len(answer.found) <= 4


@pytest.mark.parametrize("law", ["logistic", "garment"])
@pytest.mark.parametrize("seed", range(12))
def test_search_is_complete_and_agrees_with_minimisation(make_rig, law, seed):
    """Every minimum that 12 runs of a general minimiser find is in the list, and the indices add up to 2."""
    soft = soft_rig(make_rig(seed, law=law, wing_gas=10e-3))
    answer = equilibria(soft)
    assert answer.complete
    kinds = [e.kind for e in answer.found]
    assert kinds.count("stable") - kinds.count("saddle") + kinds.count("unstable") == 2  # Morse, wing volume fixed
    minima = np.array([e.up for e in answer.found if e.kind == "stable"])
    starts = np.random.default_rng(seed).normal(size=(12, 3))

    def on_sphere(v):
        """Energy of the direction of v, plus a term that keeps |v| near 1, and its gradient."""
        size = np.linalg.norm(v)
        u = v / size
        values = field(soft, u[None, :])
        d = values.d[0]
        radial = 50.0 * (size - 1.0)
        return float(energy(soft, values)[0]) + radial * (size - 1.0), (d - (d @ u) * u) / size + 2.0 * radial * u

    for start in starts:
        end = minimize(on_sphere, start / np.linalg.norm(start), jac=True, method="L-BFGS-B", options={"gtol": 1e-6})
        assert np.abs(end.jac).max() < 1e-3
        # a gradient of 1e-3 N m over stiffnesses of some N m/rad
        assert np.linalg.norm(minima - end.x / np.linalg.norm(end.x), axis=1).min() < 1e-2


@pytest.mark.parametrize("seed", range(8))
def test_rest_of_a_rig_kept_neutral(make_rig, seed):
    """No torque where the wing makes the whole neutral there; kind from the energy with that volume frozen."""
    soft = soft_rig(make_rig(seed, gas_density=3.0))
    for e in equilibria(soft).found:
        values = field(soft, e.up[None, :])
        assert np.linalg.norm(np.cross(e.up, values.d[0])) < 1e-7  # 1e-9 rad of Newton on tens of N m/rad
        assert abs(e.net_buoyancy) < 1e-9
        frozen = soft_rig(replace(soft.rig, wing=replace(soft.rig.wing, gas=e.wing_gas)))
        near = [q for q in equilibria(frozen).found if np.linalg.norm(q.up - e.up) < 1e-6]
        assert [q.kind for q in near] == [e.kind]


def test_mirrored_rig_rests_mirrored(make_rig, mirror_rig):
    rig = make_rig(9)
    one = equilibria(soft_rig(rig)).found
    two = equilibria(soft_rig(mirror_rig(rig))).found
    assert [e.kind for e in one] == [e.kind for e in two]
    np.testing.assert_allclose([e.up * [1.0, -1.0, 1.0] for e in one], [e.up for e in two], atol=1e-7)
