"""A plate's bent sheet as a shell in the plate's own frame, and where on it loads are laid."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np

from meshes.mesh import Floats
from meshes.plate.back_plate import Pattern
from meshes.plate.sheet import bent_points
from sim.answers.plate.hold.uneven import EVEN, FixedMass, Uneven
from sim.shells.loads import Patch, on_area, on_edges
from sim.shells.sheet_mesh import Fineness, sheet_mesh
from sim.shells.shell import Sheet, Shell, shell_of

FACET: Final = 0.008  # m, the widest that stands for part of a bend's arc; a quarter of it moves peaks by 2 %
WASHER: Final = 0.0125  # m, radius of the washer or nut that a bolt presses the sheet with (assumed)
PRESSED: Final = 0.025  # m, radius of what a band presses the sheet with, half its width (assumed)
PATCH: Final = 0.025  # m, radius of what takes a strap's load where no slot is drawn (half of webbing 50 mm wide)
ON_BACK: Final = 1e-3  # m above the foremost faces, within which the sheet lies against the back


@dataclass(frozen=True, eq=False)
class SheetShell:
    """shell : in the plate's frame (x to the head, y to the left, z away from the back);  pattern : bent to it.

    fixed : what is fixed to the plate
    """

    shell: Shell
    pattern: Pattern
    fixed: tuple[FixedMass, ...] = ()

    @cached_property
    def seen(self) -> Floats:
        """Quadrature points in the flat pattern (m, q, 2)."""
        return np.asarray(np.einsum("qi,mik->mqk", self.shell.values, self.shell.flat[self.shell.triangles]))

    @cached_property
    def on_back(self) -> Floats:
        """(m, q) bool: what lies against the back."""
        return np.asarray(self.shell.places[:, :, 2] < self.shell.sheet.thickness / 2 + ON_BACK)


def sheet_shell(pattern: Pattern, sheet: Sheet, fineness: Fineness, uneven: Uneven = EVEN) -> SheetShell:
    """The shell; raises ValueError for an outline that cannot be meshed.

    Triangles end where the thickness changes, unless no mesh can be made so; then each takes that of its middle.
    """
    bends = sorted(pattern.bends, key=lambda b: b.at)
    arcs = [b.at + b.width * np.linspace(-0.5, 0.5, int(np.ceil(b.width / FACET)) + 1) for b in bends]
    folds = list(np.unique(np.concatenate([[], *arcs])))
    borders = uneven.borders(pattern, folds)
    try:
        mesh = sheet_mesh(pattern.outline, folds, fineness, borders)
    except ValueError:
        if not borders:
            raise
        mesh = sheet_mesh(pattern.outline, folds, fineness)
    foremost = bent_points(mesh.points, 0.0, bends)[:, 2].min() - sheet.thickness / 2
    lift = np.array([0.0, 0.0, -foremost])
    of = uneven.of(pattern, mesh.points[mesh.triangles].mean(axis=1))
    shell = shell_of(mesh, sheet, lambda flat: bent_points(flat, 0.0, bends) + lift, uneven.sheets(sheet), of)
    return SheetShell(shell, pattern, uneven.fixed)


def fixed_patch(at: SheetShell, one: FixedMass) -> Patch:
    """What of the sheet a thing lies on; the nearest of it where it lies between the points that stand for it."""
    beyond = np.maximum(np.maximum(one.low - at.seen, at.seen - one.high), 0.0)
    away = np.linalg.norm(beyond, axis=2)
    return on_area(at.shell, (away <= away.min()).astype(float))


def bolts_patch(at: SheetShell, radius: float) -> Patch:
    """Around both bolts [m]; the pressure fades to the rim, so that no edge of it cuts into the sheet."""
    share = np.zeros(at.shell.areas.shape)
    for bolt in (at.pattern.points.upper_bolt, at.pattern.points.lower_bolt):
        away = np.linalg.norm(at.seen - bolt, axis=2)
        own = np.maximum(0.0, 1.0 - (away / radius) ** 2)
        share += own / max(float((own * at.shell.areas).sum()), 1e-12)
    return on_area(at.shell, share)


def slot_patch(at: SheetShell, slot: Floats, pull: Floats) -> Patch:
    """The edge of the hole at ``slot`` (2,) that webbing bears on which pulls along ``pull`` (2,), all flat; the
    sheet around where there is no hole."""
    import shapely

    point = shapely.Point(slot)
    hole = next((h for h in at.pattern.outline.holes if shapely.Polygon(h).distance(point) < 1e-3), None)
    if hole is not None:
        middles = at.shell.flat[at.shell.edges[:, 2]]
        rim = shapely.LinearRing(hole)
        own = np.array([rim.distance(p) < 5e-4 for p in shapely.points(middles)])
        edges = at.shell.edges[own]
        along = at.shell.flat[edges[:, 1]] - at.shell.flat[edges[:, 0]]
        outward = np.stack([along[:, 1], -along[:, 0]], axis=1) / np.linalg.norm(along, axis=1)[:, None]
        outward *= np.sign(((middles[own] - hole.mean(axis=0)) * outward).sum(axis=1))[:, None]
        share = np.maximum(0.0, outward @ pull)
        if share.sum() > 0.0:
            return on_edges(at.shell, edges, share)
    away = np.linalg.norm(at.seen - slot, axis=2)
    return on_area(at.shell, np.maximum(0.0, 1.0 - (away / PATCH) ** 2))
