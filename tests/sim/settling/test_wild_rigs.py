"""Rest agrees with the statics also for rigs nobody dives.

Far too light or heavy, without inertia, all gas, one cell, CB straight above, headward, sideways.
"""

import numpy as np
import pytest

from meshes.solid import Solid, point_mass
from sim.fill_laws import garment_law, logistic_law
from sim.rig import Part, SuitPocket, Water, WingPocket, rig_of
from sim.settling.extent import extents
from sim.settling.settle import settle
from sim.settling.words import outcome_words
from sim.statics.equilibria import equilibria
from sim.statics.field import field, soft_rig
from sim.statics.held import held_pitches, pitch_moment, up_of_pitch

AGREED = np.radians(0.05)
WATER = Water(1025.0, 9.81, 2.5e5)
KINDS = ("body", "lead", "plate", "cylinder", "fins", "other")
AXES = np.vstack([np.eye(3), -np.eye(3)])


def wild_rig(seed):
    """A rig by chance, any sort; about one in four is a lone part whose CB lies on an axis through its CM."""
    r = np.random.default_rng(seed)
    water = Water(r.uniform(990.0, 1030.0), 9.81, r.uniform(1.05e5, 1.2e6))
    lone = r.random() < 0.25
    parts = [_lone(r, water)] if lone else [_part(r) for _ in range(r.integers(1, 12))]
    worn = r.choice(["none", "suit", "wing", "both"], p=[0.4, 0.2, 0.2, 0.2] if lone else [0.1, 0.2, 0.2, 0.5])
    suit = _suit(r) if worn in ("suit", "both") else None
    wing = _wing(r) if worn in ("wing", "both") else None
    return rig_of(parts, water, suit=suit, wing=wing, held=r.uniform(-0.3, 0.3, 3) if r.random() < 0.2 else None)


def _inertia(r, mass):
    sort = r.integers(3)
    if sort == 0:
        return np.zeros((3, 3))
    if sort == 1:
        return 10.0 ** r.uniform(-9.0, -4.0) * mass * np.eye(3)
    squares = r.uniform(0.03, 0.6, 3) ** 2
    return mass / 5.0 * np.diag(squares.sum() - squares)


def _lone(r, water):
    mass = 10.0 ** r.uniform(-1.0, 2.2)
    off = 10.0 ** r.uniform(-4.0, -0.5) * AXES[r.integers(6)]
    volume = mass / water.density * 10.0 ** r.uniform(-0.1, 0.1)
    return Part("lone", KINDS[r.integers(6)], Solid(mass, np.zeros(3), _inertia(r, mass), volume, off))


def _part(r):
    mass = r.uniform(1.0, 30.0) if r.random() < 0.6 else 10.0 ** r.uniform(-1.5, 2.0)
    density = r.uniform(900.0, 1200.0) if r.random() < 0.5 else 10.0 ** r.uniform(2.5, 4.0)
    at = r.uniform([-0.8, -0.3, -0.2], [0.7, 0.3, 0.3])
    volume = mass / density if r.random() > 0.1 else 0.0
    return Part("part", KINDS[r.integers(6)], Solid(mass, at, _inertia(r, mass), volume, at + r.normal(0, 0.01, 3)))


def _suit(r):
    cells, room = int(r.choice([1, 2, 8, 24, 60])), 10.0 ** r.uniform(-4.0, -1.3)
    if r.random() < 0.5:
        least = r.uniform(0.0, 0.02, cells) * room / cells
        law = logistic_law(least, least + r.uniform(0.1, 1.0, cells) * room / cells, 10.0 ** r.uniform(1.5, 3.7))
    else:
        loft, slack = r.uniform([[0.3], [0.1]], 1.0, (2, cells)) * room / cells
        law = garment_law(loft, slack, 10.0 ** r.uniform(2.0, 4.0))
    least, most = float(law.least.sum()), float(law.most.sum())
    fill = float(r.choice([r.uniform(0.001, 0.02), r.uniform(0.1, 0.9), r.uniform(0.9, 0.999)]))
    at = r.uniform([-0.8, -0.3, -0.2], [0.7, 0.3, 0.2], (cells, 3))
    return SuitPocket(at, law, least + fill * (most - least), 3.0 * r.integers(2), 10.0 ** r.uniform(-2.0, 1.5))


def _wing(r):
    cells = int(r.choice([1, 2, 16, 40]))
    law = logistic_law(
        np.zeros(cells), np.full(cells, 10.0 ** r.uniform(-3.0, -1.3) / cells), 10.0 ** r.uniform(1, 3)
    )
    gas = None if r.random() < 0.8 else float(law.most.sum()) * r.random()
    at = r.uniform([-0.3, -0.25, 0.1], [0.6, 0.25, 0.35], (cells, 3))
    return WingPocket(at, law, gas, 3.0 * r.integers(2), 10.0 ** r.uniform(-2.0, 1.0))


def angle(a, b):
    return 2.0 * np.arcsin(min(0.5 * np.linalg.norm(a - b), 1.0))


@pytest.mark.parametrize("seed", range(6))
def test_rest_agrees_with_the_statics(seed):
    soft = soft_rig(wild_rig(seed))
    held, rest = held_pitches(soft), equilibria(soft)
    assert rest.complete
    settled = settle(soft.rig)
    if settled.reached:
        assert min(abs(h.pitch - settled.pitch) for h in held if h.stable) < AGREED
    elif settled.outcome == "indifferent":
        assert not held
    else:
        assert settled.outcome == "past the vertical"
        assert abs(pitch_moment(field(soft, settled.up[None]))[0]) < 0.05 * np.linalg.norm(soft.rigid) + 1e-3
    free = settle(soft.rig, roll="free")
    if rest.indifferent:
        assert free.outcome == "indifferent"
    else:
        assert free.reached
        assert min(angle(e.up, free.up) for e in rest.found if e.kind == "stable") < AGREED


