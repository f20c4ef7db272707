"""A drawn plate as it was understood, as a small SVG: outline, bolts, slots, and the lines it is bent along."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from meshes.plate.back_plate import Plate
from sim.telling.drawn_plate import DrawnPlate, PlaceOnPlate

MARGIN = 0.012  # m round the plate
MARKS = ("bolts", "shoulder_slots", "waist_slots", "crotch_slot")


def plate_picture(plate: Plate, drawn: DrawnPlate) -> str:
    """The SVG, head up, seen from behind; millimetres. Colours are classes of the page."""
    edge = 1e3 * np.column_stack([-plate.outline[:, 1], -plate.outline[:, 0]])
    low, high = edge.min(axis=0) - 1e3 * MARGIN, edge.max(axis=0) + 1e3 * MARGIN
    wide, tall = high - low
    middle, top = 0.5 * (edge[:, 0].min() + edge[:, 0].max()), edge[:, 1].min()
    points = " ".join(f"{x:.1f},{y:.1f}" for x, y in edge)
    inside = [f'<polygon class="sheet" points="{points}"/>']
    inside += [f'<line class="fold" x1="{x:.1f}" x2="{x:.1f}" y1="{top:.1f}" y2="{edge[:, 1].max():.1f}"/>'
               for x in _folds(drawn, middle)]  # fmt: skip
    for name in MARKS:
        inside += _holes(getattr(drawn, name), middle, top, name)
    return (
        f'<svg viewBox="{low[0]:.1f} {low[1]:.1f} {wide:.1f} {tall:.1f}" role="img" aria-hidden="true">'
        + "".join(inside)
        + "</svg>"
    )


def _folds(drawn: DrawnPlate, middle: float) -> Iterator[float]:
    for bend in drawn.bends:
        yield from (middle - 1e3 * bend.offset, middle + 1e3 * bend.offset)
    if not drawn.bends:
        yield from (middle - 1e3 * at for at in drawn.bend_lines)


def _holes(place: PlaceOnPlate, middle: float, top: float, name: str) -> Iterator[str]:
    """Found or stated ones as full marks, assumed ones as open marks."""
    kind = "hole guessed" if place.source == "assumed" else "hole"
    across = place.across if len(place.across) == len(place.down) else place.across * len(place.down)
    for down, left in zip(place.down, across, strict=False):
        x, y = middle - 1e3 * left, top + 1e3 * down
        size = 4.5 if name == "bolts" else 7.0
        yield f'<circle class="{kind}" cx="{x:.1f}" cy="{y:.1f}" r="{size}"/>'
