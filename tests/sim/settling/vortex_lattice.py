"""Water that a flat plate of any outline moves, by a lattice of vortex rings: shares nothing with the ellipsoids.

The plate is n by m panels, each with a ring of vorticity round it; the rings together make the fluid's velocity
across the plate that of the plate at the middle of each panel. Rings end a quarter of a panel short of the edge,
where the strength goes to nil as the root (James 1972, on the vortex lattice in two dimensions, from memory).
"""

import numpy as np


def grid(left, right, low, high, n, m):
    """Nodes (n + 1, m + 1, 2) between x = ``left`` and ``right`` and y = ``low(x)`` and ``high(x)``."""
    x = left + (right - left) * (np.arange(n + 1) + 0.25) / (n + 0.5)
    share = (np.arange(m + 1) + 0.25) / (m + 0.5)
    y = low(x)[:, None] + (high(x) - low(x))[:, None] * share
    return np.stack([np.broadcast_to(x[:, None], y.shape), y], axis=2)


def added(nodes, modes):
    """Matrix of added mass over density: entry i, j is the water's push in mode i for unit acceleration in mode j.

    nodes : (n + 1, m + 1, 2) [m];  modes : functions of places (k, 2) that give the velocity across the plate
    """
    corners = np.stack([nodes[:-1, :-1], nodes[1:, :-1], nodes[1:, 1:], nodes[:-1, 1:]], axis=2).reshape(-1, 4, 2)
    middle = corners.mean(axis=1)
    across, along = corners[:, 2] - corners[:, 0], corners[:, 3] - corners[:, 1]
    areas = 0.5 * np.abs(across[:, 0] * along[:, 1] - across[:, 1] * along[:, 0])
    wash = sum(_side(middle, corners[:, i], corners[:, (i + 1) % 4]) for i in range(4))
    speeds = np.array([mode(middle) for mode in modes]).T
    rings = np.linalg.solve(wash, speeds)
    return (speeds * areas[:, None]).T @ rings


def _side(at, start, end):
    """Velocity (k, n) across the plate at places (k, 2), of straight vortices from ``start`` to ``end`` (n, 2)."""
    to_start, to_end = at[:, None] - start, at[:, None] - end
    side = end - start
    cross = to_start[..., 0] * to_end[..., 1] - to_start[..., 1] * to_end[..., 0]
    directions = to_start / np.linalg.norm(to_start, axis=2)[..., None] - (
        to_end / np.linalg.norm(to_end, axis=2)[..., None]
    )
    return np.einsum("ni,kni->kn", side, directions) / (4.0 * np.pi * np.where(cross == 0.0, np.inf, cross))
