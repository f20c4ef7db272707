"""A cylinder that hangs from two rings on a diver, or floats up from them, beside a trunk that is in its way.

Held at its collar and at a band near its base by two lines that give way but do not stretch, it comes to lie where
its energy is least. What it weighs in water acts as two loads, one at each hold: with W the weight in water and M its
moment about the collar toward the base, the band carries M / (distance of the holds), the collar the rest. Either may
be upward. So a cylinder whose base is light and whose valve is heavy hangs by its collar with its base afloat.

The diver lies flat and still: gravity is along -z of the body. The trunk is a tube of elliptic section along x; no
friction; lines weigh nothing. The cylinder is free to roll about its own axis, so that a line's reach is its length
and how far its hold lies off that axis.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

import numpy as np

from meshes.mesh import Floats

Point = tuple[float, float, float]
CLOSE: Final = 1e-11  # of the larger load times a metre: holds are then found to about a micrometre
SLACK: Final = 1e-6  # m by which a line or the trunk may be overrun by rounding
STEPS: Final = 200
DIGITS: Final = 9  # of loads in kg, so that what differs by rounding alone is not worked out twice


@dataclass(frozen=True)
class TwoLines:
    """How a cylinder is held; all [m], in body axes or along the cylinder's axis from its base.

    upper, lower : the rings on the diver;  upper_reach, lower_reach : from a ring to the cylinder's axis, at most
    collar, band : where on the axis it is held;  shoulder : up to where it is as thick as ``radius``
    breadth, depth, middle : the trunk's half breadth and half depth, and z of its middle
    """

    upper: Point
    lower: Point
    upper_reach: float
    lower_reach: float
    collar: float
    band: float
    shoulder: float
    radius: float
    breadth: float
    depth: float
    middle: float


@dataclass(frozen=True)
class Loads:
    """What the two holds carry in water, as masses [kg]: plus sinks, minus floats up."""

    collar: float
    band: float


@dataclass(frozen=True)
class Lies:
    """Where a cylinder lies: its collar and band (3,) [m], in body axes."""

    collar: Point
    band: Point

    @property
    def along(self) -> Floats:
        """Unit vector (3,) from base to valve."""
        way = np.array(self.collar) - np.array(self.band)
        return np.asarray(way / np.linalg.norm(way))


@dataclass(frozen=True)
class Hanging:
    """A cylinder on two lines.

    lies : where it is now;  side : 1 at the diver's left, -1 at the right
    """

    how: TwoLines
    lies: Lies
    side: float


def loads(
    how: TwoLines, masses: Sequence[tuple[float, float]], volumes: Sequence[tuple[float, float]], density: float
) -> Loads:
    """Of masses [kg] and volumes [m^3], each with where it is on the axis [m], in water of a density [kg/m^3]."""
    items = [*masses, *((-density * v, x) for v, x in volumes)]
    weight = sum(m for m, _ in items)
    band = sum(m * (how.collar - x) for m, x in items) / (how.collar - how.band)
    return Loads(round(weight - band, DIGITS), round(band, DIGITS))


def cylinder_frame(hanging: Hanging) -> tuple[Floats, Floats]:
    """Rotation (3, 3) and origin (3,) [m] of the cylinder's frame: x to the valve, z outward from the diver."""
    along = hanging.lies.along
    out = np.array([0.0, hanging.side, 0.0])
    if abs(out @ along) > 1.0 - 1e-9:  # it points aside: any way square to it will do
        out = np.array([0.0, 0.0, -1.0])
    out = out - (out @ along) * along
    out = out / np.linalg.norm(out)
    turn = np.stack([along, np.cross(out, along), out], axis=1)
    return turn, np.array(hanging.lies.band) - hanging.how.band * along


