"""For whom each plate passes: in ``hangflat.fit/1``, as rows of text and as a table for spreadsheets."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping, Sequence
from math import degrees, isfinite
from pathlib import Path
from typing import Any, Final

from sim.answers.fit.people import SEXES, People, PersonFit, Reason, reasons, share_band, with_bands_set
from sim.person.measures import Sex

Object = Mapping[str, Any]
SOURCE: Final = (
    "drawn from the measures of US soldiers of 17 to 58 years (ANSUR II, 2012), who are fitter, younger and more "
    "alike than many divers; everybody wears and carries what the file says"
)
RULE: Final = (
    "a plate passes when, at some height that keeps the waist strap on the waist, nothing of the fit fails: straps "
    "on the shoulders, plate no wider or longer than the back, eyes ahead, hands on every valve, cylinders off the "
    "buttocks; with the bands where the file has them, or set for each"
)
WORDS: Final[Mapping[Reason, str]] = {
    "reach": "valves out of reach",
    "look-ahead": "cannot see ahead",
    "cylinder bottoms": "cylinders on the buttocks",
    "plate width": "plate wider than the back",
    "plate length": "plate too long for the back",
    "never together": "each met at some height, never all at one",
    "shoulder straps": "straps too far out or on the neck",
    "several": "several of these",
    "waist strap": "no room for a strap between ribs and hip bones",
}
GROUPS: Final[Mapping[Sex, str]] = {"female": "women", "male": "men"}
COLUMNS: Final = (
    "sex", "height_cm", "mass_kg", "c7_to_hip_bone_cm", "shoulder_breadth_cm", "plate", "passes", "reason",
    "all_that_fails", "least_drop_cm", "greatest_drop_cm", "cylinders_moved_up_to_pass_cm", "passes_at_waist",
    "look_ahead_margin_deg", "reach_margin_cm", "shoulder_strap_margin_cm",
)  # fmt: skip


def people_json(people: People) -> dict[str, Any]:
    """Counts and shares of each plate and sex."""
    return {
        "source": SOURCE,
        "rule": RULE,
        "left_out": people.unbuilt,
        "plates": [
            {"plate": name} | {sex: _group(people.of(sex), i) for sex in SEXES}
            for i, name in enumerate(people.plates)
        ],
    }


def _group(group: Sequence[PersonFit], plate: int) -> dict[str, Any]:
    counts = reasons(group, plate)
    return {
        "people": len(group),
        "pass": counts[None],
        "pass_share": counts[None] / len(group) if group else None,
        "pass_share_band_90": list(share_band(counts[None], len(group))),
        "pass_with_bands_set": counts[None] + with_bands_set(group, plate),
        "pass_at_waist": sum(p.plates[plate].as_worn for p in group),
        "fail": {WORDS[reason]: counts[reason] for reason in WORDS if counts[reason]},
    }


def people_rows(told: Object) -> Iterator[tuple[str, str]]:
    """Label and sentence of each row, from what ``people_json`` made."""
    for plate in told["plates"]:
        for sex, word in GROUPS.items():
            yield plate["plate"], f"{word}: {_group_words(plate[sex])}"
    yield "rule", told["rule"] + "."
    yield "people", told["source"] + "."
    if told["left_out"]:
        yield "left out", f"{told['left_out']} drawn bodies could not be built."


def _group_words(group: Object) -> str:
    if not group["people"]:
        return "nobody."
    low, high = (100.0 * s for s in group["pass_share_band_90"])
    words = (
        f"{group['pass']} of {group['people']} pass, {100.0 * group['pass_share']:.0f} % ({low:.0f} to {high:.0f})"
    )
    words += f", {group['pass_at_waist']} with the strap right at the natural waist"
    words += f"; with the bands set for each {group['pass_with_bands_set']}"
    failing = sorted(group["fail"].items(), key=lambda item: -item[1])
    if failing:
        words += "; why not, as banded: " + ", ".join(f"{reason} {number}" for reason, number in failing)
    return words + "."


def write_people_table(people: People, path: Path) -> None:
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
