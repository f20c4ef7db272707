"""Diving cylinder: walls from the pressure it must stand, or from what it weighs."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np

from meshes.gear.cylinder_ends import Base, base_profiles
from meshes.loft import lathe
from meshes.memoized import memoized
from meshes.mesh import Floats
from meshes.revolved import elliptic_arc, revolved_integrals
from meshes.solid import Solid, VolumeIntegrals

Metal = Literal["steel", "aluminium"]

TEST_OVER_WORKING: Final = 1.5  # ISO 9809-1 / ISO 7866, from memory
STRESS_SHARE: Final = 0.65  # F Re = 0.65 Rg in the same standards, from memory
NECK_RADIUS, BORE_RADIUS, NECK_FILLET = 0.0275, 0.0125, 0.015  # [m] boss 55 mm, M25 thread; from memory
LENGTH_SLACK: Final = 0.04  # a diameter is good to 1 % (ISO 9809-1, from memory), so a length to 2 %, and paint


@dataclass(frozen=True)
class Alloy:
    """Metal of a cylinder and how its maker shares it out.

    density [kg/m^3]; tensile : guaranteed strength Rg [Pa]; side, shoulder : mean thickness of each part over the
    least wall of the standard; neck : height of the boss above the shoulder [m]
    """

    density: float
    tensile: float
    side: float
    shoulder: float
    neck: float


# 34CrMo4 quenched and tempered: density read in a handbook table, Rg 880-1030 MPa from memory (950 taken).
# 6061-T6: density read in a handbook table; 310 MPa is the strength of real lots (45 ksi, from memory; the least
# allowed by 49 CFR 178.46 is 262 MPa). Shares: walls come out 8 % (4 %) over the least; shoulder and neck from
# memory.
ALLOYS: Final[dict[Metal, Alloy]] = {
    "steel": Alloy(7850.0, 950e6, 1.08, 1.6, 0.045),
    "aluminium": Alloy(2700.0, 310e6, 1.04, 1.6, 0.030),
}


@dataclass(frozen=True, eq=False)
class Cylinder:
    """Empty cylinder without valve. Frame: +x from base to valve, origin at the base's outermost point on the axis.

    solid : the metal, displacing all that the closed outside encloses
    inside : volume (= water capacity), centroid and second moments of the gas space
    wall : mean thickness of the parallel part [m];  least_wall : the standard's wall that goes with it [m]
    base_top_x, shoulder_x, neck_x : where the parallel part begins and ends, and the top of the neck [m]
    length : over all, from the foot of a concave base, which lies before the frame's origin [m]
    """

    solid: Solid
    inside: VolumeIntegrals
    outer_diameter: float
    length: float
    wall: float
    least_wall: float
    base_top_x: float
    shoulder_x: float
    neck_x: float

    @property
    def water_capacity(self) -> float:
        """[m^3]"""
        return self.inside.volume

    @property
    def gas_centroid(self) -> Floats:
        """Where the gas is (3,) [m]."""
        return self.inside.centroid

    @property
    def neck(self) -> Floats:
        """Top of the neck on the axis (3,) [m]; a valve's origin goes here."""
        return np.array([self.neck_x, 0.0, 0.0])


@dataclass(frozen=True)
class _Shape:
    """What fixes both profiles, save the length of the parallel part. Lengths [m]."""

    radius: float
    least: float
    alloy: Alloy
    base: Base
    ends: float
    arc_points: int


def least_wall(outer_diameter: float, working_pressure: float, metal: Metal) -> float:
    """Least wall of the parallel part [m] for a diameter [m] and a working pressure [Pa] above atmosphere.

    a = D/2 (1 - sqrt(1 - sqrt(3) p_h / (F Re))), the Lame - von Mises formula of ISO 9809-1 and ISO 7866 (clause
    numbers and factors from memory), p_h = 1.5 working pressure.
    """
    if not (outer_diameter > 0.0 and working_pressure > 0.0):
        raise ValueError(f"diameter and pressure must be > 0, got {outer_diameter} m and {working_pressure} Pa")
    use = np.sqrt(3.0) * TEST_OVER_WORKING * working_pressure / (STRESS_SHARE * ALLOYS[metal].tensile)
    if not use < 1.0:
        raise ValueError(f"no wall of {metal} stands a working pressure of {working_pressure / 1e5:.0f} bar")
    return float(0.5 * outer_diameter * (1.0 - np.sqrt(1.0 - use)))


