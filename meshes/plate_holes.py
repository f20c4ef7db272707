"""Which of a plate's holes are for the bolts and which for the webbing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats
from meshes.plate import FlatPoints
from meshes.plate_shape import BOLT_SPACING
from meshes.plate_sheet import Outline
from meshes.shape_file import UNITS, ShapeFileError

SPACING_TOLERANCE: Final = 1.5e-3  # m, drilling and drawing
BOLT_DIAMETERS: Final = (5e-3, 16e-3)  # m, M5 to a generous hole for 5/16 in or M8
SLOT_LENGTHS: Final = (30e-3, 80e-3)  # m, for webbing of 25 to 50 mm
SLOT_WIDTHS: Final = (2e-3, 22e-3)  # m
MIRROR_TOLERANCE: Final = 5e-3  # m, between a slot and its mirror image


@dataclass(frozen=True, eq=False)
class StatedPoints:
    """What a designer states instead of leaving it to be found; drawing axes, in metres, None for "find it".

    bolts : (2, 2), in any order;  shoulder_slots, waist_slots : (2, 2), in any order;  crotch_slot : (2,)
    """

    bolts: Floats | None = None
    shoulder_slots: Floats | None = None
    waist_slots: Floats | None = None
    crotch_slot: Floats | None = None


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

    turn (2, 2), origin (2,) : a point p of the drawing is at turn @ (p - origin);  notes : what was found or assumed
    """

    outline: Outline
    points: FlatPoints
    turn: Floats
    origin: Floats
    notes: tuple[str, ...]


def opening_of(ring: Floats) -> Opening:
    """Measures of a hole's edge (n, 2) [m]."""
    import shapely

    polygon = shapely.Polygon(ring)
    corners = np.asarray(shapely.minimum_rotated_rectangle(polygon).exterior.coords)
    sides = np.sort(np.linalg.norm(np.diff(corners[:3], axis=0), axis=1))
    centre = np.array([polygon.centroid.x, polygon.centroid.y])
    roundness = 4.0 * np.pi * polygon.area / polygon.length**2
    return Opening(centre, float(sides[1]), float(sides[0]), float(roundness))


def located(outline: Outline, up: ArrayLike, left: ArrayLike, stated: StatedPoints, file: str) -> Located:
    """The outline in a plate's flat frame, with its bolts and slots.

    up, left : (2,) unit vectors of the drawing that point to the head and to the diver's left
    Slots that are neither stated nor found are assumed near the usual places. Raises ShapeFileError when the bolts
    are neither stated nor found, or do not lie along ``up``.
    """
    head, side = np.asarray(up, dtype=float), np.asarray(left, dtype=float)
    upper, lower, bolt_note = _bolts(outline, head, side, stated.bolts, file)
    x = (upper - lower) / np.linalg.norm(upper - lower)
    if not x @ head > np.cos(np.radians(5.0)):
        raise ShapeFileError(
            f"{file}: the line through the bolts {_mm(lower)} and {_mm(upper)} is not along the direction said to "
            "point to the head; state the other direction, or turn the drawing"
        )
    y = np.array([-x[1], x[0]])
    turn = np.stack([x, y if y @ side > 0.0 else -y])
    origin, half = (upper + lower) / 2, float(np.linalg.norm(upper - lower)) / 2
    placed = Outline((outline.outer - origin) @ turn.T, tuple((hole - origin) @ turn.T for hole in outline.holes))
    slots, slot_notes = _slots(placed, stated, turn, origin)
    points = FlatPoints(np.array([half, 0.0]), np.array([-half, 0.0]), *slots)
    return Located(placed, points, turn, origin, (bolt_note, *slot_notes))


def _slots(
    placed: Outline, stated: StatedPoints, turn: Floats, origin: Floats
) -> tuple[tuple[Floats, Floats, Floats], tuple[str, ...]]:
    """Shoulder slots, waist slots and crotch slot in the flat frame, stated, found or assumed, and notes."""
    slots = [o for o in map(opening_of, placed.holes) if o.is_slot]
    pairs = [np.array([a.centre, b.centre]) for a in slots for b in slots if a.centre[1] > 0.0 and _mirrored(a, b)]
    middles = [o.centre for o in slots if abs(o.centre[1]) < MIRROR_TOLERANCE and o.centre[0] < 0.0]
    high, low = float(placed.outer[:, 0].max()), float(placed.outer[:, 0].min())
    out = float(np.abs(placed.outer[:, 1]).max())
    both = np.array([[1.0, 1.0], [1.0, -1.0]])
    wanted = (
        (
            "shoulder slots",
            stated.shoulder_slots,
            max((p for p in pairs if p[0, 0] > 0.0), key=lambda p: float(p[0, 0]), default=None),
            both * [high - 0.05, 0.65 * out],
        ),
        (
            "waist slots",
            stated.waist_slots,
            max((p for p in pairs if p[0, 0] < 0.0), key=lambda p: float(p[0, 1]), default=None),
            both * [low + 0.08, 0.85 * out],
        ),
        (
            "crotch slot",
            stated.crotch_slot,
            min(middles, key=lambda p: float(p[0]), default=None),
            np.array([low + 0.018, 0.0]),
        ),
    )
    chosen = [_chosen(name, given, found, usual, turn, origin) for name, given, found, usual in wanted]
    (shoulder, note_1), (waist, note_2), (crotch, note_3) = chosen
    heads = any(abs(o.centre[1]) < MIRROR_TOLERANCE and o.centre[0] > 0.1 for o in slots)
    doubt = (
        ("a slot lies across the head end: see whether the direction to the head is right",)
        if heads and not middles
        else ()
    )
    return (shoulder, waist, crotch), (note_1, note_2, note_3, *doubt)