@pytest.mark.parametrize("end", [1.0, -1.0])
@pytest.mark.parametrize("mass", [0.5, 100.0])
@pytest.mark.parametrize("inertia", [0.0, 1e-6, 0.05])
def test_cb_straight_headward_or_footward_rests_upright(end, mass, inertia):
    solid = Solid(mass, np.zeros(3), inertia * mass * np.eye(3), mass / 1025.0, np.array([0.02 * end, 0.0, 0.0]))
    rig = rig_of([Part("lone", "body", solid)], WATER)
    settled = settle(rig)
    assert settled.reached
    assert settled.pitch == pytest.approx(end * np.pi / 2.0, abs=AGREED)
    assert abs(settled.pitch) <= np.pi / 2.0


def test_what_the_water_hardly_slows_is_slowed_to_find_its_rest():
    # 100 kg hung 0.3 m below the held point, and a tenth of a litre to slow it: thousands of swings
    solid = Solid(100.0, np.array([0.0, 0.0, -0.3]), np.eye(3), 1e-4, np.array([0.0, 0.0, -0.3]))
    rig = rig_of([Part("bob", "lead", solid)], WATER, held=np.zeros(3))
    settled = settle(rig, pitch_start=0.5)
    assert settled.reached
    assert settled.outlasted
    assert settled.pitch == pytest.approx(0.0, abs=AGREED)
    assert "at least" in outcome_words(settled)


def test_gas_that_outweighs_its_load_moves_water_of_its_own():
    at = np.array([[-0.3, 0.0, 0.1], [0.3, 0.0, 0.1]])
    wing = WingPocket(at, logistic_law(np.zeros(2), np.full(2, 0.03), 300.0), 0.03)
    small, large = point_mass(30.0, np.zeros(3), 0.003), point_mass(60.0, np.zeros(3), 0.06)
    _, bag = extents(rig_of([Part("load", "lead", small)], WATER, wing=wing))
    assert bag.volume == pytest.approx(0.03, rel=1e-12)
    assert bag.centre == pytest.approx([0.0, 0.0, 0.1], abs=1e-15)
    assert np.abs(bag.axes[0]) == pytest.approx([1.0, 0.0, 0.0], abs=1e-12)
    assert len(extents(rig_of([Part("diver", "body", large)], WATER, wing=wing))) == 1


def test_two_held_rests_closer_than_the_grid_are_both_found():
    # two soft cells far apart: their gas changes ends within two degrees
    at = np.array([[-0.3, 0.0, 0.2], [0.3, 0.0, 0.2]])
    wing = WingPocket(at, logistic_law(np.zeros(2), np.full(2, 2e-3), 10.0), 2e-3)
    mass = 100.0
    solid = Solid(mass, np.zeros(3), np.eye(3), (mass - 2.05) / 1025.0, np.array([0.0, 0.0, 0.03]))
    soft = soft_rig(rig_of([Part("diver", "body", solid)], WATER, wing=wing))
    pitches = np.radians(np.linspace(-89.99, 89.99, 20001))
    moment = pitch_moment(field(soft, up_of_pitch(pitches)))
    changes = np.flatnonzero(moment[:-1] * moment[1:] < 0.0)
    assert len(changes) >= 3
    found = [h.pitch for h in held_pitches(soft)]
    assert len(found) == len(changes)
    assert found == pytest.approx(0.5 * (pitches[changes] + pitches[changes + 1]), abs=np.radians(0.02))


def test_free_rests_closer_than_the_first_grid_are_all_found():
    # the same two soft cells, left to roll as well: every stable pitch that also holds in roll is in the list
    at = np.array([[-0.3, 0.0, 0.2], [0.3, 0.0, 0.2]])
    wing = WingPocket(at, logistic_law(np.zeros(2), np.full(2, 2e-3), 10.0), 2e-3)
    solid = Solid(100.0, np.zeros(3), np.eye(3), (100.0 - 2.05) / 1025.0, np.array([0.0, 0.0, 0.03]))
    soft = soft_rig(rig_of([Part("diver", "body", solid)], WATER, wing=wing))
    rest = equilibria(soft)
    assert rest.complete
    for h in held_pitches(soft):
        up = up_of_pitch(np.array([h.pitch]))[0]
        assert min(angle(e.up, up) for e in rest.found) < 1e-6


@pytest.mark.parametrize("seed", [370, 3074, 3868, 4633])
def test_pairs_of_rests_that_slip_through_the_finest_grid_are_found(seed):
    # gas that changes ends within a fraction of a degree; a grid alone left these with one too few
    found = equilibria(soft_rig(wild_rig(seed)))
    assert found.complete
    kinds = [e.kind for e in found.found]
    assert kinds.count("stable") - kinds.count("saddle") + kinds.count("unstable") == 2


def test_a_rig_whose_gas_has_yet_to_come_is_not_at_rest():
    # two cells all but empty: their slope says that nothing moves, the law that one will fill
    at = np.array([[-0.4, 0.0, 0.1], [0.4, 0.0, 0.1]])
    law = logistic_law(np.zeros(2), np.full(2, 2e-3), 40.0)
    suit = SuitPocket(at, law, 2e-5, 0.0, 20.0)
    solid = Solid(17.0, np.zeros(3), np.eye(3), 17.0 / 1025.0, np.array([0.0, 0.0, 0.02]))
    soft = soft_rig(rig_of([Part("lone", "body", solid)], WATER, suit=suit))
    free = settle(soft.rig, roll="free", pitch_start=1.0)
    assert free.reached
    assert min(angle(e.up, free.up) for e in equilibria(soft).found if e.kind == "stable") < AGREED