def usual_base(metal: Metal) -> Base:
    """A diver's steel cylinder generally has a domed base, an aluminium one a flat base (encyclopaedia article)."""
    return "convex" if metal == "steel" else "flat"


@memoized
def cylinder(
    *,
    water_capacity: float,
    outer_diameter: float,
    working_pressure: float | None = None,
    metal: Metal = "steel",
    base: Base | None = None,
    mass: float | None = None,
    length: float | None = None,
    points: int = 64,
) -> Cylinder:
    """Cylinder of stated water capacity [m^3] and outer diameter [m].

    working_pressure : [Pa] sets the walls; needed unless ``mass`` is stated
    base : "convex" (domed outward, usual for a diver's steel), "concave" (domed inward, standing on a foot) or "flat"
        (usual for aluminium); None takes the usual one
    mass : weighed without valve [kg]; the walls are then thickened or thinned together until they weigh that
    length : measured without valve [m]; the ends are then made deeper or flatter until it fits. A length up to 4 %
        beyond the deepest or flattest ends is taken as an error in diameter, and the nearest one is built.
    points : sides of the drawn mesh; mass, volume and centres do not depend on it

    Volume displaced is exactly water_capacity + mass / density of the metal. By formula alone masses agree with
    trade values within 8 % (most of it the spread of the steel's strength). Raises ValueError with the possible
    range when capacity, diameter, mass and length cannot belong to one cylinder.
    """
    if not (water_capacity > 0.0 and outer_diameter > 0.095):
        raise ValueError(
            f"needs water capacity > 0 and outer diameter > 95 mm, got {water_capacity} m^3 and {outer_diameter} m"
        )
    if mass is None and working_pressure is None:
        raise ValueError("state the working pressure or the mass: one of them sets the walls")
    thick = 0.04 * outer_diameter if working_pressure is None else least_wall(outer_diameter, working_pressure, metal)
    shape = _Shape(
        radius=0.5 * outer_diameter,
        least=thick,
        alloy=ALLOYS[metal],
        base=base or usual_base(metal),
        ends=1.0,
        arc_points=32,
    )
    fitted = _fitted(shape, water_capacity, mass, length)
    return _built(fitted, water_capacity, points)


def _fitted(shape: _Shape, capacity: float, mass: float | None, length: float | None) -> _Shape:
    """Walls and end depths that give the stated mass and length, where they are stated."""
    from scipy.optimize import brentq

    def walled(ends: float) -> _Shape:
        start = replace(shape, ends=ends)
        return start if mass is None else _weighing(start, capacity, mass)

    if length is None:
        return walled(1.0)

    def excess(ends: float) -> float:
        return _top(walled(ends), capacity) - length

    flattest, deepest = 0.3, 1.2
    short, long = excess(flattest), excess(deepest)
    slack = LENGTH_SLACK * length
    if not short - slack <= 0.0 <= long + slack:
        raise ValueError(
            f"a cylinder of {capacity * 1e3:.3g} l and {shape.radius * 2e3:.1f} mm is "
            f"{(length + short) * 1e3:.0f} to {(length + long) * 1e3:.0f} mm long without its valve, "
            f"not {length * 1e3:.0f} mm; check capacity, diameter and length, "
            "and that the length leaves out valve and boot"
        )
    if short >= 0.0:
        return walled(flattest)
    return walled(deepest if long <= 0.0 else float(brentq(excess, flattest, deepest, xtol=1e-9)))


def _weighing(shape: _Shape, capacity: float, mass: float) -> _Shape:
    from scipy.optimize import brentq

    def excess(least: float) -> float:
        return _metal_mass(replace(shape, least=least), capacity) - mass

    thin, thick = 0.005 * shape.radius, 0.3 * shape.radius
    light, heavy = excess(thin), excess(thick)
    if not light <= 0.0 <= heavy:
        raise ValueError(
            f"a cylinder of {capacity * 1e3:.3g} l and {shape.radius * 2e3:.1f} mm weighs {mass + light:.1f} to "
            f"{mass + heavy:.1f} kg, not {mass:g} kg; check the unit and the metal"
        )
    return replace(shape, least=float(brentq(excess, thin, thick, xtol=1e-12, rtol=1e-14)))


def _metal_mass(shape: _Shape, capacity: float) -> float:
    outer, _ = _profiles(shape, _shoulder_x(shape, capacity))
    return shape.alloy.density * (revolved_integrals(outer).volume - capacity)


def _top(shape: _Shape, capacity: float) -> float:
    return float(_profiles(shape, _shoulder_x(shape, capacity))[0][-1, 0])


