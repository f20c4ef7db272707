"""Hoses and cords along a curve, and the corrugated inflator hose of a wing."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.gear.weighed import weighed
from meshes.mesh import Floats, joined, moved
from meshes.primitives import rounded_box
from meshes.solid import Solid
from meshes.sweep import path_length, smooth_path, tangents, tube

HOSE_MASS: Final = 0.27  # [kg/m] rubber hose with its end fittings spread over it, 0.25-0.3, +-20 %, from memory
HOSE_DIAMETER: Final = 0.0115  # [m] 11-13 mm, from memory
FITTING: Final = 0.028  # [m] length of the crimped sleeve at each end
INFLATOR: Final = 1300.0  # [kg/m^3] rubber bellows and plastic head with a metal valve, flooded inside; from memory


def hose(
    points: ArrayLike,
    *,
    mass_per_metre: float = HOSE_MASS,
    outer_diameter: float = HOSE_DIAMETER,
    length: float | None = None,
    fittings: bool = True,
    spacing: float = 0.012,
    sides: int = 14,
) -> Solid:
    """Hose along a smooth curve through ``points`` (n >= 2, 3) [m]; the solid is in the points' frame.

    Mass is mass_per_metre times length, displaced volume pi/4 outer_diameter^2 times length (the bore holds gas).
    length : as bought [m]; None takes that of the curve. fittings : draw thicker sleeves at the ends
    """
    if not (mass_per_metre > 0.0 and outer_diameter > 0.0):
        raise ValueError(f"needs mass and diameter > 0, got {mass_per_metre} kg/m and {outer_diameter} m")
    path = smooth_path(points, spacing)
    drawn = path_length(path)
    long = drawn if length is None else float(length)
    if not long > 0.0:
        raise ValueError(f"the length must be > 0 m, got {length}")
    radius = _sleeved(path, 0.5 * outer_diameter) if fittings else np.full(len(path), 0.5 * outer_diameter)
    section = 0.25 * np.pi * outer_diameter**2
    return weighed(tube(path, radius, sides), mass_per_metre * long, mass_per_metre / section)


def cord(points: ArrayLike, *, mass_per_metre: float = 0.07, outer_diameter: float = 0.0075) -> Solid:
    """Electric cord of a light or heating, or a rope: a hose without sleeves (mass from memory)."""
    return hose(points, mass_per_metre=mass_per_metre, outer_diameter=outer_diameter, fittings=False)


def inflator_hose(points: ArrayLike, mass: float = 0.35) -> Solid:
    """Corrugated hose of a wing from its elbow to the inflator head, along ``points`` (n >= 2, 3) [m].

    mass : hose and head [kg] (0.3-0.45, from memory). The head sits at the last point, along the hose's end.
    """
    path = smooth_path(points, 0.0025)
    along = np.linspace(0.0, path_length(path), len(path))
    bellows = 0.0150 + 0.0022 * np.cos(2.0 * np.pi * along / 0.0125)
    direction = tangents(path)[-1]
    side = np.cross(direction, np.eye(3)[np.argmin(np.abs(direction))])
    side /= np.linalg.norm(side)
    turn = np.column_stack([direction, side, np.cross(direction, side)])
    head = [
        moved(rounded_box([0.085, 0.034, 0.030], 0.010), turn, path[-1] + 0.040 * direction),
        moved(rounded_box([0.018, 0.060, 0.018], 0.006), turn, path[-1] + 0.060 * direction),
    ]
    return weighed(joined([tube(path, bellows, 20), *head]), mass, INFLATOR)


def _sleeved(path: Floats, radius: float) -> Floats:
    """Radius (k,) along the path, a third larger at both ends."""
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(path, axis=0), axis=1))])
    end = np.minimum(along, along[-1] - along)
    return np.asarray(radius * (1.0 + 0.35 * (end < FITTING)))
