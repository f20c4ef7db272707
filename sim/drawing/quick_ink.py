"""From one rendered picture of a film to a clean drawing, as ``ink`` does with the four of a still.

The gas was laid over by the graphics library, and what lies where is read from depth alone: a tenth of the work, and
only lines between things that touch without a step are missing.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from sim.drawing.ink import GAS_LINE, LINE, OVERSAMPLING, Bytes, Mask, edges

FAINTEST: Final = 150  # opacity 0..255 that gas with nothing solid behind it has at least


def quickly_inked(rendered: Bytes, depth: NDArray[np.float32], depth_range: float) -> Bytes:
    """RGBA (h/2, w/2, 4), colours multiplied by opacity already.

    rendered : (h, w, 4) likewise, of solids with gas over them;  depth : (h, w) of the solids, 0 near to 1 nothing
    depth_range : what depth 0 to 1 spans [m]
    """
    made = np.zeros((rendered.shape[0] // OVERSAMPLING, rendered.shape[1] // OVERSAMPLING, 4), dtype=np.uint8)
    there: Mask = rendered[..., 3] > 0
    rows, columns = (
        _span(np.flatnonzero(there.any(axis=axis)), size) for axis, size in ((1, made.shape[0]), (0, made.shape[1]))
    )
    if rows is None or columns is None:
        return made
    finer = tuple(slice(OVERSAMPLING * one.start, OVERSAMPLING * one.stop) for one in (rows, columns))
    made[rows, columns] = _reduced(_drawn(rendered[finer].copy(), depth[finer], there[finer], depth_range))
    return made


def _span(found: NDArray[np.intp], size: int) -> slice | None:
    """Final pixels, of ``size``, that hold all that was found, with room for its outline."""
    if not len(found):
        return None
    return slice(max(int(found[0]) // OVERSAMPLING - 1, 0), min(int(found[-1]) // OVERSAMPLING + 2, size))


def _drawn(picture: Bytes, depth: NDArray[np.float32], there: Mask, depth_range: float) -> Bytes:
    """Outlines over the solids, gas beside them made visible and given a rim."""
    solid = depth < 1.0
    line = edges(solid.astype(np.int8), depth * np.float32(depth_range))
    for axis in (0, 1):
        line = _grown(line, axis)
    halo = there & ~solid
    rim = edges(there.astype(np.int8), None) & ~solid & ~line
    faint = halo & (picture[..., 3] < FAINTEST)
    thin = picture[faint].astype(np.float32)
    picture[faint] = np.minimum(np.rint(thin * (FAINTEST / thin[:, 3:])), 255.0)
    picture[line] = np.rint(0.15 * picture[line] + 0.85 * np.array([*LINE, 255.0]))
    picture[line, 3] = 255
    picture[rim] = (*GAS_LINE, 255)
    return picture


def _grown(mask: Mask, axis: int) -> Mask:
    """The mask grown by a pixel forward along an axis."""
    grown = mask.copy()
    ahead, behind = (slice(1, None), slice(None)), (slice(None, -1), slice(None))
    if axis:
        ahead, behind = ahead[::-1], behind[::-1]
    grown[ahead] |= mask[behind]
    return grown


def _reduced(picture: Bytes) -> Bytes:
    """Mean of each block of pixels."""
    k = OVERSAMPLING
    total = sum(picture[i::k, j::k].astype(np.uint16) for i in range(k) for j in range(k))
    return np.asarray((total + k * k // 2) // (k * k), dtype=np.uint8)
