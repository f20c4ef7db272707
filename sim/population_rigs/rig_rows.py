"""A rig as a row of numbers of which each is smooth in the body, and many such rows as arrays of rigs."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.batch.rig_arrays import (
    CellSets,
    PocketArrays,
    RigArrays,
    cell_sets,
    rig_arrays,
    suit_arrays,
    wing_arrays,
)
from sim.fill_laws import GarmentLaw, LogisticLaw
from sim.person.posed_body import PosedBody
from sim.population_rigs.people import PeopleArrays
from sim.rig import Pocket, Rig

LEAST: Final = 1e-9  # m^3: a cell's loft or slack is never less
RIGID: Final = 17  # tissue CM, tissue CB, lungs' CB, then mass, m CM, volume, V CB of all that is worn


def row_of(body: PosedBody, rig: Rig) -> Floats:
    """(n,) numbers of one person's rig.

    Centres of tissue and lungs, whose mass and volume are closed forms; mass and volume of what is worn with their
    first moments; cells, loft, slack and preload (or least and most) and logarithm of the gas of the suit; cells of
    the wing.
    """
    segments = [s for _, s in body.segments]
    masses, volumes = np.array([s.mass for s in segments]), np.array([s.volume for s in segments])
    cm, cb = np.array([s.cm for s in segments]), np.array([s.cb for s in segments])
    worn = [p.solid for p in rig.parts if p.kind != "body"]
    gear = np.zeros(8)
    for s in worn:
        gear += [s.mass, *(s.mass * s.cm), s.volume, *(s.volume * s.cb)]
    rows = [masses @ cm / masses.sum(), volumes @ cb / volumes.sum(), body.lungs.cb, gear]
    if rig.suit is not None:
        rows += [rig.suit.cells.ravel(), *_columns(rig.suit), np.array([np.log(max(rig.suit.gas or 0.0, LEAST))])]
    if rig.wing is not None:
        rows.append(rig.wing.cells.ravel())
    return np.concatenate(rows)


def arrays_of(people: PeopleArrays, rows: Floats, like: Rig) -> RigArrays:
    """Rigs of B people out of their rows (B, n); ``like`` is any rig of the same gear choice. Held at their CM."""
    tissue = people.mass / people.density
    cm, cb, lungs = (rows[:, 3 * i : 3 * i + 3] for i in range(3))
    gear = rows[:, 9:RIGID]
    mass, volume = people.mass + gear[:, 0], people.volume + gear[:, 4]
    moment = people.mass[:, None] * cm + gear[:, 1:4]
    displaced = tissue[:, None] * cb + people.lung_gas[:, None] * lungs + gear[:, 5:8]
    water, at = like.water, RIGID
    suit, wing = None, None
    if like.suit is not None:
        n = len(like.suit.cells)
        taken = (3 + len(_columns(like.suit))) * n + 1
        suit = _suit(rows[:, at : at + taken], like.suit, like)
        at += taken
    if like.wing is not None:
        wing = _wing(rows[:, at:], like.wing, like)
    return rig_arrays(
        mass, moment / mass[:, None], volume, displaced / volume[:, None],
        density=water.density, gravity=water.gravity, suit=suit, wing=wing,
    )  # fmt: skip


def _columns(pocket: Pocket) -> tuple[Floats, ...]:
    law = pocket.law
    if isinstance(law, GarmentLaw):
        return law.loft, law.slack, law.preload
    if isinstance(law, LogisticLaw):
        return law.lower, law.upper
    raise TypeError(f"no way is known to expand a {type(law).__name__}")


def _suit(rows: Floats, suit: Pocket, like: Rig) -> PocketArrays:
    n, people = len(suit.cells), len(rows)
    at, first, second = rows[:, : 3 * n].reshape(people, n, 3), rows[:, 3 * n : 4 * n], rows[:, 4 * n : 5 * n]
    if isinstance(suit.law, GarmentLaw):
        preload = rows[:, 5 * n : 6 * n]
        sets = cell_sets(at, np.maximum(first, LEAST), np.maximum(second, LEAST), "garment", preload)
    else:
        least = np.maximum(first, 0.0)
        sets = cell_sets(at, least, np.maximum(second, least), "logistic")
    return suit_arrays(
        sets, which=np.arange(people), scale=suit.law.scale, gas=np.exp(rows[:, -1]), pressure=like.water.pressure,
        density=like.water.density, gas_density=suit.gas_density, gravity=like.water.gravity,
    )  # fmt: skip


def _wing(rows: Floats, wing: Pocket, like: Rig) -> PocketArrays:
    least, most = (np.broadcast_to(v, (len(rows), len(wing.cells))) for v in _columns(wing))
    sets: CellSets = cell_sets(rows.reshape(len(rows), -1, 3), least, most, "logistic")
    return wing_arrays(
        sets, which=np.arange(len(rows)), scale=wing.law.scale, gas=np.nan if wing.gas is None else wing.gas,
        density=like.water.density, gas_density=wing.gas_density, gravity=like.water.gravity,
    )  # fmt: skip
