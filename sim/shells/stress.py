"""Stresses on a shell's two faces, and what is uncertain of them on this mesh."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.shells.shell import Shell

# the ends of each edge, whose middle is a node, in scikit-fem's order: 01, 12, 02
MIDDLES: Final = np.array([[1.0, 1.0, 0.0], [0.0, 1.0, 1.0], [1.0, 0.0, 1.0]])


@dataclass(frozen=True, eq=False)
class FaceStress:
    """von Mises stress [Pa] of the worse face.

    at_corners : (c,) at the corners of triangles, of the stresses there of all triangles around, averaged; where
        sheets of two kinds meet, the greater of both
    jump : (m,) greatest difference within a triangle between the averaged stresses and its own, as von Mises stress
    """

    at_corners: Floats
    jump: Floats


def face_stresses(shell: Shell, displaced: Floats) -> Floats:
    """(m, 3, 2, 3): stresses 11, 22, 12 [Pa] at each triangle's corners, on its faces against n and along n."""
    own = displaced[shell.triangles]
    e1, e2 = shell.frames[:, 0], shell.frames[:, 1]
    membrane = _symmetric(shell, _along(own[:, :, :3], e1), _along(own[:, :, :3], e2))
    bending = _symmetric(shell, _along(own[:, :, 3:], e2), _along(own[:, :, 3:], -e1))
    half = shell.thickness[:, None, None] / 2
    middle = np.array([sheet.offset for sheet in shell.sheets])[shell.of, None, None]
    faces = np.stack([membrane + (middle - half) * bending, membrane + (middle + half) * bending], axis=2)
    return np.asarray(np.einsum("mcfk,mkl->mcfl", faces, np.stack([s.plane_stress for s in shell.sheets])[shell.of]))


def worse_face(shell: Shell, displaced: Floats) -> FaceStress:
    """The von Mises stress to be told, from displacements (k, 6): of a sheet that bears less, as much more."""
    raw = face_stresses(shell, displaced)
    raw /= np.array([sheet.bears for sheet in shell.sheets])[shell.of, None, None, None]
    # stress jumps from one kind of sheet to another, as it should: each has its own average
    kinds, corners = np.unique(shell.triangles[:, :3] + shell.corners * shell.of[:, None], return_inverse=True)
    corners = corners.reshape(-1, 3)
    share = shell.areas.sum(axis=1)
    total, weight = np.zeros((len(kinds), 2, 3)), np.zeros(len(kinds))
    for k in range(3):
        np.add.at(total, corners[:, k], share[:, None, None] * raw[:, k])
        np.add.at(weight, corners[:, k], share)
    mean = total / weight[:, None, None]
    jump = von_mises(mean[corners] - raw).max(axis=(1, 2))
    worst = np.zeros(shell.corners)
    np.maximum.at(worst, kinds % shell.corners, von_mises(mean).max(axis=1))
    return FaceStress(worst, jump)


def von_mises(stress: Floats) -> Floats:
    """(...,) from plane stresses 11, 22, 12 (..., 3)."""
    a, b, c = stress[..., 0], stress[..., 1], stress[..., 2]
    return np.asarray(np.sqrt(a**2 - a * b + b**2 + 3.0 * c**2))


def _along(vectors: Floats, axes: Floats) -> Floats:
    """Components (m, i) of nodes' vectors (m, i, 3) along each triangle's axis (m, 3)."""
    return np.asarray(np.einsum("mik,mk->mi", vectors, axes))


def _symmetric(shell: Shell, one: Floats, two: Floats) -> Floats:
    """(m, 3, 3): strains 11, 22, 2 * 12 at the corners, of a field with nodes' components (m, 6) along e1 and e2.

    The slopes of a quadratic field are linear in a triangle, so those at the quadrature points give those anywhere.
    """
    # what is linear takes its corners' values, of which the quadratic functions hold these shares
    corner_share = shell.values[:, :3] + (shell.values[:, 3:] @ MIDDLES) / 2
    to_corners = np.linalg.pinv(corner_share)
    first, second = np.matmul(to_corners, shell.slopes[:, 0]), np.matmul(to_corners, shell.slopes[:, 1])
    return np.stack(
        [
            np.einsum("mqi,mi->mq", first, one),
            np.einsum("mqi,mi->mq", second, two),
            np.einsum("mqi,mi->mq", second, one) + np.einsum("mqi,mi->mq", first, two),
        ],
        axis=-1,
    )
