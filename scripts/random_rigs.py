"""Rigs drawn at random as arrays, for benchmarks and mass tests: an invented diver, as in life or far wider."""

from __future__ import annotations

from typing import Literal, TypeVar

import numpy as np

from meshes.mesh import Floats
from meshes.solid import Solid
from sim.batch.rig_arrays import (
    CellSets,
    Law,
    PocketArrays,
    RigArrays,
    cell_sets,
    merged_sets,
    rig_arrays,
    suit_arrays,
    wing_arrays,
)
from sim.fill_laws import FillLaw, garment_law, logistic_law
from sim.rig import Part, Rig, SuitPocket, Water, WingPocket, rig_of

Kind = TypeVar("Kind", SuitPocket, WingPocket)

SEA, G = 1025.0, 9.80665
CELLS = (24, 24)  # of suit and wing
DEMO_CELLS = (108, 32)  # as the demo divers have


def usual_rigs(
    n: int, seed: int, *, cells: Literal["own", "shared"], law: Law = "logistic", count: tuple[int, int] = CELLS
) -> RigArrays:
    """``n`` divers of 100 to 150 kg with ``count`` cells of suit and wing, their own or one set shared by all.

    Gas, softness, weights and their places vary as much as between divers.
    """
    rng = np.random.default_rng(seed)
    sets = n if cells == "own" else 1
    which = np.arange(n) if cells == "own" else np.zeros(n, dtype=int)
    suit = _suit_sets(rng, sets, count[0], law, room=(10e-3, 20e-3))
    room = suit.totals[which, 1] if law == "logistic" else suit.totals[which, 0]
    gas = room * rng.uniform(0.35, 0.75, n)
    wing = _wing_sets(rng, sets, count[1])
    mass = rng.uniform(100.0, 150.0, n)
    lift = SEA * (gas + rng.uniform(3e-3, 12e-3, n))
    volume = (mass - lift) / SEA
    cm = rng.normal([0.1, 0.0, 0.02], [0.03, 0.005, 0.01], (n, 3))
    cb = cm + rng.normal([0.0, 0.0, -0.01], [0.02, 0.003, 0.01], (n, 3))
    return rig_arrays(
        mass, cm, volume, cb, density=SEA, gravity=G,
        suit=suit_arrays(suit, which=which, scale=rng.uniform(300.0, 1000.0, n), gas=gas, pressure=2.5e5,
                         density=SEA, gas_density=3.0, gravity=G),
        wing=wing_arrays(wing, which=which, scale=rng.uniform(150.0, 600.0, n), density=SEA, gas_density=3.0,
                         gravity=G),
    )  # fmt: skip


def wild_rigs(n: int, seed: int) -> RigArrays:
    """``n`` rigs of every kind, spread far wider than life.

    Suits by both laws, nearly empty to overfull, or none; wings kept neutral (often beyond their stops), of fixed
    volume, or none; held at the CM or anywhere; fresh to very salt water, 1.1 to 11 bar; CB up to 30 cm off the CM.
    """
    rng = np.random.default_rng(seed)
    half = n // 2
    suit = merged_sets(
        [
            _suit_sets(rng, half, CELLS[0], "logistic", room=(0.5e-3, 60e-3), least=0.5),
            _suit_sets(rng, n - half, CELLS[0], "garment", room=(0.5e-3, 60e-3), preload=600.0),
        ]
    )
    wing = _wing_sets(rng, n, CELLS[1])
    density = rng.uniform(995.0, 1200.0, n)
    pressure = rng.uniform(1.1e5, 1.1e6, n)
    gas_density = rng.choice([0.0, 1.2, 12.0], n)
    common = {"density": density, "gas_density": gas_density, "gravity": G}
    capacity = suit.totals[:, 0] + suit.totals[:, 1]
    gas = capacity * rng.uniform(0.0, 1.15, n)
    mass = rng.uniform(40.0, 260.0, n)
    cm = rng.normal(0.0, 0.2, (n, 3))
    off = rng.normal(0.0, 1.0, (n, 3))
    off *= (10.0 ** rng.uniform(-4.0, np.log10(0.3), n) / np.linalg.norm(off, axis=1))[:, None]
    volume = (mass - rng.uniform(-4.0, 45.0, n)) / density
    held = np.where(rng.random((n, 1)) < 0.7, cm, rng.normal(0.0, 0.4, (n, 3)))
    fixed = np.where(rng.random(n) < 0.6, np.nan, rng.uniform(-1e-3, 30e-3, n))
    return rig_arrays(
        mass, cm, volume, cm + off, held=held, density=density, gravity=G,
        suit=suit_arrays(suit, which=_or_none(rng, n, 0.1), scale=10.0 ** rng.uniform(1.7, 3.7, n), gas=gas,
                         pressure=pressure, **common),
        wing=wing_arrays(wing, which=_or_none(rng, n, 0.1), scale=10.0 ** rng.uniform(1.7, 3.3, n), gas=fixed,
                         **common),
    )  # fmt: skip


