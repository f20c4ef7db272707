"""The body's outside, to be cut by the water's surface, made to be the body of the statics when wholly under it.

The rig's body displaces what published tables say, about published centres: its CB lies 1.4 to 2.7 cm headward of the
centroid of the drawn shape (five demo divers in two poses). The tables are believed: with the shape's own centroid
the CB would lie footward of the CM, which nobody found. So each segment's shape displaces a little more or less than
it encloses, and all are shifted by millimetres, such that volume and CB of the whole are the rig's. Of all ways to do
so the one is taken that changes least,

    sum V_i s_i^2 + V |t|^2 / LENGTH^2  as small as can be,  s_i what a segment displaces more, t the shift,

whose answer is a share that changes evenly along the body. It does not ask where one segment is cut from the next,
about which tables and shape differ by up to a quarter of a segment.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from meshes.mesh import Floats, Mesh
from meshes.solid import volume_integrals
from sim.floating.body import Hull, hull_of

# m: a shift of 1 cm counts as much as 7 % of volume (assumed). From 0.05 to 0.5 the rests of the demo divers turn by
# less than 0.8 degrees and their mouths move by less than 3 mm
LENGTH: Final = 0.15


def body_hulls(meshes: Sequence[Mesh], volume: float, cb: Floats) -> tuple[Hull, ...]:
    """Hulls of closed meshes which do not overlap, that together displace ``volume`` [m^3] about ``cb`` (3,) [m].

    Raises ValueError where one of them would have to displace nothing, for a CB far outside the meshes' middle.
    """
    own = [volume_integrals(m) for m in meshes]
    each, centres = np.array([o.volume for o in own]), np.array([o.centroid for o in own])
    each = each * (volume / each.sum())
    share, shift = _least_change(each, centres, cb)
    if not (share > 0.0).all():
        raise ValueError(f"a body whose CB lies {cb - each @ centres / volume} m off its shape's middle has no hulls")
    return tuple(
        hull_of(mesh, float(s * v), at + shift) for mesh, s, v, at in zip(meshes, share, each, centres, strict=True)
    )


def _least_change(volume: Floats, centre: Floats, cb: Floats) -> tuple[Floats, Floats]:
    """What each of n volumes (n,) about its centre (n, 3) displaces of itself (n,), and the shift (3,) [m] of all."""
    whole = volume.sum()
    middle = volume @ centre / whole
    off = centre - middle
    spread = (off.T * volume) @ off / whole
    # with s_i = a.off_i and t = LENGTH^2 a the first moment is right: spread a + t = cb - middle
    shift = np.linalg.solve(np.eye(3) + spread / LENGTH**2, cb - middle)
    # shifted volumes of another share move the CB by a second order more: none, as the shares add up to nothing
    return 1.0 + off @ shift / LENGTH**2, shift
