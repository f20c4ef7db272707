"""The plate's bench: shells against closed forms and other programs, masses of bent sheets, files read back."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, replace
from importlib.util import find_spec
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats
from meshes.outline import Outline
from meshes.plate.back_plate import Pattern, Plate, plate_of
from meshes.plate.catalogue import small_plate_shape, standard_plate_shape
from meshes.plate.from_drawing import plate_from_drawing, plate_from_solid_file
from meshes.plate.shape import bends_of
from meshes.plate.sheet import Bend, bent_points, bent_sheet, polygon_of
from meshes.plate.written import write_flat, write_solid
from sim.answers.evidence.calibration import stored
from sim.answers.evidence.check import Check, Compared, near, table, within
from sim.shells.loads import on_edges, spread, weight
from sim.shells.planar_mesh import PlanarMesh
from sim.shells.sheet_mesh import Cut, Fineness, sheet_mesh
from sim.shells.shell import Sheet, Shell, shell_of
from sim.shells.solve import balanced_hold, factored
from sim.shells.stress import worse_face

THEME: Final = "The plate's bench"
THIN: Final = Sheet(1.0 / 130.0, 70e9, 0.3)  # of a plate a metre broad, where elements lock that are not made for it
METAL: Final = Sheet(0.003, 70e9, 0.33)
ALUMINIUM: Final = 2700.0  # kg/m^3
OF_DEFLECTION: Final = 0.005  # the mesh's share; shear, which the tables leave out, is worth 0.0003
OF_PEAK: Final = 0.01  # at a hole, the mesh's share
OF_BEAM: Final = 0.01  # facets for the arc, shear and strips that are no beams
# Their meshes end a hundredth from their limits; thin shells have no shear, without which strips between openings,
# three times as wide as the sheet is thick, are a fifth stiffer in torsion
OF_OTHERS: Final = 0.03
OF_MASS: Final = 1e-3  # what chords of the bends may lose
OF_FILE: Final = {".dxf": 1e-3, ".stl": 1e-5}  # arcs read as chords; a solid's single precision
GRIP: Final = 0.03  # m of a plate's lower end
FELT: Final = 2e5  # N/m^3 that presses on the bent sheets, some eight times aluminium's weight


def checks() -> tuple[Check, ...]:
    """Those of shells are left out where the library of finite elements is not installed."""
    books = "Timoshenko & Woinowsky-Krieger 1959, from memory"
    shells = (
        Check(
            THEME, "rectangles under pressure, w D / q a⁴", books, "memory", "", 5, _pressed
        ),
        Check(
            THEME, "peak at a round hole in a strip drawn out", "Howland 1930, Kirsch 1898, from memory", "memory",
            "", 2, _holed,
        ),
        Check(
            THEME, "strip bent to a quarter circle, pushed", "π F R³ / 4 E I", "computed elsewhere", "mm", 3, _curved
        ),
        Check(
            THEME, "bent sheets held at an end, deflection",
            "Kratos 10.4.4 (thin shells), FElupe 11.3.0 (bricks)", "computed elsewhere", "mm", 4, _others,
        ),
    )  # fmt: skip
    return (
        *(shells if find_spec("skfem") is not None else ()),
        Check(
            THEME, "mass of sheets bent by 0 to 90°", "flat area x thickness x density",
            "computed elsewhere", "kg", 4, _masses,
        ),
        Check(
            THEME, "mass of plates read back from DXF and STL", "the plate that was written", "computed elsewhere",
            "kg", 4, _read_back,
        ),
        Check(
            THEME, "share that plates suit, of 20000 people", "500 others worked out in full",
            "computed elsewhere", "%", 0, _shares, "bands of 90 %: one of ten may stand apart",
        ),
    )  # fmt: skip


@dataclass(frozen=True, eq=False)
class HeldSheet:
    """A bent sheet clamped up to the line x = ``grip`` [m] of its flat pattern, and what it is made of."""

    name: str
    pattern: Pattern
    sheet: Sheet
    grip: float

    def fold(self, flat: Floats) -> Floats:
        """Places (n, 3) of the mid-surface."""
        return bent_points(flat, 0.0, self.pattern.bends)

    def folds(self, facet: float) -> list[float]:
        """Lines between facets no wider than ``facet`` [m]."""
        at = [b.at + b.width * np.linspace(-0.5, 0.5, int(np.ceil(b.width / facet)) + 1) for b in self.pattern.bends]
        return [float(y) for y in np.unique(np.concatenate(at))]

    def mesh(self, widest: float, facet: float, near: float = 1.0) -> PlanarMesh:
        """Triangles with edges along folds and the grip; ``near`` times as long as an edge beside them curves."""
        across = () if self.grip <= self.pattern.outline.outer[:, 0].min() else (Cut(0, self.grip),)
        fine = Fineness(widest, of_radius=near, of_gap=near)
        return sheet_mesh(self.pattern.outline, self.folds(facet), fine, across)

    def held(self, flat: Floats) -> NDArray[np.bool_]:
        """(n,) places of the pattern that are."""
        return np.asarray(flat[:, 0] < self.grip + 1e-6)


def held_sheets() -> tuple[HeldSheet, ...]:
    """A channel without openings, and a plate of the catalogue with all of them."""
    plate = plate_of(standard_plate_shape(), ALUMINIUM)
    length, half = 0.3, 0.14
    ring = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]) * [length / 2, half]
    sheet = Sheet(plate.thickness, METAL.modulus, METAL.poisson)
    plain = replace(plate.pattern, outline=Outline(ring))
    low = float(plate.pattern.outline.outer[:, 0].min())
    return HeldSheet("channel", plain, sheet, -length / 2), HeldSheet(
        "standard plate", plate.pattern, sheet, low + GRIP
    )


def moved_most(points: Floats, flat: Floats, moved: Floats) -> tuple[float, float]:
    """[m] How far the top edge's middle goes, and the corner that goes furthest. All (n, 2 or 3)."""
    top = int(np.argmin(np.linalg.norm(flat - [flat[:, 0].max(), 0.0], axis=1)))
    away = np.linalg.norm(moved, axis=1)
    return float(away[top]), float(away.max())


