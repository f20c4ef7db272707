"""A folded sheet as flat facets of quadratic triangles: membrane, bending and transverse shear.

Displacement u and rotation r, three components each in the axes of space, are quadratic on every triangle and the
same on both sides of a fold, so that folds carry moments with nothing more said. On a facet with unit vectors e1, e2
along it and n across (Reissner-Mindlin; comma: derivative along the facet)

    membrane   e_ab = sym(e_a . u,b)          bending   k_ab = sym(e_a . (r x n),b)
    shear      g_a  = n . u,a + e_a . (r x n)  drilling  d   = n . r - (e2 . u,1 - e1 . u,2) / 2

and the energy is half the integral of t e:C:e + t^3/12 k:C:k + 5/6 G s t g.g + G t DRILLING d^2. The last ties the
rotation about the normal to that of the sheet (Hughes and Brezzi 1989, Comput. Methods Appl. Mech. Eng. 72, 105).
s = t^2 / (t^2 + 0.1 h^2) softens shear where triangles (of size h) are long beside the thickness t, without which
they would lock (Pitkaranta 1988, Numer. Math. 53, 237; the factor 0.1: Lyly, Stenberg and Vihinen 1993, Comput.
Methods Appl. Mech. Eng. 110, 343); where they are short, nothing is changed.

Where the sheet is thicker or thinner with one face level, its middle lies off the meshed surface by an ``offset`` d:
strains there are e + d k, so that the energy gains t d (e:C:k + k:C:e) / 2 and t d^2 k:C:k / 2 (parallel axes).

scikit-fem gives shape functions, quadrature and numbering: it needs numpy and scipy alone, 0.2 MB, BSD licence.
pyfe3d, the other kept wheel with shells, has triangles with linear fields, which want many more of them for a peak at
a hole; a three-dimensional solid wants ten times the unknowns for the same mesh.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats, Ints
from sim.shells.planar_mesh import PlanarMesh

DRILLING: Final = 1e-2
SOFTENED: Final = 0.1
AT_ONCE: Final = 250  # triangles whose stiffness is worked out together, so that it stays in the cache
SHEAR_SHARE: Final = 5.0 / 6.0  # of the thickness that carries transverse shear (Reissner 1945)


@dataclass(frozen=True)
class Sheet:
    """What a sheet is made of: thickness [m], modulus [Pa], Poisson's ratio; the same all over and in every way.

    offset : of its middle from the surface that is meshed, along the normal [m]
    bears : stress at which it is spoilt over that of the sheet it is told beside
    """

    thickness: float
    modulus: float
    poisson: float
    offset: float = 0.0
    bears: float = 1.0

    @property
    def plane_stress(self) -> Floats:
        """(3, 3), from strains (11, 22, 2 * 12) to stresses [Pa]."""
        nu = self.poisson
        return self.modulus / (1.0 - nu**2) * np.array([[1.0, nu, 0.0], [nu, 1.0, 0.0], [0.0, 0.0, (1.0 - nu) / 2]])

    @property
    def shear_modulus(self) -> float:
        """[Pa]."""
        return self.modulus / (2.0 * (1.0 + self.poisson))

    @property
    def elasticity(self) -> Floats:
        """(9, 9) for the rows of ``_strain_rows``, less transverse shear, which hangs on the triangle's size."""
        t, d, flat = self.thickness, self.offset, self.plane_stress
        matrix = np.zeros((9, 9))
        matrix[:3, :3] = t * flat
        matrix[:3, 3:6] = matrix[3:6, :3] = t * d * flat
        matrix[3:6, 3:6] = (t**3 / 12.0 + t * d**2) * flat
        matrix[8, 8] = DRILLING * self.shear_modulus * t
        return matrix


