"""Boots and gloves."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.gear.weighed import weighed
from meshes.loft import loft
from meshes.memoized import memoized_on_body
from meshes.mesh import Mesh, joined
from meshes.primitives import superellipse
from meshes.solid import Solid, mirrored
from meshes.sweep import tube

GLOVE: Final = (350.0, 0.09)  # [kg/m^3], [kg] one 5 mm foam glove with lining; from memory, +-30 %


@memoized_on_body
def boot(
    mass: float,
    density: float,
    *,
    foot_length: float = 0.26,
    shaft: float = 0.16,
    mirror: bool = False,
    points: int = 40,
) -> Solid:
    """Left boot; ``mirror`` makes the right one.

    Frame: origin under the ankle joint on the sole, +x to the toes, y left, z up from the sole (the fin's frame).
    mass : of one [kg];  density : mean, of its material [kg/m^3], the only thing that displaces water here: the foot
    inside is the body's;  foot_length : of the bare foot [m];  shaft : height above the sole [m]
    """
    scale = foot_length / 0.26
    if not (foot_length > 0.1 and shaft > 0.06):
        raise ValueError(f"needs a foot over 0.1 m and a shaft over 0.06 m, got {foot_length} and {shaft} m")
    made = weighed(joined([_foot(scale, points), _shaft(scale, shaft, points), _sole(scale)]), mass, density)
    return mirrored(made) if mirror else made


# share of the foot's length from heel to toe, width, height [m], sideways bend [m] (toes of a left foot turn out)
_FOOT: Final = np.array([
    [0.00, 0.000, 0.000, 0.000], [0.004, 0.024, 0.032, 0.000], [0.015, 0.042, 0.056, 0.000],
    [0.05, 0.060, 0.075, 0.000],
    [0.12, 0.070, 0.090, 0.000], [0.25, 0.076, 0.105, 0.001], [0.40, 0.084, 0.098, 0.003],
    [0.55, 0.094, 0.080, 0.005], [0.70, 0.102, 0.066, 0.005], [0.82, 0.098, 0.056, 0.002],
    [0.92, 0.084, 0.049, -0.002], [0.97, 0.064, 0.040, -0.005], [0.99, 0.042, 0.030, -0.006],
    [0.997, 0.024, 0.018, -0.007], [1.00, 0.000, 0.000, -0.007],
])  # fmt: skip


def _foot(scale: float, points: int) -> Mesh:
    length = 0.275 * scale
    outline = superellipse(points, 1.0, 1.0, 2.5)
    rings = np.empty((len(_FOOT), points, 3))
    for ring, (share, width, height, bend) in zip(rings, _FOOT, strict=True):
        ring[:, 0] = length * (share - 0.25)
        ring[:, 1] = scale * (width * outline[:, 0] + bend)
        # poles at heel and toe lie a little above the sole
        ring[:, 2] = scale * (max(0.5 * height, 0.018) + height * outline[:, 1])
    return loft(rings)


def _shaft(scale: float, height: float, points: int) -> Mesh:
    z = np.array([0.045 * scale, 0.075 * scale, 0.6 * height, height - 0.004, height])
    depth = scale * np.array([0.120, 0.112, 0.104, 0.112, 0.106])
    width = scale * np.array([0.078, 0.080, 0.088, 0.098, 0.092])
    rings = []
    for level, d, w in zip(z, depth, width, strict=True):
        outline = superellipse(points, d, w, 2.2)
        rings.append(np.column_stack([outline - [0.004 * scale, 0.0], np.full(points, level)]))
    return loft(np.stack(rings))


def _sole(scale: float) -> Mesh:
    """Tread under the foot, its outline that of the foot a little grown."""
    along = np.linspace(0.0, np.pi, 15)
    x = 0.275 * scale * (0.5 * (1.0 - np.cos(along)) - 0.25)
    share = x / (0.275 * scale) + 0.25
    half = 0.5 * scale * np.interp(share, _FOOT[:, 0], np.maximum(_FOOT[:, 1], 0.016)) + 0.001
    bend = scale * np.interp(share, _FOOT[:, 0], _FOOT[:, 3])
    rings = [
        np.column_stack([np.full(4, s), b + h * np.array([1.0, -1.0, -1.0, 1.0]), [0.008, 0.008, -0.004, -0.004]])
        for s, h, b in zip(x, half, bend, strict=True)
    ]
    return loft(np.stack(rings))


@memoized_on_body
def glove(
    mass: float = GLOVE[1], *, density: float = GLOVE[0], hand_length: float = 0.19, mirror: bool = False
) -> Solid:
    """Left five-finger glove; ``mirror`` makes the right one.

    Frame: origin at the wrist joint, +x to the fingertips, y to the thumb, z to the back of the hand.
    mass : of one [kg];  density : [kg/m^3] of its material, the only thing that displaces water here
    """
    if not hand_length > 0.1:
        raise ValueError(f"a hand is over 0.1 m long, got {hand_length} m")
    made = weighed(joined(_hand(hand_length, 0, 1.0)), mass, density)
    return mirrored(made) if mirror else made


@memoized_on_body
def bare_hand(hand_length: float) -> Mesh:
    """Left hand with its fingers, in a glove's frame: to be looked at, where the body's own hand is a mitten."""
    return joined(_hand(hand_length, 2, 0.86))


def _hand(length: float, first: int, thick: float) -> list[Mesh]:
    """Palm, from section ``first`` on, and fingers; ``thick`` : of them, against a glove's."""
    scale = length / 0.19
    x = np.array([-0.055, -0.050, 0.000, 0.030, 0.070, 0.098, 0.106]) * scale
    width = np.array([0.078, 0.082, 0.070, 0.088, 0.096, 0.090, 0.070]) * scale * thick
    depth = np.array([0.064, 0.068, 0.054, 0.046, 0.040, 0.034, 0.022]) * scale * thick
    x[2] -= 0.015 * scale * (first > 0)  # a bare wrist runs on under the sleeve
    sections = list(zip(x, width, depth, strict=True))[first:]
    palm = loft(np.stack([np.column_stack([np.full(32, s), superellipse(32, w, d, 2.4)]) for s, w, d in sections]))
    fingers = [
        _finger([0.090, thick * y, 0.0], [0.190 - drop, 1.25 * thick * y, -0.012], 0.0115 * thick, scale)
        for y, drop in ((0.033, 0.014), (0.011, 0.0), (-0.011, 0.008), (-0.033, 0.030))
    ]
    thumb = _finger([0.030, thick * 0.036, -0.004], [0.105, thick * 0.078, -0.018], 0.0135 * thick, scale)
    return [palm, *fingers, thumb]


def _finger(start: list[float], end: list[float], radius: float, scale: float) -> Mesh:
    """Round bar with a half-ball tip."""
    first, last = scale * np.array(start), scale * np.array(end)
    size, long = scale * radius, float(np.linalg.norm(last - first))
    climb = np.linspace(0.0, 0.5 * np.pi, 7)[:-1]
    along = np.concatenate([[0.0], long - size + size * np.sin(climb), [long]])
    radii = size * np.concatenate([[1.0], np.cos(climb), [0.05]])
    return tube(first + np.outer(along / long, last - first), radii, 16)
