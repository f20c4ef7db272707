"""Whether a plate can be made and used as drawn: bolts, slots, what is left between openings, bends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np

from meshes.mesh import Floats
from meshes.plate.back_plate import Plate
from meshes.plate.distances import Openings, openings_of
from meshes.plate.edges import Edges, edges_of
from meshes.plate.solid import heights_around
from sim.answers.plate import rules
from sim.answers.plate.bench import BenchPlate
from sim.telling.record import Told

THICKNESSES: Final = f"{rules.WEB:g} thicknesses: common practice in cutting sheet"
BEFORE_BENDS: Final = f"{rules.HOLE_TO_BEND:g} thicknesses before the bend: common practice in bending metal"


@dataclass(frozen=True, kw_only=True, eq=False)
class PlateCheck:
    """One thing that a plate is held against."""

    of: Annotated[str, Told("what is held against it")]
    what: Annotated[str, Told("which of its measures")]
    measured: Annotated[float | None, Told("of the plate", "m", none="it cannot be measured, or there is none")]
    least: Annotated[float | None, Told("allowed", "m", none="no lower limit")]
    most: Annotated[float | None, Told("allowed", "m", none="no upper limit")]
    passes: Annotated[bool | None, Told("whether it does", none="it cannot be said")]
    where: Annotated[
        tuple[float, ...] | None,
        Told(
            "on the flat sheet: from the top edge, and from the middle line, plus to the diver's left",
            "m",
            none="no one place",
        ),
    ]
    source: Annotated[str, Told("of the limit")]
    missing: Annotated[str, Told("why nothing is measured; empty where it is")] = ""


def plate_checks(bench: BenchPlate) -> tuple[PlateCheck, ...]:
    """Every check, those of one thing together."""
    plate = bench.plate
    outline = plate.pattern.outline
    return tuple(_Laid(bench, plate, openings_of(outline), edges_of(outline.outer), thickness_of(plate)).all())


def thickness_of(plate: Plate) -> float:
    """Of the sheet [m]; of a solid, beside its upper bolt."""
    if plate.thickness or plate.solid.mesh is None:
        return plate.thickness
    heights = heights_around(plate.solid.mesh, plate.upper_bolt[:2])
    return 0.0 if heights is None else heights[1] - heights[0]


@dataclass(frozen=True, eq=False)
class _Laid:
    """A plate laid out to be measured; ``edges`` of its flat sheet, from which places are told."""

    bench: BenchPlate
    plate: Plate
    openings: Openings
    edges: Edges
    thickness: float

    def all(self) -> Iterator[PlateCheck]:
        points = self.plate.pattern.points
        yield self._spacing(points.upper_bolt, points.lower_bolt)
        for name, place in (("upper bolt", points.upper_bolt), ("lower bolt", points.lower_bolt)):
            yield from self._bolt(name, place)
        for name, place in self._slots():
            yield from self._slot(name, place)
        yield from self._webs()
        yield from self._bends()

    def _slots(self) -> Iterator[tuple[str, Floats]]:
        points = self.plate.pattern.points
        for name, pair in (("shoulder slot", points.shoulder_slots), ("waist slot", points.waist_slots)):
            yield f"left {name}", pair[0]
            yield f"right {name}", pair[1]
        yield "crotch slot", points.crotch_slot

    def _spacing(self, upper: Floats, lower: Floats) -> PlateCheck:
        least, most = rules.BOLT_SPACING - rules.SPACING_PLAY, rules.BOLT_SPACING + rules.SPACING_PLAY
        apart = float(np.linalg.norm(upper - lower))
        return self._held("bolts", "apart", apart, least, most, "11 in: common practice for twin bands")

    def _bolt(self, name: str, place: Floats) -> Iterator[PlateCheck]:
        number = self.openings.at(place, rules.NO_HOLE)
        least, most = rules.BOLT_HOLE
        source = "clears M8 or 5/16 in: ISO 273"
        if number is None:
            yield self._missing(name, "hole", least, most, source, "no hole is drawn there", place)
            return
        hole = self.openings.measures[number]
        if not hole.roundness > 0.96:  # as a bolt hole is told from a slot
            yield self._missing(name, "hole", least, most, source, "the hole there is not round", place)
        else:
            wide = (least - rules.HOLE_PLAY, most + rules.HOLE_PLAY)
            yield self._held(name, "hole", hole.length, least, most, source, place, allowed=wide)
        gap = self.openings.to_edge(number)
        wanted = rules.HOLE_TO_EDGE * hole.length
        source = f"{rules.HOLE_TO_EDGE:g} hole diameters: EN 1993-1-8, table 3.3"
        yield self._held(
            name, "middle to edge", gap.width + hole.length / 2, wanted, None, source, gap.ends.mean(axis=0)
        )
        yield from self._from_bend(name, number)

    def _slot(self, name: str, place: Floats) -> Iterator[PlateCheck]:
        number = self.openings.at(place, rules.NO_HOLE)
        least, most = (rules.WEBBING + more for more in rules.SLOT_LONGER)
        source = f"webbing {1e3 * rules.WEBBING:.0f} mm wide: common practice"
        if number is None or self.openings.measures[number].is_bolt_hole:
            yield self._missing(name, "length", least, most, source, "no slot is drawn there", place)
            return
        slot = self.openings.measures[number]
        yield self._held(name, "length", slot.length, least, most, source, place)
        yield self._held(name, "width", slot.width, *rules.SLOT_WIDTH, "webbing laid double: assumed", place)
        gap, source = self.openings.to_edge(number), THICKNESSES
        wanted = rules.WEB * self.thickness
        yield self._held(name, "sheet to the edge", gap.width, wanted, None, source, gap.ends.mean(axis=0))
        yield from self._from_bend(name, number)

    def _from_bend(self, name: str, number: int) -> Iterator[PlateCheck]:
        away = self.openings.to_bends(number, self.plate.pattern.bends)
        known = self.bench.material
        if away is not None and (known is None or known.kind == "metal"):
            wanted = rules.HOLE_TO_BEND * self.thickness
            place = self.openings.measures[number].centre
            yield self._held(name, "sheet to the bend", away, wanted, None, BEFORE_BENDS, place)

    def _webs(self) -> Iterator[PlateCheck]:
        wanted, source = rules.WEB * self.thickness, THICKNESSES
        for of, gap in (
            ("any two openings", self.openings.narrowest()),
            ("any opening", self.openings.nearest_to_edge()),
        ):
            if gap is not None:
                what = "sheet to the edge" if of == "any opening" else "sheet between"
                yield self._held(of, what, gap.width, wanted, None, source, gap.ends.mean(axis=0))

    def _bends(self) -> Iterator[PlateCheck]:
        known, half = self.bench.material, self.plate.thickness / 2
        for bend in sorted(self.plate.pattern.bends, key=lambda b: (round(abs(b.at), 6), -b.at)):
            side = "left" if bend.at > self.edges.middle else "right"
            name, inner = f"{side} bend {1e3 * abs(bend.at - self.edges.middle):.1f} mm out", bend.radius - half
            place = np.array([self.edges.top, bend.at])
            if known is None:
                why = "the material's least bend is not known"
                yield self._missing(name, "inner radius", None, None, "", why, place, measured=inner)
                continue
            wanted = known.least_bend * self.plate.thickness
            many = "" if known.least_bend == 1.0 else "es"
            source = f"{known.least_bend:g} thickness{many} of {known.name}: {known.sources['least_bend']}"
            yield self._held(name, "inner radius", inner, wanted, None, source, place)

    def _held(
        self, of: str, what: str, measured: float, least: float | None, most: float | None, source: str,
        place: Floats | None = None, *, allowed: tuple[float, float] | None = None,
    ) -> PlateCheck:  # fmt: skip
        low, high = allowed or (least, most)
        passes = bool((low is None or measured >= low - 1e-9) and (high is None or measured <= high + 1e-9))
        return PlateCheck(
            of=of, what=what, measured=measured, least=least, most=most, passes=passes, where=self._told(place),
            source=source,
        )  # fmt: skip

    def _missing(
        self, of: str, what: str, least: float | None, most: float | None, source: str, why: str, place: Floats,
        measured: float | None = None,
    ) -> PlateCheck:  # fmt: skip
        passes = None if measured is not None else False
        return PlateCheck(
            of=of, what=what, measured=measured, least=least, most=most, passes=passes, where=self._told(place),
            source=source, missing=why,
        )  # fmt: skip

    def _told(self, place: Floats | None) -> tuple[float, ...] | None:
        return None if place is None else (self.edges.top - float(place[0]), float(place[1]) - self.edges.middle)
