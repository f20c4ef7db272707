"""The plate's width against the back under it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.body.skeleton import Heights
from meshes.mesh import Floats
from meshes.plate.back_plate import Plate

STATIONS: Final = 61  # heights along the plate at which its width is held against the back


@dataclass(frozen=True, eq=False)
class PlateWidths:
    """Points (s, 3) [m, the plate's frame] on the plate's middle line, and half its width (s,) at each."""

    middle: Floats
    half: Floats


def plate_widths(plate: Plate) -> PlateWidths:
    """Widths along a plate."""
    outline = plate.outline
    x = np.linspace(outline[:, 0].min(), outline[:, 0].max(), STATIONS)[1:-1]
    return PlateWidths(np.stack([x, np.zeros_like(x), np.zeros_like(x)], axis=1), _half_widths(outline, x))


def width_left(half: Floats, x: Floats, heights: Heights, armpit: float, flanks: Floats) -> tuple[Floats, Floats]:
    """Least (n,) of trunk's half-breadth less the plate's half width, and the same for the folds of the armpits [m].

    half : (s,) of the plate's widths;  x : (n, s) at which heights they lie, in each of n ways [m]
    heights : of the body's landmarks;  armpit : half the distance between the folds;  flanks : (2, m) heights, and
        half the trunk's breadth there [m]
    The folds count where the plate lies between chest and shoulders: there the arms swing past it.
    """
    beside = x < heights["axilla"]
    between = (x > heights["chest"]) & (x < heights["acromion"])
    flank = np.where(beside, np.interp(x, *flanks) - half, np.inf).min(axis=1)
    return flank, np.where(between, armpit - half, np.inf).min(axis=1)


def _half_widths(outline: Floats, x: Floats) -> Floats:
    """Half widths (s,) of a closed outline (n, 2) at places x (s,) along it [m]."""
    ahead = np.roll(outline, -1, axis=0)
    station, edge = np.nonzero((outline[:, 0] <= x[:, None]) != (ahead[:, 0] <= x[:, None]))
    a, b = outline[edge], ahead[edge]
    y = a[:, 1] + (x[station] - a[:, 0]) / (b[:, 0] - a[:, 0]) * (b[:, 1] - a[:, 1])
    half = np.zeros(len(x))
    np.maximum.at(half, station, np.abs(y))
    return half
