"""A layer of even thickness over a closed shape: hood over a head, sock over a foot, glove over a hand."""

from __future__ import annotations

import numpy as np

from meshes.mesh import Floats, Mesh, mesh_of
from meshes.solid import Solid, volume_integrals


def vertex_normals(mesh: Mesh) -> Floats:
    """Outward unit normals (n, 3) at the vertices, faces weighted by area."""
    a, b, c = (mesh.vertices[mesh.faces[:, k]] for k in range(3))
    face = np.cross(b - a, c - a)
    total = np.zeros_like(mesh.vertices)
    for k in range(3):
        np.add.at(total, mesh.faces[:, k], face)
    length = np.linalg.norm(total, axis=1, keepdims=True)
    return np.asarray(total / np.where(length > 0.0, length, 1.0))


def surface_area(mesh: Mesh) -> float:
    """[m^2]"""
    a, b, c = (mesh.vertices[mesh.faces[:, k]] for k in range(3))
    return float(0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1).sum())


def grown(mesh: Mesh, thickness: float) -> Mesh:
    """The mesh with every vertex moved ``thickness`` [m] outward along its normal."""
    return mesh_of(mesh.vertices + thickness * vertex_normals(mesh), mesh.faces)


def covering(mesh: Mesh, thickness: float, density: float, *, share: float = 1.0, compressed: float = 1.0) -> Solid:
    """Layer of ``thickness`` [m] and ``density`` [kg/m^3], both at the surface, over a closed mesh.

    share : of the mesh's area that is covered (a face or a wrist is left open), taken off evenly
    compressed : thickness at depth over thickness at the surface; the mass stays, the displaced volume shrinks
    Volume and centre are those between the mesh and its grown outside, which is also what is drawn.
    """
    if not (thickness > 0.0 and density > 0.0 and 0.0 < share <= 1.0 and 0.0 < compressed <= 1.0):
        raise ValueError(
            f"needs thickness and density > 0, share and compression in (0, 1], got {thickness} m, {density} kg/m^3, "
            f"{share}, {compressed}"
        )
    outside = grown(mesh, thickness * compressed)
    inner, outer = volume_integrals(mesh), volume_integrals(outside)
    layer = outer.volume - inner.volume
    if not (inner.volume > 0.0 and layer > 0.0):
        raise ValueError("the mesh to be covered must be closed, with its outside outward")
    centre = (outer.volume * outer.centroid - inner.volume * inner.centroid) / layer
    second = np.zeros((3, 3))
    for body, sign in ((outer, 1.0), (inner, -1.0)):
        away = body.centroid - centre
        second += sign * (body.second + body.volume * (away @ away * np.eye(3) - np.outer(away, away)))
    mass = share * density * layer / compressed
    return Solid(mass, centre, np.asarray(mass / layer * second), share * layer, centre, outside)
