"""Everything that fixes a standing body's surface, made once per person."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from meshes.body.curves import Curves
from meshes.body.limbs import arm_sections, foot_rings, leg_sections
from meshes.body.skeleton import Skeleton
from meshes.body.trunk import TrunkSurface, trunk_surface
from meshes.mesh import Floats


@dataclass(frozen=True, eq=False)
class BodyShape:
    """Skeleton, surface of the trunk, sections of the limbs and rings of the foot of the left side.

    swell : factor on all breadths and depths about the centre lines
    """

    skeleton: Skeleton
    trunk: TrunkSurface
    arm: Curves
    leg: Curves
    foot: Floats
    swell: float


def body_shape(skeleton: Skeleton, swell: float = 1.0) -> BodyShape:
    """Shape of a standing body with breadths and depths scaled by ``swell``."""
    shape = _unswollen(skeleton)
    return replace(shape, trunk=replace(shape.trunk, swell=swell), swell=swell)


@lru_cache(maxsize=4)
def _unswollen(skeleton: Skeleton) -> BodyShape:
    return BodyShape(
        skeleton,
        trunk_surface(skeleton),
        arm_sections(skeleton),
        leg_sections(skeleton),
        foot_rings(skeleton),
        1.0,
    )


def section(size_y: Floats, size_z: Floats, exponent: Floats, angle: Floats) -> tuple[Floats, Floats]:
    """y and z of a superellipse at angles from +y towards +z."""
    c, s = np.cos(angle), np.sin(angle)
    power = 2.0 / exponent
    return size_y * np.sign(c) * np.abs(c) ** power, size_z * np.sign(s) * np.abs(s) ** power


def crowded_steps(n: int, crowd: int) -> Floats:
    """n rising shares ending in 1, closer together near the start (crowd 1) or the end (-1, and more so -2)."""
    u = np.arange(1, n + 1) / n
    if crowd > 0:
        return np.asarray(u**1.35)
    return np.asarray(1.0 - (1.0 - u) ** (1.35 if crowd == -1 else 1.7))
