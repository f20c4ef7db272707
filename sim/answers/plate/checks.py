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
from meshes.plate.sheet import Bend
from meshes.plate.solid import heights_around
from scenarios.materials import Material
from sim.answers.plate import rules
from sim.answers.plate.bench import BenchPlate
from sim.said import amount, known, note, word
from sim.telling.record import Told

THICKNESSES: Final = note("{times:g} thicknesses: common practice in cutting sheet", times=rules.WEB)
BEFORE_BENDS: Final = note(
    "{times:g} thicknesses before the bend: common practice in bending metal", times=rules.HOLE_TO_BEND
)
SLOT, WIDE, TO_BEND, TO_EDGE = word("length"), word("width"), word("sheet to the bend"), word("sheet to the edge")
HOLE, RADIUS = word("hole"), word("inner radius")


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


def _is_bent_cold(material: Material | None) -> bool:
    """Whether bends draw holes out of shape: an unknown material's may."""
    return material is None or material.kind == "metal"


def is_rolled(bend: Bend, thickness: float) -> bool:
    """Whether a bend is so wide that it draws no hole out of shape."""
    return bool(bend.radius >= rules.ROLLED * thickness > 0.0)


def not_asked(bench: BenchPlate) -> tuple[str, ...]:
    """Why holes are not held against a wide bend, where there is one in metal."""
    plate = bench.plate
    wide = [bend.radius for bend in plate.pattern.bends if is_rolled(bend, plate.thickness)]
    if not (wide and _is_bent_cold(bench.material)):
        return ()
    return (
        note(
            "bends of {times:g} thicknesses or more in radius are not held against holes: the narrowest of them, of "
            "{radius}, stretches the sheet's faces by {percent:.1f} %, too little to draw a hole out of shape",
            times=rules.ROLLED,
            radius=amount(1e3 * min(wide), "mm", 1),
            percent=50.0 * plate.thickness / min(wide),
        ),
    )


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
        for name, place in ((word("upper bolt"), points.upper_bolt), (word("lower bolt"), points.lower_bolt)):
            yield from self._bolt(name, place)
        for name, place in self._slots():
            yield from self._slot(name, place)
        yield from self._webs()
        yield from self._bends()

    def _slots(self) -> Iterator[tuple[str, Floats]]:
        points = self.plate.pattern.points
        yield word("left shoulder slot"), points.shoulder_slots[0]
        yield word("right shoulder slot"), points.shoulder_slots[1]
        yield word("left waist slot"), points.waist_slots[0]
        yield word("right waist slot"), points.waist_slots[1]
        yield word("crotch slot"), points.crotch_slot

    def _spacing(self, upper: Floats, lower: Floats) -> PlateCheck:
        least, most = rules.BOLT_SPACING - rules.SPACING_PLAY, rules.BOLT_SPACING + rules.SPACING_PLAY
        apart = float(np.linalg.norm(upper - lower))
        source = word("11 in: common practice for twin bands")
        return self._held(word("bolts"), word("apart"), apart, least, most, source)

    def _bolt(self, name: str, place: Floats) -> Iterator[PlateCheck]:
        number = self.openings.at(place, rules.NO_HOLE)
        least, most = rules.BOLT_HOLE
        source = word("clears M8 or 5/16 in: ISO 273")
        if number is None:
            yield self._missing(name, HOLE, least, most, source, word("no hole is drawn there"), place)
            return
        hole = self.openings.measures[number]
        if not hole.roundness > 0.96:  # as a bolt hole is told from a slot
            yield self._missing(name, HOLE, least, most, source, word("the hole there is not round"), place)
        else:
            wide = (least - rules.HOLE_PLAY, most + rules.HOLE_PLAY)
            yield self._held(name, HOLE, hole.length, least, most, source, place, allowed=wide)
        gap = self.openings.to_edge(number)
        wanted = rules.HOLE_TO_EDGE * hole.length
        source = note("{times:g} hole diameters: EN 1993-1-8, table 3.3", times=rules.HOLE_TO_EDGE)
        yield self._held(
            name, word("middle to edge"), gap.width + hole.length / 2, wanted, None, source, gap.ends.mean(axis=0)
        )
        yield from self._from_bend(name, number)

    def _slot(self, name: str, place: Floats) -> Iterator[PlateCheck]:
        number = self.openings.at(place, rules.NO_HOLE)
        least, most = (rules.WEBBING + more for more in rules.SLOT_LONGER)
        source = note("webbing {mm} wide: common practice", mm=amount(1e3 * rules.WEBBING, "mm", 0))
        if number is None or self.openings.measures[number].is_bolt_hole:
            yield self._missing(name, SLOT, least, most, source, word("no slot is drawn there"), place)
            return
        slot = self.openings.measures[number]
        yield self._held(name, SLOT, slot.length, least, most, source, place)
        yield self._held(name, WIDE, slot.width, *rules.SLOT_WIDTH, word("webbing laid double: assumed"), place)
        gap, source = self.openings.to_edge(number), THICKNESSES
        wanted = rules.WEB * self.thickness
        yield self._held(name, TO_EDGE, gap.width, wanted, None, source, gap.ends.mean(axis=0))
        yield from self._from_bend(name, number)

    def _from_bend(self, name: str, number: int) -> Iterator[PlateCheck]:
        away = self.openings.to_bends(
            number, [b for b in self.plate.pattern.bends if not is_rolled(b, self.thickness)]
        )
        if away is not None and _is_bent_cold(self.bench.material):
            wanted = rules.HOLE_TO_BEND * self.thickness
            place = self.openings.measures[number].centre
            if away < 0.0:
                why = word("the bend runs through it")
                yield self._missing(name, TO_BEND, wanted, None, BEFORE_BENDS, why, place)
            else:
                yield self._held(name, TO_BEND, away, wanted, None, BEFORE_BENDS, place)

    def _webs(self) -> Iterator[PlateCheck]:
        wanted, source = rules.WEB * self.thickness, THICKNESSES
        for of, what, gap in (
            (word("any two openings"), word("sheet between"), self.openings.narrowest()),
            (word("any opening"), TO_EDGE, self.openings.nearest_to_edge()),
        ):
            if gap is not None:
                yield self._held(of, what, gap.width, wanted, None, source, gap.ends.mean(axis=0))

    def _bends(self) -> Iterator[PlateCheck]:
        made_of, half = self.bench.material, self.plate.thickness / 2
        for bend in sorted(self.plate.pattern.bends, key=lambda b: (round(abs(b.at), 6), -b.at)):
            out, inner = amount(1e3 * abs(bend.at - self.edges.middle), "mm", 1), bend.radius - half
            is_left = bend.at > self.edges.middle
            name = note("left bend {at} out", at=out) if is_left else note("right bend {at} out", at=out)
            place = np.array([self.edges.top, bend.at])
            if made_of is None:
                why = word("the material's least bend is not known")
                yield self._missing(name, RADIUS, None, None, "", why, place, measured=inner)
                continue
            wanted = made_of.least_bend * self.plate.thickness
            source = _least_bend(made_of)
            yield self._held(name, RADIUS, inner, wanted, None, source, place)

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


def _least_bend(material: Material) -> str:
    """Where the least inner radius of a bend comes from."""
    name, source = known(material.name), known(material.sources["least_bend"])
    if material.least_bend == 1.0:
        return note("1 thickness of {material}: {source}", material=name, source=source)
    return note(
        "{times:g} thicknesses of {material}: {source}", times=material.least_bend, material=name, source=source
    )
