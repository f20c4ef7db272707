"""How a diver hangs as the cylinders empty: the same rig at one pressure after another.

The gas weighs; what it weighed is let out of the wing, which lies elsewhere. Depth, suit and pose stay as they are:
this is no plan of a dive.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np

from meshes.mesh import Floats
from sim.rig import Rig
from sim.statics.field import soft_rig
from sim.statics.flat import FlatAnswer, ItemMoment, flat_answer, moment_budget
from sim.telling.record import Told

ROUNDING: Final = 1e-9  # N m, of items that do not change


@dataclass(frozen=True, eq=False)
class ItemChange:
    """What one item turns the diver held flat with, about the same body point at both pressures."""

    name: Annotated[str, Told("the item")]
    first: Annotated[float, Told("its moment at the first pressure", "N m", plus="turns head-up")]
    last: Annotated[float, Told("its moment at the last pressure", "N m", plus="turns head-up")]


@dataclass(frozen=True, eq=False)
class Emptying:
    """The diver held flat at each of n pressures; (n,) each.

    pressure : as the gauge shows, falling [Pa];  used : mass of gas breathed since the first [kg]
    moment : about the held point, plus turns head-up [N m];  pitch_stiffness, roll_stiffness : [N m/rad]
    wing_gas, suit_gas : [m^3];  net_buoyancy : plus floats [kg]
    heavy : with which the diver would sink if the wing were empty, below 0 float up [kg]; NaN without a wing that is
        kept neutral
    changes : items whose moment changes, the largest change first
    """

    pressure: Floats
    used: Floats
    moment: Floats
    pitch_stiffness: Floats
    roll_stiffness: Floats
    wing_gas: Floats
    suit_gas: Floats
    net_buoyancy: Floats
    heavy: Floats
    changes: tuple[ItemChange, ...]

    @property
    def wing_empty_at(self) -> float | None:
        """Pressure [Pa] below which the wing is empty and the diver light; None where that never comes, the first one
        where it is so from the start.

        Straight between the pressures, as gas is nearly.
        """
        below = np.flatnonzero(self.heavy < 0.0)
        if not len(below):
            return None
        i = int(below[0])
        if i == 0:
            return float(self.pressure[0])
        (a, b), (p, q) = self.heavy[i - 1 : i + 1], self.pressure[i - 1 : i + 1]
        return float(p + (q - p) * a / (a - b))


def emptying(pressures: Sequence[float], rigs: Sequence[Rig]) -> Emptying:
    """Answers for one rig at falling gauge pressures [Pa].

    Raises ValueError for fewer than two pressures, or pressures that do not fall.
    """
    x = np.asarray(pressures, dtype=float)
    if not (len(x) == len(rigs) and len(x) > 1 and (np.diff(x) < 0.0).all()):
        raise ValueError("emptying needs two or more pressures that fall, and a rig for each")
    softs = [soft_rig(r) for r in rigs]
    flats = [flat_answer(s) for s in softs]
    gas = np.array([sum(p.solid.mass for p in r.parts if p.kind == "breathing gas") for r in rigs])
    return Emptying(
        pressure=x,
        used=gas[0] - gas,
        moment=_column(flats, "pitch_moment"),
        pitch_stiffness=_column(flats, "pitch_stiffness"),
        roll_stiffness=_column(flats, "roll_stiffness"),
        wing_gas=_column(flats, "wing_gas"),
        suit_gas=_column(flats, "suit_gas"),
        net_buoyancy=_column(flats, "net_buoyancy"),
        heavy=np.array([heavy_with_empty_wing(r, f) for r, f in zip(rigs, flats, strict=True)]),
        changes=_changes(moment_budget(softs[0], flats[0]), moment_budget(softs[-1], flats[-1]), rigs[0], rigs[-1]),
    )


def _column(flats: Sequence[FlatAnswer], name: str) -> Floats:
    return np.array([getattr(f, name) for f in flats], dtype=float)


def heavy_with_empty_wing(rig: Rig, flat: FlatAnswer) -> float:
    """What the diver sinks with [kg] once the wing's gas is let out."""
    if rig.wing is None or rig.wing.gas is not None:
        return float("nan")
    return flat.wing_gas * (rig.water.density - rig.wing.gas_density) - flat.net_buoyancy


def _changes(first: Sequence[ItemMoment], last: Sequence[ItemMoment], rig: Rig, other: Rig) -> tuple[ItemChange, ...]:
    """What each item's moment about the first rig's held point was and becomes."""
    moved = rig.water.gravity * float(other.held[0] - rig.held[0])
    # the same items in the same order, whose names need not differ
    found = [
        ItemChange(i.name, i.moment, j.moment - moved * j.apparent_weight) for i, j in zip(first, last, strict=True)
    ]
    changed = [c for c in found if abs(c.last - c.first) > ROUNDING]
    return tuple(sorted(changed, key=lambda c: -abs(c.last - c.first)))
