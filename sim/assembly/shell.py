"""Things spread thinly over the skin: suit cloth, neoprene, undergarments, the gas under a shell."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from meshes.solid import Solid
from sim.person.skin import SkinPatches

Flags = NDArray[np.bool_]


def chosen(patches: SkinPatches, keep: Flags) -> SkinPatches:
    """The patches for which ``keep`` (n,) is true."""
    names = tuple(s for s, k in zip(patches.segment, keep, strict=True) if k)
    p = patches
    return SkinPatches(p.centre[keep], p.normal[keep], p.area[keep], names, p.along[keep])


def on_segments(patches: SkinPatches, *words: str) -> Flags:
    """(n,) True where the segment's name has one of ``words`` in it."""
    return np.array([any(w in s for w in words) for s in patches.segment])


def spread_solid(patches: SkinPatches, mass: float, volume: float, outward: float = 0.0) -> Solid:
    """Mass [kg] and displaced volume [m^3] spread evenly over the patches' area, ``outward`` [m] off the skin.

    CM and CB coincide; inertia is that of the patches as points.
    """
    share = patches.area / patches.area.sum()
    at = patches.centre + outward * patches.normal
    middle = share @ at
    r = at - middle
    inertia = mass * (np.eye(3) * (share @ (r * r).sum(axis=1)) - (r * share[:, None]).T @ r)
    return Solid(mass, middle, inertia, volume, middle)
