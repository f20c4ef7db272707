"""How far each part of a rig reaches: the ellipsoid, or the flat disc, that stands for it where it pushes water."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from meshes.mesh import Floats
from meshes.solid import Solid, volume_integrals
from sim.rig import Kind, Pocket, Rig
from sim.settling.sheet import Sheet, sheet_of

# Worn on or fastened between these, everything else moves water that a body or cylinder moves already.
FREE_STANDING: Final[frozenset[Kind]] = frozenset(
    {"body", "cylinder", "fins", "stage", "rebreather", "light", "other"}
)

THINNEST: Final = 0.02  # of the longest semi-axis: a rod known by its inertia alone is no thinner
KEENEST: Final = 1e-6  # of a sheet's breadth: no sheet is taken as thinner, so that digits are left


@dataclass(frozen=True, eq=False)
class Extent:
    """Ellipsoid of a part's displaced volume, with the shape that its second moments give; or an elliptic disc.

    centre : (3,) its CB [m], of a sheet that of its silhouette;  axes : (3, 3) rows are its principal directions
        in body axes, proper
    semi : (3,) semi-axes along those rows [m], longest first
    flat : a sheet, as thick as its volume asks; drag and added mass go by the area and aspect of its silhouette
    """

    centre: Floats
    axes: Floats
    semi: Floats
    flat: bool = False

    @property
    def volume(self) -> float:
        """[m^3]"""
        return float(4.0 / 3.0 * np.pi * np.prod(self.semi))


@lru_cache(maxsize=4)
def extents(rig: Rig) -> tuple[Extent, ...]:
    """Extents of the parts, and of bags too large to be worn on them, that push water of their own.

    The rule: body segments, cylinders, fins, stages, lights and kinds not known count in full; what is worn or
    fastened between them (suit, plate, wing, valves, lead ...) not at all, or it would be counted twice. A rig
    with none of the first sort counts all its parts. Parts that displace nothing have no extent. A bag counts only
    where its gas displaces more than all these together, as a lift bag does with a small load. Which parts are
    sheets is told by their shape, whatever they are called (``sheet``). Kept for the last few rigs, since one
    is followed more than once.
    """
    wet = [p for p in rig.parts if p.solid.volume > 0.0]
    alone = [p for p in wet if p.kind in FREE_STANDING]
    shapes = [_extent(p.solid) for p in (alone or wet)]
    displaced = sum(s.volume for s in shapes)
    bags = [_bag_extent(pocket, gas) for pocket, gas in _gas(rig) if gas > displaced]
    return (*shapes, *bags)


def _gas(rig: Rig) -> list[tuple[Pocket, float]]:
    """Pockets with the gas they hold about flat [m^3]: the suit its own, a neutral wing what lift is wanting."""
    suit = 0.0 if rig.suit is None or rig.suit.gas is None else rig.suit.gas
    found: list[tuple[Pocket, float]] = [] if rig.suit is None else [(rig.suit, suit)]
    if rig.wing is not None:
        wanting = rig.whole.mass / rig.water.density - rig.whole.volume - suit
        wing = wanting if rig.wing.gas is None else rig.wing.gas
        found.append((rig.wing, min(max(wing, 0.0), float(rig.wing.law.most.sum()))))
    return found


def _bag_extent(pocket: Pocket, gas: float) -> Extent:
    """Ellipsoid of ``gas`` [m^3] with the second moments of the cells' room, each cell a ball of its own."""
    room = pocket.law.most / pocket.law.most.sum()
    centre = room @ pocket.cells
    away = pocket.cells - centre
    balls = float(room @ np.cbrt(room * gas / (4.0 / 3.0 * np.pi)) ** 2) / 5.0
    variances, axes = _principal((away * room[:, None]).T @ away + balls * np.eye(3))
    return _ellipsoid(centre, variances, axes, gas)


@lru_cache(maxsize=48)  # of two rigs; most parts stay as one thing is changed
def _extent(solid: Solid) -> Extent:
    spread, volume = _shape(solid)
    variances, axes = _principal(spread)
    sheet = sheet_of(solid, variances, axes, volume)
    if sheet is not None:
        return _disc(sheet, solid.volume)
    return _ellipsoid(solid.cb, variances, axes, solid.volume)


def _disc(sheet: Sheet, volume: float) -> Extent:
    """Elliptic disc of ``volume`` [m^3] and of the sheet's area and aspect.

    Its added mass is that of the rectangle within 6 % (``tests/published/test_plates_n103.py``).
    """
    a, b = sheet.length / np.sqrt(np.pi), sheet.breadth / np.sqrt(np.pi)
    thickness = volume / (4.0 / 3.0 * np.pi * a * b)
    return Extent(sheet.centre, sheet.axes, np.array([a, b, max(thickness, KEENEST * b)]), flat=True)


def _ellipsoid(centre: Floats, variances: Floats, axes: Floats, volume: float) -> Extent:
    """Ellipsoid of ``volume`` [m^3] with semi-axes as the roots of ``variances`` (3,), largest first."""
    semi = np.sqrt(np.maximum(variances, (THINNEST**2) * variances[0])) if variances[0] > 0.0 else np.ones(3)
    ball = volume / (4.0 / 3.0 * np.pi)
    return Extent(centre, axes, semi * np.cbrt(ball / np.prod(semi)))


def _shape(solid: Solid) -> tuple[Floats, float]:
    """Second moments (3, 3) [m^2] about the centroid, and the volume [m^3] of what has them.

    Of the mesh, else of the mass with the volume displaced; zeros where neither is known.
    """
    if solid.mesh is not None:
        inside = volume_integrals(solid.mesh)
        return _spread(inside.second / inside.volume), abs(inside.volume)
    second = solid.inertia / solid.mass if solid.mass > 0.0 else np.zeros((3, 3))
    return _spread(second), solid.volume


def _spread(second: Floats) -> Floats:
    """Second moments from an inertia tensor (3, 3) of unit mass."""
    return np.asarray(0.5 * np.trace(second) * np.eye(3) - second)


def _principal(spread: Floats) -> tuple[Floats, Floats]:
    """Variances (3,), largest first, and the right-handed rows of their directions."""
    values, columns = np.linalg.eigh(spread)
    axes = columns.T[::-1].copy()
    axes[2] = np.cross(axes[0], axes[1])
    return np.asarray(values[::-1]), axes
