"""A back plate described by its dimensions, and its flat pattern.

Dimensions are those of the finished plate lying on its flats, seen from behind: x to the head and y to the left
from midway between the bolt holes. What has y > 0 is made on both sides. ``flat_pattern`` unfolds it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats
from meshes.outline import Outline
from meshes.plate.sheet import Bend, both_sides, polygon_of

BOLT_SPACING: Final = 0.279  # m, 11 in between the bolts of twin bands (common practice)

Corner = tuple[float, float, float]  # x, y, radius of rounding [m]


@dataclass(frozen=True)
class Channel:
    """The ridge along the middle, away from the back: a level floor and two slanted walls between the flats.

    floor : level width between the floor's two bends [m];  depth : from flats to floor [m]
    slope : angle each bend turns [rad], up to 90 degrees;  radius : of the bends' mid-surface [m]
    """

    floor: float
    depth: float
    slope: float
    radius: float

    @property
    def wall(self) -> float:
        """Flat width of one wall between its two bends [m]; below 0 when the depth is too small for the bends."""
        return float((self.depth - 2.0 * self.radius * (1.0 - np.cos(self.slope))) / np.sin(self.slope))

    @property
    def mouth(self) -> float:
        """Where the flats begin, from the centre line [m], as seen."""
        return float(self.floor / 2 + self.wall * np.cos(self.slope) + 2.0 * self.radius * np.sin(self.slope))

    @property
    def flat_mouth(self) -> float:
        """The same in the flat pattern [m]."""
        return self.floor / 2 + self.wall + 2.0 * self.radius * self.slope


@dataclass(frozen=True)
class Hole:
    """Round hole at (x, y) [m], ``diameter`` [m]."""

    x: float
    y: float
    diameter: float


@dataclass(frozen=True)
class Slot:
    """Round-ended slot for webbing: middle (x, y), overall ``length`` and ``width`` [m].

    angle : of its long axis [rad], from straight across the plate (0) to its outer end nearer the head (plus)
    """

    x: float
    y: float
    length: float
    width: float
    angle: float = 0.0


@dataclass(frozen=True)
class PlateShape:
    """A plate by its dimensions.

    profile : corners of the left half's edge from the top to the bottom, each (x, half width, rounding) [m]
    thickness : [m];  channel : None for a flat plate
    shoulder, waist : the left slots;  crotch : on the centre line
    holes : further round holes;  cutouts : openings, each a list of corners (x, y, rounding) [m]
    """

    profile: tuple[Corner, ...]
    thickness: float
    channel: Channel | None
    shoulder: Slot
    waist: Slot
    crotch: Slot
    bolt_spacing: float = BOLT_SPACING
    bolt_diameter: float = 0.0095
    holes: tuple[Hole, ...] = ()
    cutouts: tuple[tuple[Corner, ...], ...] = ()


def bends_of(shape: PlateShape) -> tuple[Bend, ...]:
    """The four bends of the channel, none for a flat plate; raises ValueError for a channel that cannot be."""
    channel = shape.channel
    if channel is None:
        return ()
    if not (0.0 < channel.slope <= np.pi / 2 and min(channel.floor, channel.radius) > 0.0 and channel.wall >= 0.0):
        raise ValueError(
            f"no channel has a floor of {1e3 * channel.floor:.1f} mm, a depth of {1e3 * channel.depth:.1f} mm, walls "
            f"at {np.degrees(channel.slope):.1f} degrees and bends of {1e3 * channel.radius:.1f} mm radius: the "
            "floor must be > 0, the walls at most upright, and the depth must leave room for both bends"
        )
    half = channel.radius * channel.slope / 2
    inner, outer = channel.floor / 2 + half, channel.flat_mouth - half
    return both_sides([Bend(inner, -channel.slope, channel.radius), Bend(outer, channel.slope, channel.radius)])


def flat_pattern(shape: PlateShape, corner_steps: int = 8) -> Outline:
    """The plate unfolded, in metres; ``corner_steps`` chords stand for every quarter turn begun of a corner.

    Raises ValueError naming the hole, slot or opening that reaches over the plate's edge or into another.
    """
    left = [(x, half, r) for x, half, r in shape.profile]
    ring = [*left, *((x, -half, r) for x, half, r in reversed(left))]
    outer = rounded(_unfolded(ring, shape.channel), corner_steps)
    named = list(_openings(shape, corner_steps))
    _check_inside(outer, named)
    return Outline(outer, tuple(hole for _, hole in named))


def unfold(y: ArrayLike, channel: Channel | None) -> Floats:
    """Place across the flat pattern of a place ``y`` [m] across the finished plate (walls: in proportion)."""
    across = np.asarray(y, dtype=float)
    if channel is None:
        return across
    seen, flat = (0.0, channel.floor / 2, channel.mouth), (0.0, channel.floor / 2, channel.flat_mouth)
    beyond = np.maximum(np.abs(across) - channel.mouth, 0.0)
    return np.asarray(np.sign(across) * (np.interp(np.abs(across), seen, flat) + beyond))


def rounded(corners: ArrayLike, steps: int = 8) -> Floats:
    """Polygon (n, 2) with its corners (k, 3) of (x, y, radius) [m] rounded by arcs.

    Every arc has ``steps`` chords for each quarter turn begun, so that twice the steps halve all chords alike. A
    radius too large for its edges is made as large as half of the shorter edge allows. Raises ValueError for corners
    that coincide.
    """
    place = np.asarray(corners, dtype=float)
    points: list[Floats] = []
    for before, here, after in zip(np.roll(place, 1, axis=0), place, np.roll(place, -1, axis=0), strict=True):
        back, on = before[:2] - here[:2], after[:2] - here[:2]
        room = min(np.hypot(*back), np.hypot(*on)) / 2
        if not room > 0.0:
            raise ValueError(f"two corners of an outline coincide at ({1e3 * here[0]:.1f}, {1e3 * here[1]:.1f}) mm")
        back, on = back / np.hypot(*back), on / np.hypot(*on)
        turn = np.pi - np.arccos(np.clip(back @ on, -1.0, 1.0))
        reach = min(here[2] * np.tan(turn / 2), room)
        if not (reach > 1e-9 and turn > 1e-6):
            points.append(here[None, :2])
            continue
        radius = reach / np.tan(turn / 2)
        middle = (back + on) / np.linalg.norm(back + on)
        hub = here[:2] + middle * np.hypot(radius, reach)
        count = steps * int(np.ceil(turn / (np.pi / 2) - 1e-9))
        angle = turn * (np.arange(count + 1) / count - 0.5)
        side = np.array([-middle[1], middle[0]]) * np.sign(middle[0] * on[1] - middle[1] * on[0])
        points.append(hub + radius * (-np.cos(angle)[:, None] * middle + np.sin(angle)[:, None] * side))
    ring = np.concatenate(points)
    # where two arcs use up an edge between them, the end of one is the start of the other
    return np.asarray(ring[np.linalg.norm(ring - np.roll(ring, 1, axis=0), axis=1) > 1e-9])


def _openings(shape: PlateShape, steps: int) -> Iterator[tuple[str, Floats]]:
    """Every opening in the flat pattern, with its name; what has y > 0 comes twice."""
    bolt = shape.bolt_spacing / 2
    for x, name in ((bolt, "upper bolt hole"), (-bolt, "lower bolt hole")):
        yield name, _slot_ring(Slot(x, 0.0, shape.bolt_diameter, shape.bolt_diameter), steps, shape.channel)
    for name, slot in (("shoulder slot", shape.shoulder), ("waist slot", shape.waist), ("crotch slot", shape.crotch)):
        yield from _both_sides(name, _slot_ring(slot, steps, shape.channel))
    for hole in shape.holes:
        ring = _slot_ring(Slot(hole.x, hole.y, hole.diameter, hole.diameter), steps, shape.channel)
        yield from _both_sides(f"hole at ({1e3 * hole.x:.0f}, {1e3 * hole.y:.0f}) mm", ring)
    for cutout in shape.cutouts:
        name = f"opening at ({1e3 * cutout[0][0]:.0f}, {1e3 * cutout[0][1]:.0f}) mm"
        yield from _both_sides(name, rounded(_unfolded(cutout, shape.channel), steps))


def _both_sides(name: str, ring: Floats) -> Iterator[tuple[str, Floats]]:
    """A ring on the centre line once, any other with its mirror image."""
    yield name, ring
    if ring[:, 1].min() > 0.0:
        yield f"right {name}", ring[::-1] * [1.0, -1.0]


def _slot_ring(slot: Slot, steps: int, channel: Channel | None) -> Floats:
    """A slot's edge in the flat pattern; its middle is unfolded and its shape kept."""
    if not (slot.length >= slot.width > 0.0):
        raise ValueError(f"a slot must be at least as long as wide, got {1e3 * slot.length} by {1e3 * slot.width} mm")
    long = np.array([np.sin(slot.angle), np.cos(slot.angle)])
    wide = np.array([long[1], -long[0]])
    middle = np.array([slot.x, float(unfold(slot.y, channel))])
    a, b = slot.length / 2, slot.width / 2
    box = [middle + i * a * long + j * b * wide for i, j in ((1, 1), (-1, 1), (-1, -1), (1, -1))]
    return rounded([(*p, b) for p in box], steps)


def _unfolded(corners: ArrayLike, channel: Channel | None) -> Floats:
    place = np.array(corners, dtype=float)
    place[:, 1] = unfold(place[:, 1], channel)
    return place


def _check_inside(outer: Floats, named: list[tuple[str, Floats]]) -> None:
    """Raise ValueError for the first opening over the edge or into another one."""
    import shapely

    plate = polygon_of(Outline(outer))
    shapes = [(name, polygon_of(Outline(ring))) for name, ring in named]
    for k, (name, shape) in enumerate(shapes):
        if not plate.contains_properly(shape):
            raise ValueError(f"the {name} reaches over the plate's edge; move it inwards or make it smaller")
        for other_name, other in shapes[:k]:
            if shapely.intersects(shape, other):
                raise ValueError(f"the {name} and the {other_name} touch; move them apart or make one smaller")