def hung(how: TwoLines, on: Loads) -> Lies:
    """Where it comes to lie. Raises ValueError where the lines are too short for it to lie outside the trunk."""
    if how.upper[1] + how.lower[1] >= 0.0:
        return _hung_left(how, on)
    lies = _hung_left(replace(how, upper=_across(how.upper), lower=_across(how.lower)), on)
    return Lies(_across(lies.collar), _across(lies.band))


def _across(point: Point) -> Point:
    return point[0], -point[1], point[2]


@lru_cache(maxsize=512)
def _hung_left(how: TwoLines, on: Loads) -> Lies:
    """At the left; the right is its mirror image to the last bit."""
    from scipy.optimize import NonlinearConstraint, minimize

    scale = max(abs(on.collar), abs(on.band), 1e-9)
    down = np.array([0.0, 0.0, on.collar, 0.0, 0.0, on.band]) / scale

    def energy(q: Floats) -> float:
        return float(down @ q)

    def slopes(q: Floats) -> Floats:
        return down

    length = NonlinearConstraint(
        lambda q: _length(how, q)[:1], 0.0, 0.0, jac=lambda q: np.atleast_2d(_length(how, q)[1:])
    )
    gaps = NonlinearConstraint(lambda q: _gaps(how, q)[:, 0], 0.0, np.inf, jac=lambda q: _gaps(how, q)[:, 1:])
    found = minimize(
        energy,
        _beside(how),
        jac=slopes,
        method="SLSQP",
        constraints=(length, gaps),
        tol=CLOSE,
        options={"maxiter": STEPS},
    )
    q = found.x
    if not (np.all(np.isfinite(q)) and _gaps(how, q)[:, 0].min() > -SLACK and abs(_length(how, q)[0]) < SLACK):
        raise ValueError(
            f"its lines are too short, or too long and too far apart, for a cylinder {2e3 * how.radius:.0f} mm thick "
            f"that is held at two places {1e2 * (how.collar - how.band):.0f} cm apart to lie beside the trunk; "
            "lengthen upper_line or lower_line, or say where its middle is with at"
        )
    return Lies(_point(q[:3]), _point(q[3:]))


def _point(q: Floats) -> Point:
    return float(q[0]), float(q[1]), float(q[2])


def _beside(how: TwoLines) -> Floats:
    """Where the search begins: out at the left, level with the rings, as far apart as the holds are."""
    out = how.breadth + how.radius
    middle, half = 0.5 * (how.upper[0] + how.lower[0]), 0.5 * (how.collar - how.band)
    return np.array([middle + half, out, how.upper[2], middle - half, out, how.lower[2]])


def _length(how: TwoLines, q: Floats) -> Floats:
    """How far apart the holds are, squared, too much [m^2], and its slopes (1 + 6,)."""
    way = q[:3] - q[3:]
    return np.concatenate([[way @ way - (how.collar - how.band) ** 2], 2.0 * way, -2.0 * way])


def _gaps(how: TwoLines, q: Floats) -> Floats:
    """What must not be below nil, each with its slopes (n, 1 + 6): slack of the lines, and the trunk's distance."""
    found = np.zeros((5, 7))
    for row, (ring, reach, at) in enumerate(
        ((how.upper, how.upper_reach, slice(0, 3)), (how.lower, how.lower_reach, slice(3, 6)))
    ):
        off = q[at] - np.array(ring)
        found[row, 0] = reach**2 - off @ off
        found[row, 1:][at] = -2.0 * off
    a, b = how.breadth + how.radius, how.depth + how.radius
    for row, x in enumerate((how.shoulder, 0.5 * how.shoulder, 0.0), start=2):
        share = (x - how.band) / (how.collar - how.band)
        y, z = share * q[[1, 2]] + (1.0 - share) * q[[4, 5]] - [0.0, how.middle]
        found[row, 0] = (y / a) ** 2 + (z / b) ** 2 - 1.0
        slopes = np.array([2.0 * y / a**2, 2.0 * z / b**2])
        found[row, 2:4], found[row, 5:7] = share * slopes, (1.0 - share) * slopes
    return found
