"""The dimensions of a plate that can be changed one at a time, all others kept: what a designer redraws.

Every place is stated from the top edge and from the middle line on the flat sheet, so that a longer plate is
longer at its lower edge, with bolts and slots where they were. A drawing is drawn anew for that, openings and all;
of a solid places alone can be changed.
"""

from __future__ import annotations

import hashlib
import shutil
import tempfile
import weakref
from collections.abc import Mapping, Sequence
from dataclasses import astuple, dataclass, replace
from functools import cached_property
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final, Literal

import numpy as np

from meshes.plate.back_plate import Pattern, Plate
from meshes.plate.edges import Told, edges_of
from meshes.plate.sheet import Bend, both_sides
from meshes.plate.stretched import Moves, stretched
from meshes.plate.written import write_flat
from scenarios.errors import Problem, ScenarioError
from scenarios.quantities import SI
from scenarios.settings import Setting, setting_to
from sim.answers.plate.bench import BenchPlate, bench_plate
from sim.assembly.drawn_plate import ToldBend, drawn_plate

LENGTH, WIDTH, THICKNESS = "length", "width", "thickness"
SHOULDER_DOWN, SHOULDER_ACROSS = "shoulder slots, from the top edge", "shoulder slots, from the middle line"
WAIST_DOWN, WAIST_ACROSS = "waist slots, from the top edge", "waist slots, from the middle line"
BOLTS_DOWN, CROTCH_DOWN = "bolt row, from the top edge", "crotch slot, from the top edge"
DEPTH, ANGLE = "channel depth", "channel's bends"
FLAT_WIDTH: Final = "width of the flat sheet"  # of a drawing, in place of the width as worn
BUILT: Final = {LENGTH: "length", WIDTH: "width", THICKNESS: "thickness", DEPTH: "channel_depth"}  # and their keys
UNEVEN: Final = 5e-4  # m: slots that lie so much higher on one side are no pair that could be moved as one


@dataclass(frozen=True)
class Measure:
    """How a dimension is written and by how much of it an answer is told.

    scale : of the unit to SI;  per : in that unit;  step : SI, to either side, over which the answers are compared
    """

    unit: Literal["cm", "mm", "degrees"]
    scale: float
    per: float
    step: float

    @property
    def amount(self) -> str:
        """As "a centimetre"."""
        return {"cm": "a centimetre", "mm": "a millimetre", "degrees": f"{self.per:g} degrees"}[self.unit]


LENGTHS: Final = Measure("cm", 100.0, 1.0, 0.01)
THIN: Final = Measure("mm", 1e3, 1.0, 0.0005)
TURNS: Final = Measure("degrees", float(np.degrees(1.0)), 5.0, float(np.radians(5.0)))


def measure_of(name: str) -> Measure:
    """Of a dimension."""
    if name == THICKNESS:
        return THIN
    return TURNS if name == ANGLE or name.endswith(", angle") else LENGTHS


