"""Arrays of rigs: same answers however they are made, blocked or shared; impossible numbers are refused."""

from dataclasses import replace

import numpy as np
import pytest

from sim.batch.blocks import ROWS
from sim.batch.field import _fields, fields
from sim.batch.flat import _flats, flat_answers
from sim.batch.held import _helds, held_pitches
from sim.batch.rest import _rests, rests_from_flat
from sim.batch.rig_arrays import cell_sets, rig_arrays, stacked, suit_arrays, wing_arrays


def test_same_bits_whatever_the_block_threads_and_order(drawn):
    rigs = drawn.wild_rigs(2 * ROWS + 77, seed=2)
    whole = rests_from_flat(rigs, threads=2)
    alone = rests_from_flat(rigs, threads=1)
    pieces = [rests_from_flat(rigs.block(slice(a, a + 1000))) for a in range(0, len(rigs), 1000)]
    backward = rests_from_flat(rigs.block(slice(None, None, -1)))
    for name in ("up", "stiffness", "suit_gas", "wing_gas", "moment", "status", "turns"):
        expected = getattr(whole, name)
        np.testing.assert_array_equal(getattr(alone, name), expected)
        np.testing.assert_array_equal(np.concatenate([getattr(p, name) for p in pieces]), expected)
        np.testing.assert_array_equal(getattr(backward, name)[::-1], expected)


def test_one_compilation_serves_one_rig_and_many_however_they_are_made(make_rig):
    """Two compilations of a loop may round differently, and a block of one row must not differ from one of many."""
    rigs = [make_rig(i) for i in range(4)]
    held = [replace(r, held=np.zeros(3)) for r in rigs]
    loops = (_flats, _helds, _rests, _fields)
    counts = []
    for some in (rigs, rigs[:1], held, held[:1]):
        arrays = stacked(some)
        for one in (
            arrays,
            arrays.block(slice(None, None, -1)),
            replace(arrays, held=np.broadcast_to(0.0, (len(some), 3))),
        ):
            flat_answers(one), held_pitches(one), rests_from_flat(one), fields(one, [0.0, 0.0, 1.0])
            rests_from_flat(one, np.tile([0.0, 0.0, 1.0], (len(some), 1)))
            counts.append([len(loop.signatures) for loop in loops])
    assert counts[0] == counts[-1]


def test_shared_cells_are_stored_once_and_change_nothing(make_rig):
    rig = make_rig(3)
    heavier = [replace(rig, whole=replace(rig.whole, mass=rig.whole.mass + extra)) for extra in (0.0, 1.0, 2.0)]
    shared = stacked(heavier)
    assert len(shared.suit.sets.cells) == len(shared.wing.sets.cells) == 1
    own = stacked([replace(r, suit=replace(r.suit, cells=r.suit.cells.copy())) for r in heavier])
    assert len(own.suit.sets.cells) == 3
    np.testing.assert_array_equal(rests_from_flat(shared).up, rests_from_flat(own).up)


def test_padding_cells_hold_nothing(make_rig):
    """30 cells are padded to 32; with garment cells beside them in one table as well."""
    rigs = [make_rig(i, law=law) for i in range(2) for law in ("logistic", "garment")]
    together = held_pitches(stacked(rigs))
    for i, rig in enumerate(rigs):
        alone = held_pitches(stacked([rig]))
        np.testing.assert_array_equal(together.pitch[i, : alone.count[0]], alone.pitch[0, : alone.count[0]])


def test_turned_by_symmetry(make_rig, mirror_rig):
    rigs = [make_rig(i, law="garment") for i in range(12)]
    flip = np.array([1.0, -1.0, 1.0])
    np.testing.assert_allclose(
        rests_from_flat(stacked([mirror_rig(r) for r in rigs])).up,
        rests_from_flat(stacked(rigs)).up * flip,
        atol=1e-9,
    )


def test_no_rigs_no_answers(drawn):
    assert len(rests_from_flat(drawn.usual_rigs(5, seed=0, cells="own").block(slice(0, 0))).up) == 0


SETS = cell_sets(np.zeros((1, 2, 3)), np.zeros((1, 2)), np.full((1, 2), 1e-3), "logistic")


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: cell_sets(np.zeros((1, 2, 3)), [[0.0, 2e-3]], [[1e-3, 1e-3]], "logistic"), "least <= most"),
        (lambda: cell_sets(np.zeros((1, 2, 3)), [[0.0, 2e-3]], [[1e-3, 1e-3]], "garment"), "loft > 0"),
        (lambda: cell_sets(np.full((1, 1, 3), np.nan), [[0.0]], [[1e-3]], "logistic"), "finite position"),
        (lambda: cell_sets(np.zeros((2, 3)), [[0.0]], [[1e-3]], "logistic"), "shapes"),
        (lambda: cell_sets(np.zeros((1, 1, 3)), [[0.0]], [[1e-3]], "linear"), "law must be one of"),
        (lambda: suit_arrays(SETS, which=[0], scale=np.nan, gas=1e-3, pressure=2e5), "scale must be > 0"),
        (lambda: suit_arrays(SETS, which=[0], scale=300.0, gas=-1e-3, pressure=2e5), "gas must be >= 0"),
        (lambda: suit_arrays(SETS, which=[0], scale=300.0, gas=1e-3, pressure=0.0), "pressure must be > 0"),
        (lambda: suit_arrays(SETS, which=[1], scale=300.0, gas=1e-3, pressure=2e5), "which must be"),
        (lambda: wing_arrays(SETS, which=[0], scale=300.0, gas_density=2e3), "weight of water less gas"),
        (lambda: rig_arrays([np.nan], np.zeros(3), [0.1], np.zeros(3)), "finite"),
        (lambda: rig_arrays([1.0, 2.0], np.zeros(3), 0.1, np.zeros(3), suit=_one_suit()), "those of 2 rigs"),
    ],
)
def test_impossible_numbers_are_refused(make, says):
    with pytest.raises(ValueError, match=says):
        make()


def _one_suit():
    return suit_arrays(SETS, which=[0], scale=300.0, gas=1e-3, pressure=2e5)
