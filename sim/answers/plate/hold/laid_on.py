"""The loads of each way of carrying on a plate's shell, in balance.

All weighs ``load`` times its weight. The cylinders pull at both bolts, the sheet weighs on itself, and what holds the
plate pushes back: forces at its places that balance the whole, the smallest ones where several sets would do.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.plate.hold.carried import Carried
from sim.answers.plate.hold.sheet_shell import (
    PRESSED,
    WASHER,
    SheetShell,
    bolts_patch,
    fixed_patch,
    slot_patch,
)
from sim.answers.plate.hold.uneven import FixedMass
from sim.answers.plate.hold.ways import G, Way
from sim.shells.loads import Patch, on_area, on_edges, resultant, spread, weight

PAD: Final = 0.030  # m above and below the waist strap's slots where the back bears on the plate (assumed)
LOWEST: Final = 2e-3  # m above its lowest point, within which the plate's edge meets the ground (assumed)
BALANCED: Final = 1e-6  # of the whole load, that may be left over by rounding

UP: Final = np.array([1.0, 0.0])
X, Y, Z = np.eye(3)


@dataclass(frozen=True, eq=False)
class Support:
    """Where something holds the plate: ``patch``, and ``ways`` (n, 3) in which it can push."""

    patch: Patch
    ways: Floats


def driven(way: Way, at: SheetShell, carried: Carried, density: float, felt: Floats | None = None) -> Floats:
    """Nodes' loads (k, 6) of all that weighs: bands pressed on the sheet lying under them, else pulled by bolts,
    what is fixed to the plate where it lies.

    felt : (3,) [m/s^2] if it is not ``felt_when``
    """
    felt = felt_when(way, at, carried, density) if felt is None else felt
    patch = bolts_patch(at, PRESSED if way.name == "vehicle" else WASHER)
    pulled = spread(at.shell, patch, carried.mass * felt, carried.cm)
    for one in at.fixed:
        pulled = pulled + spread(at.shell, fixed_patch(at, one), one.mass * felt, one.cm)
    return pulled + weight(at.shell, density, felt)


def felt_when(way: Way, at: SheetShell, carried: Carried, density: float) -> Floats:
    """(3,) [m/s^2] in the plate's frame: down, as the plate is held in that way."""
    if way.name == "vehicle":
        return -way.load * G * Z
    if way.name in ("standing", "set down"):
        return -way.load * G * X
    hand = np.mean([s.patch.middle for s in _shoulders(at)], axis=0)
    down = middle_of(at, carried, density) - hand
    return np.asarray(way.load * G * down / np.linalg.norm(down))


def middle_of(at: SheetShell, carried: Carried, density: float) -> Floats:
    """(3,) [m] centre of mass of the sheet with what it carries and what is fixed to it."""
    masses = density * at.shell.thickness[:, None] * at.shell.areas
    lever = np.einsum("mq,mqk->k", masses, at.shell.places)
    whole = masses.sum()
    burdens: list[Carried | FixedMass] = [carried, *at.fixed]
    for one in burdens:
        lever, whole = lever + one.mass * one.cm, whole + one.mass
    return np.asarray(lever / whole)


def held(way: Way, at: SheetShell, loads: Floats) -> Floats:
    """``loads`` (k, 6) with what holds the plate against them; raises ValueError where that cannot be."""
    return balanced(at, loads, supports(way, at))


def supports(way: Way, at: SheetShell) -> list[Support]:
    """What holds the plate; nothing for the floor of a vehicle, see ``on_floor``."""
    if way.name == "standing":
        return [*_shoulders(at), *_back(at)]
    if way.name == "lifted":
        return _shoulders(at)
    return [*(Support(s.patch, Z[None]) for s in _shoulders(at)), *_ground(at)]


def balanced(at: SheetShell, loads: Floats, at_places: Sequence[Support]) -> Floats:
    """``loads`` (k, 6) with the least forces of the supports that balance them."""
    columns = [
        np.concatenate([way, np.cross(support.patch.middle, way)]) for support in at_places for way in support.ways
    ]
    whole = np.concatenate(resultant(at.shell, loads))
    pushes, *_ = np.linalg.lstsq(np.stack(columns, axis=1), -whole, rcond=1e-9)
    total, start = loads.copy(), 0
    for support in at_places:
        count = len(support.ways)
        force = pushes[start : start + count] @ support.ways
        total += spread(at.shell, support.patch, force, support.patch.middle)
        start += count
    left = np.concatenate(resultant(at.shell, total))
    if not np.abs(left).max() <= BALANCED * np.abs(whole).max():
        raise ValueError("what holds the plate cannot balance its load")
    return total


def _shoulders(at: SheetShell) -> list[Support]:
    slots = at.pattern.points.shoulder_slots
    return [Support(slot_patch(at, slot, UP), np.eye(3)) for slot in slots]


def _back(at: SheetShell) -> list[Support]:
    """Where the back bears on the plate, beside the waist strap: left and right."""
    near = np.abs(at.seen[:, :, 0] - at.pattern.points.waist_slots[:, 0].mean()) < PAD
    found = []
    for side in (1.0, -1.0):
        own = near & (side * at.seen[:, :, 1] > 0.0)
        flat = own & at.on_back
        found.append(Support(on_area(at.shell, (flat if flat.any() else own).astype(float)), Z[None]))
    return found


def _ground(at: SheetShell) -> list[Support]:
    """The lower edge where it is lowest left and right of the middle; it grips the ground."""
    x, y = at.shell.flat[at.shell.edges[:, 2]].T
    halves = [own & (x < x[own].min(initial=np.inf) + LOWEST) for own in (y > 0.0, y <= 0.0)]
    ways = np.stack([X, Z])
    return [
        Support(on_edges(at.shell, at.shell.edges[half], np.ones(int(half.sum()))), ways)
        for half in halves
        if half.any()
    ]
