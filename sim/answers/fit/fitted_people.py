"""For whom plates pass: people drawn from the survey, each with every plate."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass
from itertools import repeat
from typing import Final

from sim.answers.fit.dressed_person import Dress, drawn_person, dressed_person
from sim.answers.fit.hung_rig import HungRig
from sim.answers.fit.plate_on_person import PlateOnPerson, banded
from sim.person.measures import Sex
from sim.person.population import Drawn, drawn_people

SEXES: Final[tuple[Sex, ...]] = ("female", "male")
BATCH: Final = 16  # people worked out at a time by one process


@dataclass(frozen=True, eq=False)
class PersonFit:
    """One person and every plate, in the order of the rigs."""

    who: Drawn
    plates: tuple[PlateOnPerson, ...]


@dataclass(frozen=True, eq=False)
class FittedPeople:
    """A population: names of the plates, the people drawn, and how many drawn bodies could not be built."""

    plates: tuple[str, ...]
    people: tuple[PersonFit, ...]
    unbuilt: int

    def of(self, sex: Sex) -> tuple[PersonFit, ...]:
        """Those of one sex."""
        return tuple(p for p in self.people if p.who.sex == sex)


Batch = list[PersonFit | None]


def population(number: int) -> tuple[Drawn, ...]:
    """``number`` women and as many men."""
    return tuple(p for sex in SEXES for p in drawn_people(sex, number))


def fitted_batches(
    rigs: Sequence[HungRig], dress: Dress, drawn: Sequence[Drawn], pool: Executor | None = None
) -> Iterator[Batch]:
    """Answers in batches, in the order of ``drawn``; None for a body that cannot be built.

    The pool changes nothing.
    """
    batches = [drawn[i : i + BATCH] for i in range(0, len(drawn), BATCH)]
    run = map if pool is None else pool.map
    yield from run(_batch, repeat(tuple(rigs), len(batches)), repeat(dress, len(batches)), batches)


def gathered(rigs: Sequence[HungRig], batches: Iterable[Batch]) -> FittedPeople:
    """All batches as one population."""
    found = [person for batch in batches for person in batch]
    people = tuple(p for p in found if p is not None)
    return FittedPeople(tuple(r.name for r in rigs), people, len(found) - len(people))


def _batch(rigs: Sequence[HungRig], dress: Dress, drawn: Sequence[Drawn]) -> Batch:
    return [person_fit(rigs, dress, who) for who in drawn]


def person_fit(rigs: Sequence[HungRig], dress: Dress, who: Drawn) -> PersonFit | None:
    """Every plate on one person; None where the body cannot be built."""
    try:
        person = drawn_person(who)
    except ValueError:
        return None
    made = dressed_person(person, dress)
    return PersonFit(who, tuple(banded(rig, made) for rig in rigs))


def reasons(people: Sequence[PersonFit], plate: int) -> Counter[str | None]:
    """How many pass (None) and how many fail for each reason, by its name."""
    return Counter(p.plates[plate].reason for p in people)


def with_bands_set(people: Sequence[PersonFit], plate: int) -> int:
    """How many pass only once the bands are set for them."""
    return sum(bool(p.plates[plate].bands) for p in people)
