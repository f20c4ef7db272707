"""Which of a plate's holes are for the bolts and which for the webbing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats
from meshes.plate import FlatPoints
from meshes.plate_edges import Edges, Source, Told, edges_of
from meshes.plate_shape import BOLT_SPACING
from meshes.plate_sheet import Outline
from meshes.shape_file import UNITS, ShapeFileError

SPACING_TOLERANCE: Final = 1.5e-3  # m, drilling and drawing
BOLT_DIAMETERS: Final = (5e-3, 16e-3)  # m, M5 to a generous hole for 5/16 in or M8
SLOT_LENGTHS: Final = (30e-3, 80e-3)  # m, for webbing of 25 to 50 mm
SLOT_WIDTHS: Final = (2e-3, 22e-3)  # m
MOST_HOLES: Final = 2_000
MIRROR_TOLERANCE: Final = 5e-3  # m, between a slot and its mirror image


@dataclass(frozen=True)
class StatedPlaces:
    """What a designer states instead of leaving it to be found, by distances [m]; None for "find it".

    bolts : of both from the top edge, in any order; they lie on the middle line
    shoulder_slots, waist_slots : of a pair from the top edge and from the middle line
    crotch_slot : from the top edge, on the middle line
    """

    bolts: tuple[float, ...] | None = None
    shoulder_slots: tuple[float, float] | None = None
    waist_slots: tuple[float, float] | None = None
    crotch_slot: float | None = None


@dataclass(frozen=True, eq=False)
class Opening:
    """A hole by its measures: centre (2,), the sides of the smallest rectangle around it, and its roundness.

    roundness : area over that of a circle of the same girth; 1 for a circle, 0.97 for a twelve-sided one
    """

    centre: Floats
    length: float
    width: float
    roundness: float

    @property
    def is_bolt_hole(self) -> bool:
        return self.roundness > 0.96 and BOLT_DIAMETERS[0] <= self.length <= BOLT_DIAMETERS[1]

    @property
    def is_slot(self) -> bool:
        fits = SLOT_LENGTHS[0] <= self.length <= SLOT_LENGTHS[1] and SLOT_WIDTHS[0] <= self.width <= SLOT_WIDTHS[1]
        return fits and self.length > 2.0 * self.width


@dataclass(frozen=True, eq=False)
class Located:
    """A drawn outline in a plate's flat frame: x to the head along the bolts, y to the left, origin between them.

    turn (2, 2), origin (2,) : a point p of the drawing is at turn @ (p - origin)
    edges : from which all places are told;  told : bolts and slots by name;  doubts : sentences
    """

    outline: Outline
    points: FlatPoints
    turn: Floats
    origin: Floats
    edges: Edges
    told: Mapping[str, Told]
    doubts: tuple[str, ...]


def opening_of(ring: Floats) -> Opening:
    """Measures of a hole's edge (n, 2) [m]."""
    import shapely

    polygon = shapely.Polygon(ring)
    corners = np.asarray(shapely.minimum_rotated_rectangle(polygon).exterior.coords)
    sides = np.sort(np.linalg.norm(np.diff(corners[:3], axis=0), axis=1))
    centre = np.array([polygon.centroid.x, polygon.centroid.y])
    roundness = 4.0 * np.pi * polygon.area / polygon.length**2
    return Opening(centre, float(sides[1]), float(sides[0]), float(roundness))


def located(outline: Outline, up: ArrayLike, left: ArrayLike, stated: StatedPlaces, file: str) -> Located:
    """The outline in a plate's flat frame, with its bolts and slots.

    up, left : (2,) unit vectors of the drawing that point to the head and to the diver's left
    Slots that are neither stated nor found are assumed near the usual places. Raises ShapeFileError when the bolts
    are neither stated nor found, or do not lie along ``up``, and for places stated that lie off the plate.
    """
    if len(outline.holes) > MOST_HOLES:
        raise ShapeFileError(
            f"{file}: {len(outline.holes)} holes, at most {MOST_HOLES} are looked through; leave out patterns of "
            "small holes"
        )
    head, side = np.asarray(up, dtype=float), np.asarray(left, dtype=float)
    upper, lower, doubts = _bolts(outline, head, side, stated.bolts, file)
    x = (upper - lower) / np.linalg.norm(upper - lower)
    if not x @ head > np.cos(np.radians(5.0)):
        askew = np.degrees(np.arccos(np.clip(x @ head, -1.0, 1.0)))
        raise ShapeFileError(
            f"{file}: the line through the bolts lies {askew:.0f} degrees off, not along the direction said to point "
            "to the head; state the other direction, or turn the drawing"
        )
    y = np.array([-x[1], x[0]])
    turn = np.stack([x, y if y @ side > 0.0 else -y])
    origin, half = (upper + lower) / 2, float(np.linalg.norm(upper - lower)) / 2
    placed = Outline((outline.outer - origin) @ turn.T, tuple((hole - origin) @ turn.T for hole in outline.holes))
    edges = edges_of(placed.outer)
    slots, slot_doubts = _slots(placed, edges, stated, file)
    bolts = np.array([[half, 0.0], [-half, 0.0]])
    points = FlatPoints(*bolts, *(place for place, _ in slots.values()))
    told = {"bolts": edges.told(bolts, "found" if stated.bolts is None else "stated")}
    told |= {name: edges.told(place, source) for name, (place, source) in slots.items()}
    return Located(placed, points, turn, origin, edges, told, (*doubts, *slot_doubts))