@dataclass(frozen=True, eq=False)
class Dimensions:
    """The dimensions of a plate on the bench."""

    bench: BenchPlate

    @cached_property
    def now(self) -> Mapping[str, float]:
        """Each by its name, as the plate has it [m] or [rad]."""
        table, found = self.bench.table, dict(places_of(self.bench.plate))
        if table.file is None:
            found |= {name: float(getattr(table, key)) for name, key in BUILT.items()}
            found[ANGLE] = abs(self.bench.plate.pattern.bends[0].angle)
            found[WIDTH] = table.width or self.bench.plate.width
        elif not table.is_solid:
            edges = edges_of(self.bench.plate.pattern.outline.outer)
            found |= {LENGTH: edges.length, FLAT_WIDTH: edges.width}
            found[THICKNESS] = table.thickness or 0.0
            for number, bend in enumerate(self._folds, 1):
                found[f"bend {number}, from the middle line"] = bend.offset
                found[f"bend {number}, angle"] = bend.angle
            if self._folds:
                found[ANGLE] = abs(self._folds[0].angle)  # of all of them together, each as much more
        return MappingProxyType(found)

    @cached_property
    def _folds(self) -> tuple[ToldBend, ...]:
        """Of a drawing, stated or drawn."""
        drawn = drawn_plate(self.bench.table, self.bench.plate)
        return () if drawn is None else drawn.bends

    @property
    def names(self) -> tuple[str, ...]:
        """Those that an answer can hang on, in the order in which they are told."""
        told = (
            *(
                LENGTH,
                WIDTH,
                FLAT_WIDTH,
                SHOULDER_DOWN,
                SHOULDER_ACROSS,
                WAIST_DOWN,
                WAIST_ACROSS,
                BOLTS_DOWN,
                DEPTH,
                ANGLE,
            ),
            THICKNESS,
        )
        bends = tuple(name for name in self.now if name.startswith("bend "))
        # a drawing's bends are told one by one
        return tuple(
            name for name in (*told[:-1], *bends, told[-1]) if name in self.now and not (bends and name == ANGLE)
        )

    def settings(self, values: Mapping[str, float]) -> list[Setting]:
        """What-ifs on the plate that give these dimensions other values, and keep all the others."""
        new = {**self.now, **values}
        table: dict[str, Any] = {"bolts": [SI(round(new[BOLTS_DOWN] + side, 9)) for side in self._bolts]}
        for key, down, across in (
            ("shoulder_slots", SHOULDER_DOWN, SHOULDER_ACROSS),
            ("waist_slots", WAIST_DOWN, WAIST_ACROSS),
        ):
            if down in new:
                table[key] = [SI(new[down]), SI(new[across])]
        if self.bench.table.file is None:
            table |= {key: SI(new[name]) for name, key in BUILT.items()}
            table["channel_angle"] = SI(new[ANGLE])
            # left alone, the crotch slot keeps its distance from the lower edge, from which it is drawn
            with_edge = new[CROTCH_DOWN] + new[LENGTH] - self.now[LENGTH]
            table["crotch_slot"] = SI(values.get(CROTCH_DOWN, with_edge))
        elif THICKNESS in new:
            table |= self._redrawn(new)
        if self.bench.table.mass is not None:  # weighed: what is cut anew has its density, not its mass
            solid = self.bench.plate.solid
            table |= {"mass": None, "density": SI(solid.mass / solid.volume)}
        return [setting_to(f"plate.{key}", value) for key, value in table.items()]

    def _redrawn(self, new: Mapping[str, float]) -> Mapping[str, Any]:
        """Keys of [plate] for a drawing with these dimensions, drawn anew where outline or openings move.

        Raises ScenarioError where that makes no sheet.
        """
        folds, moves = self._folded(new), self._moves(new)
        table: dict[str, Any] = {
            "thickness": SI(new[THICKNESS]),
            "bends": [{"offset": SI(b.offset), "angle": SI(b.angle), "radius": SI(b.radius)} for b in folds],
        }
        if moves == Moves():
            return table
        try:
            pattern = stretched(self.bench.plate.pattern, moves)
        except ValueError as error:
            raise ScenarioError([Problem(str(self.bench.path), str(error))]) from None
        table |= {"file": str(self._drawn(moves, pattern, folds, new[THICKNESS])), "unit": None, "head_axis": "+y"}
        if self.bench.table.crotch_slot is not None:
            crotch = edges_of(pattern.outline.outer).told(pattern.points.crotch_slot, "found")
            table["crotch_slot"] = SI(crotch.down[0])
        return table

    def _moves(self, new: Mapping[str, float]) -> Moves:
        """What is to move on the flat sheet, to a hundredth of a micrometre: below is rounding."""

        def more(name: str) -> float:
            return round(new[name] - self.now[name], 8) + 0.0 if name in new else 0.0

        return Moves(
            more(LENGTH), more(FLAT_WIDTH), (more(SHOULDER_DOWN), more(SHOULDER_ACROSS)),
            (more(WAIST_DOWN), more(WAIST_ACROSS)), more(BOLTS_DOWN),
        )  # fmt: skip

    def _folded(self, new: Mapping[str, float]) -> Sequence[ToldBend]:
        turned = new[ANGLE] - self.now[ANGLE] if self._folds else 0.0
        return [
            replace(
                bend,
                offset=new[f"bend {number}, from the middle line"],
                angle=new[f"bend {number}, angle"] + float(np.copysign(turned, bend.angle)),
            )
            for number, bend in enumerate(self._folds, 1)
        ]

    def _drawn(self, moves: Moves, pattern: Pattern, folds: Sequence[ToldBend], thickness: float) -> Path:
        """The flat sheet as a drawing that says its bends, kept as long as this is."""
        plate = self.bench.plate
        told = (*astuple(moves), *(x for b in folds for x in (b.offset, b.angle)), thickness)
        path = self._folder / f"{hashlib.sha256(repr(told).encode()).hexdigest()[:16]}.dxf"
        if not path.exists():
            middle = edges_of(pattern.outline.outer).middle
            bends = both_sides([Bend(b.offset, -b.angle, b.radius) for b in folds])
            laid = replace(pattern, bends=tuple(replace(b, at=b.at + middle) for b in bends))
            write_flat(replace(plate, pattern=laid, thickness=thickness), path)
        return path

    @cached_property
    def _folder(self) -> Path:
        folder = tempfile.mkdtemp()
        weakref.finalize(self, shutil.rmtree, folder, ignore_errors=True)
        return Path(folder)

    @property
    def _bolts(self) -> Sequence[float]:
        """How far each bolt lies below the middle of the row [m]."""
        points = self.bench.plate.pattern.points
        half = 0.5 * float(np.linalg.norm(points.upper_bolt - points.lower_bolt))
        return -half, half

    def with_values(self, values: Mapping[str, float]) -> BenchPlate:
        """The plate with other values. Raises ScenarioError where that makes no plate."""
        read = self.bench.read
        return bench_plate(read.path, [*read.settings, *self.settings(values)])


def places_of(plate: Plate) -> Mapping[str, float]:
    """Where slots and bolts are on the flat sheet [m]; of slots that are a pair, left and right as one."""
    pattern, found = plate.pattern, {}
    edges, points = edges_of(pattern.outline.outer), pattern.points
    for pair, down, across in (
        (points.shoulder_slots, SHOULDER_DOWN, SHOULDER_ACROSS),
        (points.waist_slots, WAIST_DOWN, WAIST_ACROSS),
    ):
        told = edges.told(pair, "found")
        if _is_pair(told):
            found[down] = float(np.mean(told.down))
            found[across] = float(np.mean(np.abs(told.across)))
    found[BOLTS_DOWN] = float(np.mean(edges.told([points.upper_bolt, points.lower_bolt], "found").down))
    found[CROTCH_DOWN] = float(edges.told(points.crotch_slot, "found").down[0])
    return found


def _is_pair(told: Told) -> bool:
    return abs(told.down[0] - told.down[1]) < UNEVEN and abs(sum(told.across)) < UNEVEN
