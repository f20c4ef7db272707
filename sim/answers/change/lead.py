"""What could be done with the lead: moved, all of it or a piece, less or more of it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, get_args

from scenarios.loose_gear import Lead, LeadPlace
from scenarios.models import Scenario
from sim.answers.change.candidate import Candidate
from sim.answers.weigh.ballast import can_hold
from sim.said import Sentence, brief, known, note, word

PIECES: Final = (1.0, 2.0)  # kg that are moved at a time, where there is more
PIECE: Final = 1.0  # kg that are added or left off at a time
LEAST_LEFT: Final = 0.1  # kg of an entry of which a piece is taken
MOST_ON_ANKLES: Final = 2.0  # kg on both together: two straps of 1 kg are the heaviest in use (common practice)
ADDED: Final = "another entry of lead"  # knob of changes that append to the file's list of lead
TIRING: Final = note("Weight on the ankles is moved with every kick, which tires the legs (common practice).")
OFF_THE_BELT: Final = note(
    "Lead on the belt can be dropped in need; where it is moved to it hardly can (common practice)."
)
AT: Final[dict[LeadPlace, str]] = {
    "belt": word("on the belt"), "plate channel": word("in the plate's channel"), "tail": word("at the plate's tail"),
    "between cylinders": word("in the gap between the cylinders"), "upper band": word("at the upper band"),
    "ankles": word("on the ankles"),
}  # fmt: skip
FROM: Final[dict[LeadPlace, str]] = {
    "belt": word("from the belt"), "plate channel": word("from the plate's channel"),
    "tail": word("from the plate's tail"), "between cylinders": word("from the gap between the cylinders"),
    "upper band": word("from the upper band"), "ankles": word("from the ankles"),
}  # fmt: skip
TO: Final[dict[LeadPlace, str]] = {
    "belt": word("to the belt"), "plate channel": word("to the plate's channel"), "tail": word("to the plate's tail"),
    "between cylinders": word("to the gap between the cylinders"), "upper band": word("to the upper band"),
    "ankles": word("to the ankles"),
}  # fmt: skip
OFF: Final[dict[LeadPlace, str]] = {
    "belt": word("off the belt"), "plate channel": word("off the plate's channel"),
    "tail": word("off the plate's tail"), "between cylinders": word("off the gap between the cylinders"),
    "upper band": word("off the upper band"), "ankles": word("off the ankles"),
}  # fmt: skip
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
            words = less_words(PIECE, lead, lead.place)
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
            words, said = more_words(PIECE, place), put_words(PIECE, place)
            yield place, Candidate("lead", _knobs(ADDED, place), words, added, said, cost=cost_of(place))


def _moved(
    number: int, lead: Lead, start: LeadPlace, place: LeadPlace, after: int, free: float
) -> Iterator[Candidate]:
    """All of an entry in another place, and pieces of it; ``free`` : what the ankles can still bear [kg]."""
    cost = cost_of(place)
    knob = f"lead {number}"
    most = free + SAME if place == "ankles" else float("inf")
    mind = OFF_THE_BELT if start == "belt" else ""
    if lead.mass <= most:
        words, said = _moved_words(lead.mass, lead, start, place), _move(lead.mass, lead, start, place)
        there = (f"lead.{number}.place={place}",)
        yield Candidate("lead", _knobs(knob, place), words, there, said, note=mind, cost=cost)
    for piece in PIECES:
        if piece <= most and lead.mass > piece + LEAST_LEFT:
            settings = (
                f"lead.{number}.mass={lead.mass - piece:.9g} kg",
                f"lead.{after}.mass={piece:g} kg",
                f"lead.{after}.place={place}",
            )
            knobs = _knobs(knob, place) | {ADDED}
            words, said = _moved_words(piece, lead, start, place), _move(piece, lead, start, place)
            yield Candidate("lead", knobs, words, settings, said, note=mind, cost=cost)


def cost_of(place: LeadPlace) -> str:
    """What lead there costs whoever wears it."""
    return TIRING if place == "ankles" else ""


def _knobs(knob: str, place: LeadPlace) -> frozenset[str]:
    """Only one change at a time puts lead on the ankles, which bear little."""
    return frozenset({knob, "ankles"} if place == "ankles" else {knob})


def more_words(kilograms: float, place: LeadPlace) -> Sentence:
    """So much more lead in a place."""
    return note("{size} more lead {at}", size=brief(kilograms, "kg"), at=known(AT[place]))


def put_words(kilograms: float, place: LeadPlace) -> Sentence:
    """The same as an instructor says it."""
    return note("Put {size} more lead {at}.", size=brief(kilograms, "kg"), at=known(AT[place]))


def less_words(kilograms: float, lead: Lead, place: LeadPlace) -> Sentence:
    """So much less of an entry in a place."""
    size, at = brief(kilograms, "kg", 3), known(AT[place])
    if lead.name:
        return note("{size} less {name} {at}", size=size, name=lead.name, at=at)
    return note("{size} less lead {at}", size=size, at=at)


def take_off(kilograms: float, lead: Lead, place: LeadPlace) -> Sentence:
    """The same as an instructor says it."""
    size, off = brief(kilograms, "kg", 3), known(OFF[place])
    if lead.name:
        return note("Take {size} of {name} {off}.", size=size, name=lead.name, off=off)
    return note("Take {size} of lead {off}.", size=size, off=off)


def _moved_words(kilograms: float, lead: Lead, start: LeadPlace, place: LeadPlace) -> Sentence:
    size, left, to = brief(kilograms, "kg", 3), known(FROM[start]), known(TO[place])
    if lead.name:
        return note("{size} of {name} {left} {to}", size=size, name=lead.name, left=left, to=to)
    return note("{size} of lead {left} {to}", size=size, left=left, to=to)


def _move(kilograms: float, lead: Lead, start: LeadPlace, place: LeadPlace) -> Sentence:
    size, left, to = brief(kilograms, "kg", 3), known(FROM[start]), known(TO[place])
    if lead.name:
        return note("Move {size} of {name} {left} {to}.", size=size, name=lead.name, left=left, to=to)
    return note("Move {size} of lead {left} {to}.", size=size, left=left, to=to)
