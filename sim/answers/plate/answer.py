"""What a plate weighs and where everything on it is: ``hangflat.plate/1``."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np

from meshes.outline import Outline
from meshes.plate import edges
from meshes.plate.edges import edges_of
from scenarios.materials import Material
from sim.answers.plate.bench import BenchPlate
from sim.answers.plate.change.answer import ChangeTold
from sim.answers.plate.checks import PlateCheck, not_asked, plate_checks
from sim.answers.plate.design.answer import DesignTold
from sim.answers.plate.divers.answer import DiversTold
from sim.answers.plate.fixed import Balance, Fixed, ZoneTold, balance_of, told_fixed, told_zones
from sim.answers.plate.hold.told import HoldTold
from sim.answers.plate.suits.told import PeopleTold
from sim.assembly.drawn_plate import DrawnPlate, density_of, drawn_plate, plate_doubt
from sim.said import joined, known, word
from sim.telling.caution import CAUTION
from sim.telling.made_by import MadeBy
from sim.telling.place_on_plate import SOURCES, place_note
from sim.telling.record import Told
from sim.telling.written_file import WrittenFile

FORMAT: Final = "hangflat.plate/1"
PLATE_CAUTION: Final = word(
    "These are checks on a drawing, no certificate: what is made after it is proved by a test of its own."
)
CAUTIONS: Final = joined((known(PLATE_CAUTION), known(CAUTION)), " ")


@dataclass(frozen=True, kw_only=True)
class MadeOf:
    """What a plate is made of."""

    name: Annotated[str, Told("as it was written")]
    known_as: Annotated[str | None, Told("of the table of materials", none="it is not among them")]
    density: Annotated[float, Told("mean of the sheet", "kg/m^3")]
    stiffness: Annotated[float | None, Told("Young's modulus; of a sandwich that of its skins", "Pa", none="unknown")]
    poisson: Annotated[float | None, Told("Poisson's ratio", "1", none="unknown")]
    strength: Annotated[float | None, Told("stress at which it is spoilt", "Pa", none="unknown")]
    least_bend: Annotated[float | None, Told("least inner radius of a bend over the thickness", "1", none="unknown")]
    sources: Annotated[tuple[str, ...], Told("where each number of the table comes from")]


@dataclass(frozen=True, kw_only=True)
class PlaceOnPlate:
    """Where bolts or slots are: upper and lower, left and right."""

    name: Annotated[str, Told('"bolts", "shoulder slots", "waist slots" or "crotch slot"')]
    source: Annotated[str, Told('"stated", "found" in the drawing, "assumed", or "built" by the dimensions')]
    down: Annotated[tuple[float, ...], Told("of each, from the top edge", "m", key="from_top_edge_m")]
    across: Annotated[
        tuple[float, ...],
        Told("of each, from the middle line", "m", plus="to the diver's left", key="from_middle_line_m"),
    ]
    told: Annotated[str, Told("both in words")]


@dataclass(frozen=True, kw_only=True)
class BendTold:
    """A bend of the sheet."""

    at: Annotated[float, Told("on the flat sheet, from the middle line", "m", plus="to the diver's left")]
    angle: Annotated[float, Told("turn of what lies outside it", "deg", plus="toward the diver")]
    inner_radius: Annotated[float, Told("of the hollow side", "m")]
    source: Annotated[
        str,
        Told(
            '"built" by the dimensions, "stated", or "drawn", beside its line or in the solid; radius assumed or not'
        ),
    ]


@dataclass(frozen=True, kw_only=True, eq=False)
class PlateAnswer:
    """A plate as it was understood and as it comes out."""

    format: Annotated[str, Told(FORMAT)] = FORMAT
    made_by: Annotated[MadeBy | None, Told("by which program and from what", left_out=True)] = None
    title: Annotated[str, Told("of the file, or its name")]
    kind: Annotated[str, Told('"built" by its dimensions, "flat drawing" bent here, or "solid" as it is drawn')]
    file: Annotated[str | None, Told("the drawing's name", none="built by its dimensions")]
    unit: Annotated[str | None, Told("in which the drawing's numbers were taken", none="built by its dimensions")]
    material: Annotated[MadeOf, Told("what it is made of")]
    mass: Annotated[float, Told("of the bare plate", "kg")]
    weighed: Annotated[bool, Told("whether that was stated; else from volume and density")]
    volume: Annotated[float, Told("water that it displaces", "l")]
    water_density: Annotated[float, Told("of the water it is weighed in", "kg/m^3")]
    weight_in_water: Annotated[float, Told("there", "kg", plus="sinks")]
    area: Annotated[
        float,
        Told("of the flat sheet, holes not counted, in m^2; of a solid that is no even sheet as seen from behind"),
    ]
    thickness: Annotated[float | None, Told("of the sheet", "m", none="a solid that is no even sheet")]
    length: Annotated[float, Told("from top to bottom edge", "m")]
    flat_width: Annotated[float, Told("from side to side on the flat sheet", "m")]
    width: Annotated[float, Told("from side to side as worn", "m")]
    depth: Annotated[float, Told("from the foremost to the rearmost of it", "m")]
    channel_depth: Annotated[float, Told("of the channel along the middle", "m")]
    cm_down: Annotated[float, Told("of the centre of mass, from the top edge", "m", key="cm_from_top_edge_m")]
    cm_across: Annotated[
        float,
        Told(
            "of the centre of mass, from the middle line",
            "m",
            plus="to the diver's left",
            key="cm_from_middle_line_m",
        ),
    ]
    cm_behind: Annotated[
        float,
        Told(
            "of the centre of mass, from what lies against the back", "m", plus="away from it", key="cm_from_back_m"
        ),
    ]
    inertia: Annotated[
        tuple[tuple[float, float, float], ...],
        Told("tensor about the CM in kg m^2; x to the head, y to the diver's left, z away from the back"),
    ]
    places: Annotated[tuple[PlaceOnPlate, ...], Told("bolts and slots")]
    bends: Annotated[tuple[BendTold, ...], Told("of the sheet, from right to left")]
    zones: Annotated[tuple[ZoneTold, ...], Told("places of the sheet that have another thickness")]
    fixed: Annotated[tuple[Fixed, ...], Told("things fixed to it; mass and all else above are without them")]
    loaded: Annotated[Balance | None, Told("plate and all that is fixed to it", none="nothing is")]
    checks: Annotated[tuple[PlateCheck, ...], Told("whether it can be made and used as drawn")]
    bend_lines: Annotated[
        tuple[float, ...], Told("drawn in the file, from the middle line", "m", plus="to the diver's left")
    ]
    assumed: Annotated[tuple[str, ...], Told("what nobody stated and no file says, in words")]
    doubts: Annotated[tuple[str, ...], Told("what may be wrong with it, as sentences")]
    read: Annotated[tuple[str, ...], Told("what was skipped or mended in the file, as sentences")]
    notes: Annotated[tuple[str, ...], Told("sentences on the file")]
    caution: Annotated[str, Told("what this is not")] = CAUTIONS
    exported: Annotated[
        tuple[WrittenFile, ...] | None, Told("files for other programs, where any were asked for", left_out=True)
    ] = None
    drawing: Annotated[WrittenFile | None, Told("measured, at full size, where asked for", left_out=True)] = None
    tiles: Annotated[WrittenFile | None, Told("the same over small pages, where asked for", left_out=True)] = None
    picture: Annotated[WrittenFile | None, Told("the picture, where one was asked for", left_out=True)] = None
    people: Annotated[PeopleTold | None, Told("whom it suits, where that was asked for", left_out=True)] = None
    hold: Annotated[HoldTold | None, Told("whether it holds when it is carried, likewise", left_out=True)] = None
    divers: Annotated[DiversTold | None, Told("what it does to divers, where that was asked for", left_out=True)] = (
        None
    )
    change: Annotated[ChangeTold | None, Told("what to change, where that was asked for", left_out=True)] = None
    design: Annotated[DesignTold | None, Told("a better one, where that was asked for", left_out=True)] = None


def plate_answer(bench: BenchPlate) -> PlateAnswer:
    """What is to be said of a plate on the bench."""
    plate, table = bench.plate, bench.table
    drawn = drawn_plate(table, plate)
    flat = edges_of(plate.pattern.outline.outer)
    solid, inertia = plate.solid, plate.solid.inertia
    low, high = np.ptp(solid.mesh.vertices[:, 2]) if solid.mesh else 0.0, float(plate.outline[:, 0].max())
    middle = (float(plate.outline[:, 1].min()) + float(plate.outline[:, 1].max())) / 2
    return PlateAnswer(
        title=bench.name,
        kind=word("built") if drawn is None else word("solid") if drawn.reading.is_solid else word("flat drawing"),
        file=None if drawn is None else drawn.reading.file,
        unit=None if drawn is None else drawn.reading.unit.words,
        material=_made_of(bench),
        mass=solid.mass,
        weighed=table.mass is not None,
        volume=solid.volume,
        water_density=bench.water,
        weight_in_water=solid.mass - bench.water * solid.volume,
        area=area_of(plate.pattern.outline),
        thickness=plate.thickness or None,
        length=flat.length,
        flat_width=flat.width,
        width=plate.width,
        depth=float(low),
        channel_depth=plate.channel_depth,
        cm_down=high - float(solid.cm[0]),
        cm_across=float(solid.cm[1]) - middle,
        cm_behind=float(solid.cm[2]),
        inertia=tuple((float(a), float(b), float(c)) for a, b, c in inertia),
        places=_places(bench, flat, drawn),
        bends=_bends(bench, flat, drawn),
        zones=told_zones(plate, flat),
        fixed=told_fixed(plate, bench.water),
        loaded=balance_of(plate, plate.loaded, bench.water) if plate.additions else None,
        checks=plate_checks(bench),
        bend_lines=() if drawn is None else drawn.reading.bend_lines,
        assumed=() if drawn is None else drawn.assumed,
        doubts=() if drawn is None else tuple(plate_doubt(d) for d in drawn.reading.doubts),
        read=(*(() if drawn is None else drawn.reading.notes), *not_asked(bench)),
        notes=bench.read.notes,
    )


def area_of(outline: Outline) -> float:
    """Area of an outline less its holes [m^2]."""
    import shapely

    return float(shapely.Polygon(outline.outer, outline.holes).area)


def _made_of(bench: BenchPlate) -> MadeOf:
    known, density = bench.material, density_of(bench.table)
    if bench.table.mass is not None:
        density = bench.plate.solid.mass / bench.plate.solid.volume
    return MadeOf(
        name=bench.table.material,
        known_as=known.name if known else None,
        density=density,
        stiffness=known.stiffness if known else None,
        poisson=known.poisson if known else None,
        strength=known.strength if known else None,
        least_bend=known.least_bend if known else None,
        sources=_sources(known),
    )


def _sources(known: Material | None) -> tuple[str, ...]:
    return () if known is None else tuple(f"{key}: {source}" for key, source in known.sources.items())


def _places(bench: BenchPlate, flat: edges.Edges, drawn: DrawnPlate | None) -> tuple[PlaceOnPlate, ...]:
    points = bench.plate.pattern.points
    if drawn is None:
        bolts = np.array([points.upper_bolt, points.lower_bolt])
        named = {
            "bolts": flat.told(bolts, "found"),
            "shoulder_slots": flat.told(points.shoulder_slots, "found"),
            "waist_slots": flat.told(points.waist_slots, "found"),
            "crotch_slot": flat.told(points.crotch_slot, "found"),
        }
    else:
        named = dict(drawn.reading.places)
    return tuple(
        PlaceOnPlate(
            name=name.replace("_", " "),
            source=word("built") if drawn is None else SOURCES[place.source],
            down=place.down,
            across=place.across,
            told=place_note(place),
        )
        for name, place in named.items()
    )


def _bends(bench: BenchPlate, flat: edges.Edges, drawn: DrawnPlate | None) -> tuple[BendTold, ...]:
    half = bench.plate.thickness / 2

    def source(at: float) -> str:
        if drawn is None:
            return word("built")
        bend = min(drawn.bends, key=lambda b: abs(b.offset - abs(at)))
        if bend.radius_from == "stated":
            return word("drawn") if bend.drawn else word("stated")
        return word("drawn, radius assumed") if bend.drawn else word("stated, radius assumed")

    return tuple(
        BendTold(
            at=bend.at - flat.middle,
            angle=-bend.angle,
            inner_radius=bend.radius - half,
            source=source(bend.at - flat.middle),
        )
        for bend in sorted(bench.plate.pattern.bends, key=lambda b: b.at)
    )
