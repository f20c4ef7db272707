"""Things spread thinly over the skin: suit cloth, neoprene, undergarments, the gas under a shell."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.body.topology import SEGMENTS
from meshes.solid import Solid
from sim.person.skin import SkinPatches
from sim.person.tissue import kind_of

Flags = NDArray[np.bool_]
TORSO: Final = ("lower trunk", "middle trunk", "upper trunk")


def chosen(patches: SkinPatches, keep: Flags) -> SkinPatches:
    """The patches for which ``keep`` (n,) is true."""
    names = tuple(s for s, k in zip(patches.segment, keep, strict=True) if k)
    p = patches
    return SkinPatches(p.centre[keep], p.normal[keep], p.area[keep], names, p.along[keep])


def on_segments(patches: SkinPatches, *segments: str) -> Flags:
    """(n,) True where a patch lies on one of ``segments``: by name ("left foot"), or on both sides ("foot").

    Raises ValueError for one that no body has.
    """
    if unknown := {*segments} - {*SEGMENTS} - {kind_of(s) for s in SEGMENTS}:
        raise ValueError(f"a body has no segment {', '.join(sorted(unknown))}")
    meant = {s: s in segments or kind_of(s) in segments for s in {*patches.segment}}
    return np.array([meant[s] for s in patches.segment], dtype=bool)


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
