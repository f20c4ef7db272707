"""How far the head can be lifted before its back, or the hood's, meets something behind it.

The head turns as one piece about the pivot of the neck. In each plane from front to back a point behind the head
keeps its distance from the pivot as the head turns toward it, so that the angle at which they meet is the
difference of two angles seen from the pivot: that of the point and that of the head's back at the same distance.
No search is needed, and the answer can only grow as things are taken away or moved footward round the pivot.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import chain
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Ints, Mesh
from sim.answers.fit.limits import CONTACT_SPACING
from sim.person.person import Person

SLICES: Final = 24  # of half the head from the middle to the side
HEIGHTS: Final = 96  # from the nape to the crown; twice as many change the lift by under 0.2 degrees
OCCIPUT: Final = 0.25  # of the way from chin to the root of the nose: where the skull's back begins above the nape
STEP: Final = 0.001  # m between distances from the pivot

Corners = tuple[Floats, Floats, Floats]  # of triangles, each (n, 3) [m]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class HeadBack:
    """Back of the head in the hood, head held straight, as seen from the pivot of the neck.

    pivot : (3,) [m], body axes
    y : (n,) slices off the middle, and distance : (m,) from the pivot in the plane of a slice, both even [m]
    angle : (n, m) from straight up toward the back, of the head's back there [rad]; nan where the head does not reach
    """

    pivot: Floats
    y: Floats
    distance: Floats
    angle: Floats


def head_back(person: Person, hood: float) -> HeadBack:
    """The person's head with a hood of thickness ``hood`` [m]."""
    h = person.skeleton.heights
    pivot = person.skeleton.joints["neck"]
    nape = h["chin"] + OCCIPUT * (h["sellion"] - h["chin"])
    rise = nape + (h["vertex"] - nape) * np.sin(np.linspace(0.0, 0.5 * np.pi, HEIGHTS))
    around = np.linspace(0.5 * np.pi, np.pi, 49)
    outline = person.shape.trunk.at(rise[:, None], around[None])
    middle = np.array([0.5 * (nape + h["vertex"]), 0.0, 0.5 * float(outline[..., 2].min() + outline[..., 2].max())])
    off = outline - middle
    outline = outline + hood * off / np.linalg.norm(off, axis=-1, keepdims=True)
    # of the head as modelled: its breadth is scaled with the body's volume
    y = float(outline[..., 1].max()) * np.linspace(0.0, 0.98, SLICES)
    x, z = (np.stack([np.interp(y, row[::-1, 1], row[::-1, i], right=np.nan) for row in outline]).T for i in (0, 2))
    far, angle = np.hypot(x - pivot[0], z - pivot[2]), np.arctan2(z - pivot[2], x - pivot[0])
    distance = np.arange(0.0, np.nanmax(far), STEP)
    return HeadBack(pivot, y, distance, np.stack([_slice(d, a, distance) for d, a in zip(far, angle, strict=True)]))


def _slice(far: Floats, angle: Floats, distance: Floats) -> Floats:
    """Angle at even distances; nearer than the nape it is the nape's, which stands for the neck."""
    known = np.isfinite(far)
    order = np.argsort(far[known])
    return np.interp(distance, far[known][order], angle[known][order], right=np.nan)


def lifts(back: HeadBack, points: Floats) -> Floats:
    """Angle (n,) [rad] by which the head is lifted when it meets each of ``points`` (n, 3) [m]; inf if it never does.

    Below 0: the point lies inside the head held straight.
    """
    x, z = points[:, 0] - back.pivot[0], points[:, 2] - back.pivot[2]
    aside = np.abs(points[:, 1]) / back.y[1]
    far = np.hypot(x, z) / STEP
    inside = (aside < len(back.y) - 1) & (far < len(back.distance) - 1) & (z > 0.0)
    i, j = np.where(inside, aside, 0.0).astype(int), np.where(inside, far, 0.0).astype(int)
    u, v = aside - i, far - j
    met = (1.0 - u) * ((1.0 - v) * back.angle[i, j] + v * back.angle[i, j + 1])
    met = met + u * ((1.0 - v) * back.angle[i + 1, j] + v * back.angle[i + 1, j + 1])
    return np.asarray(np.where(inside & np.isfinite(met), np.arctan2(z, x) - met, np.inf))


def first_met(back: HeadBack, mesh: Mesh, below: float = np.inf) -> tuple[float, Floats | None]:
    """The least of the ``lifts`` of ``points_near`` [rad] and its point (3,); None where none is less than ``below``.

    Triangles are let go once their nearest corner, before the head's hindmost place as far off, would be met later.
    """
    best, at = below, None
    hindmost = np.maximum.accumulate(np.nanmax(back.angle, axis=0, initial=-np.inf)[::-1])[::-1]
    triangles = _near(back, *_corners(mesh))
    middles = _middles(back, triangles, CONTACT_SPACING, lambda some: _earliest(back, hindmost, some) < best)
    for points in chain([mesh.vertices], middles):
        angles = lifts(back, points)
        k = int(angles.argmin()) if len(angles) else -1
        if k >= 0 and angles[k] < best:
            best, at = float(angles[k]), points[k]
    return best, at


