"""Arrays of rigs get the answers of one rig at a time, to 1e-9."""

import numpy as np
import pytest

from sim.batch.field import fields
from sim.batch.flat import flat_answers
from sim.batch.held import held_pitches
from sim.batch.rest import AT_REST, rests_from_flat
from sim.batch.rig_arrays import stacked
from sim.batch.stable import stable_attitudes
from sim.statics import held as one_held
from sim.statics.equilibria import equilibria
from sim.statics.field import field, soft_rig
from sim.statics.flat import flat_answer
from sim.uncertainty.turning import rest_pitch

RELATIVE = 1e-9
# below this a number is what is left of larger ones: 1e-9 of the 1 N m that a single diver can feel, 1e-9 l, 1e-9 kg
NOTHING = {"rtol": RELATIVE, "atol": 1e-9}
GAS = {"rtol": RELATIVE, "atol": 1e-12}


@pytest.fixture
def directions_of(every_kind):
    v = np.random.default_rng(3).normal(size=(len(every_kind), 3))
    return v / np.linalg.norm(v, axis=1)[:, None]


def test_moment_jacobian_and_gas(every_kind, directions_of):
    many = fields(stacked(every_kind), directions_of)
    for i, rig in enumerate(every_kind):
        one = field(soft_rig(rig), directions_of[i][None])
        largest = np.abs(one.bend[0]).max()
        np.testing.assert_allclose(many.d[i], one.d[0], **NOTHING)
        np.testing.assert_allclose(many.bend[i], one.bend[0], rtol=RELATIVE, atol=RELATIVE * largest + 1e-12)
        np.testing.assert_allclose(many.refill[i], one.refill[0], rtol=RELATIVE, atol=RELATIVE * largest + 1e-12)
        np.testing.assert_allclose(many.suit_gas[i], one.suit_gas[0], **GAS)
        np.testing.assert_allclose(many.wing_gas[i], one.wing_gas[0], **GAS)
        np.testing.assert_allclose(many.net_buoyancy[i], one.net_buoyancy[0], **NOTHING)


def test_flat(every_kind):
    many = flat_answers(stacked(every_kind))
    for i, rig in enumerate(every_kind):
        one = flat_answer(soft_rig(rig))
        for name in ("pitch_moment", "roll_moment", "pitch_stiffness", "roll_stiffness", "pitch_gas", "roll_gas"):
            np.testing.assert_allclose(getattr(many, name)[i], getattr(one, name), **NOTHING, err_msg=name)
        np.testing.assert_allclose(many.suit_gas[i], one.suit_gas, **GAS)
        np.testing.assert_allclose(many.wing_gas[i], one.wing_gas, **GAS)


def test_held_pitches(every_kind):
    many = held_pitches(stacked(every_kind))
    for i, rig in enumerate(every_kind):
        soft = soft_rig(rig)
        one = one_held.held_pitches(soft)
        assert many.count[i] == len(one)
        assert np.isnan(many.pitch[i, len(one) :]).all()
        np.testing.assert_allclose(many.pitch[i, : len(one)], [h.pitch for h in one], rtol=RELATIVE, atol=1e-10)
        # at the same pitch: where stiffness changes fast, the last 1e-11 rad of a root show in its ninth digit
        there = field(soft, one_held.up_of_pitch(many.pitch[i, : len(one)]))
        np.testing.assert_allclose(many.stiffness[i, : len(one)], one_held.pitch_stiffness(there), **NOTHING)
        end = rest_pitch(soft, flat_answer(soft).pitch_moment)
        # that one looks on a grid of its own and stops at 1e-7 rad
        assert end == many.from_flat[i] or abs(end - many.from_flat[i]) < 2e-7


def test_rest_is_one_of_the_stable_equilibria(every_kind):
    many = rests_from_flat(stacked(every_kind))
    assert (many.status == AT_REST).all()
    for i, rig in enumerate(every_kind):
        stable = [e for e in equilibria(soft_rig(rig)).found if e.kind == "stable"]
        one = min(stable, key=lambda e: np.linalg.norm(e.up - many.up[i]))
        np.testing.assert_allclose(many.up[i], one.up, atol=RELATIVE)
        np.testing.assert_allclose(many.stiffness[i], one.stiffness, rtol=RELATIVE, atol=1e-9 * one.stiffness[1])
        np.testing.assert_allclose(many.wing_gas[i], one.wing_gas, **GAS)
        np.testing.assert_allclose(many.net_buoyancy[i], one.net_buoyancy, **NOTHING)


def test_all_stable_attitudes(every_kind):
    many = stable_attitudes(stacked(every_kind))
    for i, rig in enumerate(every_kind):
        stable = [e for e in equilibria(soft_rig(rig)).found if e.kind == "stable"]
        assert many.count[i] == len(stable)
        for e in stable:
            j = int(np.nanargmin(np.linalg.norm(many.up[i] - e.up, axis=1)))
            np.testing.assert_allclose(many.up[i, j], e.up, atol=RELATIVE)
            np.testing.assert_allclose(many.stiffness[i, j], e.stiffness, rtol=RELATIVE, atol=1e-9 * e.stiffness[1])
            np.testing.assert_allclose(many.wing_gas[i, j], e.wing_gas, **GAS)


def test_turned_over_when_poised_on_a_saddle(demo_rigs):
    """A symmetric diver let go exactly flat stays in the plane of symmetry unless touched."""
    arrays = stacked(demo_rigs)
    rests = rests_from_flat(arrays)
    assert (rests.status == AT_REST).all()
    assert (rests.stiffness[:, 0] > 0.0).all()
    again = fields(arrays, rests.up)
    assert np.abs(np.cross(rests.up, again.d)).max() < 1e-8
