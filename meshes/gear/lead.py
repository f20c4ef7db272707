"""Lead in its usual shapes. Stated masses hold exactly; sizes follow from them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from meshes.gear.webbing import webbing
from meshes.gear.weighed import weighed
from meshes.loft import loft
from meshes.mesh import Floats, Mesh, moved
from meshes.primitives import ellipsoid, rounded_box, superellipse
from meshes.solid import Solid, combined, mirrored, volume_integrals
from meshes.solid import moved as moved_solid

LEAD: Final = 11340.0  # [kg/m^3], from memory; cast with antimony 11000-11300
SHOT: Final = 6800.0  # [kg/m^3] bulk: random packing of spheres 0.55-0.64 (published), 0.60 taken


def _check(mass: float) -> None:
    if not mass > 0.0:
        raise ValueError(f"a weight needs a mass > 0 kg, got {mass}")


def _sized(mesh: Mesh, volume: float) -> Mesh:
    """The mesh scaled about its origin to enclose ``volume`` [m^3]."""
    factor = (volume / volume_integrals(mesh).volume) ** (1.0 / 3.0)
    return moved(mesh, np.eye(3) * factor)


def lead_block(mass: float, *, density: float = LEAD) -> Solid:
    """Block for a belt. Frame: origin at its middle, x along the belt, y across it, z its thickness."""
    _check(mass)
    return weighed(_sized(rounded_box([0.075, 0.058, 0.028], 0.007), mass / density), mass, density)


def weight_belt(
    masses: Sequence[float], *, breadth: float, depth: float, clear: float = 0.06, belt: bool = True
) -> Solid:
    """Blocks of ``masses`` [kg] spread evenly round the waist, on a belt of webbing unless ``belt`` is False.

    Frame: origin at the middle of the waist, x to the head, y left, z to the back.
    breadth, depth : of the waist over the suit [m];  clear : gap at the front for the buckle [m], each side
    The first mass lies at the diver's left front, the last at the right front; equal pairs balance.
    """
    if not (len(masses) > 0 and breadth > 0.1 and depth > 0.1):
        raise ValueError("a belt needs at least one weight and a waist over 0.1 m")
    blocks = [lead_block(m) for m in masses]
    round_waist = _waist(0.5 * breadth, 0.5 * depth)
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(round_waist, axis=0), axis=1))])
    places = clear + (np.arange(len(blocks)) + 0.5) / len(blocks) * (along[-1] - 2.0 * clear)
    placed = [_on_waist(b, round_waist, along, s) for b, s in zip(blocks, places, strict=True)]
    if not belt:
        return combined(placed)
    return combined([webbing(round_waist[::8], side=[1.0, 0.0, 0.0]), *placed])


def _waist(half_breadth: float, half_depth: float) -> Floats:
    """Ellipse (k, 3) from the front round the left side and the back to the front again."""
    angle = np.linspace(0.0, 2.0 * np.pi, 721)
    return np.column_stack([np.zeros(721), half_breadth * np.sin(angle), -half_depth * np.cos(angle)])


def _on_waist(block: Solid, path: Floats, along: Floats, at: float) -> Solid:
    """Block laid on the outside of the belt at arc length ``at`` [m]."""
    behind, place, ahead = (
        np.array([np.interp(at + s, along, path[:, k]) for k in range(3)]) for s in (-0.005, 0, 0.005)
    )
    way = (ahead - behind) / np.linalg.norm(ahead - behind)
    across = np.array([1.0, 0.0, 0.0])
    out = np.cross(way, across)
    thick = 0.0 if block.mesh is None else float(np.ptp(block.mesh.vertices[:, 2]))
    return moved_solid(block, np.column_stack([way, across, out]), place + (0.5 * thick + 0.002) * out)


def channel_weight(
    mass: float,
    *,
    length: float = 0.30,
    floor: float = 0.045,
    slope: float = 45.0,
    density: float = LEAD,
) -> Solid:
    """V-shaped weight that fills a plate's channel from its floor.

    Frame: x up the back, y left, z away from the back; origin at the middle of the channel's floor, lead at z < 0.
    length : along the channel [m];  floor : width of the floor [m];  slope : of the walls against the plate [degrees]
    Its thickness follows from the mass.
    """
    _check(mass)
    if not (length > 0.02 and floor > 0.005 and 5.0 < slope <= 90.0):
        raise ValueError(f"needs length > 20 mm, floor > 5 mm, 5 < slope <= 90, got {length}, {floor}, {slope}")
    spread = 1.0 / np.tan(np.radians(slope))
    area = mass / density / length
    # area = floor h + spread h^2, solved so that a vertical wall (spread 0) needs no special case
    thick = 2.0 * area / (floor + np.sqrt(floor**2 + 4.0 * spread * area))
    low, high = 0.5 * floor, 0.5 * floor + spread * thick
    section = np.array([[low, 0.0], [-low, 0.0], [-high, -thick], [high, -thick]])
    return weighed(_prism(section, length), mass, density)


def _prism(section: Floats, length: float) -> Mesh:
    """Straight bar along x, ``length`` [m] about the origin, of section (n, 2) in (y, z), anticlockwise."""
    ends = (-0.5 * length, 0.5 * length)
    return loft(np.stack([np.column_stack([np.full(len(section), x), section]) for x in ends]))


def gap_weight(
    mass: float,
    *,
    outer_diameter: float,
    spacing: float,
    length: float = 0.30,
    clearance: float = 0.003,
    density: float = LEAD,
) -> Solid:
    """Bar in the gap between two cylinders on the plate's side, its flanks hollow where the cylinders are round.

    Frame: that of the twin bands: x along the cylinders to the valves, y left, z away from the diver, origin midway
    between the axes and at the middle of the bar. The bar fills the gap from where it is 20 mm wide out toward the
    plate (-z), as far as the mass needs. outer_diameter, spacing : of the cylinders [m];  length : of the bar [m]
    Raises ValueError when the mass would stand out beyond the cylinders' front.
    """
    _check(mass)
    radius, half = 0.5 * outer_diameter + clearance, 0.5 * spacing
    if not (half >= 0.5 * outer_diameter > 0.0 and length > 0.02):
        raise ValueError(f"axes {spacing} m apart must be at least one diameter, {outer_diameter} m; length > 20 mm")
    narrow = max(0.010, half - radius + 0.001)
    z = -np.linspace(np.sqrt(radius**2 - (half - narrow) ** 2), 0.5 * outer_diameter, 201)
    width = half - np.sqrt(np.maximum(radius**2 - z**2, 0.0))
    # trapezoids between the stations, both sides of the middle
    filled = np.concatenate([[0.0], np.cumsum((width[1:] + width[:-1]) * -np.diff(z))])
    need = mass / density / length
    if not need <= filled[-1]:
        raise ValueError(f"the gap holds up to {filled[-1] * length * density:.1f} kg over {length} m, not {mass} kg")
    depth = np.linspace(z[0], np.interp(need, filled, z), 13)
    flank = np.column_stack([np.interp(-depth, -z, width), depth])
    # anticlockwise in (y, z): up the left flank from the plate's side, down the right
    section = np.vstack([flank[::-1], flank * [-1.0, 1.0]])
    return weighed(_prism(section, length), mass, density)


def tail_weight(mass: float, *, density: float = LEAD) -> Solid:
    """Flat weight at the plate's lower end. Frame: origin at its middle, x up, y left, z away from the back."""
    _check(mass)
    return weighed(_sized(rounded_box([0.062, 0.120, 0.026], 0.008), mass / density), mass, density)


