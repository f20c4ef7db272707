"""A diver whose gas moves: what stays is laid out once, suit gas and wing are shaped anew for each picture."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats, moved, reshaped
from sim.answers.film.footage import Footage, Picture, Pose
from sim.answers.settle.drawn.loose_shapes import ball
from sim.answers.settle.drawn.settled import GasThere, scene_with
from sim.assembly.assembled import Assembled
from sim.drawing.gas_layer import NearCells, SkinLayer, layer_over, suit_shares, wing_shares
from sim.drawing.palette import GAS_THICK, rgb
from sim.drawing.surfaces import Bytes, Surface, dressed, gas_colours, wing_colours

SUIT_GAS: Final = "suit gas"
WING: Final = "wing"
LOOSE_VEIL: Final = 150  # opacity of gas of which no more than place and volume is known, 0..255
STEP: Final = 2e-3  # m, of the thickness at which the scale of the suit's gas ends
KEPT: Final = 3  # divers, and poses of them, kept ready: film goes from one to the next


@dataclass(frozen=True)
class Scales:
    """What colours stand for throughout a film.

    deepest : thickness [m] of suit gas in its deepest colour, 0 without any
    fullest : gas in a wing's cell [m^3] likewise
    """

    deepest: float
    fullest: float


def scales_of(footage: Footage) -> Scales:
    """Of the most that is ever seen."""
    deepest = fullest = 0.0
    for pose in _poses(footage):
        looks = footage.divers[pose.diver].looks
        if pose.suit is not None and looks is not None and looks.suit is not None:
            deepest = max(deepest, float((pose.suit / looks.suit.area).max(initial=0.0)))
        if pose.wing is not None:
            fullest = max(fullest, float(pose.wing.max(initial=0.0)))
    return Scales(STEP * float(np.ceil(deepest / STEP)), fullest)


def _poses(footage: Footage) -> Sequence[Pose]:
    return list({id(p): p for one in footage.pictures for p in (one.pose, one.to) if p is not None}.values())


@dataclass(frozen=True, eq=False)
class FilmedDiver:
    """One diver, ready for any gas.

    surfaces : with the gas of some pose;  layer : over the skin, None where no suit gas is shown
    suit, wing : which cells' gas a vertex shows
    enlarged : times that suit gas is drawn thicker than it is
    """

    assembled: Assembled
    scales: Scales
    surfaces: tuple[Surface, ...]
    layer: SkinLayer | None
    suit: NearCells | None
    wing: NearCells | None
    enlarged: float

    def at(self, pose: Pose) -> tuple[Surface, ...]:
        """All surfaces with the pose's gas; what does not move is the same object."""
        if self.assembled.looks is None:
            bubbles = {s.name: s for s in _bubbles(self.assembled, pose)}
            return tuple(bubbles.get(s.name, s) for s in self.surfaces)
        moving = {SUIT_GAS: self._suit_gas, WING: self._bag}
        return tuple(moving[s.kind](s, pose) if s.kind in moving else s for s in self.surfaces)

    def _suit_gas(self, before: Surface, pose: Pose) -> Surface:
        looks = self.assembled.looks
        if looks is None or looks.suit is None or pose.suit is None or self.suit is None or self.layer is None:
            return before
        thickness = (self.suit.share * (pose.suit / looks.suit.area)[self.suit.near]).sum(axis=1)
        mesh = reshaped(before.mesh.faces, self.layer.pushed(self.enlarged * thickness))
        return replace(before, mesh=mesh, colours=gas_colours(thickness / max(self.scales.deepest, 1e-12)))

    def _bag(self, before: Surface, pose: Pose) -> Surface:
        looks, pocket = self.assembled.looks, self.assembled.rig.wing
        if looks is None or looks.wing is None or pocket is None or pose.wing is None or self.wing is None:
            return before
        fill = np.clip(pose.wing / np.maximum(pocket.law.most, 1e-12), 0.0, 1.0)
        bag = moved(looks.wing.bag.bag_mesh(fill), looks.wing.where.rotation, looks.wing.where.origin)
        share = (self.wing.share * pose.wing[self.wing.near]).sum(axis=1) / max(self.scales.fullest, 1e-12)
        return replace(before, mesh=bag, colours=wing_colours(share))


