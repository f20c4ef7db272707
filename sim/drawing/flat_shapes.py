"""The diver without any graphics library: what is seen, traced into areas of even tone and lines of ink.

Hidden things are hidden by a depth buffer, so limbs and gear may cross as they like; the outlines traced from it
are smooth curves, not pixels, and scale with the page.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Ints
from sim.drawing.gas_layer import vertex_normals
from sim.drawing.ink import OVER_GEAR, edges
from sim.drawing.palette import GAS_LINE, INK, rgb
from sim.drawing.surfaces import Surface
from sim.drawing.views import View, directed, projected
from sim.drawing.visibility import NOTHING, Raster, rastered

Mask = NDArray[np.bool_]
Colour = tuple[float, float, float, float]
Tones = tuple[tuple[float, float], ...]

SUN: Final = np.array([-0.30, 0.80, 0.52])
TONES: Final = ((0.0, 0.58), (0.18, 0.72), (0.42, 0.86), (0.66, 1.0), (0.94, 1.10))  # from this light on, lightness
VEILS: Final = 9  # steps of the gas colours
FAR: Final = -10.0  # metres towards the viewer: behind everything
HUES: Final = 8  # steps of each of red, green and blue told apart on one surface


@dataclass(frozen=True, eq=False)
class FlatShape:
    """One area to paint: rings on the sheet [m], filled by the even-odd rule, and red green blue opacity 0..1."""

    rings: tuple[Floats, ...]
    colour: Colour


@dataclass(frozen=True, eq=False)
class _Grid:
    """Pixels over a rectangle of the sheet: sheet position [m] of the upper left corner, and metres a pixel."""

    left: float
    top: float
    fineness: float
    shape: tuple[int, int]


def flat_shapes(
    surfaces: tuple[Surface, ...], view: View, fineness: float, tones: Tones = TONES, line: str = INK
) -> tuple[FlatShape, ...]:
    """Shapes in painting order.

    fineness : [m] of the smallest detail kept;  tones : the steps of light;  line : the ink
    """
    grid = _grid_over(surfaces, view, fineness)
    solids = tuple(s for s in surfaces if not s.layer)
    layers = tuple(s for s in surfaces if s.layer)
    seen = _seen(solids, view, grid)
    shapes = _toned(solids, seen, view, grid, tones, line)
    number = np.where(seen.owner == NOTHING, 0, _numbers(solids)[seen.owner] + 1)
    shapes.append(_shape(edges(number, np.where(number > 0, seen.nearness, FAR)), grid, (*rgb(line), 1.0)))
    if layers:
        gear = np.array([False, *(s.gear for s in solids)])[number]
        shapes += _veiled(layers, _seen(layers, view, grid), seen, gear, grid)
    return tuple(s for s in shapes if s.rings)


def _grid_over(surfaces: tuple[Surface, ...], view: View, fineness: float) -> _Grid:
    sheet = np.concatenate([projected(view, s.mesh.vertices)[:, :2] for s in surfaces])
    margin = 6.0 * fineness
    low, high = sheet.min(axis=0) - margin, sheet.max(axis=0) + margin
    width, height = (int(n) for n in np.ceil((high - low) / fineness))
    return _Grid(float(low[0]), float(high[1]), fineness, (height, width))


def _seen(surfaces: tuple[Surface, ...], view: View, grid: _Grid) -> Raster:
    corners = np.concatenate([projected(view, s.mesh.vertices)[s.mesh.faces] for s in surfaces])
    corners[:, :, 0] = (corners[:, :, 0] - grid.left) / grid.fineness
    corners[:, :, 1] = (grid.top - corners[:, :, 1]) / grid.fineness
    return rastered(corners, grid.shape)


def _numbers(surfaces: tuple[Surface, ...]) -> Ints:
    """Which surface each triangle belongs to."""
    return np.repeat(np.arange(len(surfaces)), [len(s.mesh.faces) for s in surfaces])


def _across(raster: Raster, values: Floats) -> Floats:
    """Values (m, 3, k) at the triangles' corners, carried to the pixels that show something, (p, k)."""
    shown = raster.owner != NOTHING
    return np.asarray(np.einsum("pc,pck->pk", raster.weights[shown], values[raster.owner[shown]]))


