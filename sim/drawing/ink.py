"""From rendered buffers to a clean drawing: outlines of even width, gas laid over, smooth edges."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
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
    number: NDArray[np.signedinteger]
    gas: Bytes
    veil: Bytes
    gas_depth: NDArray[np.float32]
    gear: Mask


def inked(buffers: Buffers, depth_range: float, line: tuple[int, ...] = LINE) -> Bytes:
    """RGBA (h/2, w/2, 4), not premultiplied; ``depth_range`` [m] is what depth 0 to 1 spans, ``line`` the ink."""
    solid = buffers.number > 0
    edge = _thickened(edges(buffers.number, buffers.depth * depth_range), 1)
    over = (buffers.gas_depth < buffers.depth) & (buffers.veil > 0)
    halo = over & ~solid
    rim = _outline((solid | halo).astype(np.int8)) & (halo | ~solid) & ~edge
    masks = _Masks(solid, edge, over, rim)
    h, w = solid.shape
    picture = np.zeros((h // OVERSAMPLING, w // OVERSAMPLING, 4), dtype=np.uint8)
    for rows, columns in _drawn_in(solid | halo | edge | rim):
        finer = tuple(slice(OVERSAMPLING * one.start, OVERSAMPLING * one.stop) for one in (rows, columns))
        picture[rows, columns] = _reduced(*_laid_over(buffers, masks, finer, line))
    return picture


@dataclass(frozen=True, eq=False)
class _Masks:
    """(h, w) pixels of solids, of lines, of gas before what is behind it, and of the gas's own rim."""

    solid: Mask
    edge: Mask
    over: Mask
    rim: Mask


def _drawn_in(drawn: Mask) -> Iterator[tuple[slice, slice]]:
    """Rows and columns, in final pixels, that hold all that is drawn, in blocks small enough for the cache."""
    k = OVERSAMPLING
    for top in range(0, len(drawn) // k, BLOCK):
        rows = slice(top, min(top + BLOCK, len(drawn) // k))
        across = np.flatnonzero(drawn[k * rows.start : k * rows.stop].any(axis=0))
        if len(across):
            yield rows, slice(int(across[0]) // k, int(across[-1]) // k + 1)


def _laid_over(
    buffers: Buffers, masks: _Masks, part: tuple[slice, ...], line: tuple[int, ...]
) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Colour (m, n, 3) and opacity (m, n) 0..255 of a part: lines on the solids, gas over both, its rim on top."""
    solid, edge, over, rim = (mask[part] for mask in (masks.solid, masks.edge, masks.over, masks.rim))
    veil, gas = buffers.veil[part], buffers.gas[part]
    share = np.where(over, veil, 0).astype(np.float32)[..., None] / 255.0
    share[buffers.gear[part]] *= OVER_GEAR
    alpha = np.where(solid, 255, np.where(over & ~solid, np.maximum(veil, 150), 0)).astype(np.float32)
    colour = np.where(solid[..., None], buffers.colour[part], gas).astype(np.float32)
    colour[edge] = colour[edge] * 0.15 + 0.85 * np.asarray(line, dtype=np.float32)
    alpha[edge] = 255.0
    colour += share * (gas - colour)
    colour[rim] = GAS_LINE
    alpha[rim] = 255.0
    return colour, alpha


def edges(number: NDArray[np.signedinteger], depth: NDArray[np.floating] | None) -> Mask:
    """Pixels where another thing begins or, given its ``depth`` (h, w) [m], where one thing passes behind itself."""
    edge = _outline(number)
    return edge if depth is None else edge | (_jumps(depth, STEP) & (number > 0))


def _outline(number: NDArray[np.signedinteger]) -> Mask:
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
    edge[:, 1:-1] |= np.abs(depth[:, 2:] - 2.0 * depth[:, 1:-1] + depth[:, :-2]) > step
    edge[1:-1] |= np.abs(depth[2:] - 2.0 * depth[1:-1] + depth[:-2]) > step
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
    h, w = alpha.shape
    k = OVERSAMPLING
    weight = alpha.reshape(h // k, k, w // k, k).sum(axis=(1, 3))
    summed = (colour * alpha[..., None]).reshape(h // k, k, w // k, k, 3).sum(axis=(1, 3))
    rgb = summed / np.maximum(weight, 1.0)[..., None]
    return np.concatenate([rgb, weight[..., None] / k**2], axis=2).round().clip(0, 255).astype(np.uint8)
