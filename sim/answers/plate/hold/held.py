"""One plate carried in every way: its mesh refined where stress is great and not yet sure, until the peaks stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from meshes.mesh import Floats
from meshes.plate.back_plate import Pattern
from sim.answers.plate.hold.carried import Carried
from sim.answers.plate.hold.laid_on import driven, held
from sim.answers.plate.hold.on_floor import TIPS_OVER, FloorForces, TipsOverError, floor_forces, on_floor
from sim.answers.plate.hold.resting import Resting, at_rest, resting
from sim.answers.plate.hold.sheet_shell import SheetShell, sheet_shell
from sim.answers.plate.hold.uneven import EVEN, Uneven
from sim.answers.plate.hold.ways import Way
from sim.shells.sheet_mesh import Fineness
from sim.shells.shell import Sheet, Shell
from sim.shells.solve import balanced_hold, factored
from sim.shells.stress import FaceStress, worse_face

FIRST: Final = Fineness(widest=0.020, of_radius=1.0, of_gap=0.9)
STANDS: Final = 0.04  # change of a peak from mesh to mesh at which it is said to stand
MESHES: Final = 5
UNSURE: Final = 0.03  # of the peak, by which neighbours may differ in their stress
PERHAPS: Final = 0.85  # of the peak, that a stress and its error must reach to matter
STEPS: Final = (0.3, 0.7)  # how much shorter edges become at once


@dataclass(frozen=True, eq=False)
class WayHeld:
    """One way of carrying on one mesh.

    stress : on the worse face;  bent : (k, 3) displacement of the nodes [m], less that of the whole
    """

    way: Way
    stress: FaceStress
    bent: Floats

    @property
    def peak(self) -> float:
        """Greatest von Mises stress [Pa]."""
        return float(self.stress.at_corners.max())

    @property
    def deflection(self) -> float:
        """Greatest distance [m] of the sheet from its unloaded shape laid best upon it."""
        return float(np.linalg.norm(self.bent, axis=1).max())


@dataclass(frozen=True, eq=False)
class PlateHeld:
    """A plate's last mesh with all ways on it.

    ways : less one that the plate cannot be in;  peaks : (meshes, ways) [Pa] from mesh to mesh
    triangles : of each mesh;  rests : how it lies on a floor where it does not lie flat
    """

    at: SheetShell
    ways: tuple[WayHeld, ...]
    peaks: Floats
    triangles: tuple[int, ...]
    rests: Resting | None = None

    @property
    def changes(self) -> Floats:
        """(ways,) how much the last refinement moved each peak, as a share of it; 0 where there was none."""
        if len(self.peaks) < 2:
            return np.zeros(len(self.ways))
        return np.asarray(np.abs(self.peaks[-1] / self.peaks[-2] - 1.0))


def plate_held(
    pattern: Pattern, sheet: Sheet, density: float, carried: Carried, ways: Sequence[Way], meshes: int | None = None,
    uneven: Uneven = EVEN,
) -> PlateHeld:  # fmt: skip
    """The meshes end when no peak moves by more than ``STANDS``, with ``meshes``, ``MESHES`` if left out, or before
    the first that would have too many triangles; what is not sure by then is told as its error.

    density : of the sheet [kg/m^3]. Raises ValueError for a plate that cannot be meshed or carried so.
    """
    peaks, triangles = [], []
    fineness, at = FIRST, sheet_shell(pattern, sheet, FIRST, uneven)
    floor: FloorForces | Resting | None = None
    while True:
        found, floor = _on_mesh(at, density, carried, ways, floor)
        ways = [way.way for way in found]
        peaks.append([way.peak for way in found])
        triangles.append(len(at.shell.triangles))
        moved = np.abs(np.divide(peaks[-1], peaks[-2]) - 1.0).max() if len(peaks) > 1 else np.inf
        done = PlateHeld(at, found, np.array(peaks), tuple(triangles), floor if isinstance(floor, Resting) else None)
        if not (moved > STANDS and len(peaks) < (meshes or MESHES)):
            return done
        fineness = _finer(fineness, at.shell, found)
        try:
            at = sheet_shell(pattern, sheet, fineness, uneven)
        except ValueError:
            return done


def _on_mesh(
    at: SheetShell, density: float, carried: Carried, ways: Sequence[Way], floor: FloorForces | Resting | None
) -> tuple[tuple[WayHeld, ...], FloorForces | Resting | None]:
    """Every way on one mesh, less that on a floor on which nothing holds the plate; how it lies there is found on
    the first mesh."""
    factor = factored(at.shell, balanced_hold(at.shell))
    loads = []
    for way in ways:
        if way.name != "vehicle":
            loads.append((way, held(way, at, driven(way, at, carried, density))))
            continue
        load = driven(way, at, carried, density)
        if floor is None:
            try:
                floor = floor_forces(at, factor, load)
            except TipsOverError:
                floor = resting(at, carried, density)
        if isinstance(floor, Resting):
            loads.append((way, at_rest(way, at, carried, density, floor)))
        elif floor is not None:
            loads.append((way, on_floor(at, load, floor)))
    if not loads:
        raise TipsOverError(TIPS_OVER)
    moved = factor.displaced(np.array([load for _, load in loads]))
    return tuple(
        WayHeld(way, worse_face(at.shell, one), _less_the_whole(at.shell, one[:, :3]))
        for (way, _), one in zip(loads, moved, strict=True)
    ), floor


def _less_the_whole(shell: Shell, moved: Floats) -> Floats:
    """Displacements (k, 3) less the motion as a whole that comes nearest to them over the sheet."""
    share = np.zeros(len(shell.nodes))
    np.add.at(share, shell.triangles, (shell.areas.sum(axis=1) / 6.0)[:, None])
    share /= share.sum()
    middle = share @ shell.nodes
    off, shift = shell.nodes - middle, share @ moved
    inertia = (share * (off**2).sum(axis=1)).sum() * np.eye(3) - (share[:, None] * off).T @ off
    turn = np.linalg.solve(inertia, share @ np.cross(off, moved - shift))
    return np.asarray(moved - shift - np.cross(turn, off))


def _finer(fineness: Fineness, shell: Shell, found: Sequence[WayHeld]) -> Fineness:
    """Shorter edges wherever the peak of some way may be and is not sure, as its error of second order asks."""
    corners = shell.triangles[:, :3]
    unsure = np.zeros(len(corners))
    for way in found:
        jump = way.stress.jump / way.peak
        perhaps = way.stress.at_corners[corners].max(axis=1) / way.peak + jump > PERHAPS
        unsure = np.maximum(unsure, np.where(perhaps, jump, 0.0))
    doubtful = unsure > UNSURE
    spots = shell.flat[corners[doubtful]].mean(axis=1)
    sizes = shell.sizes[doubtful] * np.clip(np.sqrt(0.5 * UNSURE / unsure[doubtful]), *STEPS)
    if fineness.spots is not None and fineness.at_spots is not None:
        spots, sizes = np.concatenate([fineness.spots, spots]), np.concatenate([fineness.at_spots, sizes])
    return replace(fineness, spots=spots, at_spots=sizes)
