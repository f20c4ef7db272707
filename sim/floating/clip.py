r"""What a plane water surface cuts off a closed mesh, exact for its flat faces.

The water reaches up to the plane u.x = level (u unit, body axes). Divergence theorem over tetrahedra from a point *in
the plane*: those over the cut itself are flat, so that volume and centroid need no cap. The cut's own moments come
from Green's theorem along its outline, each crossed triangle giving one straight piece of it. A triangle with one
corner under water leaves a smaller triangle there; one with two leaves itself less the smaller triangle above.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Mesh
from sim.statics.field import tangent_basis


@dataclass(frozen=True, eq=False)
class Immersion:
    """What lies under water, and the waterplane; moments about the origin of the body axes.

    volume : [m^3];  first : (3,) integral of x dV [m^4]
    area : of the waterplane [m^2];  area_first : (3,) integral of x dA [m^3];  area_second : (3, 3) of x x^T dA [m^4]
    """

    volume: float
    first: Floats
    area: float
    area_first: Floats
    area_second: Floats

    @property
    def centroid(self) -> Floats:
        """Centre of buoyancy (3,) [m]; NaN when nothing is under water."""
        with np.errstate(invalid="ignore", divide="ignore"):
            return np.asarray(self.first / np.float64(self.volume))


def face_sums(mesh: Mesh) -> Floats:
    """What ``immersion`` needs of each face (m, 16), whatever the water's level: worth keeping for many levels.

    About the mesh's first vertex, with n the face's normal as long as twice its area and t the sum of its corners:
    six times the tetrahedron under the face, n, t times that, and n t^T.
    """
    a, b, c = (mesh.vertices[mesh.faces] - mesh.vertices[0]).transpose(1, 0, 2)
    normal, total = _cross(b - a, c - a), a + b + c
    six = np.einsum("ij,ij->i", a, normal)
    outer = (normal[:, :, None] * total[:, None, :]).reshape(-1, 9)
    return np.column_stack([six, normal, six[:, None] * total, outer])


def immersion(mesh: Mesh, up: Floats, level: float, sums: Floats | None = None) -> Immersion:
    """What of a closed mesh lies below the plane ``up``.x = ``level``; ``up`` (3,) unit, ``level`` [m].

    sums : ``face_sums`` of the mesh, where they were kept
    """
    heights = mesh.vertices @ up - level
    below = (heights < 0.0).view(np.int8)[mesh.faces]
    count = below[:, 0] + below[:, 1] + below[:, 2]
    middle = mesh.vertices[0]
    down = (level - middle @ up) * up  # from the first vertex to the plane, whence all is summed
    origin = middle + down
    six, moment = _whole(face_sums(mesh) if sums is None else sums, count == 3, down)

    cut = np.flatnonzero((count == 1) | (count == 2))
    lone_is_under = count[cut] == 1
    lone = np.where(lone_is_under, below[cut].argmax(axis=1), below[cut].argmin(axis=1))
    corners = np.take_along_axis(mesh.faces[cut], (lone[:, None] + np.arange(3)) % 3, axis=1)
    a, b, c = (mesh.vertices[corners] - origin).transpose(1, 0, 2)
    ha, hb, hc = heights[corners].T
    p = a + (ha / (ha - hb))[:, None] * (b - a)
    q = a + (ha / (ha - hc))[:, None] * (c - a)
    under = ~lone_is_under
    wedges = [np.concatenate(pair) for pair in ((a, a[under]), (p, b[under]), (q, c[under]))]
    det, total = _wedges(*wedges)
    det[: len(a)] *= np.where(lone_is_under, 1.0, -1.0)
    six, moment = six + float(det.sum()), moment + det @ total
    volume = six / 6.0
    first = moment / 24.0 + volume * origin

    start, end = np.where(lone_is_under[:, None], q, p), np.where(lone_is_under[:, None], p, q)
    return Immersion(volume, first, *_waterplane(start, end, origin, up))


def _whole(sums: Floats, under: NDArray[np.bool_], down: Floats) -> tuple[float, Floats]:
    """Six times the volume and 24 times the first moment (3,) of what lies under faces, from ``down`` (3,)."""
    total = under.astype(float) @ sums
    six, normal, moment, outer = total[0], total[1:4], total[4:7], total[7:].reshape(3, 3)
    own = float(six - normal @ down)
    return own, moment - down @ outer - 3.0 * own * down


def _cross(b: Floats, c: Floats) -> Floats:
    """Cross products (n, 3), quicker than numpy's for a few hundred."""
    (bx, by, bz), (cx, cy, cz) = b.T, c.T
    return np.column_stack([by * cz - bz * cy, bz * cx - bx * cz, bx * cy - by * cx])


def _wedges(a: Floats, b: Floats, c: Floats) -> tuple[Floats, Floats]:
    """Six times the volume (n,) and four times the centroid (n, 3) of tetrahedra from the origin."""
    return np.einsum("ij,ij->i", a, _cross(b, c)), a + b + c


def _waterplane(start: Floats, end: Floats, origin: Floats, up: Floats) -> tuple[float, Floats, Floats]:
    """Area, integral of x dA and of x x^T dA inside pieces (n, 3) that go round anticlockwise seen from above."""
    basis = tangent_basis(up[None])[0]
    (x1, y1), (x2, y2) = (start @ basis.T).T, (end @ basis.T).T
    turn = x1 * y2 - x2 * y1
    area = 0.5 * float(turn.sum())
    flat = np.array([turn @ (x1 + x2), turn @ (y1 + y2)]) / 6.0
    xx = turn @ (x1 * x1 + x1 * x2 + x2 * x2) / 12.0
    yy = turn @ (y1 * y1 + y1 * y2 + y2 * y2) / 12.0
    xy = turn @ (x1 * y2 + 2.0 * x1 * y1 + 2.0 * x2 * y2 + x2 * y1) / 24.0
    own = flat @ basis
    second = basis.T @ np.array([[xx, xy], [xy, yy]]) @ basis
    cross = np.outer(own, origin)
    return area, own + area * origin, second + cross + cross.T + area * np.outer(origin, origin)
