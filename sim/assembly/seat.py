"""Where the plate lies: waist slots at the waist, flats on the back.

The plate is strapped down, so that it rests on the two most prominent places of the back under it, one above and
one below its middle. The waist strap runs level with the natural waist, midway between lowest rib and hip bone,
unless the rig was dropped: the length of the shoulder straps says the same thing in other words.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import Final

import numpy as np

from meshes.memoized import memoized_on_body
from meshes.mesh import Floats
from meshes.plate.back_plate import Plate
from sim.assembly.placement import Placement
from sim.person.person import Person
from sim.person.posed_body import PosedBody, back_of_trunk

STATIONS: Final = 41
BESIDE_SPINE: Final = (0.05, 0.09)  # m off the middle line, where the flats of a plate lie (assumed)
STEEPEST: Final = np.radians(20.0)  # a plate that would lie steeper than this bridges a hollow, and is left there


def seated(plate: Plate, body: PosedBody, padding: float, drop: float) -> Placement:
    """Placement of the plate's frame in body axes, the same in every pose.

    padding : clothing between back and plate, squeezed [m];  drop : how far below the waist the slots hang [m]
    """
    return _seated(plate, body.person, padding, drop)


@memoized_on_body
def _seated(plate: Plate, person: Person, padding: float, drop: float) -> Placement:
    return seats(plate, person, padding, (drop,))[0]


def seats(plate: Plate, person: Person, padding: float, drops: Sequence[float]) -> tuple[Placement, ...]:
    """The placements of ``seated`` at several drops, on a person in any pose: the trunk does not bend."""
    heights = person.skeleton.heights["waist"] - np.asarray(drops, dtype=float) - plate.waist_slots[:, 0].mean()
    stations = heights[:, None] + np.linspace(float(plate.bottom[0]), float(plate.top[0]), STATIONS)
    beside = back_of_trunk(person, stations.reshape(-1, 1), np.array(BESIDE_SPINE)[None])
    profiles = beside.max(axis=1).reshape(stations.shape)
    return tuple(_laid(h, x - h, z, padding) for h, x, z in zip(heights.tolist(), stations, profiles, strict=True))


def _laid(height: float, x: Floats, profile: Floats, padding: float) -> Placement:
    """A plate whose frame lies at ``height`` on a profile (n,) of the back at places x (n,) along it [m]."""
    slope, level = _resting_line(x, profile)
    tilt = float(np.clip(np.arctan(slope), -STEEPEST, STEEPEST))
    turn = np.array([[np.cos(tilt), 0.0, -np.sin(tilt)], [0.0, 1.0, 0.0], [np.sin(tilt), 0.0, np.cos(tilt)]])
    return Placement(turn, np.array([height, 0.0, level + padding / np.cos(tilt)]))


def _resting_line(x: Floats, z: Floats) -> tuple[float, float]:
    """Slope and height at x = 0 of the line that lies on a profile at two places, one each side of its middle.

    It is the edge of the profile's upper hull that spans the middle.
    """
    middle = 0.5 * (x[0] + x[-1])
    hull = _upper_hull(x.tolist(), z.tolist())
    (x0, z0), (x1, z1) = next((a, b) for a, b in itertools.pairwise(hull) if a[0] <= middle < b[0])
    slope = (z1 - z0) / (x1 - x0)
    return slope, z0 - slope * x0


def _upper_hull(x: list[float], z: list[float]) -> list[tuple[float, float]]:
    """Corners, left to right, of the hull over points whose x rise (Andrew's chain).

    scipy's hull refuses points on one line, as a flat back's are, and takes 0.4 s to import.
    """
    chain: list[tuple[float, float]] = []
    for p in zip(x, z, strict=True):
        while len(chain) > 1:
            (ax, az), (bx, bz) = chain[-2:]
            if (bx - ax) * (p[1] - az) - (bz - az) * (p[0] - ax) < 0.0:
                break
            chain.pop()
        chain.append(p)
    return chain
