"""The boxes of the sheet for the water: what number each has, what is written in it, and which line of the file of
measurements takes it. The number's first digit is that of the section in the file's template.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, get_args

from sim.answers.check_bench.bench_file import MOST_TIMES, Drift, End, Worn
from sim.answers.check_bench.sheet_diver import SheetDiver
from sim.said import note, word

Table = Literal["", "water", "float", "balance", "freeze", "item"]
Want = Literal["words", "kg or lb", "m", "pressure", "s", "°C", "cm", "one of"]


@dataclass(frozen=True)
class SheetBox:
    """One box to write in.

    number : as printed, "2a";  table, key : where it goes in the file;  worn : into which [[balance]], None for all
    label : what to write, in a few words;  choices : words to tick one of, for "one of"
    also : a key that may take it instead;  given : what is printed in the box already
    """

    number: str
    table: Table
    key: str
    label: str
    want: Want
    worn: Worn | None = None
    choices: tuple[str, ...] = ()
    also: str = ""
    given: str = ""


BALANCE_ROWS: Final[tuple[tuple[str, str, Want, str], ...]] = (
    ("lead", word("Lead added there"), "kg or lb", "between"),
    ("place", word("Where that lead was worn"), "words", "at"),
    ("pressure", word("Gauge"), "pressure", ""),
)
# what is ticked, and typed in English
TICKED: Final = (
    word("fresh"), word("sea"), word("brackish"), word("head-up"), word("head-down"), word("none"), word("foot end"),
    word("head end"),
)  # fmt: skip
LEAD_PLACES: Final = (
    word("ankles"), word("tail"), word("belt"), word("between cylinders"), word("upper band"), word("plate channel"),
)  # fmt: skip
FIRST_LETTER: Final[dict[Worn, str]] = {"as worn": "a", "lower legs strapped": "d", "legs straight": "g"}


def boxes(diver: SheetDiver) -> tuple[SheetBox, ...]:
    """Every box of the diver's sheet but those of the weighings, in the order of the file."""
    found = [
        SheetBox("0a", "", "scenario", word("The diver's file"), "words", given=diver.file or ""),
        SheetBox("0b", "", "measured_on", word("Day, like 2025-05-31"), "words"),
        SheetBox("0c", "water", "kind", word("Water"), "one of", choices=TICKED[:3]),
        SheetBox("0d", "water", "temperature", word("Its temperature"), "°C"),
        SheetBox("1a", "float", "lead", word("All the lead you wear then"), "kg or lb"),
        SheetBox("1b", "float", "depth", word("Depth"), "m"),
        SheetBox("1c", "float", "pressure", word("Gauge"), "pressure"),
    ]
    for worn in ways(diver):
        for k, (key, label, want, also) in enumerate(BALANCE_ROWS):
            number = f"2{chr(ord(FIRST_LETTER[worn]) + k)}"
            found.append(SheetBox(number, "balance", key, label, want, worn, also=also))
    found += [
        SheetBox("2j", "balance", "depth", word("Depth of all these"), "m"),
        SheetBox("2k", "balance", "taken_from", word("Lead only moved, not added? From where"), "words"),
    ]
    found.append(SheetBox("3a", "freeze", "drift", word("The trunk turned"), "one of", choices=get_args(Drift)))
    for k in range(MOST_TIMES):
        found.append(
            SheetBox(f"3{chr(ord('b') + k)}", "freeze", "times_to_30", note("Try {number}", number=k + 1), "s")
        )
    found += [
        SheetBox("3g", "freeze", "depth", word("Depth"), "m"),
        SheetBox("3h", "freeze", "pressure", word("Gauge"), "pressure"),
    ]
    return tuple(b for b in found if diver.cylinders or b.key != "pressure")


def ways(diver: SheetDiver) -> tuple[Worn, ...]:
    """In which ways the balancing lead is looked for: strapped only where a suit holds gas and no strap is on yet."""
    return tuple(w for w in get_args(Worn) if diver.straps or w != "lower legs strapped")


def weighing_boxes(row: int) -> tuple[SheetBox, ...]:
    """The boxes of one thing on the scale, the first thing being row 0."""
    n = f"4{chr(ord('a') + row)}"
    return (
        SheetBox(n, "item", "name", word("What"), "words", also="parts"),
        SheetBox(n, "item", "dry_mass", word("in air"), "kg or lb"),
        SheetBox(n, "item", "wet_mass", word("in water"), "kg or lb"),
        SheetBox(n, "item", "balance_point", word("balances at"), "cm"),
        SheetBox(n, "item", "balance_from", word("from its"), "one of", choices=get_args(End)),
    )
