"""What is odd but possible: said to the user in a sentence, never refused."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from scenarios.believable import lead_doubt, worn_doubt
from scenarios.breathing import GasMix
from scenarios.cylinders import Cylinders
from scenarios.loose_gear import StageCylinder
from scenarios.models import Scenario
from scenarios.parts_file import PartsFile
from scenarios.settings import Setting
from scenarios.suit import DrySuit, Wetsuit

BAR = 1e5
SIDE_HUNG: Final = "along the flank"
OVERFILL = 1.1  # a fill up to 10 % above the working pressure is left to the warmth of the gas


def scenario_notes(scenario: Scenario) -> tuple[str, ...]:
    """Sentences about what is doubtful in a scenario, but for the body, whose doubts come with its estimate."""
    return (*_about_gear(scenario), *_about_places(scenario), *_about_gas(scenario), *_about_water(scenario))


def parts_notes(parts: PartsFile) -> tuple[str, ...]:
    """Sentences about what is doubtful in a parts file."""
    return tuple(_about_parts(parts))


def settings_notes(document: Mapping[str, Any], settings: Sequence[Setting]) -> tuple[str, ...]:
    """A catalogue entry changed by ``--set`` while keys written for the former one stay in force."""
    notes = []
    for setting in settings:
        name = str(setting.path[0])
        table = document.get(name) if setting.path[1:] == ("catalogue",) else None
        kept = [f"{k} = {v!r}" for k, v in table.items() if k != "catalogue"] if isinstance(table, dict) else []
        if kept:
            notes.append(
                f"{name}: the entry was changed to {setting.value!r}, and {', '.join(kept)} from the file still "
                f"holds; write --set {name}={setting.value!r} to take the entry as it is."
            )
        if setting.path == ("plate", "file") and (own := _of_former_drawing(document, settings)):
            notes.append(
                f"plate: the drawing is now {setting.value!r}, and {', '.join(own)} from the file still holds."
            )
    return tuple(notes)


def _of_former_drawing(document: Mapping[str, Any], settings: Sequence[Setting]) -> list[str]:
    """What the file says of another drawing, as far as no setting says it anew."""
    table = document.get("plate")
    anew = {s.path[1] for s in settings if len(s.path) > 1 and s.path[0] == "plate"}
    if not isinstance(table, dict) or "plate" in {s.path[0] for s in settings if len(s.path) == 1}:
        return []
    return [f"{k} = {v!r}" for k, v in table.items() if k not in ("catalogue", "file") and k not in anew]


def _about_gear(scenario: Scenario) -> Iterator[str]:
    cylinders, wing, plate = scenario.cylinders, scenario.wing, scenario.plate
    if cylinders is not None and wing is not None and wing.cylinders != cylinders.arrangement:
        if wing.cylinders == "twin":
            yield (
                "A wing for a twin set is worn with a single cylinder: its bag lies differently than the model "
                "assumes."
            )
        else:
            yield (
                "A wing for a single cylinder is worn with a twin set: its bag lies differently than the model "
                "assumes."
            )
    if cylinders is not None and plate is None:
        yield "There are cylinders but no plate to hold them."
    if plate is not None and scenario.harness is None:
        yield "There is a plate but no harness; its webbing and buckles are left out."
    if cylinders is not None and wing is None:
        yield "There is no wing, so buoyancy is what the rest makes it."
    if isinstance(scenario.suit, DrySuit) and scenario.suit.undergarment is None:
        yield "The drysuit is worn without an undergarment: it holds next to no gas."
    sides = [g.side for g in scenario.gear if isinstance(g, StageCylinder) and g.hangs == SIDE_HUNG]
    if sides.count("left") > 1:
        yield 'More than one cylinder hangs along the left flank, in one place; is one of them side = "right"?'
    if sides.count("right") > 1:
        yield 'More than one cylinder hangs along the right flank, in one place; is one of them side = "left"?'
    yield from _about_suit_law(scenario)
    if cylinders is not None and cylinders.arrangement == "twin" and isinstance(scenario.suit, Wetsuit):
        yield "A twin set with a wetsuit: as the wetsuit thins with depth there may be no buoyancy but the wing's."


def _about_places(scenario: Scenario) -> Iterator[str]:
    for where, items in (("lead", scenario.lead), ("gear", scenario.gear)):
        for i, item in enumerate(items):
            if item.at is not None and (doubt := worn_doubt(item.at, scenario.diver.height)):
                yield f"{item.name or f'{where}.{i}'} {doubt}."
    if doubt := lead_doubt(math.fsum(item.mass for item in scenario.lead), scenario.diver.mass):
        yield doubt


def _about_suit_law(scenario: Scenario) -> Iterator[str]:
    suit = scenario.suit
    if not isinstance(suit, DrySuit):
        return
    if suit.fill_law == "garment" and {"softness", "free_room"} & suit.model_fields_set:
        yield 'The suit\'s softness and free_room are not used; they belong to fill_law = "logistic".'
    gas, room = suit.gas, suit.free_room
    if suit.fill_law == "logistic" and room is not None and not isinstance(gas, str) and gas > room:
        yield f"The suit is given {gas * 1e3:g} l of gas and has room for {room * 1e3:g} l: it vents the rest."


def _about_gas(scenario: Scenario) -> Iterator[str]:
    stages = [g for g in scenario.gear if isinstance(g, StageCylinder)]
    worn: list[Cylinders | StageCylinder] = [*([scenario.cylinders] if scenario.cylinders else []), *stages]
    for item in worn:
        what = item.name if isinstance(item, StageCylinder) else "The back cylinders"
        if item.fill > OVERFILL * item.working_pressure:
            yield (
                f"{what}: filled to {item.fill / BAR:.0f} bar, {item.fill / item.working_pressure - 1:.0%} above the "
                f"working pressure of {item.working_pressure / BAR:.0f} bar."
            )
        yield from _about_mix(what, item.gas)


def _about_mix(what: str, gas: GasMix) -> Iterator[str]:
    if gas.oxygen < 0.16:
        yield f"{what}: {gas.name} has {gas.oxygen:.0%} oxygen, too little at the surface; is it oxygen/helium?"


def _about_water(scenario: Scenario) -> Iterator[str]:
    water = scenario.water
    if water.salinity is None or water.kind == "brackish":
        return
    if (water.kind == "fresh") != (water.salinity < 1.0):
        yield f'The water is called "{water.kind}" and has a salinity of {water.salinity:.3g}; the salinity is used.'


def _about_parts(parts: PartsFile) -> Iterator[str]:
    for part in parts.part:
        if part.inertia is not None:
            diagonal = sorted(part.inertia[i][i] for i in range(3))
            if diagonal[2] > (diagonal[0] + diagonal[1]) * (1.0 + 1e-6):
                yield (
                    f"Part '{part.name}': one moment of inertia is larger than the other two together, which no "
                    "solid has; only settling uses it."
                )
