"""Draws as arrays are the draws one by one, for both laws of the suit, and whatever hangs on them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from meshes.solid import point_mass
from sim.answers.calibrate.drawn_rigs import drawn_from
from sim.answers.calibrate.time_law import BY_HAND
from sim.answers.check_bench.readings import numbers_of_part, with_added
from sim.batch.flat import flat_answers
from sim.rig import Part, rig_of
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.uncertainty.rig_numbers import numbers_of
from sim.uncertainty.variates import UncertainRig, Variate


@pytest.fixture(params=["garment", "logistic"])
def unknown(request, make_rig):
    rig = make_rig(4, law=request.param, gas_density=2.5)
    base, rng = numbers_of(rig), np.random.default_rng(8)
    variates = [Variate(f"v{i}", "", "normal", 0.02 * rng.standard_normal(len(base)) * base) for i in range(5)]
    variates.append(Variate("stiffness", "", "normal", 0.0 * base, log_stiffness=0.4))
    variates.append(Variate("gas", "", "uniform", 0.0 * base, gas_share=0.3))
    return UncertainRig(rig, base, tuple(variates))


def test_arrays_of_draws_are_the_draws(unknown):
    z = np.random.default_rng(2).standard_normal((40, 7))
    z[0] = 0.0
    z[1, -1] = 9.0  # more gas than there is room for
    flat = flat_answers(drawn_from(unknown).rigs(z), threads=1)
    alone = [flat_answer(soft_rig(unknown.drawn(row))) for row in z]
    for name in ("pitch_moment", "pitch_stiffness", "net_buoyancy", "wing_gas", "suit_gas"):
        # two solvers that each stop at rounding
        np.testing.assert_allclose(getattr(flat, name), [getattr(a, name) for a in alone], rtol=1e-7, atol=1e-8)


def test_what_hangs_on_a_rig_is_a_part_of_it(unknown):
    rig = unknown.like
    lead = Part("lead", "lead", point_mass(2.0, [-0.9, 0.0, 0.1], 2.0 / 11340.0))
    added = numbers_of_part(lead)
    with_it = rig_of([*rig.parts, lead], rig.water, suit=rig.suit, wing=rig.wing)
    flat = flat_answers(drawn_from(unknown).rigs(np.zeros((1, 7)), added=added), threads=1)
    true = flat_answer(soft_rig(with_it))
    assert flat.pitch_moment[0] == pytest.approx(true.pitch_moment, rel=1e-7)
    assert flat_answer(soft_rig(with_added(rig, added))).pitch_moment == pytest.approx(true.pitch_moment, rel=1e-9)


def test_an_empty_wing_leaves_the_diver_heavier_by_its_gas(unknown):
    drawn = drawn_from(unknown)
    neutral, empty = (flat_answers(drawn.rigs(np.zeros((1, 7)), wing_empty=e), threads=1) for e in (False, True))
    gas = neutral.wing_gas[0] * (unknown.like.water.density - unknown.like.wing.gas_density)
    assert neutral.net_buoyancy[0] - empty.net_buoyancy[0] == pytest.approx(gas, rel=1e-9)


def test_a_constant_moment_turns_by_the_square_root_law():
    """t = sqrt(2 I angle / M): four times the moment takes half the time; and back from the time to the moment."""
    time = BY_HAND.time(np.array([3.0, 12.0, 200.0]))
    assert time[0] / time[1] == pytest.approx(2.0)
    assert time[0] == pytest.approx(np.sqrt(2.0 * 12.0 * np.radians(30.0) / 3.0))
    for t, moment in zip(time, (3.0, 12.0, 200.0), strict=True):
        assert BY_HAND.moment(float(t)) == pytest.approx(moment, rel=0.01)  # a table of 2000 points over 4 decades
    assert replace(BY_HAND).time(np.array([0.0]))[0] == pytest.approx(BY_HAND.time(np.array([0.05]))[0])