def _toned(
    solids: tuple[Surface, ...], seen: Raster, view: View, grid: _Grid, tones: Tones, line: str
) -> list[FlatShape]:
    """Every colour of every surface in steps of light: the darkest tone whole, lighter ones upon it."""
    shown = seen.owner != NOTHING
    normals = np.concatenate([directed(view, _normals(s).reshape(-1, 3)).reshape(-1, 3, 3) for s in solids])
    colours = np.concatenate([s.colours[s.mesh.faces][:, :, :3] / 255.0 for s in solids])
    light = np.full(seen.owner.shape, -1.0)
    light[shown] = _across(seen, normals) @ (SUN / np.linalg.norm(SUN))
    colour = np.zeros((*seen.owner.shape, 3))
    colour[shown] = _across(seen, colours)
    hue = np.minimum((colour * HUES).astype(int), HUES - 1) @ [HUES * HUES, HUES, 1]
    group = np.where(shown, hue + HUES**3 * _numbers(solids)[seen.owner], -1)
    shapes = [_shape(shown, grid, (*rgb(line), 1.0))]
    for key in np.unique(group[group >= 0]):
        here = group == key
        base = colour[here].mean(axis=0)
        for threshold, lightness in tones:
            lit = here if threshold == 0.0 else here & (light >= threshold)
            shapes.append(_shape(lit, grid, _toned_colour(base, lightness)))
    return shapes


def _normals(surface: Surface) -> Floats:
    """Outward normals (m, 3, 3) at the corners of each triangle."""
    mesh = surface.mesh
    if not surface.faceted:
        return vertex_normals(mesh)[mesh.faces]
    a, b, c = mesh.vertices[mesh.faces].transpose(1, 0, 2)
    across = np.cross(b - a, c - a)
    long = np.maximum(np.linalg.norm(across, axis=1), 1e-30)
    return np.repeat((across / long[:, None])[:, None], 3, axis=1)


def _toned_colour(base: Floats, lightness: float) -> Colour:
    red, green, blue = np.clip(base * lightness, 0.0, 1.0).tolist()
    return red, green, blue, 1.0


def _veiled(layers: tuple[Surface, ...], gas: Raster, seen: Raster, gear: Mask, grid: _Grid) -> list[FlatShape]:
    """The gas in steps of opacity, each laid over the one before, and a fine rim where it stands off the body."""
    over = (gas.owner != NOTHING) & (gas.nearness > seen.nearness)
    colours = np.concatenate([s.colours[s.mesh.faces] / 255.0 for s in layers])
    tint = np.zeros((*gas.owner.shape, 4))
    tint[gas.owner != NOTHING] = _across(gas, colours)
    tint[gear, 3] *= OVER_GEAR
    shapes, below = [], 0.0
    for level in np.linspace(0.0, 0.9, VEILS, endpoint=False):
        here = over & (tint[..., 3] > level + 0.02)
        if not here.any():
            break
        target = level + 0.5 * 0.9 / VEILS
        red, green, blue = tint[here][:, :3].mean(axis=0).tolist()
        shapes.append(_shape(here, grid, (red, green, blue, (target - below) / (1.0 - below))))
        below = target
    standing_off = over & (tint[..., 3] > 0.0) & (seen.owner == NOTHING)
    rim = edges((standing_off | (seen.owner != NOTHING)).astype(int), None) & ~(seen.owner != NOTHING)
    return [*shapes, _shape(rim, grid, (*rgb(GAS_LINE), 1.0))]


def _shape(mask: Mask, grid: _Grid, colour: Colour) -> FlatShape:
    return FlatShape(_traced(mask, grid), colour)


def _traced(mask: Mask, grid: _Grid) -> tuple[Floats, ...]:
    """Smooth rings about the True pixels, on the sheet [m]."""
    from contourpy import contour_generator
    from scipy.ndimage import gaussian_filter

    rows, columns = np.flatnonzero(mask.any(axis=1)), np.flatnonzero(mask.any(axis=0))
    if not len(rows):
        return ()
    top, left = int(rows[0]), int(columns[0])
    part = np.pad(mask[top : rows[-1] + 1, left : columns[-1] + 1], 4).astype(np.float32)
    lines: Any = contour_generator(z=gaussian_filter(part, 0.7)).lines(0.5)
    rings = []
    for line in (_simplified(line) for line in lines):
        if len(line) < 4:
            continue
        x = grid.left + (line[:, 0] - 4 + left + 0.5) * grid.fineness
        y = grid.top - (line[:, 1] - 4 + top + 0.5) * grid.fineness
        rings.append(np.stack([x, y], axis=1))
    return tuple(rings)


def _simplified(line: Floats) -> Floats:
    """The ring without the points that stray less than a sixth of a pixel from their neighbours' line."""
    import shapely

    return np.asarray(shapely.get_coordinates(shapely.simplify(shapely.linestrings(line), 0.16)))
