"""What the mechanics works on: rigid parts and pockets of gas, collapsed to a handful of numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar, Final, Literal

import numpy as np

from meshes.mesh import Floats
from meshes.solid import Solid, combined
from sim.fill_laws import FillLaw
from sim.hanging import Hanging

Kind = Literal[
    "body", "suit", "wetsuit", "hood", "mask", "boots", "gloves", "fins", "plate", "harness", "wing", "cylinder",
    "valve", "manifold", "bands", "breathing gas", "suit gas", "wing gas", "regulator", "hose", "lead", "light",
    "stage", "rebreather", "counterlungs", "other",
]  # fmt: skip

STANDARD_GRAVITY: Final = 9.80665  # m/s^2, ISO 80000-3


@dataclass(frozen=True, eq=False)
class Part:
    """One rigid item of diver or gear, placed in body axes [m] (x head, y left, z back, origin mid-hip).

    told_by : key of the scenario's table that tells of it, as "cylinders" or "gear.1"; "" where none does
    hangs : of a cylinder on two lines, how it hangs; its gas and its fittings are the two parts after it
    """

    name: str
    kind: Kind
    solid: Solid
    told_by: str = ""
    hangs: Hanging | None = None


@dataclass(frozen=True, eq=False)
class Water:
    """Water around the diver: density [kg/m^3], gravity [m/s^2], absolute pressure [Pa] at the held point."""

    density: float
    gravity: float
    pressure: float


@dataclass(frozen=True, eq=False)
class Pocket:
    """Gas that is free to move inside one soft bag. Abstract: a suit's or a wing's, which hold it in different ways.

    name : what the bag is called
    cells : (n, 3) positions [m] in body axes
    law : how much gas each cell holds at a pressure difference across its wall
    gas : how much gas there is [m^3]
    gas_density : mass of the gas [kg/m^3] at depth; 0 leaves its weight out
    time_constant : [s] in which a cell's pressure difference relaxes (settling only)
    """

    name: ClassVar[Literal["suit", "wing"]]

    cells: Floats
    law: FillLaw
    gas: float | None
    gas_density: float = 0.0
    time_constant: float = 2.0


class SuitPocket(Pocket):
    """A fixed amount of gas; ``gas`` is its volume at the held point's pressure (p V = gas * p_amb)."""

    name = "suit"


class WingPocket(Pocket):
    """A fixed volume of gas, or with None whatever makes the whole neutral."""

    name = "wing"


@dataclass(frozen=True, eq=False)
class Rig:
    """A diver with gear, ready for the statics.

    held : (3,) body point [m] whose depth is held and about which moments are taken
    whole : all rigid parts as one solid (the gas in the pockets is not in it)
    """

    parts: tuple[Part, ...]
    suit: SuitPocket | None
    wing: WingPocket | None
    water: Water
    held: Floats
    whole: Solid


def rig_of(
    parts: Sequence[Part],
    water: Water,
    *,
    suit: SuitPocket | None = None,
    wing: WingPocket | None = None,
    held: Floats | None = None,
) -> Rig:
    """Collapse parts into a rig; ``held`` (3,) [m] defaults to the CM of the rigid parts."""
    if not parts:
        raise ValueError("a rig needs at least one part")
    whole = combined([p.solid for p in parts], drawn=False)
    point = whole.cm if held is None else np.asarray(held, dtype=float)
    return Rig(tuple(parts), suit, wing, water, point, whole)
