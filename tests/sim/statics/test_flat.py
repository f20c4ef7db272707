"""Flat and motionless: moment, stiffness, budget and barriers against sums done by hand."""

from dataclasses import replace

import numpy as np
import pytest

from meshes.solid import point_mass
from sim.rig import Part, Water, rig_of
from sim.statics.barriers import barriers
from sim.statics.energy import energy
from sim.statics.equilibria import equilibria
from sim.statics.field import field, soft_rig
from sim.statics.flat import flat_answer, moment_budget
from sim.statics.held import held_pitches, pitch_moment, up_of_pitch


@pytest.mark.parametrize("gas_density", [0.0, 3.0])
@pytest.mark.parametrize("seed", range(4))
def test_budget_adds_up(make_rig, seed, gas_density):
    soft = soft_rig(make_rig(seed, gas_density=gas_density))
    answer = flat_answer(soft)
    items = moment_budget(soft, answer)
    assert sum(i.mass for i in items) == pytest.approx(answer.mass, rel=1e-12)
    assert sum(i.volume for i in items) == pytest.approx(answer.volume, rel=1e-12)
    # sums of terms of some 100 N m, gas solved to 1e-13 of 20 l at 1e4 N/m^3
    assert sum(i.moment for i in items) == pytest.approx(answer.pitch_moment, abs=1e-9)
    for i in items:
        by_hand = -soft.rig.water.gravity * i.apparent_weight * i.arm + i.couple
        assert i.moment == pytest.approx(by_hand, abs=1e-12)


def test_lead_moved_to_the_feet_turns_head_up(make_rig):
    """1 kg of lead moved 0.5 m footward: 9.81 * (1 - 1025/11340) * 0.5 = 4.461 N m more head-up."""
    rig = make_rig(0)
    volume = 1.0 / 11340.0

    def moment(at):
        lead = Part("weight", "lead", point_mass(1.0, at, volume))
        return flat_answer(soft_rig(rig_of([*rig.parts, lead], rig.water, wing=None, held=rig.held))).pitch_moment

    change = moment([-0.2, 0.0, 0.0]) - moment([0.3, 0.0, 0.0])
    assert change == pytest.approx(9.81 * (1.0 - 1025.0 * volume) * 0.5, rel=1e-12)


def test_left_is_up_when_the_left_side_is_lighter(make_rig):
    rig = make_rig(0)
    lead = Part("weight", "lead", point_mass(1.0, rig.held + np.array([0.0, -0.3, 0.0])))
    base = rig_of(rig.parts, rig.water, held=rig.held)
    more = rig_of([*rig.parts, lead], rig.water, held=rig.held)
    change = flat_answer(soft_rig(more)).roll_moment - flat_answer(soft_rig(base)).roll_moment
    assert change == pytest.approx(9.81 * 0.3, rel=1e-12)


def test_stiffness_is_the_curvature_of_the_energy(make_rig):
    rig = make_rig(3, wing_gas=9e-3)
    soft = soft_rig(rig)
    answer = flat_answer(soft)
    step = 1e-3
    for of, got in (("pitch", answer.pitch_stiffness), ("roll", answer.roll_stiffness)):
        s, c = np.sin(step), np.cos(step)
        turns = [[s, 0, c], [0, 0, 1], [-s, 0, c]] if of == "pitch" else [[0, s, c], [0, 0, 1], [0, -s, c]]
        e = energy(soft, field(soft, np.array(turns, dtype=float)))
        # fourth derivative times step^2/12: 1e-4 relative at a softness of 150 Pa; 1e-14 J / 1e-6 is nothing
        assert (e[0] - 2.0 * e[1] + e[2]) / step**2 == pytest.approx(got, rel=1e-3, abs=1e-3)


@pytest.mark.parametrize("seed", range(6))
def test_held_pitches_are_where_the_moment_changes_sign(make_rig, seed):
    soft = soft_rig(make_rig(seed))
    found = held_pitches(soft)
    for h in found:
        assert abs(pitch_moment(field(soft, up_of_pitch(np.array([h.pitch]))))[0]) < 1e-8
        aside = pitch_moment(field(soft, up_of_pitch(np.array([h.pitch - 1e-4, h.pitch + 1e-4]))))
        assert (aside[0] > 0.0 > aside[1]) == h.stable
    dense = np.linspace(-np.pi / 2, np.pi / 2, 4001)
    moment = pitch_moment(field(soft, up_of_pitch(dense)))
    assert (np.diff(np.sign(moment)) != 0).sum() == len(found)


def test_gas_free_diver_upright_is_listed_at_the_very_end_of_the_range():
    """CB straight headward of CM: rests at exactly +90 (stable) and -90 degrees (unstable)."""
    parts = [
        Part("weight", "body", point_mass(80.0, [0.0, 0.0, 0.0])),
        Part("float", "body", point_mass(0.0, [0.02, 0.0, 0.0], 80.0 / 1000.0)),
    ]
    found = held_pitches(soft_rig(rig_of(parts, Water(1000.0, 9.81, 2e5))))
    assert [(round(np.degrees(h.pitch), 9), h.stable) for h in found] == [(-90.0, False), (90.0, True)]


@pytest.mark.parametrize("seed", range(4))
def test_barrier_is_the_pass_between_two_rests(make_rig, seed):
    """Along any path from one rest to another the energy climbs at least to the barrier."""
    soft = soft_rig(make_rig(seed, wing_gas=10e-3))
    found = equilibria(soft).found
    heights = barriers(soft, found)
    rests = [(e, h) for e, h in zip(found, heights, strict=True) if e.kind == "stable"]
    assert all((h is None) == (e.kind != "stable") for e, h in zip(found, heights, strict=True))
    for e, height in rests:
        for other, _ in rests:
            if other is e:
                continue
            way = np.linspace(e.up, other.up, 201) + 1e-9
            level = energy(soft, field(soft, way / np.linalg.norm(way, axis=1)[:, None]))
            assert level.max() - level[0] >= height - 1e-9
            assert 0.0 < height < np.inf


def test_rig_with_one_rest_cannot_be_left(make_rig):
    rig = replace(make_rig(0), suit=None, wing=None)
    soft = soft_rig(rig)
    assert barriers(soft, equilibria(soft).found) == (float("inf"), None)