def _shoulder_x(shape: _Shape, capacity: float) -> float:
    """End of the parallel part [m] that makes the inside hold the capacity; the rest of the inside is fixed."""
    inner_radius = shape.radius - shape.alloy.side * shape.least
    guess = 4.0 * shape.radius
    missing = capacity - revolved_integrals(_profiles(shape, guess)[1]).volume
    shoulder = guess + missing / (np.pi * inner_radius**2)
    begins = max(_base(shape)[0][-1, 0], _base(shape)[1][-1, 0])
    if not shoulder > begins:
        raise ValueError(
            f"a capacity of {capacity * 1e3:.3g} l is too small for an outer diameter of {shape.radius * 2e3:.0f} mm"
        )
    return float(shoulder)


def _profiles(shape: _Shape, shoulder_x: float) -> tuple[Floats, Floats]:
    """Outer and inner profile (k, 2), from the pole of the base to the top of the neck."""
    outer_base, inner_base = _base(shape)
    inner_radius = shape.radius - shape.alloy.side * shape.least
    inner_depth = 0.9 * inner_radius * shape.ends
    outer_depth = inner_depth + shape.alloy.shoulder * shape.least
    top = shoulder_x + outer_depth + shape.alloy.neck

    def dome(depth: float, radius: float, ends_at: float) -> Floats:
        start, end = 0.5 * np.pi, float(np.arcsin(ends_at / radius))
        return elliptic_arc((shoulder_x, 0.0), (depth, radius), start, end, shape.arc_points)

    shoulder = dome(outer_depth, shape.radius, NECK_RADIUS + NECK_FILLET)
    fillet = _fillet(shoulder[-1], shoulder_x, outer_depth, shape.radius)
    outer = np.vstack([outer_base, shoulder, fillet, [[top - 0.002, NECK_RADIUS], [top, NECK_RADIUS - 0.002]]])
    inner = np.vstack([inner_base, dome(inner_depth, inner_radius, BORE_RADIUS), [[top, BORE_RADIUS]]])
    return outer, inner


def _fillet(start: Floats, shoulder_x: float, depth: float, radius: float, n: int = 8) -> Floats:
    """Hollow curve (n, 2) from ``start`` on the dome, along its tangent, up to the neck; it never cuts the dome."""
    x, r = start
    slope = -((depth / radius) ** 2) * r / (x - shoulder_x)
    corner = np.array([x + slope * (NECK_RADIUS - r), NECK_RADIUS])
    end = corner + np.array([NECK_FILLET, 0.0])
    t = np.linspace(0.0, 1.0, n + 1)[1:, None]
    return np.asarray((1.0 - t) ** 2 * start + 2.0 * t * (1.0 - t) * corner + t**2 * end)


def _base(shape: _Shape) -> tuple[Floats, Floats]:
    """Outer and inner profile of the base, pole to parallel part."""
    side = shape.alloy.side * shape.least
    return base_profiles(shape.base, shape.radius, side, shape.radius * shape.ends, shape.arc_points)


def _built(shape: _Shape, capacity: float, points: int) -> Cylinder:
    shoulder_x = _shoulder_x(shape, capacity)
    outer, inner = _profiles(shape, shoulder_x)
    # a concave base has its pole above its foot; the frame's origin is on the axis
    shift = np.array([outer[0, 0], 0.0])
    outer, inner = outer - shift, inner - shift
    whole, inside = revolved_integrals(outer), revolved_integrals(inner)
    metal = whole.volume - inside.volume
    cm = (whole.volume * whole.centroid - inside.volume * inside.centroid) / metal
    second = _about(whole, cm) - _about(inside, cm)
    mass = shape.alloy.density * metal
    solid = Solid(mass, cm, shape.alloy.density * second, whole.volume, whole.centroid, lathe(outer, points))
    return Cylinder(
        solid=solid,
        inside=inside,
        outer_diameter=2.0 * shape.radius,
        length=float(outer[-1, 0] - outer[:, 0].min()),
        wall=shape.alloy.side * shape.least,
        least_wall=shape.least,
        base_top_x=float(_base(shape)[0][-1, 0] - shift[0]),
        shoulder_x=shoulder_x - float(shift[0]),
        neck_x=float(outer[-1, 0]),
    )


def _about(body: VolumeIntegrals, point: Floats) -> Floats:
    away = body.centroid - point
    return np.asarray(body.second + body.volume * (away @ away * np.eye(3) - np.outer(away, away)))