@dataclass(frozen=True, eq=False)
class Shell:
    """Facets in space with all that their quadratic fields need; m triangles, q quadrature points, 6 nodes each.

    sheets : what it is made of, all over the first unless there are more;  of : (m,) which of them each triangle is
    nodes : (k, 3) places of the nodes [m];  flat : (k, 2) in the flat pattern;  corners : how many of them, the
        first ones, are corners of triangles;  triangles : (m, 6) nodes, corners first
    frames : (m, 3, 3) unit vectors e1, e2 and n, one a row
    values, slopes : (q, 6) of the shape functions and (m, 2, q, 6) of their derivatives along e1 and e2 [1/m]
    areas : (m, q) [m^2] that each quadrature point stands for;  sizes : (m,) square root of twice the area [m]
    edges : (b, 3) nodes of the edges that one triangle alone has, ends first
    """

    sheets: tuple[Sheet, ...]
    of: Ints
    nodes: Floats
    flat: Floats
    corners: int
    triangles: Ints
    frames: Floats
    values: Floats
    slopes: Floats
    areas: Floats
    sizes: Floats
    edges: Ints

    @property
    def sheet(self) -> Sheet:
        """What most of it is made of."""
        return self.sheets[0]

    @cached_property
    def thickness(self) -> Floats:
        """(m,) [m]."""
        return np.array([sheet.thickness for sheet in self.sheets])[self.of]

    @cached_property
    def places(self) -> Floats:
        """Of the quadrature points, (m, q, 3) [m]."""
        return np.asarray(np.einsum("qi,mik->mqk", self.values, self.nodes[self.triangles]))


def shell_of(
    mesh: PlanarMesh,
    sheet: Sheet,
    fold: Callable[[Floats], Floats] | None = None,
    others: Sequence[Sheet] = (),
    of: Ints | None = None,
) -> Shell:
    """The shell that a flat mesh becomes by ``fold``, from (n, 2) flat to (n, 3) in space; flat without one.

    others : sheets in places, which ``of`` (m,) counts from 1 on;  0 is ``sheet``
    Every triangle must stay flat, and directions x and y of the pattern at right angles, as folds along x do.
    """
    import skfem

    grid = skfem.MeshTri(np.ascontiguousarray(mesh.points.T), np.ascontiguousarray(mesh.triangles.T))
    basis = skfem.Basis(grid, skfem.ElementTriP2(), intorder=4)
    laid = fold or (lambda flat: np.concatenate([flat, np.zeros((len(flat), 1))], axis=1))
    corners = laid(grid.p.T)
    along, e1, e2 = _facets(grid.p.T, corners, grid.t.T)
    stretch = np.linalg.norm(along, axis=1)
    frames = np.stack([e1, e2, np.cross(e1, e2)], axis=1)
    slopes = np.stack([b[0].grad for b in basis.basis], axis=-1).transpose(1, 0, 2, 3).copy()
    slopes[:, 1] /= stretch[:, None, None]
    values = np.stack([np.asarray(b[0])[0] for b in basis.basis], axis=-1)
    areas = basis.dx * stretch[:, None]
    rim = grid.boundary_facets()
    ends = grid.facets[:, rim]
    middles = basis.facet_dofs[0, rim]
    nodes = np.zeros((basis.N, 3))
    nodes[basis.nodal_dofs[0]] = corners
    nodes[basis.facet_dofs[0]] = corners[grid.facets].mean(axis=0)
    return Shell(
        sheets=(sheet, *others),
        of=np.zeros(len(mesh.triangles), dtype=np.int64) if of is None else of,
        nodes=nodes,
        flat=basis.doflocs.T,
        corners=len(corners),
        triangles=np.ascontiguousarray(basis.element_dofs.T, dtype=np.int64),
        frames=frames,
        values=values,
        slopes=slopes,
        areas=areas,
        sizes=np.sqrt(2.0 * areas.sum(axis=1)),
        edges=np.stack([basis.nodal_dofs[0, ends[0]], basis.nodal_dofs[0, ends[1]], middles], axis=1),
    )


