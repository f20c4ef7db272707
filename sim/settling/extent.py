"""How far each part of a rig reaches: the ellipsoid that stands for it where it pushes water about."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from meshes.solid import Solid, volume_integrals
from sim.rig import Kind, Part, Pocket, Rig

# Worn on or fastened between these, everything else moves water that a body or cylinder moves already.
FREE_STANDING: Final[frozenset[Kind]] = frozenset({"body", "cylinder", "fins", "stage", "light", "other"})

THINNEST: Final = 0.02  # of the longest semi-axis: a rod or sheet known by its inertia alone is no thinner


@dataclass(frozen=True, eq=False)
class Extent:
    """Ellipsoid of a part's displaced volume, with the shape that its second moments give.

    centre : (3,) its CB [m], body axes;  axes : (3, 3) rows are its principal directions, proper
    semi : (3,) semi-axes along those rows [m], longest first
    """

    centre: Floats
    axes: Floats
    semi: Floats

    @property
    def volume(self) -> float:
        """[m^3]"""
        return float(4.0 / 3.0 * np.pi * np.prod(self.semi))


def extents(rig: Rig) -> tuple[Extent, ...]:
    """Extents of the parts, and of bags too large to be worn on them, that push water of their own.

    The rule: body segments, cylinders, fins, stages, lights and kinds not known count in full; what is worn or
    fastened between them (suit, plate, wing, valves, lead ...) not at all, or it would be counted twice. A rig
    with none of the first sort counts all its parts. Parts that displace nothing have no extent. A bag counts only
    where its gas displaces more than all these together, as a lift bag does with a small load.
    """
    wet = [p for p in rig.parts if p.solid.volume > 0.0]
    alone = [p for p in wet if p.kind in FREE_STANDING]
    shapes = [_extent(p) for p in (alone or wet)]
    displaced = sum(s.volume for s in shapes)
    bags = [_bag_extent(pocket, gas) for pocket, gas in _gas(rig) if gas > displaced]
    return (*shapes, *bags)


def _gas(rig: Rig) -> list[tuple[Pocket, float]]:
    """Pockets with the gas they hold about flat [m^3]: the suit its own, a neutral wing what lift is wanting."""
    suit = 0.0 if rig.suit is None or rig.suit.gas is None else rig.suit.gas
    found = [] if rig.suit is None else [(rig.suit, suit)]
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


def _extent(part: Part) -> Extent:
    variances, axes = _principal(_spread(part.solid))
    return _ellipsoid(part.solid.cb, variances, axes, part.solid.volume)


def _ellipsoid(centre: Floats, variances: Floats, axes: Floats, volume: float) -> Extent:
    """Ellipsoid of ``volume`` [m^3] with semi-axes as the roots of ``variances`` (3,), largest first."""
    semi = np.sqrt(np.maximum(variances, (THINNEST**2) * variances[0])) if variances[0] > 0.0 else np.ones(3)
    ball = volume / (4.0 / 3.0 * np.pi)
    return Extent(centre, axes, semi * np.cbrt(ball / np.prod(semi)))


def _spread(solid: Solid) -> Floats:
    """Second-moment matrix (3, 3), up to a factor: of the mesh, else of the mass; zeros where neither is known."""
    second = np.asarray(solid.inertia, dtype=float)
    if solid.mesh is not None:
        second = np.asarray(volume_integrals(solid.mesh).second)
    return np.asarray(0.5 * np.trace(second) * np.eye(3) - second)


def _principal(spread: Floats) -> tuple[Floats, Floats]:
    """Variances (3,), largest first, and the right-handed rows of their directions."""
    values, columns = np.linalg.eigh(spread)
    axes = columns.T[::-1].copy()
    axes[2] = np.cross(axes[0], axes[1])
    return np.asarray(values[::-1]), axes
