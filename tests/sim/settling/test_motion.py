"""Equations of motion: swings, precession, conserved momentum and energy, Jacobian."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from meshes.solid import Solid, point_mass
from sim.rig import Part, Water, rig_of
from sim.settling.course import Limits, follow
from sim.settling.jacobian import jacobian
from sim.settling.motion import energy, instant, model_of, right_hand_side, rigid_inertia
from sim.settling.settle import starting_state
from sim.statics.field import field, soft_rig
from sim.statics.sphere import direction


def run(model, start, time, rtol=1e-10):
    """States (steps, n) on the way, by an explicit method of order 8 that shares nothing with the one in use."""
    answer = solve_ivp(
        lambda _, y: right_hand_side(model, y),
        (0.0, time),
        start,
        method="DOP853",
        rtol=rtol,
        atol=1e-12,
        dense_output=True,
    )
    assert answer.success
    return answer


def start_of(model, up, spins, heave=()):
    return np.concatenate([up, spins, heave])


@pytest.mark.parametrize("added_water", [False, True])
@pytest.mark.parametrize("turning", ["pitch", "roll"])
def test_small_swings_take_two_pi_root_inertia_over_stiffness(make_pendulum, turning, added_water):
    rig = make_pendulum(above=0.02)
    model = model_of(rig, roll_held=False, heaves=False, wing_volume=None, added_water=added_water, with_drag=False)
    axis = 1 if turning == "pitch" else 0
    stiffness = 120.0 * 9.81 * 0.02
    period = 2.0 * np.pi * np.sqrt(model.rotation[axis, axis] / stiffness)
    small = 1e-3
    up = direction(small, 0.0) if turning == "pitch" else direction(0.0, small)
    answer = run(model, start_of(model, up, np.zeros(3)), 1.2 * period)
    times = np.linspace(0.7 * period, 1.2 * period, 2001)
    leaning = answer.sol(times)[0 if turning == "pitch" else 1]
    top = times[leaning.argmax()]
    # a pendulum's period grows by a^2/16 = 6e-8; the top of a sampled cosine is found to one sample, 2.5e-4 of T
    assert top == pytest.approx(period, rel=3e-4)
    if not added_water:
        assert model.rotation == pytest.approx(rig.whole.inertia, rel=1e-14)


def test_a_free_top_precesses_as_euler_says():
    inertia = np.diag([4.0, 9.0, 9.0])
    solid = Solid(100.0, np.zeros(3), inertia, 100.0 / 1025.0, np.zeros(3))
    rig = rig_of([Part("top", "body", solid)], Water(1025.0, 9.81, 2e5))
    model = model_of(rig, roll_held=False, heaves=False, wing_volume=None, added_water=False, with_drag=False)
    answer = run(model, start_of(model, direction(0.2, 0.1), np.array([2.0, 0.3, 0.0])), 20.0)
    t = np.linspace(0.0, 20.0, 50)
    y = answer.sol(t)
    rate = (4.0 - 9.0) / 9.0 * 2.0  # of the spin's sideways part around the axis
    # the solver's 1e-10 a step, over 20 s
    assert y[3] == pytest.approx(np.full(50, 2.0), rel=1e-9)
    assert y[4] == pytest.approx(0.3 * np.cos(rate * t), abs=1e-8)
    assert y[5] == pytest.approx(0.3 * np.sin(rate * t), abs=1e-8)
    # moment of momentum about the vertical stays
    turning = np.einsum("it,ij,jt->t", y[:3], inertia, y[3:6])
    assert turning == pytest.approx(np.full(50, turning[0]), rel=1e-7)


def test_sinking_in_ideal_water_keeps_energy_and_momentum(make_random_rig):
    """Kirchhoff's equations with everything coupled: no drag, no gas, heave, held point off the CM."""
    rig = make_random_rig(5)
    rig = rig_of(rig.parts, rig.water, held=rig.whole.cm + np.array([0.2, 0.05, -0.1]))
    model = model_of(rig, roll_held=False, heaves=True, wing_volume=None, with_drag=False)
    start = start_of(model, direction(0.4, 0.7), np.array([0.3, -0.5, 0.2]), [0.0, 0.6])
    answer = run(model, start, 6.0)
    energies = np.array([energy(model, y) for y in answer.y.T])
    kinetic = energies[0] - energy(model, start_of(model, start[:3], np.zeros(3), [0.0, 0.0]))
    assert kinetic > 1.0
    # only the integrator's 1e-10 a step is lost
    assert energies == pytest.approx(np.full(len(energies), energies[0]), abs=1e-6 * kinetic)

    def vertical(y):
        now = instant(model, y)
        return now.up @ (model.rotation @ now.omega + model.coupling @ now.up * now.speed)

    momenta = np.array([vertical(y) for y in answer.y.T])
    assert momenta == pytest.approx(np.full(len(momenta), momenta[0]), abs=1e-6 * abs(momenta).max())


