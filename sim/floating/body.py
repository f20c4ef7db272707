"""A rigid body that may float, with gas that may move in it: what it weighs and where it displaces water."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from meshes.mesh import Floats, Mesh, moved
from meshes.solid import solid_of, volume_integrals
from sim.floating.clip import face_sums
from sim.statics.gas import Bag


@dataclass(frozen=True, eq=False)
class Hull:
    """A closed mesh that displaces ``share`` times the water it cuts (1 for a thing that is its own outside).

    volume, first : of the whole mesh, times share [m^3], [m^4];  centre, radius : a ball that holds it [m]
    """

    mesh: Mesh
    share: float
    volume: float
    first: Floats
    centre: Floats
    radius: float
    sums: Floats


@dataclass(frozen=True, eq=False)
class Specks:
    """Volumes too small or too thinly spread to clip, each going under as a ball does.

    at : (n, 3) centres [m];  volume : (n,) [m^3];  radius : of the balls [m], > 0, whatever their volume
    """

    at: Floats
    volume: Floats
    radius: float


@dataclass(frozen=True, eq=False)
class SoftGas:
    """Gas in a bag that reaches through the water surface.

    cells : (n, 3) [m];  bag : the law and amount of the gas;  total : its volume [m^3] where that is what is fixed
    ambient : air pressure at the surface [Pa];  radius : of a cell [m], which goes under as a ball does
    """

    cells: Floats
    bag: Bag
    total: float | None
    ambient: float
    radius: float


@dataclass(frozen=True, eq=False)
class FloatingBody:
    """Mass [kg] at ``cm`` (3,) [m], what displaces water, the water's density [kg/m^3] and gravity [m/s^2].

    All positions in one set of axes fixed in the body. Volumes that overlap count twice: give each once.
    """

    mass: float
    cm: Floats
    hulls: tuple[Hull, ...]
    specks: tuple[Specks, ...]
    gas: tuple[SoftGas, ...]
    density: float
    gravity: float


def hull_of(mesh: Mesh, volume: float | None = None, cb: Floats | None = None) -> Hull:
    """Hull from a closed mesh, displacing ``volume`` [m^3] about ``cb`` (3,) [m] when it is wholly under water.

    Both default to the mesh's own. The mesh keeps its size and is moved onto ``cb``; what it displaces is scaled.
    Raises ValueError for a mesh that encloses nothing or is inside out.
    """
    own = volume_integrals(mesh)
    if not own.volume > 0.0:
        raise ValueError(f"the mesh is inside out (volume {own.volume} m^3)")
    there = mesh if cb is None else moved(mesh, shift=cb - own.centroid)
    at = own.centroid if cb is None else np.asarray(cb, dtype=float)
    displaced = own.volume if volume is None else float(volume)
    low, high = there.vertices.min(axis=0), there.vertices.max(axis=0)
    centre = 0.5 * (low + high)
    radius = float(np.linalg.norm(there.vertices - centre, axis=1).max())
    return Hull(there, displaced / own.volume, displaced, displaced * at, centre, radius, face_sums(there))


def floating_body(
    hulls: Sequence[Hull],
    mass: float,
    cm: Floats,
    *,
    density: float,
    gravity: float,
    specks: Sequence[Specks] = (),
    gas: Sequence[SoftGas] = (),
) -> FloatingBody:
    """Checked floating body. Raises ValueError unless mass, density and gravity are > 0."""
    for name, value in (("mass", mass), ("density", density), ("gravity", gravity)):
        if not value > 0.0:
            raise ValueError(f"{name} must be > 0, got {value}")
    at = np.asarray(cm, dtype=float)
    return FloatingBody(float(mass), at, tuple(hulls), tuple(specks), tuple(gas), float(density), float(gravity))


def homogeneous(
    mesh: Mesh, relative_density: float, *, density: float = 1000.0, gravity: float = 9.80665
) -> FloatingBody:
    """A body of one material, ``relative_density`` times as dense as the water of ``density`` [kg/m^3]."""
    solid = solid_of(mesh, relative_density * density)
    return floating_body([hull_of(mesh)], solid.mass, solid.cm, density=density, gravity=gravity)


def extent(body: FloatingBody, up: Floats) -> tuple[float, float]:
    """Lowest and highest level [m] along ``up`` (3,) at which anything of the body displaces water."""
    along = [(h.mesh.vertices @ up, 0.0) for h in body.hulls]
    along += [(s.at @ up, s.radius) for s in body.specks]
    along += [(g.cells @ up, g.radius) for g in body.gas]
    if not along:
        raise ValueError("nothing of the body displaces water")
    return min(float(a.min()) - w for a, w in along), max(float(a.max()) + w for a, w in along)