def _earliest(back: HeadBack, hindmost: Floats, corners: Corners) -> Floats:
    """Lift (n,) [rad] below which no point of the triangles is met; ``hindmost`` : head's angle that far off or more.

    In the half plane behind the pivot, where alone anything is met, an angle is least at a corner.
    """
    x, z = (np.stack([p[:, k] for p in corners]) - back.pivot[k] for k in (0, 2))
    near = np.hypot(_from_nil(x), _from_nil(z)) / STEP
    return np.asarray(np.arctan2(z, x).min(axis=0) - hindmost[np.minimum(near.astype(int), len(hindmost) - 1)])


def _from_nil(values: Floats) -> Floats:
    """How far (n,) the span of ``values`` (3, n) lies from nil."""
    return np.asarray(np.maximum(np.maximum(values.min(axis=0), -values.max(axis=0)), 0.0))


def points_near(back: HeadBack, mesh: Mesh, spacing: float = CONTACT_SPACING) -> Floats:
    """Points (n, 3) of a mesh [m] that the head may meet: its corners, and middles of triangles no larger than
    ``spacing`` into which its faces are cut."""
    triangles = _near(back, *_corners(mesh))
    return np.concatenate([*triangles, *_middles(back, triangles, spacing, None)])


def _corners(mesh: Mesh) -> Corners:
    a, b, c = (mesh.vertices[mesh.faces[:, k]] for k in range(3))
    return a, b, c


def _middles(
    back: HeadBack, triangles: Corners, spacing: float, wanted: Callable[[Corners], Flags] | None
) -> Iterator[Floats]:
    """Middles (n, 3) of small triangles, some at a time; of larger ones only those that are ``wanted`` are cut."""
    a, b, c = triangles
    while len(a):
        if wanted is not None:
            which = wanted((a, b, c))
            a, b, c = a[which], b[which], c[which]
        sides = np.stack([_squared(a - b), _squared(b - c), _squared(c - a)])
        small = sides.max(axis=0) <= spacing**2
        yield (a[small] + b[small] + c[small]) / 3.0
        thin = ~small & (sides.min(axis=0) <= spacing**2)
        wide = ~small & ~thin
        slices = _sliced(a[thin], b[thin], c[thin], sides[:, thin], spacing)
        halves = _halved(a[wide], b[wide], c[wide], sides[:, wide].argmax(axis=0))
        a, b, c = _near(back, *(np.concatenate(ends) for ends in zip(slices, halves, strict=True)))


def _near(back: HeadBack, a: Floats, b: Floats, c: Floats) -> Corners:
    """Those of the triangles with corners a, b, c (n, 3) within the head's reach, judged by the boxes round them."""
    low, high = np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)
    beside = np.maximum(low[:, 1], -high[:, 1]) < back.y[-1]
    gap = np.maximum(np.maximum(low - back.pivot, back.pivot - high), 0.0)
    near = beside & (gap[:, 0] ** 2 + gap[:, 2] ** 2 < back.distance[-1] ** 2) & (high[:, 2] > back.pivot[2])
    return a[near], b[near], c[near]


def _halved(a: Floats, b: Floats, c: Floats, longest: Ints) -> Corners:
    """Two for each of n triangles: cut from the middle of side ``longest`` (0: a b, 1: b c) to the other corner."""
    which = longest[:, None]
    first = np.where(which == 0, a, np.where(which == 1, b, c))
    second = np.where(which == 0, b, np.where(which == 1, c, a))
    other = np.where(which == 0, c, np.where(which == 1, a, b))
    middle = 0.5 * (first + second)
    return np.concatenate([first, middle]), np.concatenate([middle, second]), np.concatenate([other, other])


def _sliced(a: Floats, b: Floats, c: Floats, sides: Floats, spacing: float) -> Corners:
    """Slivers (n) with squared ``sides`` (3, n) cut along their shortest side into pieces no longer than ``spacing``.

    Halved again and again they would only get thinner.
    """
    which = sides.argmin(axis=0)[:, None]
    tip = np.where(which == 0, c, np.where(which == 1, a, b))
    left = np.where(which == 0, a, np.where(which == 1, b, c)) - tip
    right = np.where(which == 0, b, np.where(which == 1, c, a)) - tip
    count = (np.sqrt(sides.max(axis=0, initial=0.0)) / spacing).astype(int) + 1
    each = np.repeat(np.arange(len(tip)), count)
    slice_of = np.arange(len(each)) - np.repeat(np.cumsum(count) - count, count)
    near, far = (((slice_of + end) / count[each])[:, None] for end in (0, 1))
    at, left, right = tip[each], left[each], right[each]
    first = (at + near * left, at + far * left, at + far * right)
    blunt = slice_of > 0  # the slice at the tip is one triangle
    second = tuple(v[blunt] for v in (at + near * left, at + far * right, at + near * right))
    p, q, r = (np.concatenate(ends) for ends in zip(first, second, strict=True))
    return p, q, r


def _squared(v: Floats) -> Floats:
    return np.asarray(np.einsum("ij,ij->i", v, v))
