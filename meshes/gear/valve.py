"""Cylinder valves, and the manifold that joins the two of a twin set."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.gear.weighed import evened, weighed
from meshes.loft import circle, lathe, loft
from meshes.memoized import memoized
from meshes.mesh import Floats, Mesh, joined, mirrored, moved
from meshes.solid import MIRROR, Solid, combined
from meshes.solid import mirrored as mirrored_solid
from meshes.solid import moved as moved_solid
from meshes.sweep import rod

CHROMED_BRASS: Final = 8400.0  # [kg/m^3] brass 8500 (handbook table) with a rubber knob and a bore; from memory
KNOB_RADIUS: Final = 0.019  # [m]


@dataclass(frozen=True, eq=False)
class Valve:
    """Valve of one cylinder.

    Frame: origin on the cylinder's axis at the top of its neck, +x away from the cylinder, knob toward +y,
    outlet toward -z (toward the diver's head when the cylinder is on the back).
    outlet : (3,) centre of the outlet's face [m], where a first stage's origin goes;  outward : (3,) unit, its normal
    knob : (3,) centre of the knob's end [m]
    """

    solid: Solid
    outlet: Floats
    outward: Floats
    knob: Floats


@dataclass(frozen=True, eq=False)
class Manifold:
    """Two valves with the bridge between them.

    Frame: origin midway between the tops of the two necks, +x away from the cylinders, y left, outlets toward -z,
    knobs at the outer ends.
    solid : all of it;  left, right : the two valves' outlets and knobs in this frame
    isolator : (3,) centre of the end of the isolating valve's knob [m]
    """

    solid: Solid
    left: Valve
    right: Valve
    isolator: Floats


@memoized
def valve(mass: float = 0.6, *, mirror: bool = False) -> Valve:
    """Single valve of ``mass`` [kg] (0.5-0.7 with an M25 stem, +-20 %, from memory); mirrored, its knob is at -y.

    The stem inside the cylinder's neck is not drawn; the 0.01 l it takes is left in, far below the mass's error.
    """
    body = joined(
        [_barrel(), _outlet(), rod([0.026, 0.0, 0.0], [0.026, 0.036, 0.0], 0.0105), _knob([0.026, 0.036, 0.0])]
    )
    made = Valve(
        solid=weighed(body, mass, CHROMED_BRASS),
        outlet=np.array([0.030, 0.0, -0.034]),
        outward=np.array([0.0, 0.0, -1.0]),
        knob=np.array([0.026, 0.070, 0.0]),
    )
    return _mirrored(made) if mirror else made


@memoized
def isolation_manifold(spacing: float, mass: float = 2.4) -> Manifold:
    """Two valves and their bridge with an isolating valve, for cylinders ``spacing`` [m] apart between axes.

    mass : of all three [kg] (2.0-2.8, +-20 %, from memory)
    """
    if not spacing > 0.11:
        raise ValueError(f"the axes of twin cylinders are more than 0.11 m apart, got {spacing} m")
    left = _shifted(valve(0.28 * mass), [0.0, 0.5 * spacing, 0.0])
    right = _mirrored(left)
    bridge = evened(weighed(_bridge(spacing), 0.44 * mass, CHROMED_BRASS))
    return Manifold(combined([left.solid, right.solid, bridge]), left, right, np.array([0.092, 0.0, 0.0]))


def _barrel() -> Mesh:
    profile = [
        (0.0, 0.020), (0.004, 0.020), (0.006, 0.0165), (0.042, 0.0165),
        (0.047, 0.0150), (0.050, 0.0110), (0.051, 0.0),
    ]  # fmt: skip
    return lathe([(0.0, 0.0), *profile], 32)


def _outlet() -> Mesh:
    """Outlet boss toward -z with the rim that a first stage is screwed into."""
    profile = [
        (0.0, 0.0), (0.0, 0.0125), (0.020, 0.0125), (0.022, 0.0155),
        (0.033, 0.0155), (0.034, 0.0145), (0.034, 0.0),
    ]  # fmt: skip
    # +x of the lathe to -z
    turn = np.array([[0.0, 0.0, 1.0], [0.0, 1.0, 0.0], [-1.0, 0.0, 0.0]])
    return moved(lathe(profile, 32), turn, [0.030, 0.0, 0.0])


def _knob(at: ArrayLike, direction: str = "y") -> Mesh:
    """Fluted knob, 34 mm long, growing from ``at`` along +y or +x."""
    points, flutes = 64, 8
    angle = 2.0 * np.pi * np.arange(points) / points
    # raised lobes with narrow grooves between them, as fingers expect
    wave = 1.0 - 0.16 * (0.5 + 0.5 * np.cos(flutes * angle)) ** 3
    x = np.array([0.0, 0.0, 0.003, 0.008, 0.027, 0.032, 0.034, 0.034])
    size = KNOB_RADIUS * np.array([0.35, 0.80, 0.95, 1.0, 1.0, 0.94, 0.80, 0.35])
    around = circle(points) * wave[:, None]
    rings = np.stack([np.column_stack([np.full(points, s), r * around]) for s, r in zip(x, size, strict=True)])
    mesh = loft(rings)
    # +x of the loft to +y: x -> y, y -> -x
    turn = np.array([[0.0, -1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]]) if direction == "y" else None
    return moved(mesh, turn, at)


def _bridge(spacing: float) -> Mesh:
    """Crossbar between the two valves and the isolating valve in its middle, knob up (+x)."""
    reach = 0.5 * spacing - 0.0165
    nut = rod([0.026, reach - 0.022, 0.0], [0.026, reach, 0.0], 0.0145, 6)
    arm = rod([0.026, 0.019, 0.0], [0.026, reach - 0.022, 0.0], 0.0095)
    block = lathe(
        [(0.005, 0.0), (0.005, 0.0135), (0.010, 0.0175), (0.042, 0.0175), (0.046, 0.0135), (0.046, 0.0)], 32
    )
    stem = rod([0.046, 0.0, 0.0], [0.058, 0.0, 0.0], 0.008)
    sides = [nut, arm, mirrored(nut), mirrored(arm)]
    return joined([block, stem, _knob([0.058, 0.0, 0.0], "x"), *sides])


def _mirrored(item: Valve) -> Valve:
    return Valve(mirrored_solid(item.solid), MIRROR @ item.outlet, MIRROR @ item.outward, MIRROR @ item.knob)


def _shifted(item: Valve, shift: ArrayLike) -> Valve:
    by = np.asarray(shift, dtype=float)
    return replace(item, solid=moved_solid(item.solid, None, by), outlet=item.outlet + by, knob=item.knob + by)
