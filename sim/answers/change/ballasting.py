"""The lead put right for the last stop, as a change: so many kilograms more in one place, or less where it lies."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from scenarios.loose_gear import Lead, LeadPlace
from scenarios.models import Scenario
from sim.answers.change.candidate import Candidate
from sim.answers.change.lead import (
    ADDED,
    OFF_THE_BELT,
    PIECE,
    added_lead,
    cost_of,
    less_words,
    more_words,
    put_words,
    take_off,
    taken_off_lead,
)
from sim.answers.change.occasions import Met
from sim.answers.weigh.lead_places import MOST
from sim.said import Sentence, joined, note

SECOND: Final = "a second further entry of lead"  # knob of what is added behind another entry that is new
LEAST_LEFT: Final = 0.05  # kg, less than which is no entry of a file
SAME: Final = 1e-9


@dataclass(frozen=True)
class Correction:
    """Lead put right in one way.

    more : lead that is added, below 0 taken off [kg];  turns : what that adds to the moment on each occasion [N m]
    knobs : what it cannot go together with;  words, said : what is done;  settings : the same as KEY=VALUE
    entries, gone : how many entries of lead the file has, and how many of them are left out
    """

    more: float
    turns: tuple[float, ...]
    knobs: frozenset[str]
    words: str
    said: str
    settings: tuple[str, ...]
    note: str = ""
    cost: str = ""
    entries: int = 0
    gone: int = 0

    @property
    def candidate(self) -> Candidate:
        """As a change."""
        return Candidate(
            "lead", self.knobs, self.words, self.settings, said=self.said, note=self.note, cost=self.cost
        )


@dataclass(frozen=True)
class Ballasting:
    """What lead does in every place.

    leads : as the file has it;  turns : what a kilogram more in a place adds to the moment on each occasion [N m/kg]
    """

    leads: tuple[Lead, ...]
    turns: Mapping[LeadPlace, tuple[float, ...]]

    def corrections(self, more: float) -> tuple[Correction, ...]:
        """Every way to wear so much more lead [kg], less where it is below 0."""
        if more > 0.0:
            return tuple(self._added(more))
        return tuple(self._taken_off(-more)) if more < 0.0 else ()

    def _added(self, more: float) -> Iterator[Correction]:
        """As an entry more; where another change makes one, too, as that after it."""
        for place, turns in self.turns.items():
            there = sum(lead.mass for lead in self.leads if lead.place == place)
            if there + more > MOST.get(place, float("inf")) + SAME:
                continue
            adds = tuple(more * t for t in turns)
            ankles = {"ankles"} if place == "ankles" else set()
            for at, besides in ((len(self.leads), {ADDED}), (len(self.leads) + 1, {SECOND})):
                settings = (f"lead.{at}.mass={more:g} kg", f"lead.{at}.place={place}")
                words, said = more_words(more, place), put_words(more, place)
                yield Correction(more, adds, frozenset(ankles | besides), words, said, settings, cost=cost_of(place))

    def _taken_off(self, less: float) -> Iterator[Correction]:
        """Off each entry that has so much; where none has, off the heaviest first; or an entry that has less."""
        known = [(i, lead) for i, lead in enumerate(self.leads) if lead.place in self.turns]
        enough = [(i, lead) for i, lead in known if lead.mass >= less - LEAST_LEFT]
        for i, lead in known:
            if lead.mass < less - LEAST_LEFT:
                yield self._less([(i, lead)], lead.mass)
        for one in enough:
            yield self._less([one], less)
        if not enough and known:
            yield self._less(sorted(known, key=lambda pair: -pair[1].mass), less)

    def _less(self, entries: Sequence[tuple[int, Lead]], less: float) -> Correction:
        """Off these entries, one after the other."""
        off: dict[int, float] = {}
        for number, lead in entries:
            rest = less - sum(off.values())
            if rest > LEAST_LEFT:
                off[number] = lead.mass if lead.mass - rest < LEAST_LEFT else rest
        worn = [(kg, lead, lead.place) for i, lead in entries if (kg := off.get(i)) and lead.place]
        words = _all_of([less_words(kg, lead, place) for kg, lead, place in worn])
        said = joined([take_off(kg, lead, place) for kg, lead, place in worn], " ")
        columns = zip(*([-kg * t for t in self._of(i)] for i, kg in off.items()), strict=True)
        mind = OFF_THE_BELT if any(self.leads[i].place == "belt" for i in off) else ""
        gone = sum(self.leads[i].mass - kg < LEAST_LEFT for i, kg in off.items())
        if not gone:
            settings = tuple(f"lead.{i}.mass={self.leads[i].mass - kg:.9g} kg" for i, kg in off.items())
        else:
            settings = tuple(_anew([(lead, lead.mass - off.get(i, 0.0)) for i, lead in enumerate(self.leads)]))
        knobs = frozenset(f"lead {i}" for i in (range(len(self.leads)) if gone else off))
        turns, all_off = tuple(sum(column) for column in columns), sum(off.values())
        return Correction(-all_off, turns, knobs, words, said, settings, mind, "", len(self.leads), gone)

    def _of(self, number: int) -> tuple[float, ...]:
        place = self.leads[number].place
        return self.turns[place] if place is not None else ()


def _all_of(parts: Sequence[Sentence]) -> Sentence:
    """The parts in a row."""
    first, *more = parts
    return note("{first} and {more}", first=first, more=_all_of(more)) if more else first


def _anew(left: Sequence[tuple[Lead, float]]) -> Iterator[str]:
    """The whole list of lead, without what is taken off whole."""
    yield "lead=none"
    kept = [(lead, mass) for lead, mass in left if mass >= LEAST_LEFT]
    for i, (lead, mass) in enumerate(kept):
        yield f"lead.{i}.mass={mass:.9g} kg"
        if lead.place is not None:
            yield f"lead.{i}.place={lead.place}"
        if lead.at is not None:
            yield f"lead.{i}.at={list(lead.at)}"
        if lead.name is not None:
            yield f"lead.{i}.name={json.dumps(lead.name, ensure_ascii=False)}"
        if lead.density != Lead.model_fields["density"].default:
            yield f"lead.{i}.density={lead.density:.9g} kg/m^3"


def ballasting(scenario: Scenario, now: Met, found: Mapping[str, Met]) -> Ballasting:
    """From what a kilogram more in each place comes to, or one less where no more may be; ``found`` : what each
    change comes to, by its words."""
    turns: dict[LeadPlace, tuple[float, ...]] = {}
    for kilograms, ways in ((-PIECE, taken_off_lead(scenario)), (PIECE, added_lead(scenario))):
        for place, what in ways:
            if (tried := found.get(what.words)) is not None:
                pairs = zip(tried.moments, now.moments, strict=True)
                turns[place] = tuple((there - here) / kilograms for there, here in pairs)
    return Ballasting(scenario.lead, turns)