def single(rigs: RigArrays, i: int) -> Rig:
    """Rig ``i`` of ``usual_rigs`` or ``wild_rigs`` as one rig, with the same statics.

    Its rigid parts are a stand-in of 100 l with the same weight and moment, and the weight of its gas is taken off
    the water's density.
    """
    g = float(rigs.gravity[i])
    water = Water(float(rigs.suit.weight[i]) / g, g, 1.0 / float(rigs.suit.compliance[i]))
    volume = 0.1
    mass = float(rigs.spare[i]) + water.density * volume
    cm = rigs.held[i] + rigs.rigid[i] / (g * mass)
    stand_in = Part("diver", "body", Solid(mass, cm, np.diag([4.0, 15.0, 15.0]), volume, rigs.held[i]))
    pockets = (_pocket(rigs.suit, i, SuitPocket), _pocket(rigs.wing, i, WingPocket))
    return rig_of([stand_in], water, suit=pockets[0], wing=pockets[1], held=rigs.held[i])


def _pocket(many: PocketArrays, i: int, kind: type[Kind]) -> Kind | None:
    s = int(many.which[i])
    if s < 0:
        return None
    *at, first, second, preload = many.sets.cells[s]
    scale, gas = float(many.scale[i]), float(many.gas[i])
    law: FillLaw = logistic_law(first, first + second, scale)
    if many.sets.garment[s]:
        law = garment_law(first, second, scale, preload)
    return kind(np.stack(at, axis=1), law, None if np.isnan(gas) else gas)


def _or_none(rng: np.random.Generator, n: int, share: float) -> Floats:
    return np.where(rng.random(n) < share, -1, np.arange(n))


def _suit_sets(
    rng: np.random.Generator,
    sets: int,
    cells: int,
    law: Law,
    *,
    room: tuple[float, float],
    least: float = 0.0,
    preload: float = 0.0,
) -> CellSets:
    at = rng.uniform([-0.9, -0.2, -0.12], [0.6, 0.2, 0.12], (sets, cells, 3))
    total = rng.uniform(*room, (sets, 1))
    share = rng.uniform(0.2, 1.8, (sets, cells)) / cells
    most = total * share
    if law == "garment":
        slack = most * rng.uniform(0.05, 1.0, (sets, cells))
        on_garment = rng.normal(0.0, preload, (sets, cells)) if preload else 0.0
        return cell_sets(at, most, slack, "garment", on_garment)
    low = most * rng.uniform(0.0, least, (sets, cells)) if least else 0.0 * most
    return cell_sets(at, low, most, "logistic")


def _wing_sets(rng: np.random.Generator, sets: int, cells: int) -> CellSets:
    at = rng.uniform([-0.2, -0.2, 0.1], [0.4, 0.2, 0.22], (sets, cells, 3))
    total = rng.uniform(14e-3, 24e-3, (sets, 1))
    return cell_sets(at, np.zeros((sets, cells)), total * rng.uniform(0.5, 1.5, (sets, cells)) / cells, "logistic")
