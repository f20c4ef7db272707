"""Mask and hood. Axes as the body's, with the head held straight: x to the crown, y left, z to the back."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.gear.weighed import evened, weighed
from meshes.loft import circle, loft
from meshes.memoized import memoized_on_body
from meshes.mesh import Floats, Mesh, joined
from meshes.primitives import closed_loft, ellipsoid, superellipse
from meshes.solid import Solid, scaled_to_mass, solid_of, volume_integrals
from meshes.sweep import smooth_path, swept

MASK_MATERIAL: Final = 1500.0  # [kg/m^3] silicone 1100-1200, plastic frame 1200, glass 2500; shares from memory
FOAM: Final = 220.0  # [kg/m^3] finished foam neoprene of a hood with lining; core 100-250, secondary source


@memoized_on_body
def mask(
    mass: float = 0.28,
    *,
    held_gas: float = 0.0,
    head_breadth: float = 0.16,
    head_depth: float = 0.20,
) -> Solid:
    """Mask on the face with its strap.

    Frame: origin midway between the eyes on the face, x to the crown, y left, z to the back of the head.
    mass : [kg] (0.2-0.35, common practice);  held_gas : gas inside [m^3], which pressure keeps by breathing out
    head_breadth, head_depth : of the head or hood the strap runs round [m]
    """
    shapes = [_frame_and_lens(head_breadth), _nose_pocket(), _strap(head_breadth, head_depth)]
    return evened(weighed(joined(shapes), mass, MASK_MATERIAL, held_gas))


def _frame_and_lens(breadth: float) -> Mesh:
    """Skirt from the face, frame, and the lens set back a little in it."""
    # (distance before the face, width, height) from the skirt's edge to the middle of the lens
    stations = np.array([
        [0.000, 0.132, 0.084], [0.012, 0.140, 0.088], [0.024, 0.150, 0.092], [0.027, 0.162, 0.099],
        [0.031, 0.166, 0.102], [0.038, 0.166, 0.102], [0.041, 0.162, 0.099], [0.041, 0.152, 0.089],
        [0.038, 0.149, 0.086], [0.038, 0.080, 0.046],
    ]) * [1.0, breadth / 0.16, 1.0]  # fmt: skip
    rings = []
    for ahead, width, height in stations:
        # outline in (y, x): anticlockwise seen from the front is clockwise in (x, y)
        outline = superellipse(64, width, height, 3.0)
        across, tall = outline[:, 0], outline[:, 1] - 0.18 * height * _brow(outline[:, 0] / width)
        # the skirt's edge follows the face round to the temples
        bend = 2.6 * across**2 * (1.0 if ahead < 0.01 else 0.55)
        rings.append(np.column_stack([tall, across, -ahead + bend]))
    return loft(np.stack(rings))


def _brow(share: Floats) -> Floats:
    """Dip of the lower and upper edge in the middle, over the nose."""
    return np.asarray(0.25 * np.exp(-((share / 0.16) ** 2)))


def _nose_pocket() -> Mesh:
    return ellipsoid([0.030, 0.019, 0.024], [-0.030, 0.0, -0.014], 16, 24)


def _strap(breadth: float, depth: float) -> Mesh:
    """Band from one side of the frame round the back of the head to the other."""
    half = 0.5 * breadth
    # (x, y, z) of the left half from the frame to behind the ear
    left = np.array([
        [0.000, 0.98 * half, -0.026], [0.002, 1.05 * half, 0.10 * depth], [0.010, 1.10 * half, 0.45 * depth],
        [0.022, 0.80 * half, 0.86 * depth],
    ])  # fmt: skip
    through = np.vstack([left, [[0.026, 0.0, 1.03 * depth]], left[::-1] * [1.0, -1.0, 1.0]])
    return swept(smooth_path(through, 0.010), superellipse(16, 0.026, 0.004, 4.0), [1.0, 0.0, 0.0])


@memoized_on_body
def hood(
    *,
    thickness: float = 0.006,
    density: float = FOAM,
    head_breadth: float = 0.155,
    head_depth: float = 0.195,
    head_height: float = 0.235,
    compressed: float = 1.0,
    rings: int = 24,
    points: int = 48,
) -> Solid:
    """Foam neoprene hood: a shell over head and neck with the face left open.

    Frame: origin at the middle of the head (half its height, breadth and depth), x to the crown, y left, z to the
    back. thickness [m], density [kg/m^3] : at the surface;  compressed : thickness at depth over that; the mass stays
    head_breadth, head_depth, head_height (chin to crown) : [m]
    """
    if not (thickness > 0.0 and density > 0.0 and 0.0 < compressed <= 1.0):
        raise ValueError(
            f"needs thickness, density > 0 and 0 < compressed <= 1: {thickness}, {density}, {compressed}"
        )
    size = 0.5 * np.array([head_height, head_breadth, head_depth])

    def shell(wall: float) -> Mesh:
        return joined([_cap(size, wall, rings, points), _neck(size, wall, points)])

    mass = density * volume_integrals(shell(thickness)).volume
    return evened(scaled_to_mass(solid_of(shell(thickness * compressed), density), mass))


def _cap(size: Floats, wall: float, rings: int, points: int) -> Mesh:
    """Ellipsoidal shell open toward the face: from the inside of the back to the opening and back outside."""
    open_at = np.radians(48.0)  # half-angle of the face opening, seen from the middle of the head
    climb = np.linspace(np.pi, open_at, rings + 1)
    inner, outer = _bowl(size, climb, points), _bowl(size + wall, climb, points)
    return loft(np.concatenate([outer, inner[::-1]]))


def _bowl(semi: Floats, climb: Floats, points: int) -> Floats:
    """Rings (k, points, 3) round the z axis; ``climb`` is the angle from straight ahead (-z)."""
    around = circle(points)
    radius = np.sin(climb)
    radius[np.abs(radius) < 1e-12] = 0.0
    # right-handed about the walk from back to face (-z): x, then -y
    x, y = np.outer(radius, around[:, 0]), -np.outer(radius, around[:, 1])
    z = np.repeat(-np.cos(climb)[:, None], points, 1)
    return np.asarray(np.stack([x, y, z], axis=2) * semi)


def _neck(size: Floats, wall: float, points: int) -> Mesh:
    """Collar from under the skull down to the shoulders, an open tube."""
    x = np.array([-1.60, -1.42, -1.2, -1.0, -0.82]) * size[0]
    width = np.array([1.95, 1.60, 1.44, 1.36, 1.20]) * size[1]
    depth = np.array([1.55, 1.30, 1.18, 1.08, 0.90]) * size[2]
    behind = np.array([0.10, 0.14, 0.18, 0.24, 0.34]) * size[2]

    def rings(extra: float) -> Floats:
        made = []
        for s, w, d, b in zip(x, width, depth, behind, strict=True):
            outline = superellipse(points, w + extra, d + extra) + np.array([0.0, b])
            made.append(np.column_stack([np.full(points, s), outline]))
        return np.stack(made)

    return closed_loft(np.concatenate([rings(2.0 * wall), rings(0.0)[::-1]]))
