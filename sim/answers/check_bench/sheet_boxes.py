"""The boxes of the sheet for the water: what number each has, what is written in it, and which line of the file of
measurements takes it. The number's first digit is that of the section in the file's template.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, get_args

from sim.answers.check_bench.bench_file import MOST_TIMES, Drift, End, Worn
from sim.answers.check_bench.sheet_diver import SheetDiver

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
    ("lead", "Lead added there", "kg or lb", "between"),
    ("place", "Where that lead was worn", "words", "at"),
    ("pressure", "Gauge", "pressure", ""),
)
FIRST_LETTER: Final[dict[Worn, str]] = {"as worn": "a", "lower legs strapped": "d", "legs straight": "g"}


def boxes(diver: SheetDiver) -> tuple[SheetBox, ...]:
    """Every box of the diver's sheet but those of the weighings, in the order of the file."""
    found = [
        SheetBox("0a", "", "scenario", "The diver's file", "words", given=diver.file or ""),
        SheetBox("0b", "", "measured_on", "Day, like 2025-05-31", "words"),
        SheetBox("0c", "water", "kind", "Water", "one of", choices=("fresh", "sea", "brackish")),
        SheetBox("0d", "water", "temperature", "Its temperature", "°C"),
        SheetBox("1a", "float", "lead", "All the lead you wear then", "kg or lb"),
        SheetBox("1b", "float", "depth", "Depth", "m"),
        SheetBox("1c", "float", "pressure", "Gauge", "pressure"),
    ]
    for worn in ways(diver):
        for k, (key, label, want, also) in enumerate(BALANCE_ROWS):
            number = f"2{chr(ord(FIRST_LETTER[worn]) + k)}"
            found.append(SheetBox(number, "balance", key, label, want, worn, also=also))
    found += [
        SheetBox("2j", "balance", "depth", "Depth of all these", "m"),
        SheetBox("2k", "balance", "taken_from", "Lead only moved, not added? From where", "words"),
    ]
    found.append(SheetBox("3a", "freeze", "drift", "The trunk turned", "one of", choices=get_args(Drift)))
    for k in range(MOST_TIMES):
        found.append(SheetBox(f"3{chr(ord('b') + k)}", "freeze", "times_to_30", f"Try {k + 1}", "s"))
    found += [
        SheetBox("3g", "freeze", "depth", "Depth", "m"),
        SheetBox("3h", "freeze", "pressure", "Gauge", "pressure"),
    ]
    return tuple(b for b in found if diver.cylinders or b.key != "pressure")


def ways(diver: SheetDiver) -> tuple[Worn, ...]:
    """In which ways the balancing lead is looked for: strapped only where a suit holds gas and no strap is on yet."""
    return tuple(w for w in get_args(Worn) if diver.straps or w != "lower legs strapped")


def weighing_boxes(row: int) -> tuple[SheetBox, ...]:
    """The boxes of one thing on the scale, the first thing being row 0."""
    n = f"4{chr(ord('a') + row)}"
    return (
        SheetBox(n, "item", "name", "What", "words", also="parts"),
        SheetBox(n, "item", "dry_mass", "in air", "kg or lb"),
        SheetBox(n, "item", "wet_mass", "in water", "kg or lb"),
        SheetBox(n, "item", "balance_point", "balances at", "cm"),
        SheetBox(n, "item", "balance_from", "from its", "one of", choices=get_args(End)),
    )
