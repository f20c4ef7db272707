"""What could be done with the lead: moved, all of it or a piece, less or more of it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, get_args

from scenarios.loose_gear import Lead, LeadPlace
from scenarios.models import Scenario
from sim.answers.change.candidate import Candidate

PIECES: Final = (1.0, 2.0)  # kg that are moved at a time, where there is more
PIECE: Final = 1.0  # kg that are added or left off at a time
LEAST_LEFT: Final = 0.1  # kg of an entry of which a piece is taken
MOST_ON_ANKLES: Final = 2.0  # kg on both together: two straps of 1 kg are the heaviest in use (common practice)
ADDED: Final = "another entry of lead"  # knob of changes that append to the file's list of lead
OFF_THE_BELT: Final = "Lead on the belt can be dropped in need; where it is moved to it hardly can (common practice)."
WHERE: Final[dict[LeadPlace, tuple[str, str]]] = {  # the place, and how lead is there
    "belt": ("the belt", "on"),
    "plate channel": ("the plate's channel", "in"),
    "tail": ("the plate's tail", "at"),
    "between cylinders": ("the gap between the cylinders", "in"),
    "upper band": ("the upper band", "at"),
    "ankles": ("the ankles", "on"),
}
SAME: Final = 1e-6


def lead_changes(scenario: Scenario) -> Iterator[Candidate]:
    """Every entry that lies at a named place; lead placed by a point stays there."""
    after = len(scenario.lead)
    places = [p for p in get_args(LeadPlace) if _can_hold(scenario, p)]
    free = MOST_ON_ANKLES - sum(lead.mass for lead in scenario.lead if lead.place == "ankles")
    for number, lead in enumerate(scenario.lead):
        if lead.place is None:
            continue
        for place in places:
            if place != lead.place:
                yield from _moved(number, lead, lead.place, place, after, free)
        if lead.mass > PIECE + LEAST_LEFT:
            words = f"{PIECE:g} kg less {_name(lead)} {_at(lead.place)}"
            less = (f"lead.{number}.mass={lead.mass - PIECE:.9g} kg",)
            yield Candidate("lead", frozenset({f"lead {number}"}), words, less)
    for place in places:
        if place != "ankles" or free + SAME >= PIECE:
            added = (f"lead.{after}.mass={PIECE:g} kg", f"lead.{after}.place={place}")
            yield Candidate("lead", _knobs(ADDED, place), f"{PIECE:g} kg more lead {_at(place)}", added)


def _moved(
    number: int, lead: Lead, start: LeadPlace, place: LeadPlace, after: int, free: float
) -> Iterator[Candidate]:
    """All of an entry in another place, and pieces of it; ``free`` : what the ankles can still bear [kg]."""
    knob, way = f"lead {number}", f"{_name(lead)} from {WHERE[start][0]} to {WHERE[place][0]}"
    most = free + SAME if place == "ankles" else float("inf")
    note = OFF_THE_BELT if start == "belt" else ""
    if lead.mass <= most:
        words = f"{lead.mass:.3g} kg of {way}"
        yield Candidate("lead", _knobs(knob, place), words, (f"lead.{number}.place={place}",), note=note)
    for piece in PIECES:
        if piece <= most and lead.mass > piece + LEAST_LEFT:
            settings = (
                f"lead.{number}.mass={lead.mass - piece:.9g} kg",
                f"lead.{after}.mass={piece:g} kg",
                f"lead.{after}.place={place}",
            )
            yield Candidate("lead", _knobs(knob, place) | {ADDED}, f"{piece:g} kg of {way}", settings, note=note)


def _knobs(knob: str, place: LeadPlace) -> frozenset[str]:
    """Only one change at a time puts lead on the ankles, which bear little."""
    return frozenset({knob, "ankles"} if place == "ankles" else {knob})


def _name(lead: Lead) -> str:
    return lead.name or "lead"


def _at(place: LeadPlace) -> str:
    name, lies = WHERE[place]
    return f"{lies} {name}"


def _can_hold(scenario: Scenario, place: LeadPlace) -> bool:
    if place in ("between cylinders", "upper band"):
        twin = scenario.cylinders is not None and scenario.cylinders.count > 1
        return scenario.plate is not None and scenario.cylinders is not None and (twin or place == "upper band")
    if place == "plate channel":
        return scenario.plate is not None and not scenario.plate.is_flat
    return place != "tail" or scenario.plate is not None