def stiffness(shell: Shell) -> Any:
    """The stiffness matrix, sparse (6 k, 6 k): for each node its displacement [m] and rotation [rad]."""
    import scipy.sparse

    parts = range(0, len(shell.triangles), AT_ONCE)
    own = np.concatenate([_stiffness_of(shell, slice(first, first + AT_ONCE)) for first in parts])
    blocks = own.reshape(-1, 6, 6, 6, 6).transpose(0, 1, 3, 2, 4).reshape(-1, 6, 6)
    # each pair of nodes once, with the blocks of all triangles that have both added up
    count = len(shell.nodes)
    pair = (shell.triangles[:, :, None] * count + shell.triangles[:, None]).reshape(-1)
    ranked = np.argsort(pair, kind="stable")
    pairs, first = np.unique(pair[ranked], return_index=True)
    starts = np.searchsorted(pairs, np.arange(count + 1) * count)
    added = np.add.reduceat(blocks[ranked], first, axis=0)
    return scipy.sparse.bsr_array((added, pairs % count, starts), shape=(6 * count, 6 * count)).tocsr()


def _stiffness_of(shell: Shell, some: slice) -> Floats:
    """(m, 36, 36), each triangle's own."""
    strains = _strain_rows(shell, some)
    m, q = strains.shape[:2]
    weighted = np.matmul(_elasticity(shell, some)[:, None], strains) * shell.areas[some, :, None, None]
    return np.asarray(np.matmul(strains.reshape(m, 9 * q, 36).transpose(0, 2, 1), weighted.reshape(m, 9 * q, 36)))


def _strain_rows(shell: Shell, some: slice) -> Floats:
    """(m, q, 9, 36): membrane (11, 22, 2 * 12), bending, shear (1, 2) and drilling, of the nodes' six components."""
    m, q = shell.areas[some].shape
    rows = np.zeros((m, q, 9, 6, 6))
    e1, e2, n = shell.frames[some].transpose(1, 0, 2)
    one, two = shell.slopes[some, 0], shell.slopes[some, 1]
    value = np.broadcast_to(shell.values, (m, q, 6))

    def add(row: int, first: int, shape: Floats, vector: Floats) -> None:
        rows[:, :, row, :, first : first + 3] += shape[..., None] * vector[:, None, None, :]

    # e1 . (r x n) = e2 . r and e2 . (r x n) = -e1 . r
    for first, start, (a, b) in ((0, 0, (e1, e2)), (3, 3, (e2, -e1))):
        add(start, first, one, a)
        add(start + 1, first, two, b)
        add(start + 2, first, two, a)
        add(start + 2, first, one, b)
    add(6, 0, one, n)
    add(6, 3, value, e2)
    add(7, 0, two, n)
    add(7, 3, value, -e1)
    add(8, 3, value, n)
    add(8, 0, one, -e2 / 2)
    add(8, 0, two, e1 / 2)
    return rows.reshape(m, q, 9, 36)


def _elasticity(shell: Shell, some: slice) -> Floats:
    """(m, 9, 9) for the rows of ``_strain_rows``."""
    of, sizes = shell.of[some], shell.sizes[some]
    matrix = np.stack([sheet.elasticity for sheet in shell.sheets])[of]
    t, shear = shell.thickness[some], np.array([sheet.shear_modulus for sheet in shell.sheets])[of]
    matrix[:, 6, 6] = matrix[:, 7, 7] = SHEAR_SHARE * shear * t**3 / (t**2 + SOFTENED * sizes**2)
    return matrix


def _facets(flat: Floats, corners: Floats, triangles: Ints) -> tuple[Floats, Floats, Floats]:
    """What the pattern's y becomes in space on each facet (m, 3), and the facets' unit vectors along x and y."""
    sides = np.stack([flat[triangles[:, k]] - flat[triangles[:, 0]] for k in (1, 2)], axis=2)
    bent = np.stack([corners[triangles[:, k]] - corners[triangles[:, 0]] for k in (1, 2)], axis=2)
    made = np.matmul(bent, np.linalg.inv(sides))
    along = made[:, :, 1]
    return along, made[:, :, 0], along / np.linalg.norm(along, axis=1)[:, None]
