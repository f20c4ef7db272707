"""Loads on a shell: a force and a moment spread over a patch or along an edge, and weight."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats, Ints
from sim.shells.shell import Shell

EDGE_PLACES: Final = (0.5 - np.sqrt(0.15), 0.5, 0.5 + np.sqrt(0.15))  # Gauss, along an edge
EDGE_WEIGHTS: Final = (5.0 / 18.0, 8.0 / 18.0, 5.0 / 18.0)


@dataclass(frozen=True, eq=False)
class Patch:
    """Where a load is spread: p points at which nodes' shape functions are known.

    places : (p, 3) [m];  weights : (p,) how much of the load each takes, of any sum
    nodes : (p, i) with (p, i) ``values`` of their shape functions there
    """

    places: Floats
    weights: Floats
    nodes: Ints
    values: Floats

    @property
    def middle(self) -> Floats:
        """(3,) of what is spread evenly over it; raises ValueError where it has no extent."""
        total = float(self.weights.sum())
        if not total > 0.0:
            raise ValueError("nothing of the sheet lies where it is to be pulled at or held (bolts, slots)")
        return np.asarray(self.weights @ self.places / total)


def on_area(shell: Shell, share: Floats) -> Patch:
    """A patch over the sheet; ``share`` (m, q) >= 0 of the pressure at each quadrature point of the shell."""
    picked, point = np.nonzero(share > 0.0)
    weights = (share * shell.areas)[picked, point]
    return Patch(shell.places[picked, point], weights, shell.triangles[picked], shell.values[point])


def on_edges(shell: Shell, edges: Ints, share: Floats) -> Patch:
    """A patch along ``edges`` (b, 3), as in ``Shell.edges``; ``share`` (b,) >= 0 of the load a length."""
    at = np.array(EDGE_PLACES)
    values = np.stack([(1 - at) * (1 - 2 * at), at * (2 * at - 1), 4 * at * (1 - at)], axis=1)
    ends = shell.nodes[edges]
    long = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    places = np.einsum("gi,bik->bgk", values, ends).reshape(-1, 3)
    weights = (share * long)[:, None] * np.array(EDGE_WEIGHTS)
    nodes, shapes = np.repeat(edges, 3, axis=0), np.tile(values, (len(edges), 1))
    return Patch(places, weights.reshape(-1), nodes, shapes)


def spread(shell: Shell, patch: Patch, force: ArrayLike, point: ArrayLike) -> Floats:
    """Nodes' loads (k, 6) of a ``force`` [N] that acts at ``point`` [m] and is spread over a patch.

    Each place takes its weight's share of F + m x (place - middle), with m such that the moment is right too, as an
    interpolation element does: pressures that vary in proportion to the distance from the middle. The part of the
    moment that turns about a patch's own line, which forces on it cannot give, is laid on as a moment.
    Raises ValueError for a patch of no extent.
    """
    middle = patch.middle
    share = patch.weights / patch.weights.sum()
    off = patch.places - middle
    push = np.asarray(force, dtype=float)
    moment = np.cross(np.asarray(point, dtype=float) - middle, push)
    inertia = (share * (off**2).sum(axis=1)).sum() * np.eye(3) - (share[:, None] * off).T @ off
    turn = np.linalg.pinv(inertia, rcond=1e-6) @ moment
    forces = share[:, None] * (push + np.cross(turn, off))
    couples = share[:, None] * (moment - inertia @ turn)
    loads = np.zeros((len(shell.nodes), 6))
    for k, each in enumerate((forces, couples)):
        for i in range(patch.nodes.shape[1]):
            np.add.at(loads[:, 3 * k : 3 * k + 3], patch.nodes[:, i], patch.values[:, i, None] * each)
    return loads


def weight(shell: Shell, density: float, gravity: ArrayLike) -> Floats:
    """Nodes' loads (k, 6) of the sheet's own weight: density [kg/m^3], gravity (3,) [m/s^2]."""
    loads = np.zeros((len(shell.nodes), 6))
    mass = density * (shell.thickness[:, None] * shell.areas) @ shell.values
    for i in range(6):
        np.add.at(loads[:, :3], shell.triangles[:, i], mass[:, i, None] * np.asarray(gravity, dtype=float))
    return loads


def resultant(shell: Shell, loads: Floats) -> tuple[Floats, Floats]:
    """Force (3,) [N] and moment (3,) [N m] about the origin of nodes' loads (k, 6)."""
    return loads[:, :3].sum(axis=0), (np.cross(shell.nodes, loads[:, :3]) + loads[:, 3:]).sum(axis=0)
