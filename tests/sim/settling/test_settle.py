"""Where rigs come to rest, against the statics; symmetry; every way it can end."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from meshes.solid import Solid, mirrored, point_mass
from sim.fill_laws import GarmentLaw
from sim.rig import Part, Water, rig_of
from sim.settling.course import Limits
from sim.settling.motion import model_of, right_hand_side
from sim.settling.settle import settle
from sim.settling.words import outcome_words
from sim.statics.equilibria import equilibria
from sim.statics.field import field, soft_rig
from sim.statics.held import held_pitches, pitch_moment, pitch_stiffness
from sim.statics.sphere import direction

NUDGE = np.radians(0.5)  # the touch given to a rig that is poised on a saddle

AGREED = np.radians(0.05)  # the motion is stopped at 0.01 degree by its own reckoning


def angle(a, b):
    return 2.0 * np.arcsin(min(0.5 * np.linalg.norm(a - b), 1.0))


@pytest.mark.parametrize(("seed", "trimmed"), [*((s, False) for s in range(5)), *((s, True) for s in range(10))])
def test_rest_with_roll_free_is_a_minimum_of_the_statics(make_random_rig, seed, trimmed):
    rig = make_random_rig(seed, trimmed)
    found = equilibria(soft_rig(rig))
    settled = settle(rig, roll="free")
    assert settled.reached
    assert min(angle(e.up, settled.up) for e in found.found if e.kind == "stable") < AGREED


@pytest.mark.parametrize(("seed", "trimmed"), [*((s, False) for s in range(5)), *((s, True) for s in range(10))])
def test_rest_with_roll_held_is_a_stable_pitch_of_the_statics(make_random_rig, seed, trimmed):
    rig = make_random_rig(seed, trimmed)
    soft = soft_rig(rig)
    settled = settle(rig)
    values = field(soft, settled.up[None])
    stiffness = float(pitch_stiffness(values)[0])
    assert stiffness > 0.0
    assert abs(float(pitch_moment(values)[0])) < AGREED * stiffness
    if settled.reached:
        assert min(abs(h.pitch - settled.pitch) for h in held_pitches(soft) if h.stable) < AGREED
    else:
        assert settled.outcome == "past the vertical"
        assert abs(settled.pitch) > 0.5 * np.pi


def test_what_happened_is_kept_five_times_a_second_and_at_the_end(make_random_rig):
    path = settle(make_random_rig(0, False), limits=Limits(time=3.3)).path
    assert path.time == pytest.approx([*np.arange(17) * 0.2, 3.3], abs=1e-9)


@pytest.mark.parametrize("seed", [1, 3])
def test_what_happened_is_shown_for_five_seconds_after_it_has_settled(make_random_rig, seed):
    """Or a tenth of the time that it took, if that is more; to the next of the times kept."""
    settled = settle(make_random_rig(seed, True), roll="free")
    assert settled.reached
    after = max(settled.time + 5.0, 1.1 * settled.time)
    assert after - 0.2 <= settled.path.time[-1] <= after + 1e-9


@pytest.mark.parametrize("seed", [0, 2, 5])
def test_wing_left_alone_rests_where_its_volume_says(make_random_rig, seed):
    rig = make_random_rig(seed, True)
    start = float(field(soft_rig(rig), np.array([[0.0, 0.0, 1.0]])).wing_gas[0])
    settled = settle(rig, roll="free", wing="left alone")
    assert settled.reached
    # the solver keeps pressures to 1e-5, so a wing of litres keeps its gas to some hundredths of a millilitre
    assert settled.path.wing.sum(axis=1) == pytest.approx(np.full(len(settled.path.time), start), abs=5e-8)
    frozen = rig_of(rig.parts, rig.water, suit=rig.suit, wing=replace(rig.wing, gas=start))
    rests = equilibria(soft_rig(frozen)).found
    assert min(angle(e.up, settled.up) for e in rests if e.kind == "stable") < AGREED
    # a wing with a volume of its own is left alone under either rule
    again = settle(frozen, roll="free", wing="neutral")
    assert angle(again.up, settled.up) < AGREED


def test_suit_gas_is_conserved_along_the_way(make_random_rig):
    rig = make_random_rig(1, True)
    soft = soft_rig(rig)
    settled = settle(rig, roll="free")
    values = field(soft, settled.up[None])
    # volumes at the end are those of p V = const at rest
    assert settled.suit_gas == pytest.approx(float(values.suit_gas[0]), rel=1e-5)
    assert settled.path.suit[-1] == pytest.approx(values.suit.volume[0], rel=1e-2, abs=1e-6)


def test_a_mirrored_rig_goes_the_mirrored_way(make_random_rig):
    rig = make_random_rig(6, True)
    parts = [replace(p, solid=mirrored(p.solid)) for p in rig.parts]
    flip = np.array([1.0, -1.0, 1.0])
    suit, wing = (replace(p, cells=p.cells * flip) for p in (rig.suit, rig.wing))
    other = rig_of(parts, rig.water, suit=suit, wing=wing)
    limits = Limits(time=30.0, tolerance=1e-8)
    ours = settle(rig, roll="free", roll_start=0.1, limits=limits)
    theirs = settle(other, roll="free", roll_start=-0.1 - 2.0 * NUDGE, limits=limits)
    count = min(len(ours.path.time), len(theirs.path.time))
    assert count > 100
    # same equations with signs turned; steps may differ, so to the solver's tolerance over 30 s
    assert ours.path.up[:count] * flip == pytest.approx(theirs.path.up[:count], abs=1e-5)


def test_a_pendulum_rests_with_cb_over_cm(make_pendulum):
    rig = make_pendulum(above=0.02, offset=-0.01)
    settled = settle(rig)
    assert settled.reached
    assert settled.pitch == pytest.approx(np.arctan2(-0.01, 0.02), abs=np.radians(0.01))
    assert settled.roll == 0.0
    assert 1.0 < settled.time < 600.0
    late = settled.path.time > settled.time + 0.2
    assert np.abs(settled.path.pitch[late] - settled.pitch).max() < np.radians(1.0)


def test_time_to_rest_does_not_hang_on_the_solver(make_random_rig):
    rig = make_random_rig(4, True)
    loose, tight = (settle(rig, roll="free", limits=Limits(tolerance=t)) for t in (1e-5, 1e-7))
    assert loose.time == pytest.approx(tight.time, rel=0.02)
    assert angle(loose.up, tight.up) < AGREED


def test_path_follows_the_equations(make_pendulum):
    rig = make_pendulum(above=0.02, offset=-0.02)
    settled = settle(rig, limits=Limits(time=10.0, tolerance=1e-9))
    model = model_of(rig, roll_held=True, heaves=False, wing_volume=None)
    early = settled.path.time <= 10.0
    answer = solve_ivp(
        lambda _, y: right_hand_side(model, y),
        (0.0, 10.0),
        np.array([0.0, 0.0, 1.0, 0.0]),
        method="DOP853",
        rtol=1e-9,
        atol=1e-10,
        t_eval=settled.path.time[early],
    )
    pitch = np.arctan2(answer.y[0], answer.y[2])
    assert settled.path.pitch[early] == pytest.approx(pitch, abs=1e-6)  # two solvers at 1e-9 over 10 s


def test_top_heavy_diver_turns_over(make_pendulum):
    rig = make_pendulum(above=-0.02)
    settled = settle(rig, roll="free")
    assert settled.reached
    assert settled.turned_over
    # a stick on its end: roll grows as cosh(t / root(I / k)) from half a degree, until gravity slackens near 30
    inertia = model_of(rig, roll_held=False, heaves=False, wing_volume=None).rotation[0, 0]
    scale = np.sqrt(inertia / (120.0 * 9.81 * 0.02))
    expected = scale * np.arccosh(np.sin(np.radians(30.0)) / NUDGE)
    assert settled.time_to_30_roll == pytest.approx(expected, rel=0.1)
    assert "turn over" in outcome_words(settled)


def test_poised_on_its_end_it_is_touched_and_falls(make_pendulum):
    settled = settle(make_pendulum(above=-0.02))
    assert settled.touches == 1
    assert settled.outcome == "past the vertical"
    assert abs(settled.pitch) == pytest.approx(np.pi, abs=np.radians(0.01))
    assert "past the vertical" in outcome_words(settled)


@pytest.mark.parametrize("roll", ["held", "free"])
def test_indifferent(make_pendulum, roll):
    settled = settle(make_pendulum(above=0.0), roll=roll)
    assert not settled.reached
    assert settled.outcome == "indifferent"
    assert settled.time == 0.0
    assert "stay" in outcome_words(settled)


def test_left_to_sink_a_heavy_rig_reaches_its_steady_speed():
    solid = Solid(12.0, np.zeros(3), 0.1 * np.eye(3), 10.0 / 1025.0, np.array([0.0, 0.0, 0.01]))
    rig = rig_of([Part("ball", "body", solid)], Water(1025.0, 9.81, 5e5))
    settled = settle(rig, depth="free", limits=Limits(drift=6.0, frame=0.05))
    assert settled.outcome == "sunk"
    assert not settled.reached
    assert settled.net_buoyancy == pytest.approx(-2.0, rel=1e-9)
    assert "sank" in outcome_words(settled)
    speed = np.gradient(settled.path.height, settled.path.time)
    late = float(speed[-5:].mean())
    # half rho C A v^2 = the 2 kg; C A of the cylinder that stands for a ball, about its own height and width
    area = 2.0 * 9.81 / (0.5 * 1025.0 * late**2)
    radius = np.cbrt(10.0 / 1025.0 / (4.0 / 3.0 * np.pi))
    assert 0.5 < area / (np.pi * radius**2) < 0.9
    assert speed[3] == pytest.approx(-2.0 * 9.81 / (12.0 + 5.0) * settled.path.time[3], rel=0.03)  # added mass 5 kg


def test_a_light_rig_rises():
    solid = Solid(10.0, np.zeros(3), 0.1 * np.eye(3), 11.0 / 1025.0, np.array([0.0, 0.0, 0.01]))
    settled = settle(rig_of([Part("ball", "body", solid)], Water(1025.0, 9.81, 5e5)), depth="free")
    assert settled.outcome == "risen"
    assert settled.path.height[-1] == pytest.approx(2.0, abs=0.5)
    assert "drifted up" in outcome_words(settled)


def test_suit_and_wing_shrink_as_a_diver_left_alone_sinks(make_random_rig):
    rig = make_random_rig(2)
    assert isinstance(rig.suit.law, GarmentLaw)
    heavier = rig_of(
        [*rig.parts, Part("lead", "lead", point_mass(3.0, rig.whole.cm))],
        rig.water,
        suit=rig.suit,
        wing=replace(rig.wing, gas=5e-3),
    )
    settled = settle(heavier, wing="left alone", depth="free", limits=Limits(drift=4.0))
    assert settled.outcome in {"sunk", "risen"}
    depth = rig.water.pressure - 1025.0 * 9.81 * settled.path.height[-1]
    assert settled.path.wing[-1].sum() == pytest.approx(5e-3 * rig.water.pressure / depth, rel=0.02)  # it lags 1 s
    # the suit's gas is squeezed or blown by some kPa of garment besides, of the several 100 kPa of depth
    assert settled.suit_gas == pytest.approx(rig.suit.gas * rig.water.pressure / depth, rel=0.05)


def test_not_neutral_is_stated_and_the_depth_counts_as_held(make_random_rig):
    rig = make_random_rig(0)
    heavy = rig_of([*rig.parts, Part("lead", "lead", point_mass(40.0, rig.whole.cm))], rig.water, wing=rig.wing)
    settled = settle(heavy)
    most = float(rig.wing.law.most.sum())
    assert settled.wing_gas == pytest.approx(most, rel=1e-6)
    lift = 1025.0 * (heavy.whole.volume) + (1025.0 - 3.0) * most - heavy.whole.mass
    assert settled.net_buoyancy == pytest.approx(lift, abs=1e-3)
    assert settled.net_buoyancy < -10.0


def test_out_of_time_and_out_of_steps(make_random_rig):
    rig = make_random_rig(1)
    late = settle(rig, limits=Limits(time=3.0))
    assert (late.reached, late.outcome, late.time) == (False, "time ran out", 3.0)
    tired = settle(rig, limits=Limits(steps=50))
    assert (tired.reached, tired.outcome) == (False, "steps ran out")
    assert "moving" in outcome_words(late)


def test_start_anywhere(make_pendulum):
    rig = make_pendulum(above=0.03)
    settled = settle(rig, roll="free", pitch_start=-0.6, roll_start=1.0)
    assert settled.path.pitch[0] == pytest.approx(-0.6, abs=1e-12)
    assert settled.path.roll[0] == pytest.approx(1.0 + NUDGE, abs=1e-12)
    assert angle(settled.up, direction(0.0, 0.0)) < AGREED
    assert settled.time_to_30_roll == 0.0


@pytest.mark.parametrize(
    "call",
    [
        {"pitch_start": 2.0},
        {"pitch_start": np.nan},
        {"roll": "free", "roll_start": 4.0},
        {"roll": "held", "roll_start": 0.1},
    ],
)
def test_nonsense_is_refused(make_pendulum, call):
    with pytest.raises(ValueError, match=r"start"):
        settle(make_pendulum(), **call)
