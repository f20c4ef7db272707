"""From rendered buffers to a clean drawing: outlines of even width, gas laid over, smooth edges."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import reduce
from typing import Final

import numpy as np
from numpy.typing import NDArray

Bytes = NDArray[np.uint8]
Mask = NDArray[np.bool_]

LINE: Final = (0x17, 0x23, 0x2E)
GAS_LINE: Final = (0x0C, 0x6F, 0x74)
STEP: Final = 0.012  # a jump in depth [m] that counts as an edge
OVERSAMPLING: Final = 2
BLOCK: Final = 16  # rows of the final picture
REACH: Final = 2  # final pixels beyond a thing to which its lines reach, and from which they are known
OVER_GEAR: Final = 0.4  # of the gas's opacity, so that a fin's pocket shows through the gas about the foot


@dataclass(frozen=True, eq=False)
class Buffers:
    """What was rendered, (h, w) pixels at OVERSAMPLING times the final size, first row on top.

    colour : (h, w, 3) lit solids;  depth : (h, w) 0 near to 1 nothing;  number : (h, w) of the solid, 0 nothing
    gas : (h, w, 3) colour of the gas layer;  veil : (h, w) its opacity 0..255;  gas_depth : (h, w)
    gear : (h, w) True where what is worn over the suit is the nearest solid
    """

    colour: Bytes
    depth: NDArray[np.float32]
    number: NDArray[np.integer]
    gas: Bytes
    veil: Bytes
    gas_depth: NDArray[np.float32]
    gear: Mask


def inked(buffers: Buffers, depth_range: float, line: tuple[int, ...] = LINE) -> Bytes:
    """RGBA (h/2, w/2, 4), not premultiplied; ``depth_range`` [m] is what depth 0 to 1 spans, ``line`` the ink."""
    h, w = (size // OVERSAMPLING for size in buffers.number.shape)
    picture = np.zeros((h, w, 4), dtype=np.uint8)
    for rows, columns in _drawn_in((buffers.number > 0) | (buffers.veil > 0), h, w):
        wide, inside = zip(_about(rows, h), _about(columns, w), strict=True)
        colour, alpha = _laid_over(_cut(buffers, wide), depth_range, line)
        picture[rows, columns] = _reduced(colour[inside], alpha[inside])
    return picture


def _drawn_in(there: Mask, h: int, w: int) -> Iterator[tuple[slice, slice]]:
    """Rows and columns, of ``h`` and ``w`` final pixels, that hold all that is drawn, in blocks for the cache."""
    k = OVERSAMPLING
    for top in range(0, h, BLOCK):
        rows = slice(top, min(top + BLOCK, h))
        across = np.flatnonzero(there[_about(rows, h)[0]].any(axis=0))
        if len(across):
            yield rows, slice(max(int(across[0]) // k - 1, 0), min(int(across[-1]) // k + 2, w))


def _about(part: slice, size: int) -> tuple[slice, slice]:
    """Fine pixels of a part of ``size`` final ones with REACH more to either side, and which of those the part is."""
    low, high = max(part.start - REACH, 0), min(part.stop + REACH, size)
    inside = slice(OVERSAMPLING * (part.start - low), OVERSAMPLING * (part.stop - low))
    return slice(OVERSAMPLING * low, OVERSAMPLING * high), inside


def _cut(b: Buffers, part: tuple[slice, ...]) -> Buffers:
    return Buffers(
        b.colour[part], b.depth[part], b.number[part], b.gas[part], b.veil[part], b.gas_depth[part], b.gear[part]
    )


def _laid_over(
    buffers: Buffers, depth_range: float, line: tuple[int, ...]
) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Colour (m, n, 3) and opacity (m, n) 0..255: lines on the solids, gas over both, its rim on top."""
    veil, gas, solid = buffers.veil, buffers.gas, buffers.number > 0
    edge = _thickened(edges(buffers.number, buffers.depth * depth_range), 1)
    over = (buffers.gas_depth < buffers.depth) & (veil > 0)
    halo = over & ~solid
    rim = _outline((solid | halo).astype(np.int8)) & (halo | ~solid) & ~edge
    colour = np.where(solid[..., None], buffers.colour, gas).astype(np.float32)
    alpha = solid * np.float32(255.0)
    alpha[halo] = np.maximum(veil[halo], 150)
    colour[edge] = colour[edge] * 0.15 + 0.85 * np.asarray(line, dtype=np.float32)
    alpha[edge] = 255.0
    share = veil[over].astype(np.float32) / 255.0
    share[buffers.gear[over]] *= OVER_GEAR
    under = colour[over]
    colour[over] = under + share[:, None] * (gas[over] - under)
    colour[rim] = GAS_LINE
    alpha[rim] = 255.0
    return colour, alpha


def edges(number: NDArray[np.integer], depth: NDArray[np.floating] | None) -> Mask:
    """Pixels where another thing begins or, given its ``depth`` (h, w) [m], where one thing passes behind itself."""
    edge = _outline(number)
    return edge if depth is None else edge | (_jumps(depth, STEP) & (number > 0))


def _outline(number: NDArray[np.integer]) -> Mask:
    """Pixels beside which another thing begins."""
    edge = np.zeros(number.shape, dtype=bool)
    across = number[:, 1:] != number[:, :-1]
    down = number[1:] != number[:-1]
    edge[:, 1:] |= across
    edge[:, :-1] |= across
    edge[1:] |= down
    edge[:-1] |= down
    return edge


def _jumps(depth: NDArray[np.floating], step: float) -> Mask:
    """Pixels where depth breaks off rather than slopes: a large second difference."""
    edge = np.zeros(depth.shape, dtype=bool)
    across, down = depth[:, 1:] - depth[:, :-1], depth[1:] - depth[:-1]
    edge[:, 1:-1] |= np.abs(across[:, 1:] - across[:, :-1]) > step
    edge[1:-1] |= np.abs(down[1:] - down[:-1]) > step
    return edge


def _thickened(mask: Mask, by: int) -> Mask:
    """The mask grown by some pixels to all four sides."""
    grown = mask.copy()
    for _ in range(by):
        before = grown.copy()
        grown[1:] |= before[:-1]
        grown[:-1] |= before[1:]
        grown[:, 1:] |= before[:, :-1]
        grown[:, :-1] |= before[:, 1:]
    return grown


def _reduced(colour: NDArray[np.float32], alpha: NDArray[np.float32]) -> Bytes:
    """Mean of each block of pixels, colours weighed by opacity."""
    weight = _summed(alpha)
    rgb = _summed(colour * alpha[..., None]) / np.maximum(weight, 1.0)[..., None]
    mean = np.concatenate([rgb, weight[..., None] / OVERSAMPLING**2], axis=2)
    return np.asarray(np.rint(mean, out=mean).astype(np.uint8))


def _summed(fine: NDArray[np.float32]) -> NDArray[np.float32]:
    """Sum of each block of pixels of (h, w, ...)."""
    rows = reduce(np.add, [fine[k::OVERSAMPLING] for k in range(OVERSAMPLING)])
    return np.asarray(reduce(np.add, [rows[:, k::OVERSAMPLING] for k in range(OVERSAMPLING)]))
