"""A rig from a parts file: everything as told, nothing estimated."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from meshes.solid import Solid
from scenarios.parts_file import GarmentCell, NumberPart, PartsFile, PartsSuit, PartsWing, SuitCell
from sim.assembly.assembled import Assembled
from sim.fill_laws import FillLaw, garment_law, logistic_law
from sim.rig import Part, SuitPocket, Water, WingPocket, rig_of
from sim.said import amount, note
from sim.statics.venting import vented_to_room, with_trace

LITRE: Final = 1e-3


def assembled_parts(file: PartsFile, name: str, notes: Sequence[str] = ()) -> Assembled:
    """Rig of a parts file. An overfull suit vents down to the room of its cells, and a note says so."""
    water = Water(file.water.density, file.water.gravity, file.depth.pressure)
    held = None if file.depth.held == "cm" else np.array(file.depth.held)
    told = list(notes)
    suit = None if file.suit is None else with_trace(_suit(file.suit), water)
    if suit is not None:
        given = suit.gas or 0.0
        suit, out = vented_to_room(suit)
        if out > 0.0:
            told.append(
                note(
                    "The suit was overfull: of {given} there is room for {room} at the held point's pressure, a "
                    "thousandth short of taut; {out} were vented.",
                    given=amount(given / LITRE, "l", 2),
                    room=amount((given - out) / LITRE, "l", 2),
                    out=amount(out / LITRE, "l", 2),
                )
            )
    wing = None if file.wing is None else _wing(file.wing)
    rig = rig_of([_part(p) for p in file.part], water, suit=suit, wing=wing, held=held)
    return Assembled(rig, file.title or name, notes=tuple(told))


def _part(told: NumberPart) -> Part:
    inertia = np.zeros((3, 3)) if told.inertia is None else np.array(told.inertia)
    solid = Solid(told.mass, np.array(told.cm), inertia, told.volume, np.array(told.cb))
    return Part(told.name, told.kind, solid)


def _suit(told: PartsSuit) -> SuitPocket:
    law, cells = _law(told)
    at = np.array([c.at for c in cells])
    return SuitPocket(at, law, told.gas, told.gas_density, told.gas_time)


def _law(told: PartsSuit) -> tuple[FillLaw, Sequence[SuitCell | GarmentCell]]:
    if told.garment is not None:
        loft, slack, preload = np.array([(c.loft, c.slack, c.preload) for c in told.garment]).T
        return garment_law(loft, slack, told.softness, preload), told.garment
    cells = told.cells or ()
    return logistic_law([c.least for c in cells], [c.most for c in cells], told.softness), cells


def _wing(told: PartsWing) -> WingPocket:
    law = logistic_law([0.0 for _ in told.cells], [c.most for c in told.cells], told.softness)
    at = np.array([c.at for c in told.cells])
    gas = None if told.gas == "neutral" else float(told.gas)
    return WingPocket(at, law, gas, told.gas_density, told.gas_time)