def test_a_sinking_plate_turns_broadside():
    inertia = np.diag([1.0, 2.0, 3.0])
    solid = Solid(30.0, np.zeros(3), inertia, 0.02, np.zeros(3))  # CB = CM: weight itself turns nothing
    rig = rig_of([Part("plate", "plate", solid)], Water(1025.0, 9.81, 2e5))
    model = model_of(rig, roll_held=False, heaves=True, wing_volume=None, with_drag=False)
    up = direction(0.0, 0.3)
    rate = right_hand_side(model, start_of(model, up, np.zeros(3), [0.0, -1.0]))
    # thinnest along z (largest inertia): up must swing towards z, that is, roll must shrink: d(roll)/dt = omega_x
    expected = (model.translation[1, 1] - model.translation[2, 2]) * up[1] * up[2] / model.rotation[0, 0]
    assert rate[3] == pytest.approx(expected, rel=1e-9)
    assert rate[3] < 0.0


@pytest.mark.parametrize("heaves", [False, True])
@pytest.mark.parametrize("roll_held", [False, True])
@pytest.mark.parametrize("frozen", [False, True])
def test_jacobian_against_differences(make_random_rig, roll_held, heaves, frozen):
    rig = make_random_rig(3)
    soft = soft_rig(rig)
    up = direction(0.4, 0.0 if roll_held else 0.3)
    volume = float(field(soft, up[None]).wing_gas[0]) if frozen else None
    model = model_of(rig, roll_held=roll_held, heaves=heaves, wing_volume=volume)
    y = starting_state(model, soft, up)
    y[model.spins] = 0.05
    got = jacobian(model, y)
    expected = np.zeros_like(got)
    for i in range(len(y)):
        step = (
            1e-2 if i in (model.suit_gas.start, model.wing_gas.start) else 1e-6
        )  # pressures in Pa, the rest of order 1
        ahead, behind = y.copy(), y.copy()
        ahead[i] += step
        behind[i] -= step
        expected[:, i] = (right_hand_side(model, ahead) - right_hand_side(model, behind)) / (2.0 * step)
    # at rest the gas columns are exact; differencing loses digits, relative to each row's largest entry
    scale = np.abs(expected).max(axis=1)[:, None]
    assert (np.abs(got - expected) <= 2e-4 * scale + 1e-12).all()


@pytest.mark.parametrize(("seed", "heaves"), [(0, False), (1, False), (2, False), (3, False), (2, True)])
def test_energy_never_rises_with_the_wing_left_alone(make_random_rig, seed, heaves):
    rig = make_random_rig(seed)
    if heaves:  # a wing that follows Boyle's law with depth is moved by a volume, not by a force
        rig = rig_of(rig.parts, rig.water, suit=rig.suit)
    soft = soft_rig(rig)
    up = direction(0.0, 0.02)
    volume = None if heaves else float(field(soft, up[None]).wing_gas[0])
    model = model_of(rig, roll_held=False, heaves=heaves, wing_volume=volume)
    start = starting_state(model, soft, up)
    course = follow(model, start, Limits(time=40.0, tolerance=1e-9, frame=0.05, drift=5.0))
    energies = np.array([energy(model, y) for y in course.states])
    assert len(energies) > 30
    fall = energies[0] - energies.min()
    assert fall > 0.1
    # the solver's tolerance of 1e-9 on momenta and pressures, over some thousand steps
    assert np.diff(energies).max() <= 1e-6 * fall


def test_energy_gradient_is_the_force_and_the_moment(make_random_rig):
    rig = make_random_rig(1)
    soft = soft_rig(rig)
    up = direction(0.3, 0.4)
    model = model_of(rig, roll_held=False, heaves=True, wing_volume=None)
    y = starting_state(model, soft, up)
    y[6] = 0.7  # risen, gas frozen as it was
    now = instant(model, y)
    step = 1e-4
    for i in range(3):
        ahead, behind = y.copy(), y.copy()
        turn = np.cross(up, np.eye(3)[i]) * step
        ahead[:3], behind[:3] = up + turn, up - turn
        slope = (energy(model, ahead) - energy(model, behind)) / (2.0 * step)
        # turning about axis i: dE = - torque . dtheta; E is some 1e3 J, differenced to 1e-9 J
        assert -slope == pytest.approx(np.cross(up, now.d)[i], abs=1e-5)
    ahead, behind = y.copy(), y.copy()
    ahead[6] += step
    behind[6] -= step
    assert -(energy(model, ahead) - energy(model, behind)) / (2.0 * step) == pytest.approx(now.lift, abs=1e-5)


def test_parts_without_inertia_count_as_balls():
    ball = point_mass(60.0, [0.0, 0.0, 0.0], volume=0.06)
    rig = rig_of([Part("ball", "body", ball)], Water(1025.0, 9.81, 2e5))
    radius = np.cbrt(0.06 / (4.0 / 3.0 * np.pi))
    assert rigid_inertia(rig) == pytest.approx(0.4 * 60.0 * radius**2 * np.eye(3), rel=1e-12)
    pair = [Part("a", "lead", point_mass(1.0, [-1.0, 0.0, 0.0])), Part("b", "lead", point_mass(1.0, [1.0, 0.0, 0.0]))]
    about = rigid_inertia(rig_of(pair, Water(1025.0, 9.81, 2e5)))
    assert about == pytest.approx(np.diag([2.0 * 0.02**2, 2.0, 2.0]), rel=1e-12)
