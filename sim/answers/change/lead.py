"""What could be done with the lead: moved, all of it or a piece, less or more of it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, get_args

from scenarios.loose_gear import Lead, LeadPlace
from scenarios.models import Scenario
from sim.answers.change.candidate import Candidate
from sim.answers.weigh.ballast import can_hold

PIECES: Final = (1.0, 2.0)  # kg that are moved at a time, where there is more
PIECE: Final = 1.0  # kg that are added or left off at a time
LEAST_LEFT: Final = 0.1  # kg of an entry of which a piece is taken
MOST_ON_ANKLES: Final = 2.0  # kg on both together: two straps of 1 kg are the heaviest in use (common practice)
ADDED: Final = "another entry of lead"  # knob of changes that append to the file's list of lead
TIRING: Final = "Weight on the ankles is moved with every kick, which tires the legs (common practice)."
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
    places = [p for p in get_args(LeadPlace) if can_hold(scenario, p)]
    free = MOST_ON_ANKLES - sum(lead.mass for lead in scenario.lead if lead.place == "ankles")
    for number, lead in enumerate(scenario.lead):
        if lead.place is None:
            continue
        for place in places:
            if place != lead.place:
                yield from _moved(number, lead, lead.place, place, after, free)
    yield from (off for _, off in taken_off_lead(scenario))
    yield from (added for _, added in added_lead(scenario))


def taken_off_lead(scenario: Scenario) -> Iterator[tuple[LeadPlace, Candidate]]:
    """A kilogram less of every entry that has more."""
    for number, lead in enumerate(scenario.lead):
        if lead.place is not None and lead.mass > PIECE + LEAST_LEFT:
            words = f"{PIECE:g} kg less {name_of(lead)} {at_place(lead.place)}"
            less = (f"lead.{number}.mass={lead.mass - PIECE:.9g} kg",)
            said = take_off(PIECE, lead, lead.place)
            yield lead.place, Candidate("lead", frozenset({f"lead {number}"}), words, less, said)


def added_lead(scenario: Scenario) -> Iterator[tuple[LeadPlace, Candidate]]:
    """A kilogram more in every place that can hold it."""
    after = len(scenario.lead)
    free = MOST_ON_ANKLES - sum(lead.mass for lead in scenario.lead if lead.place == "ankles")
    for place in get_args(LeadPlace):
        if can_hold(scenario, place) and (place != "ankles" or free + SAME >= PIECE):
            added = (f"lead.{after}.mass={PIECE:g} kg", f"lead.{after}.place={place}")
            words = f"{PIECE:g} kg more lead {at_place(place)}"
            yield place, Candidate("lead", _knobs(ADDED, place), words, added, f"Put {words}.", cost=cost_of(place))


def _moved(
    number: int, lead: Lead, start: LeadPlace, place: LeadPlace, after: int, free: float
) -> Iterator[Candidate]:
    """All of an entry in another place, and pieces of it; ``free`` : what the ankles can still bear [kg]."""
    cost = cost_of(place)
    knob, way = f"lead {number}", f"{name_of(lead)} from {WHERE[start][0]} to {WHERE[place][0]}"
    most = free + SAME if place == "ankles" else float("inf")
    note = OFF_THE_BELT if start == "belt" else ""
    if lead.mass <= most:
        words = f"{lead.mass:.3g} kg of {way}"
        there = (f"lead.{number}.place={place}",)
        yield Candidate("lead", _knobs(knob, place), words, there, f"Move {words}.", note=note, cost=cost)
    for piece in PIECES:
        if piece <= most and lead.mass > piece + LEAST_LEFT:
            settings = (
                f"lead.{number}.mass={lead.mass - piece:.9g} kg",
                f"lead.{after}.mass={piece:g} kg",
                f"lead.{after}.place={place}",
            )
            knobs = _knobs(knob, place) | {ADDED}
            words = f"{piece:g} kg of {way}"
            yield Candidate("lead", knobs, words, settings, f"Move {words}.", note=note, cost=cost)


def cost_of(place: LeadPlace) -> str:
    """What lead there costs whoever wears it."""
    return TIRING if place == "ankles" else ""


def _knobs(knob: str, place: LeadPlace) -> frozenset[str]:
    """Only one change at a time puts lead on the ankles, which bear little."""
    return frozenset({knob, "ankles"} if place == "ankles" else {knob})


def take_off(kilograms: float, lead: Lead, place: LeadPlace) -> str:
    """As an instructor says it."""
    return f"Take {kilograms:.3g} kg of {name_of(lead)} off {WHERE[place][0]}."


def name_of(lead: Lead) -> str:
    return lead.name or "lead"


def at_place(place: LeadPlace) -> str:
    name, lies = WHERE[place]
    return f"{lies} {name}"
