"""For whom each plate passes: in ``hangflat.fit/1``, as rows of text and as a table for spreadsheets."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import degrees, isfinite
from pathlib import Path
from typing import Annotated, Final

from sim.answers.fit.demands.every import REASONS
from sim.answers.fit.demands.together import NEVER_TOGETHER, SEVERAL
from sim.answers.fit.fitted_people import FittedPeople, PersonFit, reasons, with_bands_set
from sim.said import note
from sim.telling.language import say, say_count, told
from sim.telling.record import Told
from sim.telling.share_band import share_band
from sim.telling.written_file import WrittenFile

SOURCE: Final = note(
    "drawn from the measures of US soldiers of 17 to 58 years (ANSUR II, 2012), who are fitter, younger and more "
    "alike than many divers; everybody wears and carries what the file says"
)
RULE: Final = note(
    "a plate passes when, at some height that keeps the waist strap on the waist, nothing of the fit fails: straps "
    "on the shoulders, plate no wider or longer than the back, eyes ahead, hands on every valve, cylinders off the "
    "buttocks; with the bands where the file has them, or set for each"
)
WORDS: Final[Mapping[str, str]] = {
    reason.name: reason.words for reason in sorted((*REASONS, NEVER_TOGETHER, SEVERAL), key=lambda r: r.place)
}
COLUMNS: Final = (
    "sex", "height_cm", "mass_kg", "c7_to_hip_bone_cm", "shoulder_breadth_cm", "plate", "passes", "reason",
    "all_that_fails", "least_drop_cm", "greatest_drop_cm", "cylinders_moved_up_to_pass_cm", "passes_at_waist",
    "look_ahead_margin_deg", "reach_margin_cm", "shoulder_strap_margin_cm",
)  # fmt: skip


@dataclass(frozen=True)
class GroupFit:
    """Women or men with one plate."""

    people: Annotated[int, Told("how many were held against the plate")]
    passing: Annotated[int, Told("how many pass, banded as in the file", key="pass")]
    share: Annotated[float | None, Told("of all", "1", none="nobody", key="pass_share")]
    band: Annotated[
        tuple[float, float],
        Told("least, greatest: what the share of all such people may be", "1", key="pass_share_band_90"),
    ]
    with_bands_set: Annotated[int, Told("how many pass with the bands set for each", key="pass_with_bands_set")]
    at_waist: Annotated[int, Told("how many pass with the strap right at the natural waist", key="pass_at_waist")]
    fail: Annotated[Mapping[str, int], Told("how many fail by each reason, banded as in the file", names="<reason>")]


@dataclass(frozen=True)
class PlatePeople:
    """One plate, and whom it suits."""

    plate: Annotated[str, Told("its name")]
    female: Annotated[GroupFit, Told("women")]
    male: Annotated[GroupFit, Told("men")]


@dataclass(frozen=True, kw_only=True)
class PeopleFit:
    """For whom each plate passes."""

    source: Annotated[str, Told("whom they were drawn from")] = SOURCE
    rule: Annotated[str, Told("when a plate passes")] = RULE
    left_out: Annotated[int, Told("drawn bodies that could not be built")]
    plates: Annotated[tuple[PlatePeople, ...], Told("each plate")]
    people_map: Annotated[WrittenFile | None, Told("the map", left_out=True, key="map")] = None
    table: Annotated[WrittenFile | None, Told("the table", left_out=True)] = None


def people_fit(people: FittedPeople) -> PeopleFit:
    """Counts and shares of each plate and sex."""
    return PeopleFit(
        left_out=people.unbuilt,
        plates=tuple(
            PlatePeople(name, _group(people.of("female"), i), _group(people.of("male"), i))
            for i, name in enumerate(people.plates)
        ),
    )


def _group(group: Sequence[PersonFit], plate: int) -> GroupFit:
    counts = reasons(group, plate)
    return GroupFit(
        people=len(group),
        passing=counts[None],
        share=counts[None] / len(group) if group else None,
        band=share_band(counts[None], len(group)),
        with_bands_set=counts[None] + with_bands_set(group, plate),
        at_waist=sum(p.plates[plate].as_worn for p in group),
        fail={WORDS[reason]: counts[reason] for reason in WORDS if counts[reason]},
    )


def people_rows(people: PeopleFit) -> Iterator[tuple[str, str]]:
    """Label and sentence of each row."""
    for plate in people.plates:
        for who, group in ((say("women"), plate.female), (say("men"), plate.male)):
            yield told(plate.plate), f"{who}: {_group_words(group)}"
    yield say("rule"), told(people.rule) + "."
    yield say("people"), told(people.source) + "."
    if people.left_out:
        left_out = say_count(
            "{n} drawn body could not be built.", "{n} drawn bodies could not be built.", people.left_out
        )
        yield say("left out"), left_out


def _group_words(group: GroupFit) -> str:
    if group.share is None:
        return say("nobody.")
    low, high = (100.0 * s for s in group.band)
    words = say(
        "{passing} of {people} pass, {share:.0f} % ({low:.0f} to {high:.0f}), {at_waist} with the strap right at the "
        "natural waist; with the bands set for each {with_bands_set}",
        passing=group.passing,
        people=group.people,
        share=100.0 * group.share,
        low=low,
        high=high,
        at_waist=group.at_waist,
        with_bands_set=group.with_bands_set,
    )
    failing = sorted(group.fail.items(), key=lambda item: -item[1])
    if failing:
        why = ", ".join(f"{told(reason)} {number}" for reason, number in failing)
        words = say("{words}; why not, as banded: {why}", words=words, why=why)
    return words + "."


def write_people_table(people: FittedPeople, path: Path) -> None:
    """One row for each person and plate, comma-separated, UTF-8."""
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(COLUMNS)
        for person in people.people:
            for i, name in enumerate(people.plates):
                table.writerow(_row(person, i, name))


def _row(person: PersonFit, plate: int, name: str) -> list[str | int]:
    who, found = person.who, person.plates[plate]
    m, band = who.measures, found.band
    return [
        who.sex, _cm(who.height), f"{who.mass:.1f}", _cm(m["cervicaleheight"] - m["iliocristaleheight"]),
        _cm(m["biacromialbreadth"]), name, int(band is not None),
        "" if found.reason is None else WORDS[found.reason], "; ".join(WORDS[r] for r in found.failing),
        "" if band is None else _cm(band.least), "" if band is None else _cm(band.greatest),
        "" if found.bands is None else _cm(found.bands), int(found.as_worn),
        f"{degrees(found.look_ahead):.1f}" if isfinite(found.look_ahead) else "",
        _cm(found.reach) if isfinite(found.reach) else "", _cm(found.shoulder_straps),
    ]  # fmt: skip


def _cm(length: float) -> str:
    return f"{100.0 * length:.1f}"