def _others() -> list[Compared]:
    ours = {}
    for one in held_sheets():
        shell = shell_of(one.mesh(0.016, 0.003, 2.0), one.sheet, one.fold)
        held = np.repeat(one.held(shell.flat)[:, None], 6, axis=1)
        loads = weight(shell, 1.0, [0.0, 0.0, -FELT])
        corners = slice(shell.corners)
        found = factored(shell, held).displaced(loads)[corners, :3]
        ours[one.name] = moved_most(shell.nodes[corners], shell.flat[corners], found)
    cases = []
    for row in table("bent_sheets_elements"):
        for k, place in enumerate(("top", "corner")):
            theirs = float(row[f"{place}[mm]"])
            name = f"{row['sheet']}, {place}, {row['by']}"
            cases.append(near(1e3 * ours[row["sheet"]][k], theirs, OF_OTHERS * theirs, name))
    return cases


def _pressed() -> list[Compared]:
    stiff = THIN.modulus * THIN.thickness**3 / (12.0 * (1.0 - THIN.poisson**2))
    found = []
    for row in table("timoshenko_plates"):
        ratio, how = float(row["length_over_breadth[-]"]), row["held[-]"]
        ring = np.array([[0.0, 0.0], [ratio, 0.0], [ratio, 1.0], [0.0, 1.0]])
        middle = np.array([[ratio / 2, 0.5]])
        fine = Fineness(0.08, spots=middle, at_spots=np.array([0.05]))
        shell = shell_of(sheet_mesh(Outline(ring), [0.5], fine), THIN)
        held = np.zeros((len(shell.nodes), 6), dtype=bool)
        held[:, [0, 1, 5]] = True
        x, y = shell.flat.T
        ends, sides = np.minimum(x, ratio - x) < 1e-9, np.minimum(y, 1.0 - y) < 1e-9
        held[ends | sides, 2] = held[ends, 3] = held[sides, 4] = True
        if how == "clamped":
            held[ends | sides, 3:5] = True
        moved = factored(shell, held).displaced(weight(shell, 1.0 / THIN.thickness, [0.0, 0.0, 1.0]))
        at = int(np.argmin(np.linalg.norm(shell.flat - middle, axis=1)))
        theirs = float(row["deflection[q a^4/D]"])
        found.append(near(moved[at, 2] * stiff, theirs, OF_DEFLECTION * theirs + 0.5e-5, f"{how}, {ratio:g} long"))
    return found


def _holed() -> list[Compared]:
    found, wide, long = [], 0.1, 0.24
    turn = np.arange(48) * 2.0 * np.pi / 48
    outer = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]) * [long / 2, wide / 2]
    for row in table("howland_1930"):
        ratio, theirs = float(row["diameter_over_width[-]"]), float(row["peak_over_applied[-]"])
        hole = 0.5 * ratio * wide * np.stack([np.cos(turn), np.sin(turn)], axis=1)
        shell = shell_of(sheet_mesh(Outline(outer, (hole,)), (), Fineness(0.025, of_radius=0.1)), METAL)
        force = METAL.thickness * wide
        loads = _pull(shell, long / 2, force) + _pull(shell, -long / 2, -force)
        peak = worse_face(shell, factored(shell, balanced_hold(shell)).displaced(loads)).at_corners.max()
        found.append(near(peak, theirs, OF_PEAK * theirs, f"hole {ratio:g} of the width"))
    return found


