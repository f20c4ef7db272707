"""A person in a pose: solids, lungs, skin, joints and landmarks, all in body axes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from types import MappingProxyType

import numpy as np

from meshes.body.kinematics import SegmentMotion, segment_motions
from meshes.body.pose import Pose
from meshes.body.skin import skin_points
from meshes.body.topology import skin_topology
from meshes.mesh import Floats, Mesh, reshaped
from meshes.solid import Solid, combined, moved
from sim.person.landmarks import Landmarks, body_landmarks
from sim.person.lung_gas import lung_solid, organ_moment
from sim.person.person import FINENESS, Person
from sim.person.pose import checked_pose
from sim.person.skin import SkinPatches, face_areas, skin_patches


@dataclass(frozen=True, eq=False)
class PosedBody:
    """A body in body axes: x head, y left, z back [m], origin midway between the hip joints.

    segments : sixteen (name, solid); mass, CM, inertia about the CM, tissue volume and CB by published tables,
        mesh the segment's closed outside moved rigidly
    lungs : displaces the lung gas, no mass
    drawing : the whole skin as one closed mesh that bends smoothly over the joints
    joints : (3,) by name: "neck", and "left " or "right " shoulder, elbow, wrist, hip, knee, ankle
    placements : rigid motion of each segment from the standing body, to carry gear along
    landmarks : (3,) by name, on the skin unless the name says otherwise
    skin : patches of the posed skin
    """

    person: Person
    pose: Pose
    segments: tuple[tuple[str, Solid], ...]
    lungs: Solid
    drawing: Mesh
    joints: Mapping[str, Floats]
    placements: Mapping[str, SegmentMotion]
    landmarks: Landmarks
    skin: SkinPatches

    @property
    def frames(self) -> dict[str, Floats]:
        """Rotation (3, 3) of each segment from its standing attitude."""
        return {name: p.rotation for name, p in self.placements.items()}

    def carried(self, segment: str, solid: Solid) -> Solid:
        """A solid fitted to the standing body (arms hanging), moved along with a segment."""
        p = self.placements[segment]
        return moved(solid, p.rotation, p.at - p.rotation @ p.pivot)

    def back_surface(self, x: Floats | float, y: Floats | float = 0.0) -> Floats:
        """z [m] of the back at heights x and distances y from the midline [m]; arrays broadcast.

        The standing trunk's; x is held between the crotch and C7, y within the breadth there.
        """
        return back_of_trunk(self.person, np.asarray(x, dtype=float), np.asarray(y, dtype=float))

    def whole(self) -> Solid:
        """Everything together: mass, CM and inertia of the tissue, volume and CB with the lungs."""
        return combined([solid for _, solid in self.segments] + [self.lungs])


def posed_body(person: Person, pose: Pose) -> PosedBody:
    """A person in a pose. Raises ValueError when a joint angle is beyond its range."""
    checked_pose(pose)
    placements = segment_motions(person.skeleton, pose)
    topology = skin_topology(FINENESS)
    points = skin_points(person.shape, FINENESS, pose)
    return PosedBody(
        person=person,
        pose=pose,
        segments=tuple(_segments(person, placements).items()),
        lungs=lung_solid(person.shape.trunk, person.lung_gas, person.frc),
        drawing=reshaped(topology.faces, points),
        joints=MappingProxyType(_joints(person, placements)),
        placements=MappingProxyType(placements),
        landmarks=MappingProxyType(body_landmarks(person, placements)),
        skin=skin_patches(points, _standing_areas(person), topology),
    )


@lru_cache(maxsize=4)
def _standing_areas(person: Person) -> Floats:
    return face_areas(person.standing, skin_topology(FINENESS))


def back_of_trunk(person: Person, x: Floats, y: Floats) -> Floats:
    """z [m] of the standing trunk's back at heights x and |y| [m], broadcast; held at crotch, C7 and the flanks."""
    heights = person.skeleton.heights
    shape = np.broadcast_shapes(np.shape(x), np.shape(y))
    across = np.shape(x)[-1:] == (1,) and len(shape) == 2  # of several places at one height, its section is shared
    at = np.ravel(np.clip(x if across else np.broadcast_to(x, shape), heights["crotch"], heights["c7"]))
    return person.shape.trunk.back(at, np.broadcast_to(np.abs(y), shape).reshape(len(at), -1)).reshape(shape)


def _segments(person: Person, placements: Mapping[str, SegmentMotion]) -> dict[str, Solid]:
    """Tissue solids in the pose; the middle trunk's CM moves as the lungs push the organs."""
    solids = {}
    for name, t in person.segments.items():
        standing = Solid(t.mass, t.centre, t.inertia, t.volume, t.centre, person.meshes[name])
        p = placements[name]
        solids[name] = moved(standing, p.rotation, p.at - p.rotation @ p.pivot)
    middle = solids["middle trunk"]
    shift = organ_moment(person.shape.trunk, person.lung_gas, person.frc) / middle.volume
    solids["middle trunk"] = replace(middle, cm=middle.cm + shift)
    return solids


def _joints(person: Person, placements: Mapping[str, SegmentMotion]) -> dict[str, Floats]:
    proximal = {
        "shoulder": "upper arm",
        "elbow": "forearm",
        "wrist": "hand",
        "hip": "thigh",
        "knee": "shank",
        "ankle": "foot",
    }
    joints = {"neck": person.skeleton.joints["neck"]}
    for joint, segment in proximal.items():
        for side in ("left", "right"):
            joints[f"{side} {joint}"] = placements[f"{side} {segment}"].at
    return joints
