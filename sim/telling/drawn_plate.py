"""What is told first of a plate that comes from a drawing: the object ``drawn_plate`` in JSON, and lines of text."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from meshes.plate.edges import Told
from sim.assembly.assembled import Assembled
from sim.assembly.drawn_plate import plate_doubt
from sim.telling.words import rows

Object = Mapping[str, Any]
NO_CHANNEL: Final = 5e-5  # m, below the shown digits
PLACES: Final = ("bolts", "shoulder_slots", "waist_slots", "crotch_slot")


def drawn_plate_json(assembled: Assembled, taken: Sequence[str] = ()) -> dict[str, Any] | None:
    """The object, its fields as in ``fit_contract.DRAWN_PLATE``; None for a plate that no drawing shows.

    taken : keys that were not given with the drawing and are those of the file's own plate
    """
    drawn = assembled.drawn
    if drawn is None:
        return None
    reading, water = drawn.reading, assembled.rig.water
    assumed = [f"{', '.join(taken)}, as of the plate of the file"] if taken else []
    return {
        "file": reading.file,
        "solid": reading.is_solid,
        "flat_without_bends": drawn.is_flat,
        "unit": reading.unit.name,
        "unit_as_the_file_states": reading.unit.by_file,
        "unit_told": reading.unit.words,
        "mass_kg": drawn.mass,
        "weighed": drawn.weighed,
        "volume_l": 1e3 * drawn.volume,
        "weight_in_water_kg": drawn.mass - water.density * drawn.volume,
        "material": drawn.material,
        "density_kg_m3": drawn.density,
        "thickness_m": drawn.thickness,
        "length_m": drawn.length,
        "drawn_width_m": reading.edges.width,
        "width_m": drawn.width,
        "channel_depth_m": drawn.channel_depth,
        **{name: _place_json(reading.places[name]) for name in PLACES},
        "bends": [
            {"offset_m": b.offset, "angle_deg": math.degrees(b.angle), "radius_m": b.radius} for b in drawn.bends
        ],
        "bend_lines_m": list(reading.bend_lines),
        "assumed": [*assumed, *drawn.assumed],
        "doubts": [plate_doubt(doubt) for doubt in reading.doubts],
        "read": list(reading.notes),
    }


def _place_json(place: Told) -> dict[str, Any]:
    return {
        "source": place.source,
        "from_top_edge_m": list(place.down),
        "from_middle_line_m": list(place.across),
        "told": place.words,
    }


def drawn_plate_lines(drawn: Object | None, plate: str = "Plate") -> list[str]:
    """Lines for the head of a report, an empty one last; none at all without a drawing."""
    if not drawn:
        return []
    flat = ", FLAT: without bends" if drawn["flat_without_bends"] else ""
    name = f"{plate}, as drawn" if drawn["file"] in plate else f"{plate}, as drawn in {drawn['file']}"
    return [*rows(f"{name}{flat}", _rows(drawn))[1:], ""]


def _rows(drawn: Object) -> Iterator[tuple[str, str]]:
    for doubt in drawn["doubts"]:
        yield "CHECK", _without_subject(doubt)
    weight = drawn["weight_in_water_kg"]
    heavy = f"{weight:.2f} kg" if weight >= 0.0 else f"floats with {-weight:.2f} kg"
    yield "mass", f"{drawn['mass_kg']:.2f} kg{' as weighed' if drawn['weighed'] else ''}; in this water {heavy}"
    thick = f"{_mm(drawn['thickness_m'])} thick, of " if drawn["thickness_m"] is not None else ""
    yield (
        "made",
        f"{thick}{drawn['material']}" + ("" if drawn["weighed"] else f", {drawn['density_kg_m3']:.0f} kg/m^3"),
    )
    deep = drawn["channel_depth_m"]
    channel = f"channel {_mm(deep)} deep" if deep > NO_CHANNEL else "no channel"
    yield "size", f"{_mm(drawn['length_m'])} long, {_width(drawn)}, {channel}"
    yield "unit", drawn["unit_told"]
    for name in PLACES:
        yield name.replace("_", " "), f"{drawn[name]['source']}: {drawn[name]['told']}"
    bends = "; ".join(_bend(b) for b in drawn["bends"])
    if bends:
        yield "bends", f"stated: {bends}"
    if drawn["assumed"]:
        yield "assumed", "; ".join(drawn["assumed"])
    if drawn["read"]:
        yield "read", "; ".join(drawn["read"])


def _width(drawn: Object) -> str:
    if drawn["bends"]:
        return f"{_mm(drawn['drawn_width_m'])} wide as drawn, {_mm(drawn['width_m'])} bent"
    return f"{_mm(drawn['width_m'])} wide"


def _bend(bend: Object) -> str:
    way = "toward" if bend["angle_deg"] >= 0.0 else "away from"
    return (
        f"{abs(bend['angle_deg']):.1f} degrees {way} the diver at {_mm(bend['offset_m'])} from the middle line, "
        f"radius {_mm(bend['radius_m'])}"
    )


def notes_not_told(report: Object, drawn: Object | None) -> list[str]:
    """The notes of a report less those that its plate's lines say already."""
    told = drawn["doubts"] if drawn else ()
    return [note for note in report["notes"] if note not in told]


def _without_subject(doubt: str) -> str:
    return doubt.partition(": ")[2]


def _mm(length: float) -> str:
    return f"{1e3 * length:.1f} mm"