def _mirrored(a: Opening, b: Opening) -> bool:
    """Whether two slots are each other's mirror image about y = 0."""
    return float(np.linalg.norm(a.centre - b.centre * [1.0, -1.0])) < MIRROR_TOLERANCE


def _chosen(
    name: str, stated: Floats | None, found: Floats | None, usual: Floats, turn: Floats, origin: Floats
) -> tuple[Floats, str]:
    """Slot points in the flat frame, left one first, and the sentence that says where they come from."""
    if stated is not None:
        places = np.asarray((np.asarray(stated, dtype=float) - origin) @ turn.T)
        return (places[np.argsort(-places[:, 1])] if places.ndim == 2 else places), f"{name}: as stated"
    if found is not None:
        return found, f"{name}: found at {_many(found)} from midway between the bolts"
    return usual, f"{name}: none found, assumed at {_many(usual)} from midway between the bolts"


def _bolts(
    outline: Outline, up: Floats, left: Floats, stated: Floats | None, file: str
) -> tuple[Floats, Floats, str]:
    """Upper and lower bolt in drawing axes, and how they were found."""
    if stated is not None:
        given = np.asarray(stated, dtype=float)
        if given.shape != (2, 2) or not np.isfinite(given).all() or not np.linalg.norm(given[1] - given[0]) > 0.05:
            raise ShapeFileError(f"{file}: the bolts must be two places at least 50 mm apart, got {given.tolist()}")
        pair = given[np.argsort(-(given @ up))]
        _check_on_plate(outline, pair, up, file)
        spacing = float(np.linalg.norm(pair[0] - pair[1]))
        odd = "" if abs(spacing - BOLT_SPACING) <= SPACING_TOLERANCE else "; twin bands are usually 279 mm apart"
        return pair[0], pair[1], f"bolts: as stated, {1e3 * spacing:.1f} mm apart{odd}"
    rounds = [o for o in map(opening_of, outline.holes) if o.is_bolt_hole]
    pairs = _pairs_apart(rounds, BOLT_SPACING)
    if not pairs:
        raise ShapeFileError(
            f"{file}: no two round holes {1e3 * BOLT_SPACING:.0f} mm apart; {_hint(outline, rounds)}"
        )
    ordered = [np.array(sorted(pair, key=lambda p: -float(p @ up))) for pair in pairs]
    middle = float((outline.outer @ left).max() + (outline.outer @ left).min()) / 2
    off = np.array([np.abs(pair @ left - middle).max() for pair in ordered])
    best = [pair for pair, distance in zip(ordered, off, strict=True) if distance <= off.min() + MIRROR_TOLERANCE]
    if len(best) > 1:
        choices = "; or ".join(f"{_mm(pair[0])} and {_mm(pair[1])}" for pair in best[:4])
        raise ShapeFileError(f"{file}: {len(best)} pairs of holes could take the bolts, state which: {choices}")
    upper, lower = best[0]
    return upper, lower, f"bolts: found at {_mm(upper)} and {_mm(lower)} from the file's origin"


def _check_on_plate(outline: Outline, pair: Floats, up: Floats, file: str) -> None:
    """Refuse bolts (2, 2) above or below the plate: its head end is probably elsewhere, or its unit another."""
    heights, bolts = outline.outer @ up, pair @ up
    beyond = max(float(bolts.max() - heights.max()), float(heights.min() - bolts.min()))
    if beyond > 0.0:
        raise ShapeFileError(
            f"{file}: the plate is {1e3 * np.ptp(heights):.1f} mm from top to bottom, and a bolt as stated lies "
            f"{1e3 * beyond:.1f} mm beyond its edge; check the distances, the unit, and which direction of the "
            "drawing points to the head"
        )


def _pairs_apart(rounds: Sequence[Opening], spacing: float) -> list[tuple[Floats, Floats]]:
    return [
        (a.centre, b.centre)
        for a, b in combinations(rounds, 2)
        if abs(float(np.linalg.norm(a.centre - b.centre)) - spacing) <= SPACING_TOLERANCE
    ]


def _hint(outline: Outline, rounds: Sequence[Opening]) -> str:
    """What to do about bolt holes that were not found: another unit, or stating them."""
    holes = [opening_of(hole) for hole in outline.holes]
    for name, factor in UNITS.items():
        for other, used in UNITS.items():
            ratio = factor / used
            resized = [replace(o, centre=o.centre * ratio, length=o.length * ratio) for o in holes]
            if ratio != 1.0 and _pairs_apart([o for o in resized if o.is_bolt_hole], BOLT_SPACING):
                return f"two would be, were the unit {name} in place of {other}: state the unit the file was made in"
    size = 1e3 * np.ptp(outline.outer, axis=0)
    listed = ", ".join(f"{_mm(o.centre)} of {1e3 * o.length:.1f} mm" for o in rounds[:6]) or "none"
    return (
        f"the plate measures {size[0]:.1f} by {size[1]:.1f} mm and its round holes of {1e3 * BOLT_DIAMETERS[0]:.0f} "
        f"to {1e3 * BOLT_DIAMETERS[1]:.0f} mm are: {listed}. State both bolts by their distance from the top "
        'edge, like bolts = ["60 mm", "339 mm"], or check the unit'
    )


def _mm(point: Floats) -> str:
    x, y = np.round(1e3 * point, 1) + 0.0  # no "-0.0"
    return f"({x:.1f}, {y:.1f}) mm"


def _many(points: Floats) -> str:
    return " and ".join(_mm(p) for p in np.atleast_2d(points))
