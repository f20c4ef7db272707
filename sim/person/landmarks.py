"""Named points of the body that gear and reports refer to."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Literal, cast

import numpy as np

from meshes.body.kinematics import SegmentMotion
from meshes.mesh import Floats
from meshes.solid import MIRROR
from sim.person.person import Person

# The crown is the back of the vertex, the eyes are the point between them, the waist's back is at the navel's height
LandmarkName = Literal[
    "vertex", "crown", "forehead", "eyes", "mouth", "chin", "c7", "notch", "sternum", "navel", "natural waist back",
    "waist back", "iliac crest back", "sacrum", "crotch",
    "left acromion", "left iliac crest", "left hip side", "left fingertip", "left heel", "left toe", "left sole",
    "right acromion", "right iliac crest", "right hip side", "right fingertip", "right heel", "right toe",
    "right sole",
]  # fmt: skip
Landmarks = Mapping[LandmarkName, Floats]


def body_landmarks(person: Person, placements: Mapping[str, SegmentMotion]) -> Landmarks:
    """Points (3,) [m] in body axes, posed."""
    trunk = _trunk_points(person)
    head = placements["head"]
    points = {k: (head.carried(p) if k in _HEAD else p) for k, p in trunk.items()}
    for name, (segment, point) in _side_points(person).items():
        for side, own in (("left", point), ("right", MIRROR @ point)):
            mover = placements.get(f"{side} {segment}", placements.get(segment))
            points[f"{side} {name}"] = own if mover is None else mover.carried(own)
    return cast(Landmarks, points)


_HEAD = frozenset({"vertex", "crown", "forehead", "eyes", "mouth", "chin"})


@lru_cache(maxsize=4)
def _trunk_points(person: Person) -> dict[str, Floats]:
    """Standing; kept for the next poses."""
    h = person.skeleton.heights
    face = h["sellion"] - h["chin"]
    front = {
        "forehead": h["sellion"] + 0.3 * (h["vertex"] - h["sellion"]),
        "eyes": h["sellion"] - 0.04 * face,
        "mouth": h["chin"] + 0.36 * face,
        "chin": h["chin"] + 0.012,
        "notch": h["notch"],
        "sternum": 0.5 * (h["notch"] + h["xiphoid"]),
        "navel": h["navel"],
    }
    back = {
        "c7": h["c7"], "natural waist back": h["waist"], "waist back": h["navel"],
        "iliac crest back": h["iliac crest"],
        "sacrum": 0.5 * (h["navel"] + h["buttock"]), "crown": h["vertex"] - 0.25 * (h["vertex"] - h["tragion"]),
    }  # fmt: skip
    trunk = person.shape.trunk
    heights = np.array([*front.values(), *back.values(), h["vertex"], h["crotch"], h["crotch"]])
    angles = np.array([0.0] * len(front) + [np.pi] * len(back) + [0.0, 0.0, np.pi])
    *named, vertex, crotch, behind = trunk.at(heights, angles)
    points = dict(zip((*front, *back), named, strict=True))
    points["vertex"] = np.array([h["vertex"], 0.0, vertex[2]])
    points["crotch"] = 0.5 * (crotch + behind)
    return points


@lru_cache(maxsize=4)
def _side_points(person: Person) -> dict[str, tuple[str, Floats]]:
    """Segment and standing place of the left side's points; kept likewise."""
    h, j = person.skeleton.heights, person.skeleton.joints
    foot = person.meshes["left foot"].vertices
    side, floor = float(j["ankle"][1]), h["floor"]
    heel, toe = float(foot[:, 2].max()), float(foot[:, 2].min())
    half = 0.5 * person.measures["biacromialbreadth"]
    crest, hips = person.shape.trunk.at(np.array([h["iliac crest"], h["buttock"]]), np.full(2, 0.5 * np.pi))
    return {
        "acromion": ("upper trunk", np.array([h["acromion"], half, float(j["shoulder"][2])])),
        "iliac crest": ("lower trunk", crest),
        "hip side": ("lower trunk", hips),
        "fingertip": ("hand", j["fingertip"]),
        "heel": ("foot", np.array([floor + 0.02, side, heel])),
        "toe": ("foot", np.array([floor + 0.01, side, toe])),
        "sole": ("foot", np.array([floor, side, heel + 0.55 * (toe - heel)])),
    }
