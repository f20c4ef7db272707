"""Which parts push water as sheets, told by their shape alone, and how large the sheet is.

What pushes water is the silhouette. An ellipsoid of the displaced volume has it for bodies and cylinders, and misses
it where a blade carries rails and a hollow pocket: a fin of 0.11 m^2 seen from its sole would count for 0.036. So a
part whose breadth is some times its mean thickness (volume over silhouette), and which shows little when seen on
edge, is a flat sheet of its silhouette's area and aspect, at its silhouette's centroid, in the plane that most
of its skin lies in.

One disc serves for a fin with its narrow pocket: turned about a point 0.75 m off, it carries 3 % less added inertia
than the outline does in potential flow (a vortex lattice, ``tests/sim/settling``): the disc is some per cent too
heavy, as it is for a rectangle, and its centre 2 cm too near. Two fins known as one part are taken as one sheet.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats, Mesh
from meshes.solid import Solid
from sim.settling.silhouette import Silhouette, silhouette

FLAT: Final = 4.0  # breadth over mean thickness from which on a thing is a sheet
ALIKE: Final = float(np.cos(np.radians(5.0)))  # two directions nearer than this show the same
BROADER: Final = 1.1  # the thinnest way is looked along where it shows so much more than the skin's own direction
BROADEST: Final = 1.05  # breadth of the rectangle over that of a convex outline: sqrt(pi/3) at most
ON_EDGE: Final = 0.5  # silhouette on edge over that of the face: a sheet bent by a right angle, a bowl or box beyond


@dataclass(frozen=True, eq=False)
class Sheet:
    """Flat rectangle that stands for a part: length >= breadth [m].

    centre : (3,) [m], body axes;  axes : (3, 3) rows along length, breadth and normal, proper
    """

    centre: Floats
    axes: Floats
    length: float
    breadth: float


def sheet_of(solid: Solid, variances: Floats, axes: Floats, volume: float) -> Sheet | None:
    """The sheet that a solid is, or None for all that is not flat.

    variances : (3,) [m^2] of its shape along its principal directions, the rows of ``axes`` (3, 3), largest first
    volume : [m^3] that the shape fills. Without a mesh the moments are taken as those of an even rectangular sheet.
    """
    if solid.mesh is not None:
        return _seen(solid.mesh, axes, volume)
    length, breadth, thickness = np.sqrt(12.0 * np.maximum(variances, 0.0))
    if not (_is_flat(length * breadth, breadth, volume) and thickness <= ON_EDGE * breadth):
        return None
    return Sheet(solid.cb, axes, float(length), float(breadth))


def _seen(mesh: Mesh, axes: Floats, volume: float) -> Sheet | None:
    """The sheet by its silhouette as most of the skin faces, or along the thinnest way where that is broader."""
    reach, width, _ = np.ptp(mesh.vertices @ axes.T, axis=0)
    if not _is_flat(reach * width, BROADEST * width, volume):
        return None
    faces = mesh.vertices[mesh.faces]
    skin = 0.5 * np.cross(faces[:, 1] - faces[:, 0], faces[:, 2] - faces[:, 0])
    views = [v for v in _views(skin, axes) if _may_be_flat(mesh, skin, v, volume)]
    if not views:
        return None
    seen = [(silhouette(mesh, view[:2]), view) for view in views]
    face, view = seen[-1] if seen[-1][0].area > BROADER * seen[0][0].area else seen[0]
    length, breadth, turned = _rectangle(face)
    along = np.vstack([turned @ view[:2], view[2]])
    if not (_is_flat(face.area, breadth, volume) and _slim(mesh, skin, along, ON_EDGE * face.area)):
        return None
    weight = np.abs(skin @ along[2])
    depth = weight @ (faces.mean(axis=1) @ along[2]) / weight.sum()
    return Sheet(np.append(turned @ face.centre, depth) @ along, along, length, breadth)


def _views(skin: Floats, axes: Floats) -> list[Floats]:
    """Axes (3, 3) whose third is looked along: what most of the ``skin`` (n, 3) [m^2] faces, and the thinnest way."""
    size = np.maximum(np.sqrt(np.einsum("ij,ij->i", skin, skin)), 1e-300)
    normal = np.linalg.eigh((skin / size[:, None]).T @ skin)[1][:, 2]
    second = np.cross(normal, axes[0] if abs(normal @ axes[0]) < abs(normal @ axes[1]) else axes[1])
    second /= np.sqrt(second @ second)
    facing = np.array([np.cross(second, normal), second, normal])
    return [facing] if abs(normal @ axes[2]) > ALIKE else [facing, axes]


def _may_be_flat(mesh: Mesh, skin: Floats, view: Floats, volume: float) -> bool:
    """False for most solid things, told without a silhouette: every layer counted, and no broader than it reaches."""
    most = 0.5 * float(np.abs(skin @ view[2]).sum())
    reach = float(np.ptp(mesh.vertices @ view[1]))
    return _is_flat(most, BROADEST * min(reach, float(np.sqrt(most))), volume)


def _slim(mesh: Mesh, skin: Floats, along: Floats, most: float) -> bool:
    """True where both silhouettes on edge are at most ``most`` [m^2]; every layer counted, that is told sooner."""
    for i, j in ((0, 1), (1, 0)):
        layers = 0.5 * float(np.abs(skin @ along[i]).sum())
        if layers > most and silhouette(mesh, along[[j, 2]]).area > most:
            return False
    return True


def _is_flat(area: float, breadth: float, volume: float) -> bool:
    return bool(area > 0.0 and breadth * area >= FLAT * volume)


def _rectangle(face: Silhouette) -> tuple[float, float, Floats]:
    """Length and breadth [m] of the rectangle with a silhouette's area and aspect, and (2, 2) rows along them."""
    spread, columns = np.linalg.eigh(face.spread)
    aspect = float(np.sqrt(spread[1] / spread[0]))
    first = columns[:, 1]
    return (face.area * aspect) ** 0.5, (face.area / aspect) ** 0.5, np.array([first, [-first[1], first[0]]])
