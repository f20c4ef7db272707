"""A plate by its dimensions with bolts and slots put elsewhere."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from meshes.plate.edges import Edges, edges_of
from meshes.plate.openings import StatedPlaces
from meshes.plate.shape import Channel, PlateShape, flat_pattern

APART = 0.05  # m, least distance between the bolts


def rearranged(shape: PlateShape, stated: StatedPlaces) -> PlateShape:
    """The shape with the places stated, which count on the flat sheet from its top edge and its middle line.

    The channel's opening and the further holes go with the bolts, the other openings stay on the outline.
    Raises ValueError for a place off the plate, and for bolts that are not two.
    """
    if stated == StatedPlaces():
        return shape
    edges = edges_of(flat_pattern(replace(shape, cutouts=(), holes=())).outer)
    if stated.bolts is not None:
        shape, edges = _bolted(shape, stated.bolts, edges)
    moved = shape
    for name, place in (("shoulder", stated.shoulder_slots), ("waist", stated.waist_slots)):
        if place is not None:
            _check(f"{name}_slots", place[0], edges)
            slot = replace(getattr(shape, name), x=edges.top - place[0], y=_folded(place[1], shape.channel))
            moved = replace(moved, shoulder=slot) if name == "shoulder" else replace(moved, waist=slot)
    if stated.crotch_slot is not None:
        _check("crotch_slot", stated.crotch_slot, edges)
        moved = replace(moved, crotch=replace(shape.crotch, x=edges.top - stated.crotch_slot))
    return moved


def _bolted(shape: PlateShape, bolts: tuple[float, ...], edges: Edges) -> tuple[PlateShape, Edges]:
    """The shape about another bolt row, whose middle is the origin, and its edges."""
    downs = sorted(bolts)
    if len(downs) != 2 or not downs[1] - downs[0] > APART:
        got = ", ".join(f"{1e3 * d:g} mm" for d in bolts)
        raise ValueError(f"bolts must be two places at least {1e3 * APART:.0f} mm apart, got {got}")
    for down in downs:
        _check("bolts", down, edges)
    up = (downs[0] + downs[1]) / 2 - edges.top  # what lies on the outline comes to lie so much higher
    placed = replace(
        shape,
        profile=tuple((x + up, half, radius) for x, half, radius in shape.profile),
        shoulder=replace(shape.shoulder, x=shape.shoulder.x + up),
        waist=replace(shape.waist, x=shape.waist.x + up),
        crotch=replace(shape.crotch, x=shape.crotch.x + up),
        cutouts=tuple(
            cutout if min(y for _, y, _ in cutout) < 0.0 else tuple((x + up, y, r) for x, y, r in cutout)
            for cutout in shape.cutouts
        ),
        bolt_spacing=downs[1] - downs[0],
    )
    return placed, replace(edges, top=edges.top + up)


def _check(name: str, down: float, edges: Edges) -> None:
    if not 0.0 <= down <= edges.length:
        raise ValueError(
            f"{name} {1e3 * down:.0f} mm from the top edge lie off the plate, which is {1e3 * edges.length:.0f} mm "
            "long"
        )


def _folded(across: float, channel: Channel | None) -> float:
    """Place across the finished plate of a place on its flat sheet [m]; ``unfold`` the other way round."""
    if channel is None:
        return across
    if across > channel.flat_mouth:
        return across - channel.flat_mouth + channel.mouth
    knots = (0.0, channel.floor / 2, channel.flat_mouth), (0.0, channel.floor / 2, channel.mouth)
    return float(np.interp(across, *knots))
