"""Where a plate that lies on a floor touches it, and with what force.

The floor pushes and never pulls. Forces on patches of what may touch are those of least complementary energy among
all that are nowhere negative and balance the load (Castigliano), found by non-negative least squares.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.plate.hold.sheet_shell import SheetShell
from sim.shells.loads import Patch, on_area, resultant, spread
from sim.shells.solve import Factored

CELL: Final = 0.060  # m, of the patches
MAT: Final = 3e8  # Pa/m, what the floor gives way: a rubber mat, 10 mm of 3 MPa (assumed)
STRICT: Final = 1e5  # how much more the balance counts than the energy
TIPS_OVER: Final = "a plate that lies on the floor would tip over under its cylinders"


class TipsOverError(ValueError):
    """A plate that lies on a floor cannot stay so under what it carries."""


@dataclass(frozen=True, eq=False)
class FloorForces:
    """cells : (n, 2) their numbers in the flat pattern's grid;  middles : (n, 3) [m];  pushes : (n,) [N]."""

    cells: Any
    middles: Floats
    pushes: Floats


def floor_forces(at: SheetShell, factor: Factored, loads: Floats) -> FloorForces:
    """What the floor does against ``loads`` (k, 6); raises TipsOverError."""
    from scipy.optimize import nnls

    number = _numbers(at)
    cells = np.unique(number[at.on_back], axis=0)
    if not len(cells):
        raise TipsOverError(TIPS_OVER)
    patches = [_patch(at, number, cell) for cell in cells]
    middles = np.array([p.middle for p in patches])
    areas = np.array([p.weights.sum() for p in patches])
    units = np.array([spread(at.shell, p, [0.0, 0.0, 1.0], m) for p, m in zip(patches, middles, strict=True)])
    moved = factor.displaced(np.concatenate([units, loads[None]])).reshape(len(cells) + 1, -1)
    gives = moved @ units.reshape(len(cells), -1).T
    compliance = gives[:-1] + np.diag(1.0 / (MAT * areas))
    lower = np.linalg.cholesky((compliance + compliance.T) / 2)
    force, moment = resultant(at.shell, loads)
    whole = np.array([force[2], moment[0], moment[1]])
    lever = np.stack([np.ones(len(cells)), middles[:, 1], -middles[:, 0]])
    scale = STRICT * np.sqrt(np.trace(compliance) / len(cells)) * np.array([1.0, 10.0, 10.0])
    rows = np.concatenate([lower.T, scale[:, None] * lever])
    right = np.concatenate([-np.linalg.solve(lower, gives[-1]), -scale * whole])
    pushes, _ = nnls(rows, right)
    if not np.abs(lever @ pushes + whole).max() < 1e-3 * np.abs(whole).max():
        raise TipsOverError(TIPS_OVER)
    return FloorForces(cells, middles, np.asarray(pushes))


def on_floor(at: SheetShell, loads: Floats, floor: FloorForces) -> Floats:
    """``loads`` (k, 6) with what the floor does against them, on this mesh or any other of the plate."""
    number, total = _numbers(at), loads.copy()
    for cell, middle, push in zip(floor.cells, floor.middles, floor.pushes, strict=True):
        if push > 0.0:
            total += spread(at.shell, _patch(at, number, cell), [0.0, 0.0, push], middle)
    return total


def _numbers(at: SheetShell) -> Any:
    """(m, q, 2): the cell of each quadrature point."""
    return np.floor(at.seen / CELL).astype(int)


def _patch(at: SheetShell, number: Any, cell: Any) -> Patch:
    own = at.on_back & (number == cell).all(axis=2)
    return on_area(at.shell, own.astype(float))
