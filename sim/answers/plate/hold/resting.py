"""How a plate rests on a floor that it would tip over on: rolled onto the points of it that hold the whole."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.plate.hold.carried import Carried
from sim.answers.plate.hold.laid_on import driven, middle_of
from sim.answers.plate.hold.sheet_shell import SheetShell
from sim.answers.plate.hold.ways import G, Way
from sim.shells.loads import on_area, resultant, spread

STEEPEST: Final = np.radians(20.0)  # tilt beyond which the cylinders would reach the floor first (assumed)
GIVES: Final = 0.025  # m, radius of the sheet that a soft floor takes at a point (assumed)
LEVEL: Final = 1e-4  # m from the floor, within which a corner of the sheet stands on it: rounding
STRICT: Final = 1e4  # how much more the balance counts than that the forces are the least
BALANCED: Final = 1e-6  # of the weight and its lever, that rounding may leave over


@dataclass(frozen=True, eq=False)
class Resting:
    """points : (n, 3) where the sheet touches the floor [m];  down : (3,) unit vector; both in the plate's frame."""

    points: Floats
    down: Floats

    @property
    def tilt(self) -> float:
        """Between the floor and the plane that lies against the back [rad]."""
        return float(np.arccos(np.clip(-self.down[2], -1.0, 1.0)))


def resting(at: SheetShell, carried: Carried, density: float) -> Resting | None:
    """The least tilted way to rest in balance: on that face of the sheet's convex hull over which the middle of all
    that weighs lies. None where there is none up to ``STEEPEST``; the sheet counts as its middle surface."""
    from scipy.spatial import ConvexHull, QhullError

    nodes = at.shell.nodes
    try:
        hull = ConvexHull(nodes)
    except QhullError:  # a flat plate has no other face to roll onto
        return None
    middle = middle_of(at, carried, density)
    for k in np.argsort(hull.equations[:, 2]):
        down = hull.equations[k, :3]
        if -down[2] < np.cos(STEEPEST):
            break
        touching = hull.vertices[nodes[hull.vertices] @ down > -hull.equations[k, 3] - LEVEL]
        found = Resting(nodes[touching], down)
        if _shares(found, middle)[1] < BALANCED:
            return found
    return None


def at_rest(way: Way, at: SheetShell, carried: Carried, density: float, rest: Resting) -> Floats:
    """Loads (k, 6) of all that weighs, and of the floor at the three points."""
    loads = driven(way, at, carried, density, way.load * G * rest.down)
    shares, _ = _shares(rest, middle_of(at, carried, density))
    weighs = resultant(at.shell, loads)[0]
    for point, share in zip(rest.points[shares > 0.0], shares[shares > 0.0], strict=True):
        near = np.maximum(0.0, 1.0 - (np.linalg.norm(at.shell.places - point, axis=2) / GIVES) ** 2)
        loads = loads + spread(at.shell, on_area(at.shell, near), -share * weighs, point)
    return loads


def _shares(rest: Resting, middle: Floats) -> tuple[Floats, float]:
    """(n,) of the weight on each point, the least that push and balance it at ``middle`` [m]; what is left over."""
    from scipy.optimize import nnls

    off = rest.points - middle
    across = np.linalg.svd(rest.down[None])[2][1:]  # two directions along the floor
    reach = float(np.abs(off).max())
    lever = np.concatenate([np.ones((1, len(off))), across @ off.T / reach])
    whole = np.array([1.0, 0.0, 0.0])
    none = np.zeros(len(off))
    shares, _ = nnls(np.concatenate([np.eye(len(off)), STRICT * lever]), np.concatenate([none, STRICT * whole]))
    return np.asarray(shares), float(np.abs(lever @ shares - whole).max())
