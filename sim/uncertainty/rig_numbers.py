"""A rig as one row of numbers in which the statics' inputs are linear, and back.

Masses enter with their first moments (m, m r) and volumes likewise, so that adding mass, moving a part or shifting a
centre of buoyancy is a straight line in these numbers: expanding them to first order is exact for such changes.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final, TypeVar

import numpy as np

from meshes.mesh import Floats
from meshes.solid import Solid
from sim.fill_laws import FillLaw, GarmentLaw, LogisticLaw
from sim.rig import Part, Pocket, Rig, Water, rig_of
from sim.statics.venting import vented_to_room

SomePocket = TypeVar("SomePocket", bound=Pocket)
MASS: Final = slice(0, 4)  # mass [kg] and its first moment (3,) [kg m]
VOLUME: Final = slice(4, 8)  # displaced volume [m^3] and its first moment (3,) [m^4]
_RIGID: Final = 14  # the two above, the water's three numbers and the held point
LEAST_LEFT: Final = 1e-3  # of a cell's room or a law's stiffness, where the first order would make it nothing


def numbers_of(rig: Rig) -> Floats:
    """Row (n,) of numbers: mass, m CM, volume, V CB, water, held point, then cells, law and gas of each pocket."""
    whole, water = rig.whole, rig.water
    rows = [
        [whole.mass], whole.mass * whole.cm, [whole.volume], whole.volume * whole.cb,
        [water.density, water.gravity, water.pressure], rig.held,
    ]  # fmt: skip
    for pocket in (rig.suit, rig.wing):
        if pocket is not None:
            rows += [pocket.cells.ravel(), *_law_numbers(pocket.law), [pocket.gas or 0.0, pocket.gas_density]]
    return np.concatenate([np.asarray(r, dtype=float) for r in rows])


def rig_of_numbers(numbers: Floats, like: Rig) -> Rig:
    """Rig with the pockets of ``like`` and everything rigid as one part; the inverse of ``numbers_of``.

    A rig held at its CM stays held at its (new) CM. The part has no inertia: for the statics only.
    """
    mass, volume = float(numbers[MASS][0]), float(numbers[VOLUME][0])
    cm = numbers[MASS][1:] / mass
    cb = numbers[VOLUME][1:] / volume if volume > 0.0 else cm
    whole = Solid(mass, cm, np.zeros((3, 3)), volume, cb)
    density, gravity, pressure = (float(x) for x in numbers[8:11])
    at = _RIGID
    suit = like.suit and _pocket(numbers[at : at + _count(like.suit)], like.suit)
    at += 0 if like.suit is None else _count(like.suit)
    wing = like.wing and _pocket(numbers[at : at + _count(like.wing)], like.wing)
    held_at_cm = bool(np.array_equal(like.held, like.whole.cm))
    return rig_of(
        [Part("everything rigid", "other", whole)],
        Water(density, gravity, pressure),
        suit=None if suit is None else vented_to_room(suit)[0],
        wing=wing,
        held=None if held_at_cm else numbers[11:14],
    )


def _count(pocket: Pocket) -> int:
    """How many numbers a pocket takes."""
    return 3 * len(pocket.cells) + sum(map(len, _law_numbers(pocket.law))) + 2


def _pocket(numbers: Floats, like: SomePocket) -> SomePocket:
    n = len(like.cells)
    cells = numbers[: 3 * n].reshape(n, 3)
    law = _law(numbers[3 * n : -2], like.law)
    gas, gas_density = (float(x) for x in numbers[-2:])
    kept = None if like.gas is None else max(gas, LEAST_LEFT * like.gas)
    return replace(like, cells=cells, law=law, gas=kept, gas_density=gas_density)


def _law_numbers(law: FillLaw) -> list[Floats]:
    """The numbers of each cell and one for the whole bag, as arrays (n,) ..., (1,)."""
    if isinstance(law, GarmentLaw):
        return [law.loft, law.slack, law.preload, np.array([law.stiffness])]
    if isinstance(law, LogisticLaw):
        return [law.lower, law.upper, np.array([law.softness])]
    raise TypeError(f"no way is known to vary a {type(law).__name__}")


def _law(numbers: Floats, like: FillLaw) -> FillLaw:
    *columns, scale = np.split(numbers, np.cumsum([len(row) for row in _law_numbers(like)])[:-1])
    if isinstance(like, GarmentLaw):
        loft = np.maximum(columns[0], LEAST_LEFT * like.loft)
        slack = np.maximum(columns[1], LEAST_LEFT * like.slack)
        return GarmentLaw(loft, slack, max(float(scale[0]), LEAST_LEFT * like.stiffness), columns[2])
    assert isinstance(like, LogisticLaw)  # _law_numbers saw to it
    first, second = columns
    lower = np.maximum(first, 0.0)
    return LogisticLaw(lower, np.maximum(second, lower), max(float(scale[0]), LEAST_LEFT * like.softness))
