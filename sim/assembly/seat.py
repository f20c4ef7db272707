"""Where the plate lies: waist slots at the waist, flats on the back.

The plate is strapped down, so that it rests on the two most prominent places of the back under it, one above and
one below its middle. The waist strap runs level with the natural waist, midway between lowest rib and hip bone,
unless the rig was dropped: the length of the shoulder straps says the same thing in other words.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.mesh import Floats
from meshes.plate import Plate
from sim.assembly.placement import Placement
from sim.person.posed_body import PosedBody

STATIONS: Final = 41
BESIDE_SPINE: Final = (0.05, 0.09)  # m off the middle line, where the flats of a plate lie (assumed)
STEEPEST: Final = np.radians(20.0)  # a plate that would lie steeper than this bridges a hollow, and is left there


def seated(plate: Plate, body: PosedBody, padding: float, drop: float) -> Placement:
    """Placement of the plate's frame in body axes.

    padding : clothing between back and plate, squeezed [m];  drop : how far below the waist the slots hang [m]
    """
    height = float(body.landmarks["natural waist back"][0]) - drop - float(plate.waist_slots[:, 0].mean())
    stations = height + np.linspace(float(plate.bottom[0]), float(plate.top[0]), STATIONS)
    profile = body.back_surface(stations[:, None], np.array(BESIDE_SPINE)[None, :]).max(axis=1)
    slope, level = _resting_line(stations - height, profile)
    tilt = float(np.clip(np.arctan(slope), -STEEPEST, STEEPEST))
    turn = np.array([[np.cos(tilt), 0.0, -np.sin(tilt)], [0.0, 1.0, 0.0], [np.sin(tilt), 0.0, np.cos(tilt)]])
    return Placement(turn, np.array([height, 0.0, level + padding / np.cos(tilt)]))


def _resting_line(x: Floats, z: Floats) -> tuple[float, float]:
    """Slope and height at x = 0 of the line that lies on a profile at two places, one each side of its middle."""
    middle = 0.5 * (x[0] + x[-1])
    best = (0.0, float(z.max()))
    lowest = np.inf
    for i in np.flatnonzero(x <= middle):
        for j in np.flatnonzero(x > middle):
            slope = (z[j] - z[i]) / (x[j] - x[i])
            if (z <= z[i] + slope * (x - x[i]) + 1e-9).all():
                at_middle = z[i] + slope * (middle - x[i])
                if at_middle < lowest:
                    lowest = at_middle
                    best = (float(slope), float(z[i] - slope * x[i]))
    return best
