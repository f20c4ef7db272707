"""Gas made visible: the suit's layer as a second skin, the wing's gas as colour on its bag."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from meshes.memoized import memoized_on_body
from meshes.mesh import Floats, Ints, Mesh, mesh_of
from sim.drawing.scene import SuitGas, WingGas

NEIGHBOURS: Final = 10
EVENING: Final = 12  # rounds of taking half the neighbours' mean


@memoized_on_body
def vertex_normals(mesh: Mesh) -> Floats:
    """Unit outward normals (n, 3) at the vertices, area-weighted; vertices in one place share one normal."""
    corners = mesh.vertices[mesh.faces]
    flat = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    _, place = np.unique(np.round(mesh.vertices, 6), axis=0, return_inverse=True)
    place = place.reshape(-1)
    summed = np.stack(
        [np.bincount(place[mesh.faces].ravel(), np.repeat(flat[:, k], 3), place.max() + 1) for k in range(3)], axis=1
    )
    length = np.linalg.norm(summed, axis=1)
    length[length == 0.0] = 1.0
    return np.asarray((summed / length[:, None])[place])


@dataclass(frozen=True, eq=False)
class SuitOnSkin:
    """The suit at the skin's vertices.

    thickness : (n,) of gas [m];  enlarged : (n,) times that it is drawn thicker
    """

    thickness: Floats
    enlarged: Floats


@dataclass(frozen=True, eq=False)
class NearCells:
    """Of which cells' gas a vertex shows how much: near (n, k) their numbers, share (n, k)."""

    near: Ints
    share: Floats


def suit_shares(skin: Mesh, suit: SuitGas, suited: NDArray[np.bool_] | None = None) -> NearCells:
    """The nearest patches that face the same way as the skin's vertices; shares of 0 where there is no suit.

    Patches weigh by area, by distance (Gaussian of the spacing of the patches) and by how much they face along
    the vertex's normal, so that gas on the back does not bleed through to the belly or from arm to trunk.
    """
    cells = _near(skin, suit.centre.tobytes(), suit.normal.tobytes(), suit.area.tobytes())
    return cells if suited is None else NearCells(cells.near, cells.share * suited[:, None])


@memoized_on_body
def _near(skin: Mesh, centres: bytes, normals: bytes, areas: bytes) -> NearCells:
    """Shares as if all of the skin were suited; patches by what their arrays hold, so that the same are met again."""
    from scipy.spatial import cKDTree

    centre, normal = (np.frombuffer(held).reshape(-1, 3) for held in (centres, normals))
    k = min(NEIGHBOURS, len(centre))
    distance, nearest = (np.reshape(found, (-1, k)) for found in cKDTree(centre).query(skin.vertices, k=k))
    facing = np.clip(np.einsum("ij,ikj->ik", vertex_normals(skin), normal[nearest]), 0.02, None)
    spread = np.maximum(distance[:, : min(4, k)].mean(axis=1, keepdims=True), 1e-3)
    weight = np.frombuffer(areas)[nearest] * facing**2 * np.exp(-0.5 * (distance / spread) ** 2) + 1e-30
    return NearCells(nearest, weight / weight.sum(axis=1, keepdims=True))


def suit_on(skin: Mesh, suit: SuitGas, scale: float, suited: NDArray[np.bool_] | None = None) -> SuitOnSkin:
    """Smooth means of the patches by ``suit_shares``; no gas where there is no suit."""
    if not len(suit.centre):
        return SuitOnSkin(*(np.zeros(len(skin.vertices)) for _ in range(2)))
    cells = suit_shares(skin, suit, suited)
    thickness = (cells.share * suit.thickness[cells.near]).sum(axis=1)
    pressed = (cells.share * suit.covered[cells.near]).sum(axis=1)
    return SuitOnSkin(thickness, scale + (1.0 - scale) * pressed)


@dataclass(frozen=True, eq=False)
class SkinLayer:
    """What lies over a skin: its outward normals (n, 3), the matrix (n, n) of means over each one's neighbours."""

    skin: Mesh
    normals: Floats
    near: Any

    def pushed(self, height: Floats) -> Floats:
        """Vertices (n, 3) pushed out along their normals by heights (n,) [m], then evened like cloth over corners."""
        offset = self.normals * height[:, None]
        for _ in range(EVENING):
            offset = 0.5 * offset + 0.5 * (self.near @ offset)
        return np.asarray(self.skin.vertices + offset)


def layer_over(skin: Mesh) -> SkinLayer:
    """What many layers over one skin share."""
    return SkinLayer(skin, vertex_normals(skin), _neighbours(skin))


def gas_layer(skin: Mesh, suit: SuitOnSkin) -> Mesh:
    """The skin pushed out by the enlarged gas thickness."""
    return mesh_of(layer_over(skin).pushed(suit.enlarged * suit.thickness), skin.faces)


@memoized_on_body
def _neighbours(mesh: Mesh) -> Any:
    """Sparse (n, n) matrix that takes the mean over the vertices joined to each by an edge."""
    from scipy.sparse import coo_matrix, diags_array

    count = len(mesh.vertices)
    here, there = mesh.faces.ravel(), np.roll(mesh.faces, -1, axis=1).ravel()
    edges = (np.concatenate([here, there]), np.concatenate([there, here]))
    joined = coo_matrix((np.ones(len(edges[0])), edges), shape=(count, count)).tocsr()
    return diags_array(1.0 / np.maximum(np.asarray(joined.sum(axis=1)).ravel(), 1.0)) @ joined


@memoized_on_body
def wing_shares(wing: WingGas) -> NearCells:
    """The cells nearest to the vertices of the bag."""
    from scipy.spatial import cKDTree

    k = min(4, len(wing.cells))
    distance, nearest = (np.reshape(found, (-1, k)) for found in cKDTree(wing.cells).query(wing.bag.vertices, k=k))
    weight = 1.0 / (distance**2 + 0.02**2)
    return NearCells(nearest, weight / weight.sum(axis=1, keepdims=True))


def wing_fill_on(wing: WingGas) -> Floats:
    """Gas (n,) at the bag's vertices as a share 0..1 of the fullest cell's."""
    if not len(wing.cells) or not wing.volume.max() > 0.0:
        return np.zeros(len(wing.bag.vertices))
    cells = wing_shares(wing)
    return np.asarray((cells.share * wing.volume[cells.near]).sum(axis=1) / wing.volume.max())
