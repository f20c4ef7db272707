"""Gas made visible: the suit's layer as a second skin, the wing's gas as colour on its bag."""

from __future__ import annotations

import numpy as np

from meshes.mesh import Floats, Mesh, mesh_of
from sim.pictures.scene import SuitGas, WingGas

NEIGHBOURS = 10


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


def thickness_on(skin: Mesh, suit: SuitGas) -> Floats:
    """Gas thickness (n,) [m] at the skin's vertices: a smooth mean of the nearest patches that face the same way.

    Patches weigh by area, by distance (Gaussian of the spacing of the patches) and by how much they face along
    the vertex's normal, so that gas on the back does not bleed through to the belly or from arm to trunk.
    """
    from scipy.spatial import cKDTree

    if not len(suit.centre):
        return np.zeros(len(skin.vertices))
    normals = vertex_normals(skin)
    k = min(NEIGHBOURS, len(suit.centre))
    distance, nearest = (np.reshape(found, (-1, k)) for found in cKDTree(suit.centre).query(skin.vertices, k=k))
    facing = np.clip(np.einsum("ij,ikj->ik", normals, suit.normal[nearest]), 0.02, None)
    spread = np.maximum(distance[:, : min(4, k)].mean(axis=1, keepdims=True), 1e-3)
    weight = suit.area[nearest] * facing**2 * np.exp(-0.5 * (distance / spread) ** 2) + 1e-30
    gas = np.where(suit.covered, suit.thickness, 0.0)[nearest]
    return np.asarray((weight * gas).sum(axis=1) / weight.sum(axis=1))


def covered_on(skin: Mesh, suit: SuitGas) -> Floats:
    """Share 0..1 (n,) of suit over the skin's vertices, from the nearest patches."""
    from scipy.spatial import cKDTree

    if not len(suit.centre):
        return np.zeros(len(skin.vertices))
    _, nearest = cKDTree(suit.centre).query(skin.vertices, k=1)
    return np.asarray(suit.covered[nearest], dtype=float)


def gas_layer(skin: Mesh, thickness: Floats, scale: float) -> Mesh:
    """The skin pushed out along its normals by ``scale`` times the gas ``thickness`` (n,) [m]."""
    return mesh_of(skin.vertices + vertex_normals(skin) * (scale * thickness)[:, None], skin.faces)


def wing_fill_on(wing: WingGas) -> Floats:
    """Gas (n,) at the bag's vertices as a share 0..1 of the fullest cell's."""
    from scipy.spatial import cKDTree

    if not len(wing.cells) or not wing.volume.max() > 0.0:
        return np.zeros(len(wing.bag.vertices))
    k = min(4, len(wing.cells))
    distance, nearest = (np.reshape(found, (-1, k)) for found in cKDTree(wing.cells).query(wing.bag.vertices, k=k))
    weight = 1.0 / (distance**2 + 0.02**2)
    return np.asarray((weight * wing.volume[nearest]).sum(axis=1) / weight.sum(axis=1) / wing.volume.max())
