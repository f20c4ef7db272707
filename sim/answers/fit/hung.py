"""A rig on one person, hung and banded in many ways at once: what the fast demands work out their margins of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats, Ints
from sim.answers.fit.dressed_person import DressedPerson
from sim.answers.fit.hung_rig import HungRig
from sim.assembly.placement import Placement
from sim.assembly.seat import seats


@dataclass(frozen=True, eq=False)
class Hung:
    """A rig on a person in n ways.

    seats : h placements of the plate;  seat : (n,) which of them each way has
    moved : (n,) how far headward of its place in ``HungRig`` [m] is what hangs on the plate
    """

    rig: HungRig
    who: DressedPerson
    seats: tuple[Placement, ...]
    seat: Ints
    moved: Floats

    @cached_property
    def rotations(self) -> Floats:
        """Of the seats (h, 3, 3)."""
        return np.array([s.rotation for s in self.seats])

    @cached_property
    def origins(self) -> Floats:
        """Of the seats (h, 3) [m]."""
        return np.array([s.origin for s in self.seats])

    @cached_property
    def hanging(self) -> tuple[Floats, Floats]:
        """Rotations (n, 3, 3) and origins (n, 3) [m] of what hangs on the plate, as it is moved on it."""
        turned = self.rotations[self.seat]
        return turned, self.origins[self.seat] + self.moved[:, None] * turned[:, :, 0]

    def on_plate(self, points: Floats) -> Floats:
        """Points (k, 3) of the plate in body axes (n, k, 3)."""
        found = points @ self.rotations.swapaxes(1, 2) + self.origins[:, None]
        return np.asarray(found[self.seat])

    def on_hanging(self, points: Floats) -> Floats:
        """Points (k, 3) of what hangs on the plate in body axes (n, k, 3)."""
        rotations, origins = self.hanging
        return np.asarray(points @ rotations.swapaxes(1, 2) + origins[:, None])

    def some(self, which: Ints) -> Hung:
        """Some of the ways (m,)."""
        return replace(self, seat=self.seat[which], moved=self.moved[which])


def hung_at(rig: HungRig, who: DressedPerson, drops: Sequence[float], moved: float = 0.0) -> Hung:
    """A rig as banded at each drop [m] below the natural waist."""
    laid = seats(rig.plate, who.person, rig.padding, drops)
    return Hung(rig, who, laid, np.arange(len(laid)), np.full(len(laid), moved))


def each_moved(hung: Hung, moved: ArrayLike) -> Hung:
    """Every seat with what hangs on it moved by each of ``moved`` (m,) [m]: (m x h) ways, seats running faster."""
    by = np.asarray(moved, dtype=float)
    count = len(hung.seats)
    return replace(hung, seat=np.tile(np.arange(count), len(by)), moved=np.repeat(by, count))