def filmed_diver(assembled: Assembled, pose: Pose, scales: Scales) -> FilmedDiver:
    """A diver laid out once, with the gas of some pose."""
    scene = scene_with(assembled, pose.up, GasThere(pose.suit, pose.wing, 0.0))
    surfaces = (*dressed(scene).surfaces, *_bubbles(assembled, pose))
    layer = suit = wing = None
    if scene.skin is not None and scene.suit is not None:
        suited = next((there for kind, there in scene.worn if kind == "suit"), None)
        layer, suit = layer_over(scene.skin), suit_shares(scene.skin, scene.suit, suited)
    if scene.wing is not None and len(scene.wing.cells):
        wing = wing_shares(scene.wing)
    return FilmedDiver(assembled, scales, surfaces, layer, suit, wing, scene.gas_scale)


def _bubbles(assembled: Assembled, pose: Pose) -> list[Surface]:
    """Gas told by place and volume only, as a ball about each cell."""
    if assembled.looks is not None:
        return []
    found = []
    for name, pocket, gas in (("suit", assembled.rig.suit, pose.suit), ("wing", assembled.rig.wing, pose.wing)):
        if pocket is None or gas is None:
            continue
        for number, (volume, cell) in enumerate(zip(gas, pocket.cells, strict=True)):
            mesh = ball(float(volume), cell)
            found.append(Surface(f"gas of the {name}, {number}", mesh, _veil(len(mesh.vertices)), 0.2, layer=True))
    return found


def _veil(count: int) -> Bytes:
    colour = [*np.round(255.0 * np.asarray(rgb(GAS_THICK))), LOOSE_VEIL]
    return np.tile(np.array(colour, dtype=np.uint8), (count, 1))


class Cast:
    """The divers of a film, made when they are first seen and let go of when the film has moved on."""

    def __init__(self, footage: Footage) -> None:
        self.scales = scales_of(footage)
        self._footage = footage
        self._last: tuple[Surface, ...] = ()
        self._firsts = {p.diver: p for p in reversed(_poses(footage))}
        self.diver = lru_cache(KEPT)(self._made)
        self._shapes = lru_cache(KEPT)(self._shaped)

    def _made(self, number: int) -> FilmedDiver:
        made = filmed_diver(self._footage.divers[number], self._firsts[number], self.scales)
        if _alike(made.surfaces, self._last):
            shared = tuple(_shared(s, before) for s, before in zip(made.surfaces, self._last, strict=True))
            made = replace(made, surfaces=shared)
        self._last = made.surfaces
        return made

    def _shaped(self, pose: Pose) -> tuple[Surface, ...]:
        return self.diver(pose.diver).at(pose)

    def surfaces(self, picture: Picture) -> tuple[Surface, ...]:
        """Surfaces of a picture; between two divers whose shapes match point by point, straight between."""
        one = self._shapes(picture.pose)
        if picture.to is None:
            return one
        other = self._shapes(picture.to)
        if not _alike(one, other):
            return one if picture.share < 0.5 else other
        return tuple(_between(a, b, picture.share) for a, b in zip(one, other, strict=True))


def _alike(one: Sequence[Surface], other: Sequence[Surface]) -> bool:
    return len(one) == len(other) and all(
        a.name == b.name and _same(a.mesh.faces, b.mesh.faces) for a, b in zip(one, other, strict=True)
    )


def _same(one: Any, other: Any) -> bool:
    return one is other or np.array_equal(one, other)


def _shared(made: Surface, before: Surface) -> Surface:
    """The surface with the very arrays of the one before as far as they say the same, so that these stay rendered."""
    same = made.shine == before.shine and np.array_equal(made.colours, before.colours)
    if same and np.array_equal(made.mesh.vertices, before.mesh.vertices):
        return before
    return replace(made, mesh=reshaped(before.mesh.faces, made.mesh.vertices))


def _between(one: Surface, other: Surface, share: float) -> Surface:
    """Straight between; the first itself where both are the same."""
    start, end = one.mesh.vertices, other.mesh.vertices
    mesh, colours = one.mesh, one.colours
    if not _same(start, end):
        mesh = reshaped(one.mesh.faces, start + share * (end - start))
    if not _same(colours, other.colours):
        colours = np.rint(_mixed(colours, other.colours, share)).astype(np.uint8)
    return one if mesh is one.mesh and colours is one.colours else replace(one, mesh=mesh, colours=colours)


def _mixed(one: Any, other: Any, share: float) -> Floats:
    first = one.astype(float)
    return np.asarray(first + share * (other - first))
