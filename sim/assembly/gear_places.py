"""The places at which things are clipped to a diver, on the body in its pose."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from scenarios.loose_gear import GearPlace
from sim.assembly.clothing import Clothing
from sim.assembly.on_segment import on_face, on_segment
from sim.assembly.placement import Placement, placement
from sim.assembly.worn_thing import DiverSoFar
from sim.person.posed_body import PosedBody

Spot = Literal["face", "chest", "back", "crotch strap", "hip", "shoulder", "thigh", "shank", "forearm"]
# What each place is on, and its side: 1 left, -1 right, 0 in the middle
PLACES: Final[Mapping[GearPlace, tuple[Spot, int]]] = {
    "face": ("face", 0), "chest": ("chest", 0), "back": ("back", 0), "crotch strap": ("crotch strap", 0),
    "left hip": ("hip", 1), "right hip": ("hip", -1), "left shoulder": ("shoulder", 1),
    "right shoulder": ("shoulder", -1), "left thigh": ("thigh", 1), "right thigh": ("thigh", -1),
    "left shank": ("shank", 1), "right shank": ("shank", -1), "left forearm": ("forearm", 1),
    "right forearm": ("forearm", -1),
}  # fmt: skip


@dataclass(frozen=True)
class Spots:
    """What places go by: the body, the clothed trunk's half breadth, its front and back [m], and x of the waist.

    pressed : clothing under what is strapped on [m]
    """

    body: PosedBody
    waist: float
    half_breadth: float
    front: float
    back: float
    pressed: float


def spots_of(on: DiverSoFar) -> Spots:
    """Of a diver with the suit on."""
    marks, clothing = on.body.landmarks, on.needed(Clothing).thickness
    return Spots(
        body=on.body,
        waist=float(marks["waist back"][0]),
        half_breadth=0.5 * on.body.person.measures["hipbreadth"] + clothing,
        front=float(marks["sternum"][2]) - clothing,
        back=float(marks["sacrum"][2]) + clothing,
        pressed=on.needed(Clothing).under_straps,
    )


def at_place(place: GearPlace, spots: Spots) -> Placement:
    """Where a place is, carried along by the pose. Offsets are a hand's breadth and the like (assumed)."""
    spot, side = PLACES[place]
    if spot == "face":
        return on_face(spots.body)
    if spot in ("thigh", "shank", "forearm"):
        return _on_limb(spot, side, spots.body)
    joints, heights = spots.body.person.skeleton.joints, spots.body.person.skeleton.heights
    chest, flank = heights["chest"], float(spots.body.landmarks["left hip side"][2])
    trunk: Mapping[Spot, list[float]] = {
        "chest": [chest, 0.0, spots.front],
        "back": [chest, 0.0, spots.back],
        "hip": [spots.waist - 0.06, side * spots.half_breadth, flank],
        "shoulder": [heights["axilla"] + 0.03, side * 0.75 * joints["shoulder"][1], spots.front + 0.03],
        "crotch strap": [heights["crotch"] + 0.04, 0.0, spots.back],
    }
    return placement(trunk[spot])


def _on_limb(spot: Literal["thigh", "shank", "forearm"], side: int, body: PosedBody) -> Placement:
    """On the outside of a limb of the left (1) or right (-1)."""
    joints = body.person.skeleton.joints
    if spot == "thigh":
        along, out = 0.45 * joints["hip"] + 0.55 * joints["knee"], joints["hip"][1] + 0.10
    elif spot == "shank":
        along = 0.6 * joints["knee"] + 0.4 * joints["ankle"]
        out = along[1] + 0.06
    else:
        along = 0.3 * joints["elbow"] + 0.7 * joints["wrist"]
        out = along[1] + 0.05
    return on_segment(body, f"{'left' if side > 0 else 'right'} {spot}", [along[0], side * out, along[2]])