def shot_pouch(mass: float) -> Solid:
    """Pillow of lead shot. Frame: origin at its middle, x and y along its sides, z its thickness.

    Drawn as large as the packed shot (6800 kg/m^3); displaces only the lead, since water fills the voids.
    """
    _check(mass)
    pillow = ellipsoid([0.060, 0.045, 0.022], rings=20, points=32)
    return weighed(_sized(pillow, mass / SHOT), mass, LEAD)


def ankle_weight(mass: float, *, girth: float = 0.26, height: float = 0.06, mirror: bool = False) -> Solid:
    """Ring of shot round one ankle, its buckle on the outside of the left leg; mirrored, of the right.

    Frame: origin on the shank's axis at the ring's middle, x up the shank, y left, z to the back.
    girth : of the ankle over the suit [m];  height : of the ring along the shank [m]
    The ring leaves a gap of an eighth at the buckle. Displaces only the lead.
    """
    _check(mass)
    inner = girth / (2.0 * np.pi)
    angle = np.linspace(0.125 * np.pi, 1.875 * np.pi, 49)
    # an ellipse of the ring's height and thickness t has area pi/4 height t, at radius inner + t/2
    area = mass / SHOT / (1.75 * np.pi)
    thick = 4.0 * area / (np.pi * height) / (0.5 * inner + np.sqrt(0.25 * inner**2 + 2.0 * area / (np.pi * height)))
    outline = superellipse(24, thick, height, 2.0)
    reach = inner + 0.5 * thick
    # outline x outward, y up the shank; the walk is clockwise seen from above so that rings are right-handed
    outward = np.column_stack([np.zeros(49), np.cos(angle), np.sin(angle)])
    rings = outward[:, None, :] * (reach + outline[:, 0])[None, :, None] + outline[:, 1, None] * [1.0, 0.0, 0.0]
    made = weighed(loft(rings[::-1]), mass, LEAD)
    return mirrored(made) if mirror else made
