"""The search for every equilibrium finds the same whether numpy or compiled code works the field out."""

from dataclasses import replace

import numpy as np

from sim.batch.equilibria import compiled_equilibria
from sim.batch.rig_arrays import stacked
from sim.rig import rig_of
from sim.statics.equilibria import equilibria
from sim.statics.field import soft_rig


def agree(rigs):
    for rig in rigs:
        soft = soft_rig(rig)
        one, other = equilibria(soft), compiled_equilibria(soft)
        assert (other.complete, other.indifferent) == (one.complete, one.indifferent)
        assert [e.kind for e in other.found] == [e.kind for e in one.found]
        for a, b in zip(one.found, other.found, strict=True):
            # of a ring of rests any one stands for all
            turned = (np.hypot(*a.up[1:]), np.hypot(*b.up[1:])) if a.degenerate else (a.up, b.up)
            np.testing.assert_allclose(*turned, rtol=0.0, atol=1e-9)
            np.testing.assert_allclose(b.stiffness, a.stiffness, rtol=1e-8, atol=1e-8 * np.abs(a.stiffness).max())
            np.testing.assert_allclose(b.energy, a.energy, rtol=0.0, atol=1e-9)
            np.testing.assert_allclose(b.wing_gas, a.wing_gas, rtol=1e-9, atol=1e-15)


def test_rigs_of_every_kind(every_kind):
    agree(every_kind)


def test_rigs_wider_than_life(drawn):
    rigs = drawn.wild_rigs(40, seed=5)
    agree(drawn.single(rigs, i) for i in range(len(rigs)))


def test_arrays_at_hand_serve_as_well(demo_rigs):
    rig = demo_rigs[0]
    soft = soft_rig(rig)
    anew, at_hand = compiled_equilibria(soft), compiled_equilibria(soft, stacked([rig]))
    np.testing.assert_array_equal([e.up for e in anew.found], [e.up for e in at_hand.found])


def test_nothing_turns_a_rig_whose_cb_is_its_cm(make_rig):
    rig = make_rig(0)
    part = rig.parts[0]
    still = replace(part, solid=replace(part.solid, cb=part.solid.cm))
    assert compiled_equilibria(soft_rig(rig_of([still], rig.water))).indifferent
