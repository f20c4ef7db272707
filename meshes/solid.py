"""Mass, centres and inertia of closed meshes, and of things put together from them.

Two different centres matter in water: the CM, where the mass is, and the CB, the centroid of the water
displaced. They differ as soon as a thing is hollow or made of more than one material.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats, Mesh, joined
from meshes.mesh import mirrored as mirrored_mesh
from meshes.mesh import moved as moved_mesh

MIRROR = np.diag([1.0, -1.0, 1.0])


@dataclass(frozen=True, eq=False)
class VolumeIntegrals:
    """Volume [m^3], centroid (3,) [m] and the second-moment tensor (3, 3) [m^5] of a closed mesh.

    ``second`` is the inertia tensor about the centroid, in the mesh's frame, for a density of 1 kg/m^3.
    """

    volume: float
    centroid: Floats
    second: Floats


@dataclass(frozen=True, eq=False)
class Solid:
    """A thing with mass that displaces water, all in one frame.

    mass : [kg];  cm : (3,) [m];  inertia : (3, 3) [kg m^2] about the CM, in the frame's axes
    volume : water displaced [m^3];  cb : (3,) [m], centroid of that volume
    mesh : the outside, for drawing; None where the thing is known by numbers only
    """

    mass: float
    cm: Floats
    inertia: Floats
    volume: float
    cb: Floats
    mesh: Mesh | None = None


def volume_integrals(mesh: Mesh) -> VolumeIntegrals:
    """Integrals over the inside of a closed mesh, exact for its flat faces.

    Divergence theorem over tetrahedra from a point near the mesh (Tonon 2004, J Math Stat 1:8).
    A mesh that is inside out has a negative volume; raises ValueError when the volume is 0 or not finite.
    """
    origin = mesh.vertices.mean(axis=0)
    # coordinates first, so that each is a row in memory
    a, b, c = (mesh.vertices - origin).T[:, mesh.faces.T].transpose(1, 0, 2)
    det = _determinants(a, b, c)
    volume = float(det.sum() / 6.0)
    if not (np.isfinite(volume) and volume != 0.0):
        raise ValueError(f"the mesh encloses no volume (got {volume} m^3)")
    total = a + b + c
    first = total @ det / 24.0
    # integral of x x^T over a tetrahedron with one corner at the origin
    outer = sum((det * p) @ p.T for p in (a, b, c, total)) / 120.0
    centroid = first / volume
    central = outer - volume * np.outer(centroid, centroid)
    second = np.trace(central) * np.eye(3) - central
    return VolumeIntegrals(volume, centroid + origin, second)


def _determinants(a: Floats, b: Floats, c: Floats) -> Floats:
    """a . (b x c) of each column (3, n): six times the volume of the tetrahedron that it spans with the origin."""
    (ax, ay, az), (bx, by, bz), (cx, cy, cz) = a, b, c
    return np.asarray(ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx))


def solid_of(mesh: Mesh, density: float) -> Solid:
    """Homogeneous solid of ``density`` [kg/m^3] filling a closed mesh."""
    if not density >= 0.0:
        raise ValueError(f"density must be >= 0 kg/m^3, got {density}")
    integrals = volume_integrals(mesh)
    if not integrals.volume > 0.0:
        raise ValueError(f"the mesh is inside out (volume {integrals.volume} m^3)")
    return Solid(
        mass=density * integrals.volume,
        cm=integrals.centroid,
        inertia=density * integrals.second,
        volume=integrals.volume,
        cb=integrals.centroid,
        mesh=mesh,
    )


def point_mass(mass: float, at: ArrayLike, volume: float = 0.0) -> Solid:
    """Mass [kg] and displaced volume [m^3] with no extent, at ``at`` (3,) [m]."""
    place = np.array(at, dtype=float)
    return Solid(mass=mass, cm=place, inertia=np.zeros((3, 3)), volume=volume, cb=place)


def scaled_to_mass(solid: Solid, mass: float) -> Solid:
    """The same thing as weighed: mass [kg] and inertia scaled, shape and displaced volume kept."""
    if not (mass > 0.0 and solid.mass > 0.0):
        raise ValueError(f"cannot scale a mass of {solid.mass} kg to {mass} kg: both must be > 0")
    return replace(solid, mass=mass, inertia=solid.inertia * (mass / solid.mass))


def moved(solid: Solid, rotation: ArrayLike | None = None, shift: ArrayLike = (0.0, 0.0, 0.0)) -> Solid:
    """The solid with every point p at ``rotation @ p + shift``."""
    turn = np.eye(3) if rotation is None else np.asarray(rotation, dtype=float)
    by = np.asarray(shift, dtype=float)
    return replace(
        solid,
        cm=turn @ solid.cm + by,
        inertia=turn @ solid.inertia @ turn.T,
        cb=turn @ solid.cb + by,
        mesh=None if solid.mesh is None else moved_mesh(solid.mesh, turn, by),
    )


def mirrored(solid: Solid) -> Solid:
    """The solid reflected left to right (y to -y)."""
    return replace(
        solid,
        cm=MIRROR @ solid.cm,
        inertia=MIRROR @ solid.inertia @ MIRROR,
        cb=MIRROR @ solid.cb,
        mesh=None if solid.mesh is None else mirrored_mesh(solid.mesh),
    )


def parallel_axis(mass: float, offset: ArrayLike) -> Floats:
    """Inertia tensor (3, 3) [kg m^2] of a point mass [kg] about a point ``offset`` (3,) [m] away."""
    r = np.asarray(offset, dtype=float)
    return np.asarray(mass * (r @ r * np.eye(3) - np.outer(r, r)))


def combined(solids: Sequence[Solid], *, drawn: bool = True) -> Solid:
    """Several solids as one rigid thing; they must not overlap, since displaced volumes add.

    drawn : whether their meshes are joined, too
    The centre of a total that is 0 (all massless, or none displacing water) is the plain mean of the centres.
    """
    mass = float(sum(s.mass for s in solids))
    volume = float(sum(s.volume for s in solids))
    middle = np.mean([s.cm for s in solids], axis=0)
    cm = sum(s.mass * s.cm for s in solids) / mass if mass > 0.0 else middle
    cb = sum(s.volume * s.cb for s in solids) / volume if volume > 0.0 else middle
    off = np.array([s.cm for s in solids]) - cm
    weighted = np.array([s.mass for s in solids])[:, None] * off
    # the parallel-axis theorem for all at once
    inertia = np.sum([s.inertia for s in solids], axis=0) + (weighted * off).sum() * np.eye(3) - weighted.T @ off
    meshes = [s.mesh for s in solids if s.mesh is not None] if drawn else []
    return Solid(mass, np.asarray(cm), inertia, volume, np.asarray(cb), joined(meshes) if meshes else None)