def _pull(shell: Shell, x: float, force: float) -> Floats:
    """Loads of a force along a strip, spread over its end at x."""
    end = np.abs(shell.flat[shell.edges[:, 2], 0] - x) < 1e-9
    return spread(shell, on_edges(shell, shell.edges[end], np.ones(int(end.sum()))), [force, 0.0, 0.0], [x, 0.0, 0.0])


def _curved() -> list[Compared]:
    """Held along one straight edge, pushed at the other along the sheet as it leaves the held one."""
    sheet, radius, wide, force = Sheet(0.001, 70e9, 0.0), 0.1, 0.02, 1.0
    bend = Bend(0.0, np.pi / 2, radius)
    half = bend.width / 2
    ring = np.array([[-wide / 2, -half], [wide / 2, -half], [wide / 2, half], [-wide / 2, half]])
    folds = list(np.linspace(-half, half, 17)[1:-1])
    mesh = sheet_mesh(Outline(ring), folds, Fineness(0.01))
    shell = shell_of(mesh, sheet, lambda flat: bent_points(flat, 0.0, [bend]))
    held = np.repeat((np.abs(shell.flat[:, 1] + half) < 1e-9)[:, None], 6, axis=1)
    end = np.abs(shell.flat[shell.edges[:, 2], 1] - half) < 1e-9
    patch = on_edges(shell, shell.edges[end], np.ones(int(end.sum())))
    # level in the middle, so that each end stands at 45 degrees
    way = np.array([0.0, 1.0, -1.0]) / np.sqrt(2.0)
    tip = np.abs(shell.flat[:, 1] - half) < 1e-9
    moved = factored(shell, held).displaced(spread(shell, patch, force * way, patch.middle))
    bent = 1e3 * float(moved[tip, :3].mean(axis=0) @ way)
    second = wide * sheet.thickness**3 / 12.0
    exact = 1e3 * np.pi * force * radius**3 / (4.0 * sheet.modulus * second)
    return [near(bent, exact, OF_BEAM * exact)]


def _masses() -> list[Compared]:
    found = []
    for name, shape in (("small", small_plate_shape()), ("standard", standard_plate_shape())):
        pattern = plate_of(shape, ALUMINIUM).pattern
        area = float(polygon_of(pattern.outline).area)
        theirs = ALUMINIUM * area * shape.thickness
        for degrees in (0, 10, 30, 65, 90):
            bends = [replace(b, angle=np.copysign(np.radians(degrees), b.angle)) for b in bends_of(shape)]
            mesh = bent_sheet(pattern.outline, shape.thickness, bends if degrees else ())
            found.append(
                near(ALUMINIUM * _volume(mesh.vertices[mesh.faces]), theirs, OF_MASS * theirs, f"{name}, {degrees}°")
            )
    return found


def _volume(triangles: Floats) -> float:
    """Of a closed surface (m, 3, 3) [m^3]: Gauss."""
    a, b, c = triangles.transpose(1, 0, 2)
    return float((a * np.cross(b, c)).sum() / 6.0)


def _read_back() -> list[Compared]:
    found = []
    with tempfile.TemporaryDirectory() as folder:
        for name, shape in (("small", small_plate_shape()), ("standard", standard_plate_shape())):
            plate = plate_of(shape, ALUMINIUM)
            for ending, again in _files(plate, Path(folder) / name):
                allowed = OF_FILE[ending] * plate.solid.mass
                found.append(near(again.solid.mass, plate.solid.mass, allowed, f"{name}, {ending[1:].upper()}"))
    return found


def _files(plate: Plate, file: Path) -> Iterator[tuple[str, Plate]]:
    write_flat(plate, file.with_suffix(".dxf"))
    yield ".dxf", plate_from_drawing(file.with_suffix(".dxf"), thickness=plate.thickness, density=ALUMINIUM)
    write_solid(plate, file.with_suffix(".stl"), "stl")
    solid = file.with_suffix(".stl")
    yield ".stl", plate_from_solid_file(solid, density=ALUMINIUM, up="+y", away="+z", unit="mm")


def _shares() -> list[Compared]:
    """Each share as told within what both bands allow."""
    found = []
    for row in stored("plate_people"):
        ours, low, high, theirs, least, most = (
            float(row[f"{name}[%]"]) for name in ("told", "told_low", "told_high", "full", "full_low", "full_high")
        )
        half = np.hypot((high - low) / 2, (most - least) / 2)
        found.append(within(ours, theirs - half, theirs + half, f"{row['plate']}, {row['sex']}", theirs))
    return found
