"""Buoyancy bag between plate and cylinders: a flat ring or horseshoe of fabric that gas rounds into a tube.

Cross-section of fabric width w (flat) and fill f: an ellipse of perimeter 2w and area f w^2/pi, so that drawn and
stated volume agree. A full section is the circle of that perimeter, w^2/pi.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import ellipe

from meshes.gear.weighed import evened, weighed
from meshes.loft import circle, loft
from meshes.memoized import memoized
from meshes.mesh import Floats, Mesh
from meshes.primitives import closed_loft
from meshes.solid import Solid

FABRIC: Final = 1150.0  # [kg/m^3] coated nylon, near neutral: common practice; nylon and TPU 1130-1220, from memory
FOLDED: Final = 0.04  # fill at which an empty bag is drawn: about 4 mm of folded fabric
NODES_A_CELL: Final = 4
FRONT_GAP: Final = 0.002  # [m] from the plate to the bag's front
CURL: Final = 0.08  # [m] the outermost line rises beside the cylinders when gas floats it up, face down (assumed)


@dataclass(frozen=True, eq=False)
class WingBag:
    """Empty bag and the places where it can hold gas.

    Frame: x up the back, y left, z away from the back; origin midway between the plate's two bolt holes. The bag
    lies on the plate's back (z > 0), in front of the cylinders.
    solid : fabric and fittings;  cells : (n, 3) centres [m], the left half from top to bottom, then its mirror image
    capacity : (n,) gas each cell can hold [m^3]
    line, outward, width : the left half's centre line (k, 3), its outward direction (k, 3) and flat fabric width (k,)
    ring : whether left and right also meet at the bottom;  sides : points round a section
    """

    solid: Solid
    cells: Floats
    capacity: Floats
    line: Floats
    outward: Floats
    width: Floats
    ring: bool
    sides: int

    def bag_mesh(self, fill: ArrayLike) -> Mesh:
        """Closed, smooth outside for the fill of each cell (n,), 0 empty to 1 taut.

        Encloses the gas plus the folded fabric: FOLDED + (1 - FOLDED) fill of the capacity.
        """
        shares = np.asarray(fill, dtype=float)
        if shares.shape != self.capacity.shape or not ((shares >= 0.0) & (shares <= 1.0)).all():
            raise ValueError(f"fill must be {len(self.capacity)} fractions between 0 and 1")
        half = len(shares) // 2
        nodes = len(self.width)
        left = self._rings(_between(shares[:half], shares[half:], self.ring, nodes))
        # the mirror turns the rings' sense, walking them bottom to top turns it back
        right = self._rings(_between(shares[half:], shares[:half], self.ring, nodes))[::-1] * [1.0, -1.0, 1.0]
        stack = np.concatenate([right, left])
        return closed_loft(stack) if self.ring else loft(_with_tips(stack))

    def _rings(self, fill: Floats) -> Floats:
        """Sections (k, sides, 3) of the left half, running right-handed from top to bottom."""
        flat, thick = _section(FOLDED + (1.0 - FOLDED) * fill, self.width)
        around = circle(self.sides)
        up = np.array([0.0, 0.0, 1.0])
        centre = self.line + (FRONT_GAP + thick)[:, None] * up
        # outward x up is the way from top to bottom along the left side
        spokes = (
            -(flat[:, None] * around[:, 0])[:, :, None] * self.outward[:, None, :]
            + (thick[:, None] * around[:, 1])[:, :, None] * up
        )
        return np.asarray(centre[:, None, :] + spokes)


@memoized
def wing_bag(
    cylinders: Literal["twin", "single"],
    *,
    lift_volume: float | None = None,
    outline: Literal["ring", "horseshoe"] = "ring",
    height: float | None = None,
    width: float | None = None,
    mass: float | None = None,
    curl: float = CURL,
    cells_a_side: int = 16,
    nodes_a_cell: int = NODES_A_CELL,
    sides: int = 32,
) -> WingBag:
    """Bag for twin cylinders or a single one.

    lift_volume : gas it holds when taut [m^3]; default 20 l twin, 14 l single (18-27 and 13-18 kg, common practice)
    height, width : flat outer size [m]; default 0.68 x 0.56 twin, 0.64 x 0.48 single (from memory)
    mass : fabric, inflator seat and dump valve [kg]; default 1.8 and 1.4 (1.2-2.2, common practice)
    curl : how far the bag's outermost line rises off the plate, up beside the cylinders [m]
    The fabric's width around the ring follows from lift volume and outer size. Raises ValueError when the volume
    does not fit into the outline.
    """
    defaults = {"twin": (0.020, 0.68, 0.56, 1.8), "single": (0.014, 0.64, 0.48, 1.4)}
    if cylinders not in defaults:
        raise ValueError(f'cylinders must be "twin" or "single", got {cylinders!r}')
    given = (lift_volume, height, width, mass)
    lift, tall, wide, weight = (d if g is None else float(g) for g, d in zip(given, defaults[cylinders], strict=True))
    if not (lift > 0.0 and tall > 0.2 and wide > 0.2 and weight > 0.0 and cells_a_side >= 4):
        raise ValueError("a bag needs lift volume and mass > 0, a size over 0.2 m and at least 4 cells a side")
    ring = outline == "ring"
    nodes = cells_a_side * nodes_a_cell
    fabric = _fabric_width(lift, tall, wide, ring, nodes)
    line, outward, widths, spacing = _half(fabric, tall, wide, ring, nodes)
    # lying flat under the cylinders, curling up outside them; a shear along z, which keeps every volume
    line[:, 2] = curl * (line[:, 1] / line[:, 1].max()) ** 3
    volumes = widths**2 / np.pi * spacing
    # the last digits of the root search are made good here, so that the shares add up to the lift volume
    volumes *= 0.5 * lift / volumes.sum()
    share = volumes.reshape(cells_a_side, nodes_a_cell)
    capacity = share.sum(axis=1)
    _, thick = _section(np.full(nodes, 0.5), widths)
    middle = line + np.outer(FRONT_GAP + thick, [0.0, 0.0, 1.0])
    left = np.einsum("ij,ijk->ik", share, middle.reshape(cells_a_side, nodes_a_cell, 3)) / capacity[:, None]
    cells = np.concatenate([left, left * [1.0, -1.0, 1.0]])
    bag = WingBag(_nothing(), cells, np.concatenate([capacity, capacity]), line, outward, widths, ring, sides)
    empty = evened(weighed(bag.bag_mesh(np.zeros(2 * cells_a_side)), weight, FABRIC))
    return WingBag(empty, bag.cells, bag.capacity, line, outward, widths, ring, sides)


def _nothing() -> Solid:
    return Solid(0.0, np.zeros(3), np.zeros((3, 3)), 0.0, np.zeros(3))


def _fabric_width(lift: float, tall: float, wide: float, ring: bool, nodes: int) -> float:
    """Flat width of the tube at the sides [m] for which the whole bag holds ``lift`` [m^3]."""
    from scipy.optimize import brentq

    def excess(fabric: float) -> float:
        _, _, widths, spacing = _half(fabric, tall, wide, ring, nodes)
        return 2.0 * float((widths**2).sum()) / np.pi * spacing - lift

    least, most = 0.02, 0.48 * min(wide, tall)
    if not excess(least) < 0.0 < excess(most):
        raise ValueError(
            f"a bag of {tall:.2f} x {wide:.2f} m holds up to {(excess(most) + lift) * 1e3:.0f} l, "
            f"not {lift * 1e3:.1f} l; make it larger or its lift less"
        )
    return float(brentq(excess, least, most, xtol=1e-12))


def _half(fabric: float, tall: float, wide: float, ring: bool, nodes: int) -> tuple[Floats, Floats, Floats, float]:
    """Left half: centre line (k, 3), outward (k, 3), flat width (k,) at the middles of equal steps; the step [m].

    The centre line is a superellipse, or its upper half with two legs that end in rounded tips; the tube is narrower
    at the top, under the cylinders' valves.
    """
    narrow_top, narrow_bottom = 0.80, 0.9
    half_height, half_width = 0.5 * (tall - 0.82 * fabric), 0.5 * (wide - fabric)
    t = np.linspace(0.0, np.pi, 2001)
    exponent = 2.0 / 2.6
    x = half_height * np.sign(np.cos(t)) * np.abs(np.cos(t)) ** exponent
    y = half_width * np.abs(np.sin(t)) ** exponent
    y[[0, -1]] = 0.0
    if not ring:
        # legs run nearly straight down from half height
        legs = t > 0.5 * np.pi
        down = (t[legs] - 0.5 * np.pi) / (0.5 * np.pi)
        x[legs], y[legs] = -0.5 * tall * down, half_width * (1.0 - 0.12 * down**2)
    along = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(x), np.diff(y)))])
    spacing = along[-1] / nodes
    at = (np.arange(nodes) + 0.5) * spacing
    line = np.column_stack([np.interp(at, along, x), np.interp(at, along, y), np.zeros(nodes)])
    ends = np.stack([at + 0.4 * spacing, at - 0.4 * spacing])
    way_x, way_y = (-np.diff(np.interp(ends, along, c), axis=0)[0] for c in (x, y))
    outward = np.column_stack([way_y, -way_x, np.zeros(nodes)]) / np.hypot(way_x, way_y)[:, None]
    share = at / along[-1]
    bottom = narrow_bottom if ring else 1.0
    ease = np.where(share < 0.5, narrow_top, bottom)
    widths = fabric * (ease + (1.0 - ease) * np.sin(np.pi * share) ** 2)
    if not ring:
        tip = np.clip((at - (along[-1] - 0.5 * fabric)) / (0.5 * fabric), 0.0, 1.0)
        widths = widths * np.sqrt(1.0 - tip**3)
    return line, outward, widths, spacing


def _section(fill: Floats, width: Floats) -> tuple[Floats, Floats]:
    """Semi-axes (k,) [m] in the bag's plane and across it: perimeter 2 width, area fill width^2/pi.

    With k the ratio of the axes, fill = pi^2 k / (4 E(1 - k^2)^2), E the complete elliptic integral.
    """
    ratio = np.linspace(0.0, 1.0, 801) ** 1.5
    share = np.pi**2 * ratio / (4.0 * ellipe(1.0 - ratio**2) ** 2)
    k = np.interp(fill, share, ratio)
    flat = 0.5 * width / ellipe(1.0 - k**2)
    return np.asarray(flat), np.asarray(k * flat)


def _between(own: Floats, other: Floats, ring: bool, nodes: int) -> Floats:
    """Fill of one half at its nodes from that of its cells, running on into the other half where the two meet."""
    cells = len(own)
    bottom = other[-1] if ring else own[-1]
    known = np.concatenate([[other[0]], own, [bottom]])
    at = (np.arange(nodes) + 0.5) * cells / nodes
    return np.asarray(np.interp(at, np.arange(-0.5, cells + 1.0), known))


def _with_tips(stack: Floats) -> Floats:
    """Rings with a point added at each end, where a horseshoe's legs close."""
    tips = [np.repeat(stack[end].mean(axis=0)[None], stack.shape[1], 0)[None] for end in (0, -1)]
    return np.concatenate([tips[0], stack, tips[1]])
