"""What makes a plate more than one even sheet that carries cylinders: other thicknesses, and what is fixed to it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from meshes.mesh import Floats, Ints
from meshes.plate.back_plate import Pattern, Zone
from meshes.plate.edges import edges_of
from sim.shells.sheet_mesh import Cut
from sim.shells.shell import Sheet

ALIGNED: Final = 1e-3  # m, within which a zone's border is taken to run along a fold, or another's border


@dataclass(frozen=True, eq=False)
class FixedMass:
    """A thing fixed to the plate: mass [kg], its centre (3,) [m] in the plate's frame.

    low, high : (2,) corners of what it covers of the flat pattern [m], on which it weighs; it stiffens nothing
    """

    mass: float
    cm: Floats
    low: Floats
    high: Floats


@dataclass(frozen=True, eq=False)
class Uneven:
    """zones : places of another thickness, each with the sheet it has there, of no offset;  fixed : to the plate."""

    zones: tuple[tuple[Zone, Sheet], ...] = ()
    fixed: tuple[FixedMass, ...] = ()

    def sheets(self, sheet: Sheet) -> tuple[Sheet, ...]:
        """Of the zones, in a plate of ``sheet``: the face toward the diver stays level."""
        return tuple(replace(own, offset=(own.thickness - sheet.thickness) / 2) for _, own in self.zones)

    def of(self, pattern: Pattern, points: Floats) -> Ints:
        """(n,) which zone, counted from 1, places (n, 2) of the flat pattern lie in; 0 for none."""
        edges = edges_of(pattern.outline.outer)
        down, across = edges.top - points[:, 0], np.abs(points[:, 1] - edges.middle)
        found = np.zeros(len(points), dtype=np.int64)
        for number, (zone, _) in enumerate(self.zones, 1):
            within = (down > zone.top) & (down < zone.bottom) & (across > zone.inner) & (across < zone.outer)
            found[within] = number
        return found

    def borders(self, pattern: Pattern, folds: Sequence[float]) -> tuple[Cut, ...]:
        """Lines along which triangles should end, none beside a fold or on another."""
        found: dict[tuple[int, float], Cut] = {}
        for cut in self._sides(pattern):
            beside = [y for y in folds if cut.axis == 1 and abs(y - cut.at) < ALIGNED]
            same = [at for axis, at in found if axis == cut.axis and abs(at - cut.at) < ALIGNED]
            if not beside:
                key = cut.axis, same[0] if same else cut.at
                known = found.get(key, cut)
                found[key] = Cut(cut.axis, key[1], min(known.low, cut.low), max(known.high, cut.high))
        return tuple(found.values())

    def _sides(self, pattern: Pattern) -> Iterator[Cut]:
        edges = edges_of(pattern.outline.outer)
        for zone, _ in self.zones:
            low, high = edges.top - zone.bottom, edges.top - zone.top
            left, right = (edges.middle + np.array([zone.inner, zone.outer]) * side for side in (1.0, -1.0))
            spans = [np.sort(left), np.sort(right)] if zone.inner > 0.0 else [np.array([right[1], left[1]])]
            for start, end in spans:
                yield from (Cut(0, low, start, end), Cut(0, high, start, end))
                yield from (Cut(1, start, low, high), Cut(1, end, low, high))


EVEN: Final = Uneven()
