"""How a shell gives way under loads: free in space under loads in balance, or held at some of its nodes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from meshes.mesh import Floats
from sim.shells.shell import Shell, stiffness


@dataclass(frozen=True, eq=False)
class Factored:
    """A shell's stiffness, factored with the components ``free`` (bool, (6 k,)) left free."""

    free: Any
    factor: Any

    def displaced(self, loads: Floats) -> Floats:
        """Displacements and rotations (..., k, 6) under loads (..., k, 6) [N, N m]; nil where held."""
        every = loads.reshape(-1, len(self.free))
        found = np.zeros_like(every)
        found[:, self.free] = self.factor.solve(np.ascontiguousarray(every[:, self.free].T)).T
        return found.reshape(loads.shape)


def factored(shell: Shell, held: Any) -> Factored:
    """``held`` : (k, 6) bool, the components that stay nil, enough of them that the whole cannot move."""
    from scipy.sparse.linalg import splu

    matrix = stiffness(shell)
    free = ~np.asarray(held, dtype=bool).reshape(-1)
    kept = matrix[free][:, free].T  # symmetric: by columns, as the solver wants it, at no cost
    factor = splu(kept, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True})
    return Factored(free, factor)


def balanced_hold(shell: Shell) -> Any:
    """(k, 6) bool: six components at three corners that keep the whole from moving, and push with nothing where
    the loads are in balance."""
    places = shell.nodes[: shell.corners]
    first = int(np.argmin(places @ [1.0, 1.0, 0.0]))
    second = int(np.argmax(np.linalg.norm(places - places[first], axis=1)))
    line = (places[second] - places[first]) / np.linalg.norm(places[second] - places[first])
    off = np.linalg.norm(np.cross(places - places[first], line), axis=1)
    third = int(np.argmax(off))
    normal = np.abs(np.cross(line, places[third] - places[first]))
    up = int(np.argmax(normal))
    across = int(np.argmax(np.where(np.arange(3) == up, -1.0, np.abs(np.cross(np.eye(3)[up], line)))))
    held = np.zeros((len(shell.nodes), 6), dtype=bool)
    held[first, :3] = True
    held[second, [up, across]] = True
    held[third, up] = True
    return held