def _slots(
    placed: Outline, edges: Edges, stated: StatedPlaces, file: str
) -> tuple[dict[str, tuple[Floats, Source]], tuple[str, ...]]:
    """Shoulder slots, waist slots (left one first) and crotch slot in the flat frame, and doubts."""
    slots = [o for o in map(opening_of, placed.holes) if o.is_slot]
    pairs = [np.array([a.centre, b.centre]) for a in slots for b in slots if a.centre[1] > 0.0 and _mirrored(a, b)]
    middles = [o.centre for o in slots if abs(o.centre[1]) < MIRROR_TOLERANCE and o.centre[0] < 0.0]
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
    heads = any(abs(o.centre[1]) < MIRROR_TOLERANCE and o.centre[0] > 0.1 for o in slots)
    doubt = (
        ("a slot lies across the head end: see whether the direction to the head is right",)
        if heads and not middles
        else ()
    )
    return chosen, doubt


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


def _mirrored(a: Opening, b: Opening) -> bool:
    """Whether two slots are each other's mirror image about y = 0."""
    return float(np.linalg.norm(a.centre - b.centre * [1.0, -1.0])) < MIRROR_TOLERANCE


def _chosen(stated: Floats | None, found: Floats | None, usual: Floats) -> tuple[Floats, Source]:
    """Slot points, and where they come from."""
    if stated is not None:
        return stated, "stated"
    return (usual, "assumed") if found is None else (found, "found")


def _bolts(
    outline: Outline, up: Floats, left: Floats, stated: tuple[float, ...] | None, file: str
) -> tuple[Floats, Floats, tuple[str, ...]]:
    """Upper and lower bolt in drawing axes, and doubts."""
    edges = edges_of(outline.outer @ np.stack([up, left], axis=1))
    if stated is not None:
        downs = sorted(stated)
        if len(downs) != 2 or not downs[1] - downs[0] > 0.05:
            got = ", ".join(f"{1e3 * d:g} mm" for d in stated)
            raise ShapeFileError(f"{file}: the bolts must be two places at least 50 mm apart, got {got}")
        _check_on_plate(edges, downs, file)
        spacing = downs[1] - downs[0]
        odd = f"the bolts, as stated, are {1e3 * spacing:.1f} mm apart; twin bands are usually 279 mm apart"
        upper, lower = (edges.at(d) @ np.stack([up, left]) for d in downs)
        return upper, lower, () if abs(spacing - BOLT_SPACING) <= SPACING_TOLERANCE else (odd,)
    rounds = [o for o in map(opening_of, outline.holes) if o.is_bolt_hole]
    pairs = _pairs_apart(rounds, BOLT_SPACING)
    if not pairs:
        raise ShapeFileError(
            f"{file}: no two round holes {1e3 * BOLT_SPACING:.0f} mm apart; {_hint(outline, rounds, up, left)}"
        )
    ordered = [np.array(sorted(pair, key=lambda p: -float(p @ up))) for pair in pairs]
    off = np.array([np.abs(pair @ left - edges.middle).max() for pair in ordered])
    best = [pair for pair, distance in zip(ordered, off, strict=True) if distance <= off.min() + MIRROR_TOLERANCE]
    if len(best) > 1:
        frame = np.stack([up, left], axis=1)
        choices = "; or ".join(edges.told(pair @ frame, "found").words for pair in best[:4])
        raise ShapeFileError(f"{file}: {len(best)} pairs of holes could take the bolts, state which: {choices}")
    upper, lower = best[0]
    return upper, lower, ()


def _check_on_plate(edges: Edges, downs: Sequence[float], file: str) -> None:
    """Refuse bolts above or below the plate: its head end is probably elsewhere, or its unit another."""
    beyond = max(-min(downs), max(downs) - edges.length)
    if not beyond <= 0.0:
        raise ShapeFileError(
            f"{file}: the plate is {1e3 * edges.length:.1f} mm from top to bottom, and a bolt as stated lies "
            f"{1e3 * beyond:.1f} mm beyond its edge; check the distances, the unit, and which direction of the "
            "drawing points to the head"
        )


def _pairs_apart(rounds: Sequence[Opening], spacing: float) -> list[tuple[Floats, Floats]]:
    if len(rounds) < 2:
        return []
    centres = np.array([o.centre for o in rounds])
    away = np.linalg.norm(centres[:, None] - centres, axis=2)
    return [(centres[i], centres[j]) for i, j in np.argwhere(np.abs(away - spacing) <= SPACING_TOLERANCE) if i < j]


def _hint(outline: Outline, rounds: Sequence[Opening], up: Floats, left: Floats) -> str:
    """What to do about bolt holes that were not found: another unit, or stating them."""
    holes = [opening_of(hole) for hole in outline.holes]
    for name, factor in UNITS.items():
        for other, used in UNITS.items():
            ratio = factor / used
            resized = [replace(o, centre=o.centre * ratio, length=o.length * ratio) for o in holes]
            if ratio != 1.0 and _pairs_apart([o for o in resized if o.is_bolt_hole], BOLT_SPACING):
                return f"two would be, were the unit {name} in place of {other}: state the unit the file was made in"
    frame = np.stack([up, left], axis=1)
    edges = edges_of(outline.outer @ frame)
    holes_told = [f"{1e3 * o.length:.1f} mm wide {edges.told(o.centre @ frame, 'found').words}" for o in rounds[:6]]
    listed = "; ".join(holes_told) or "none"
    return (
        f"the plate is {1e3 * edges.length:.1f} mm long and {1e3 * edges.width:.1f} mm wide, and its round holes of "
        f"{1e3 * BOLT_DIAMETERS[0]:.0f} to {1e3 * BOLT_DIAMETERS[1]:.0f} mm are: {listed}. State both bolts by their "
        'distance from the top edge, like bolts = ["60 mm", "339 mm"], or check the unit'
    )
