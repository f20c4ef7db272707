"""Rests from flat: verified, where slow physics ends, and none unconverged among rigs wider than life."""

import numpy as np
import pytest

from sim.batch.field import fields
from sim.batch.rest import AT_REST, INDIFFERENT_RIG, RING, rests_from_flat
from sim.batch.rig_arrays import cell_sets, rig_arrays, suit_arrays
from sim.statics.equilibria import equilibria
from sim.statics.field import soft_rig


def test_wild_rigs_all_come_to_rest(drawn):
    rigs = drawn.wild_rigs(20_000, seed=1)
    rests = rests_from_flat(rigs)
    assert (rests.status == AT_REST).all()
    assert (rests.stiffness[:, 0] > 0.0).all()
    at_rest = fields(rigs, rests.up)
    # 1e-10 rad from rest at up to 1000 N m/rad, and gas solved to 1e-13 of 60 l at 1e4 N/m^3
    assert np.linalg.norm(np.cross(rests.up, at_rest.d), axis=1).max() < 1e-6
    np.testing.assert_allclose(np.linalg.norm(rests.up, axis=1), 1.0, rtol=1e-14)


def test_wild_rests_are_equilibria_of_the_rig_alone(drawn):
    rigs = drawn.wild_rigs(40, seed=3)
    rests = rests_from_flat(rigs)
    for i in range(len(rigs)):
        found = equilibria(soft_rig(drawn.single(rigs, i))).found
        near = min((e for e in found if e.kind == "stable"), key=lambda e: np.linalg.norm(e.up - rests.up[i]))
        np.testing.assert_allclose(rests.up[i], near.up, atol=1e-9)
        np.testing.assert_allclose(rests.stiffness[i], near.stiffness, rtol=1e-9, atol=1e-9 * near.stiffness[1])


@pytest.mark.parametrize("law", ["logistic", "garment"])
def test_rest_is_where_creeping_ends(drawn, law):
    """Very slowly turning divers (the moment against thick honey) end where the batch says, hardly ever elsewhere."""
    rigs = drawn.usual_rigs(200, seed=11, cells="own", law=law)
    up = np.tile([0.0, 0.0, 1.0], (len(rigs), 1))
    for _ in range(3000):
        d = fields(rigs, up, threads=1).d
        moment = d - (d * up).sum(axis=1)[:, None] * up
        size = np.linalg.norm(moment, axis=1)
        up -= moment / np.maximum(size / 0.01, 400.0)[:, None]  # at most 0.01 rad at a time
        up /= np.linalg.norm(up, axis=1)[:, None]
    apart = np.linalg.norm(up - rests_from_flat(rigs).up, axis=1) > 1e-2
    assert apart.sum() <= 2  # one in some hundreds sits so near a ridge that a longer step falls off the other side


def test_pendulum_of_two_weights():
    """Without gas: at rest CB straight above CM, stiffness m g times their distance in every direction."""
    rng = np.random.default_rng(0)
    off = rng.normal(0.0, 0.02, (50, 3))
    rigs = rig_arrays(np.full(50, 110.0), np.zeros(3), np.full(50, 0.107), off, density=1025.0, gravity=9.81)
    rests = rests_from_flat(rigs)
    length = np.linalg.norm(off, axis=1)
    np.testing.assert_allclose(rests.up, off / length[:, None], atol=1e-12)
    expected = 9.81 * 1025.0 * 0.107 * length  # about the CM the water's lift alone turns it
    np.testing.assert_allclose(rests.stiffness, np.stack([expected, expected], axis=1), rtol=1e-12)


def test_nothing_turns_a_rig_whose_cb_is_its_cm():
    rests = rests_from_flat(rig_arrays([100.0], np.zeros(3), [0.1], np.zeros(3)))
    assert rests.status[0] == INDIFFERENT_RIG
    np.testing.assert_array_equal(rests.up[0], [0.0, 0.0, 1.0])


def test_ring_of_rests_is_called_one():
    """Cells in a ring about the long axis, all else on that axis: it rests at one pitch, and at any roll."""
    angle = np.arange(24) * 2.0 * np.pi / 24
    at = np.stack([0.0 * angle, 0.2 * np.cos(angle), 0.2 * np.sin(angle)], axis=1)
    sets = cell_sets(at[None], np.zeros((1, 24)), np.full((1, 24), 1e-3), "logistic")
    # at 2 kPa the ring's 24 corners cannot be told; at 600 Pa they can
    suit = suit_arrays(sets, which=np.zeros(5, dtype=int), scale=2e3, gas=0.006, pressure=2.5e5)
    rigs = rig_arrays(
        np.full(5, 100.0), [0.001, 0.0, 0.0], 0.1, [0.0012, 0.0, 0.0], density=1e3, held=np.zeros(3), suit=suit
    )
    roll = np.array([0.1, 0.5, 1.5, 2.5, -2.0])
    rests = rests_from_flat(rigs, start=np.stack([0.05 + 0.0 * roll, np.sin(roll), np.cos(roll)], axis=1))
    np.testing.assert_array_equal(rests.status, RING)
    np.testing.assert_allclose(rests.roll, roll, atol=1e-6)
    np.testing.assert_allclose(rests.pitch, rests.pitch[0], atol=1e-9)
    assert np.abs(rests.stiffness[:, 0]).max() < 1e-7 * rests.stiffness[:, 1].min()


def test_start_must_be_a_direction():
    rigs = rig_arrays([100.0], np.zeros(3), [0.1], [0.01, 0.0, 0.0])
    for start in ([0.0, 0.0, 0.0], [np.nan, 0.0, 1.0]):
        with pytest.raises(ValueError, match="direction"):
            rests_from_flat(rigs, start=start)
