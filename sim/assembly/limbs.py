"""Which limb carries each thing that a diver wears.

Nobody says it of each item: the same rig is put together in two poses, and a thing belongs to the limb whose motion
it followed. Meshes are told shell by shell, so that the boots, one item, go with one foot each, and a lamp's head
with the hand whose canister stays at the hip. What followed none closely (a hose between chest and mouth) goes with
the limb it followed best.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.body.kinematics import SegmentMotion
from meshes.mesh import Floats, Ints, Mesh, mesh_of
from sim.rig import Part

# Links that move as one: the trunk does not bend, hands stay as they are on the forearms
LINKS: Final = (
    ("upper trunk", "lower trunk", "middle trunk"), ("head",),
    ("left upper arm",), ("left forearm", "left hand"), ("left thigh",), ("left shank",), ("left foot",),
    ("right upper arm",), ("right forearm", "right hand"), ("right thigh",), ("right shank",), ("right foot",),
)  # fmt: skip
LINK_OF: Final = {name: number for number, names in enumerate(LINKS) for name in names}
CLOSER: Final = 1e-6  # m by which a limb must explain a motion better than the trunk


@dataclass(frozen=True, eq=False)
class Borne:
    """What one limb carries of an item: its share of the whole (0 to 1), about ``centre`` (3,) [m], and its mesh."""

    link: int
    share: float
    centre: Floats
    mesh: Mesh | None


def link_of_skin(segments: tuple[str, ...]) -> Ints:
    """(n,) numbers of the links that patches of skin lie on."""
    return np.array([LINK_OF[s] for s in segments])


def straightened(placements: Mapping[str, SegmentMotion], link: int, points: Floats) -> Floats:
    """Points (..., 3) that ``link`` carries in a pose, where they are with every joint straight [m]."""
    p = placements[LINKS[link][0]]
    return np.asarray(p.pivot + (points - p.at) @ p.rotation)


def borne(
    here: Part, there: Part, placements: Mapping[str, SegmentMotion], others: Mapping[str, SegmentMotion]
) -> tuple[Borne, ...]:
    """How the limbs share an item that was put together in two poses, with the segments' ``placements`` in each."""
    mesh, moved = here.solid.mesh, there.solid.mesh
    if mesh is None or moved is None or mesh.vertices.shape != moved.vertices.shape:
        link = int(_strayed(here.solid.cm[None], there.solid.cm[None], placements, others).argmin())
        return (Borne(0 if mesh is not None else link, 1.0, here.solid.cm, mesh),)
    shell = _shells(mesh)
    strayed = _strayed(mesh.vertices, moved.vertices, placements, others)
    count = np.bincount(shell)
    link_of_shell = np.array([np.bincount(shell, row) / count for row in strayed]).argmin(axis=0)
    if (link_of_shell == link_of_shell[0]).all():
        return (Borne(int(link_of_shell[0]), 1.0, here.solid.cm, mesh),)
    return _shared(mesh, link_of_shell[shell], here.solid.cm)


def _strayed(
    points: Floats, moved: Floats, placements: Mapping[str, SegmentMotion], others: Mapping[str, SegmentMotion]
) -> Floats:
    """(links, n) how far each point is from where each link would have carried it [m]."""
    strayed = []
    for names in LINKS:
        straight = straightened(placements, LINK_OF[names[0]], points)
        strayed.append(np.linalg.norm(others[names[0]].carried(straight) - moved, axis=1))
    strayed[0] = strayed[0] - CLOSER
    return np.array(strayed)


def _shells(mesh: Mesh) -> Ints:
    """(n,) number of the shell that each vertex belongs to: vertices joined by triangles."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    n = len(mesh.vertices)
    ends = np.concatenate([mesh.faces[:, [0, 1]], mesh.faces[:, [1, 2]]])
    graph = coo_array((np.ones(len(ends)), (ends[:, 0], ends[:, 1])), shape=(n, n))
    return np.asarray(connected_components(graph, directed=False)[1])


def _shared(mesh: Mesh, link_of_vertex: Ints, cm: Floats) -> tuple[Borne, ...]:
    """Shares by what each limb's shells enclose, all moved alike so that together they balance at ``cm``."""
    of_face = link_of_vertex[mesh.faces[:, 0]]
    corners = mesh.vertices[mesh.faces]
    wedge = np.einsum("ij,ij->i", corners[:, 0], np.cross(corners[:, 1], corners[:, 2])) / 6.0
    middle = corners.sum(axis=1) / 4.0
    volume = np.bincount(of_face, wedge, len(LINKS))
    first = np.stack([np.bincount(of_face, wedge * middle[:, i], len(LINKS)) for i in range(3)], axis=1)
    links = np.flatnonzero(volume > 0.0)
    share = volume[links] / volume[links].sum()
    centre = first[links] / volume[links, None]
    centre = centre + (cm - share @ centre)
    return tuple(
        Borne(int(link), float(s), c, _part_of(mesh, of_face == link))
        for link, s, c in zip(links, share, centre, strict=True)
    )


def _part_of(mesh: Mesh, chosen: np.ndarray) -> Mesh:
    used, index = np.unique(mesh.faces[chosen], return_inverse=True)
    return mesh_of(mesh.vertices[used], index.reshape(-1, 3))
