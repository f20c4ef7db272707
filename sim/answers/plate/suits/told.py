"""Whom plates suit: as told in ``hangflat.plate/1``, and as a table for spreadsheets."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from math import degrees
from pathlib import Path
from typing import Annotated, Final

from sim.answers.fit.demands.every import ANGLES, UNITS
from sim.answers.fit.fitted_people import SEXES
from sim.answers.fit.told.people import RULE, WORDS
from sim.answers.plate.suits.known import BANDS, PASSES
from sim.answers.plate.suits.run import SuitedPeople
from sim.answers.plate.suits.shares import Share
from sim.person.measures import Sex
from sim.said import word
from sim.telling.language import quantity, say, told
from sim.telling.record import Told
from sim.telling.written_file import WrittenFile

ENDS: Final[Mapping[str, str]] = {PASSES: word("suits"), BANDS: word("suits with the bands set for them"), **WORDS}


@dataclass(frozen=True)
class ShareTold:
    """A share of people."""

    share: Annotated[float | None, Told("of them", "1", none="there are none")]
    band: Annotated[tuple[float, float], Told("least, greatest: what it may be for all such people, 90 %", "1")]


@dataclass(frozen=True)
class GroupTold:
    """Women or men with one plate."""

    people: Annotated[int, Told("how many")]
    in_full: Annotated[int, Told("how many of them were worked out in full; the others are guessed from these")]
    suits: Annotated[ShareTold, Told("it suits as banded")]
    suits_with_bands: Annotated[ShareTold, Told("it suits once the bands are set for each, beyond those")]
    fails: Annotated[Mapping[str, ShareTold], Told("the others by what stops them", names="<reason>")]


@dataclass(frozen=True)
class CheckTold:
    """The guess held against people worked out in full, each guessed without them."""

    passing_right: Annotated[float, Told("share told rightly whether the plate passes as banded", "1")]
    ends_right: Annotated[float, Told("share told rightly how it ends", "1")]
    margins_off: Annotated[
        Mapping[str, float],
        Told("RMS error of each demand's margin, of look-ahead in degrees", "m", names="<demand>", others=ANGLES),
    ]


@dataclass(frozen=True)
class PlateSuits:
    """One plate, and whom it suits."""

    plate: Annotated[str, Told("its name")]
    female: Annotated[GroupTold, Told("women")]
    male: Annotated[GroupTold, Told("men")]
    checked: Annotated[CheckTold | None, Told("how good the guess is", none="nobody was guessed")]


@dataclass(frozen=True)
class Person:
    """One of the real people."""

    name: Annotated[str, Told("as the file has it, or the line")]
    ends: Annotated[tuple[str, ...], Told("how it ends with each plate, in the order of the plates")]


@dataclass(frozen=True, kw_only=True)
class PeopleTold:
    """Whom each plate suits."""

    source: Annotated[str, Told("who they are")]
    wears: Annotated[str, Told("what they wear besides the plate")]
    rule: Annotated[str, Told("when a plate suits somebody")] = RULE
    how: Annotated[str, Told("how they were worked out")]
    left_out: Annotated[int, Told("bodies that could not be built")]
    plates: Annotated[tuple[PlateSuits, ...], Told("each plate")]
    persons: Annotated[tuple[Person, ...], Told("each of the real people; none where they are drawn")]
    people_map: Annotated[WrittenFile | None, Told("the map", left_out=True, key="map")] = None
    table: Annotated[WrittenFile | None, Told("the table", left_out=True)] = None


def people_told(people: SuitedPeople, wears: str) -> PeopleTold:
    """The record of a population. wears : what they wear besides the plate"""
    return PeopleTold(
        source=people.source,
        wears=wears,
        how=people.how,
        left_out=people.unbuilt,
        plates=tuple(_plate(people, i) for i in range(len(people.plates))),
        persons=tuple(
            Person(name, tuple(ENDS[str(end[i])] for end in people.outcomes)) for i, name in enumerate(people.names)
        ),
    )


def _plate(people: SuitedPeople, plate: int) -> PlateSuits:
    female, male = (_group(people, plate, sex) for sex in SEXES)
    checked = None if people.checked is None else people.checked[plate]
    held = None if checked is None else CheckTold(checked.passing, checked.right, checked.off)
    return PlateSuits(people.plates[plate], female, male, held)


def _group(people: SuitedPeople, plate: int, sex: Sex) -> GroupTold:
    shares, of_sex = people.shares[plate][sex], people.sex == sex
    return GroupTold(
        people=int(of_sex.sum()),
        in_full=int((of_sex & people.in_full).sum()),
        suits=_share(shares[PASSES]),
        suits_with_bands=_share(shares[BANDS]),
        fails={words: _share(shares[name]) for name, words in WORDS.items() if name in shares},
    )


def _share(share: Share) -> ShareTold:
    return ShareTold(None if share.share != share.share else share.share, (share.low, share.high))


def write_suits_table(people: SuitedPeople, path: Path) -> None:
    """One row for each person, how it ends with each plate; comma-separated, UTF-8."""
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        named = ("name",) if people.names else ()
        table.writerow((*named, "sex", "height_cm", "mass_kg", "worked_out", *people.plates))
        for i in range(len(people.sex)):
            full = "in full" if people.in_full[i] else "guessed"
            size = (people.sex[i], f"{100.0 * people.height[i]:.1f}", f"{people.mass[i]:.1f}", full)
            ends = (ENDS[str(end[i])] for end in people.outcomes)
            table.writerow((*((people.names[i],) if named else ()), *size, *ends))


def off_in_words(check: CheckTold) -> str:
    """How far guessed margins are off, as a list."""
    listed = []
    for name, off in check.margins_off.items():
        if UNITS[name] == "rad":
            size = say("{angle:.1f} degrees", angle=degrees(off))
        else:
            size = quantity(100.0 * off, "cm", 1)
        listed.append(f"{told(name)} {size}")
    return ", ".join(listed)
