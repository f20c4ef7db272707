"""What was read off a plate's drawing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from meshes.drawings.shape_file import FileUnit
from meshes.plate.edges import Edges, Told


@dataclass(frozen=True)
class DrawnBend:
    """A bend as the drawing says it: from the middle line [m], turn toward the diver [rad], inner radius [m]."""

    at: float
    angle: float
    inner_radius: float | None


@dataclass(frozen=True, eq=False)
class PlateReading:
    """A plate as its file draws it; all distances [m] from its top edge and its middle line.

    file : its name;  unit : of its numbers;  edges : its extent, of a flat drawing before it is bent
    is_solid : whether the file holds a finished solid, and not a flat outline
    places : "bolts" (upper, lower), "shoulder_slots", "waist_slots" (left, right) and "crotch_slot"
    bend_lines : drawn ones, from the middle line, plus to the diver's left, rising
    drawn_bends : those of which the drawing says how they turn
    doubts : what may be wrong, as sentences;  notes : what was skipped or mended
    """

    file: str
    unit: FileUnit
    edges: Edges
    is_solid: bool
    places: Mapping[str, Told]
    bend_lines: tuple[float, ...] = ()
    drawn_bends: tuple[DrawnBend, ...] = ()
    doubts: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
