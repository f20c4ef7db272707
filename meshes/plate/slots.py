"""Which of a plate's holes are for the webbing."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.drawings.shape_file import ShapeFileError
from meshes.mesh import Floats
from meshes.outline import Outline
from meshes.plate.edges import Edges, Source
from meshes.plate.openings import Opening, StatedPlaces, opening_of

MIRROR_TOLERANCE: Final = 5e-3  # m, between a slot and its mirror image, and between a place stated and drawn
HEAD_END: Final = 0.1  # m above midway between the bolts


def slots_of(
    placed: Outline, edges: Edges, stated: StatedPlaces, file: str
) -> tuple[dict[str, tuple[Floats, Source]], tuple[str, ...]]:
    """Shoulder slots, waist slots (left one first) and crotch slot in a plate's flat frame, by name, and doubts.

    Slots that are neither stated nor found are assumed near the usual places. Raises ShapeFileError for places stated
    that lie off the plate.
    """
    slots = [o for o in map(opening_of, placed.holes) if o.is_slot]
    pairs = [np.array([a.centre, b.centre]) for a in slots for b in slots if _mirrored(a, b, edges.middle)]
    middles = [o.centre for o in slots if _in_the_middle(o, edges) and o.centre[0] < 0.0]
    long, out = edges.length, 0.5 * edges.width
    found = {
        "shoulder_slots": max((p for p in pairs if p[0, 0] > 0.0), key=lambda p: float(p[0, 0]), default=None),
        "waist_slots": max((p for p in pairs if p[0, 0] < 0.0), key=lambda p: float(p[0, 1]), default=None),
        "crotch_slot": min(middles, key=lambda p: float(p[0]), default=None),
    }
    usual = {
        "shoulder_slots": _pair(edges, 0.05, 0.65 * out),
        "waist_slots": _pair(edges, long - 0.08, 0.85 * out),
        "crotch_slot": edges.at(long - 0.018),
    }
    given = _stated(edges, stated, file)
    chosen = {name: _chosen(given[name], found[name], usual[name]) for name in usual}
    doubts = [
        f"{name.replace('_', ' ')} are drawn {edges.told(there, 'found').words}, and stated "
        f"{edges.told(told, 'stated').words}: is that right?"
        for name, told in given.items()
        if told is not None and (there := found[name]) is not None and np.abs(told - there).max() > MIRROR_TOLERANCE
    ]
    if not middles and any(_in_the_middle(o, edges) and o.centre[0] > HEAD_END for o in slots):
        doubts.append("a slot lies across the head end: see whether the direction to the head is right")
    return chosen, tuple(doubts)


def _in_the_middle(slot: Opening, edges: Edges) -> bool:
    return abs(float(slot.centre[1]) - edges.middle) < MIRROR_TOLERANCE


def _stated(edges: Edges, stated: StatedPlaces, file: str) -> dict[str, Floats | None]:
    """The slots that were stated, in the flat frame. Raises ShapeFileError for one that lies off the plate."""
    size = f"which is {1e3 * edges.length:.0f} mm long and {1e3 * edges.width:.0f} mm wide"
    places: dict[str, Floats | None] = {"shoulder_slots": None, "waist_slots": None, "crotch_slot": None}
    for name, slots in (("shoulder_slots", stated.shoulder_slots), ("waist_slots", stated.waist_slots)):
        if slots is not None:
            down, out = slots
            if not (0.0 <= down <= edges.length and 0.0 <= out <= 0.5 * edges.width):
                raise ShapeFileError(
                    f"{file}: {name} [{1e3 * down:.0f} mm, {1e3 * out:.0f} mm] lie off the plate, {size}: the first "
                    "number counts from its top edge, the second from its middle line"
                )
            places[name] = _pair(edges, down, out)
    crotch = stated.crotch_slot
    if crotch is not None:
        if not 0.0 <= crotch <= edges.length:
            raise ShapeFileError(
                f"{file}: crotch_slot {1e3 * crotch:.0f} mm lies off the plate, {size}: it counts from the top edge"
            )
        places["crotch_slot"] = edges.at(crotch)
    return places


def _pair(edges: Edges, down: float, out: float) -> Floats:
    """Both of a pair (2, 2), the left one first."""
    return np.array([edges.at(down, out), edges.at(down, -out)])


def _mirrored(left: Opening, right: Opening, middle: float) -> bool:
    """Whether two slots are each other's mirror image about y = ``middle``, the left one first."""
    image = right.centre * [1.0, -1.0] + [0.0, 2.0 * middle]
    return left.centre[1] > middle and float(np.linalg.norm(left.centre - image)) < MIRROR_TOLERANCE


def _chosen(stated: Floats | None, found: Floats | None, usual: Floats) -> tuple[Floats, Source]:
    """Slot points, and where they come from."""
    if stated is not None:
        return stated, "stated"
    return (usual, "assumed") if found is None else (found, "found")
