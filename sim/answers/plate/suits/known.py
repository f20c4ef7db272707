"""People held against plates in full: every demand with the strap on the waist, and how it ends."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass
from itertools import repeat
from typing import Final

import numpy as np

from meshes.mesh import Floats
from scenarios.diver import Diver
from sim.answers.fit.dressed_person import Dress, drawn_person, dressed_person
from sim.answers.fit.hung_rig import HungRig
from sim.answers.fit.plate_on_person import PlateOnPerson, on_waist, passed
from sim.assembly.diver import person_from
from sim.person.person import Person
from sim.person.population import Drawn

PASSES: Final = "passes"  # as banded
BANDS: Final = "bands"  # with the bands set for the person
BATCH: Final = 8  # people worked out at a time by one process
Who = Drawn | Diver


@dataclass(frozen=True, eq=False)
class KnownFit:
    """One plate on one person.

    margins : (d, 3) of each demand at the three heights [m] or [rad]
    outcome : PASSES, BANDS, or the name of the reason why not
    """

    margins: Floats
    outcome: str


@dataclass(frozen=True, eq=False)
class KnownPerson:
    """One person and every plate, in the order of the rigs. mass [kg], height [m]."""

    sex: str
    height: float
    mass: float
    plates: tuple[KnownFit, ...]


Batch = list[KnownPerson | None]


def known_batches(
    rigs: Sequence[HungRig], dress: Dress, people: Sequence[Who], pool: Executor | None = None
) -> Iterator[Batch]:
    """Everybody, in batches and in order; None for a body that cannot be built. The pool changes nothing."""
    batches = [people[i : i + BATCH] for i in range(0, len(people), BATCH)]
    run = map if pool is None else pool.map
    yield from run(_batch, repeat(tuple(rigs), len(batches)), repeat(dress, len(batches)), batches)


def _batch(rigs: Sequence[HungRig], dress: Dress, people: Sequence[Who]) -> Batch:
    return [known_person(rigs, dress, who) for who in people]


def known_person(rigs: Sequence[HungRig], dress: Dress, who: Who) -> KnownPerson | None:
    """Every plate on one person; None where the body cannot be built."""
    try:
        person = _built(who)
    except ValueError:
        return None
    made = dressed_person(person, dress)
    fits = []
    for rig in rigs:
        on = on_waist(rig, made)
        fits.append(KnownFit(np.array(list(on.margins.values())), outcome_name(passed(on))))
    return KnownPerson(who.sex, who.height, who.mass, tuple(fits))


def _built(who: Who) -> Person:
    return person_from(who)[0] if isinstance(who, Diver) else drawn_person(who)


def outcome_name(found: PlateOnPerson) -> str:
    """How it ends, in one word."""
    if found.reason is None:
        return PASSES
    return BANDS if found.bands is not None else found.reason
