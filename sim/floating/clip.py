r"""What a plane water surface cuts off a closed mesh, exact for its flat faces.

The water reaches up to the plane u.x = level (u unit, body axes). Divergence theorem over tetrahedra from a point *in
the plane*: those over the cut itself are flat, so that volume and centroid need no cap. The cut's own moments come
from Green's theorem along its outline, each crossed triangle giving one straight piece of it. A triangle with one
corner under water leaves a smaller triangle there; one with two leaves itself less the smaller triangle above.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from meshes.mesh import Floats, Mesh


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


def immersion(mesh: Mesh, up: Floats, level: float) -> Immersion:
    """What of a closed mesh lies below the plane ``up``.x = ``level``; ``up`` (3,) unit, ``level`` [m]."""
    heights = mesh.vertices @ up - level
    below = (heights < 0.0)[mesh.faces]
    count = below.sum(axis=1)
    middle = mesh.vertices[0]
    origin = middle + (level - middle @ up) * up
    points = mesh.vertices - origin

    whole = points[mesh.faces[count == 3]]
    det, total = _wedges(whole[:, 0], whole[:, 1], whole[:, 2])
    six, moment = float(det.sum()), det @ total

    cut = np.flatnonzero((count == 1) | (count == 2))
    lone_is_under = count[cut] == 1
    lone = np.where(lone_is_under, below[cut].argmax(axis=1), below[cut].argmin(axis=1))
    corners = np.take_along_axis(mesh.faces[cut], (lone[:, None] + np.arange(3)) % 3, axis=1)
    (a, b, c), (ha, hb, hc) = points[corners].transpose(1, 0, 2), heights[corners].T
    p = a + (ha / (ha - hb))[:, None] * (b - a)
    q = a + (ha / (ha - hc))[:, None] * (c - a)
    sign = np.where(lone_is_under, 1.0, -1.0)
    det, total = _wedges(a, p, q)
    six, moment = six + float(sign @ det), moment + (sign * det) @ total
    under = ~lone_is_under
    det, total = _wedges(a[under], b[under], c[under])
    six, moment = six + float(det.sum()), moment + det @ total
    volume = six / 6.0
    first = moment / 24.0 + volume * origin

    start, end = np.where(lone_is_under[:, None], q, p), np.where(lone_is_under[:, None], p, q)
    return Immersion(volume, first, *_waterplane(start, end, origin, up))


def _wedges(a: Floats, b: Floats, c: Floats) -> tuple[Floats, Floats]:
    """Six times the volume (n,) and four times the centroid (n, 3) of tetrahedra from the origin."""
    return np.einsum("ij,ij->i", a, np.cross(b, c)), a + b + c


def _waterplane(start: Floats, end: Floats, origin: Floats, up: Floats) -> tuple[float, Floats, Floats]:
    """Area, integral of x dA and of x x^T dA inside pieces (n, 3) that go round anticlockwise seen from above."""
    axis = np.eye(3)[np.abs(up).argmin()]
    right = np.cross(axis, up)
    right /= np.linalg.norm(right)
    basis = np.stack([right, np.cross(up, right)])
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
