"""A drawn outline set straight by its bolts, and which of its holes those are."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.drawings.outline_lines import check_holes
from meshes.drawings.shape_file import UNITS, ShapeFileError
from meshes.mesh import Floats
from meshes.outline import Outline
from meshes.plate.back_plate import FlatPoints
from meshes.plate.edges import Edges, Told, edges_of
from meshes.plate.openings import BOLT_DIAMETERS, Opening, StatedPlaces, opening_of
from meshes.plate.shape import BOLT_SPACING
from meshes.plate.slots import MIRROR_TOLERANCE, slots_of

ASIDE: Final = 1e-3  # m, between the bolts and the middle line, beyond which it is told
SPACING_TOLERANCE: Final = 1.5e-3  # m, drilling and drawing


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


def located(outline: Outline, up: ArrayLike, left: ArrayLike, stated: StatedPlaces, file: str) -> Located:
    """The outline in a plate's flat frame, with its bolts and slots.

    up, left : (2,) unit vectors of the drawing that point to the head and to the diver's left
    Slots that are neither stated nor found are assumed near the usual places. Raises ShapeFileError when the bolts
    are neither stated nor found, or do not lie along ``up``, and for places stated that lie off the plate.
    """
    check_holes(len(outline.holes), file)
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
    slots, slot_doubts = slots_of(placed, edges, stated, file)
    bolts = np.array([[half, 0.0], [-half, 0.0]])
    points = FlatPoints(*bolts, *(place for place, _ in slots.values()))
    told = {"bolts": edges.told(bolts, "found" if stated.bolts is None else "stated")}
    told |= {name: edges.told(place, source) for name, (place, source) in slots.items()}
    aside = f"the bolts, on which the cylinders hang, are {told['bolts'].words}: is that right?"
    off_middle = (aside,) if abs(edges.middle) > ASIDE else ()
    return Located(placed, points, turn, origin, edges, told, (*off_middle, *doubts, *slot_doubts))


def _bolts(
    outline: Outline, up: Floats, left: Floats, stated: tuple[float, ...] | None, file: str
) -> tuple[Floats, Floats, tuple[str, ...]]:
    """Upper and lower bolt in drawing axes, and doubts."""
    edges = edges_of(outline.outer @ np.stack([up, left], axis=1))
    rounds = [o for o in map(opening_of, outline.holes) if o.is_bolt_hole]
    pairs = _pairs_apart(rounds, BOLT_SPACING)
    ordered = [np.array(sorted(pair, key=lambda p: -float(p @ up))) for pair in pairs]
    if stated is not None:
        downs = sorted(stated)
        if len(downs) != 2 or not downs[1] - downs[0] > 0.05:
            got = ", ".join(f"{1e3 * d:g} mm" for d in stated)
            raise ShapeFileError(f"{file}: the bolts must be two places at least 50 mm apart, got {got}")
        _check_on_plate(edges, downs, file)
        told = np.array([edges.at(d) @ np.stack([up, left]) for d in downs])
        return told[0], told[1], tuple(_about_stated(told, ordered, edges, np.stack([up, left], axis=1)))
    if not pairs:
        raise ShapeFileError(
            f"{file}: no two round holes {1e3 * BOLT_SPACING:.0f} mm apart; {_hint(outline, rounds, up, left)}"
        )
    off = np.array([np.abs(pair @ left - edges.middle).max() for pair in ordered])
    best = [pair for pair, distance in zip(ordered, off, strict=True) if distance <= off.min() + MIRROR_TOLERANCE]
    if len(best) > 1:
        frame = np.stack([up, left], axis=1)
        choices = "; or ".join(edges.told(pair @ frame, "found").words for pair in best[:4])
        raise ShapeFileError(f"{file}: {len(best)} pairs of holes could take the bolts, state which: {choices}")
    upper, lower = best[0]
    return upper, lower, ()


def _about_stated(told: Floats, drawn: Sequence[Floats], edges: Edges, frame: Floats) -> Iterator[str]:
    """What is odd about bolts (2, 2) as stated, beside pairs of holes that are drawn for them."""
    spacing = float(np.linalg.norm(told[0] - told[1]))
    if not abs(spacing - BOLT_SPACING) <= SPACING_TOLERANCE:
        yield f"the bolts, as stated, are {1e3 * spacing:.1f} mm apart; twin bands are usually 279 mm apart"
    if drawn and min(float(np.abs(pair - told).max()) for pair in drawn) > MIRROR_TOLERANCE:
        places = "; or ".join(edges.told(pair @ frame, "found").words for pair in drawn[:2])
        stated = edges.told(told @ frame, "stated").words
        yield f"holes for bolts are drawn {places}, and bolts were stated {stated}: is that right?"


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
