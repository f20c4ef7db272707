"""The diver as a GLB: named parts, true scale, as slide programs and browsers open it (glTF 2.0: metres, y up)."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.model.parts import ShownPart

# glTF has y up and looks along z: the diver's left side is seen, head to the right, as body or world axes z goes up
UPRIGHT: Final = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, -1.0, 0.0]])


def write_glb(parts: Sequence[ShownPart], rotation: Floats, path: Path, *, title: str, caution: str) -> None:
    """Write parts, turned by ``rotation`` (3, 3, body axes to world), as nodes below one named "diver".

    The colours lie on the vertices; gas is see-through. Title and caution stand in the file's ``extras``.
    """
    import trimesh as untyped
    from trimesh.visual import material as untyped_material

    trimesh: Any = untyped
    materials: Any = untyped_material
    place = np.eye(4)
    place[:3, :3] = UPRIGHT @ rotation
    scene = trimesh.Scene(base_frame="diver", metadata={"title": title, "caution": caution, "unit": "m"})
    for part in parts:
        surface = part.surface
        material = materials.PBRMaterial(
            name=surface.name,
            metallicFactor=part.metal,
            roughnessFactor=0.85 - 0.5 * surface.shine,
            alphaMode="BLEND" if surface.layer else "OPAQUE",
            doubleSided=not surface.layer,
        )
        mesh = trimesh.Trimesh(surface.mesh.vertices, surface.mesh.faces, process=False)
        mesh.visual = trimesh.visual.TextureVisuals(material=material)
        mesh.visual.vertex_attributes["color"] = surface.colours
        mesh.metadata["layer"] = part.layer
        scene.add_geometry(mesh, node_name=surface.name, geom_name=surface.name, transform=place)
    written: Any = scene.export(file_type="glb")
    path.write_bytes(written)
