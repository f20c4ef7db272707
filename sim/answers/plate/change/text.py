"""What to change in the drawing of a plate, in words: a table for each diver, and the strongest levers."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sim.answers.plate.change.answer import ChangeTold, Lever
from sim.answers.plate.divers.text import lined
from sim.answers.plate.divers.words import ANSWERS, Answer, cell
from sim.telling.words import bullets, wrapped

SHORT = {
    "start_moment": "start", "end_moment": "end", "lead": "lead", "looks": "looks", "reach": "reach",
    "straps": "straps", "length": "long", "width": "wide", "carried": "ashore", "lean": "lean",
}  # fmt: skip

# carried ashore is leaned against by what hangs on the plate, not by its dimensions
SHOWN: Final = tuple(answer for answer in ANSWERS if answer.field != "lean")


def change_text(told: ChangeTold) -> str:
    """The whole answer."""
    lines = ["", "What should change: by how much a dimension moves each answer"]
    levers = [lever for lever in told.levers if lever.divers]
    for place, diver in enumerate(told.now):
        heads = ["", "mass", *(SHORT[a.field] for a in SHOWN)]
        units = ["", "kg", *(a.unit.replace("degrees", "deg") for a in SHOWN)]
        now = ["as drawn", f"{told.mass:.2f}", *(cell(a, diver.moves) for a in SHOWN)]
        moved = [
            [_dimension(lv), mass_words(lv), *(cell(a, lv.divers[place].moves, change=True) for a in SHOWN)]
            for lv in levers
        ]
        lines += ["", f"{diver.diver}", *lined([heads, units, now, *moved])]
    if told.share is not None:
        named = [["as drawn", f"{100.0 * told.share:.0f} %"]]
        named += [
            [_dimension(lv), f"{100.0 * lv.share:+.1f} %" if lv.share else "0"]
            for lv in levers
            if lv.share is not None
        ]
        lines += ["", f"Suits, of {told.group}", *lined(named)]
    lines += bullets("Most for", [words for answer in SHOWN for words in _most(told, answer)])
    notes = [
        "Each row: one dimension (as drawn) grows by 1 cm or as it says there, all the others kept; down is from the "
        "top edge, out from the middle line. Its numbers are added to those of the plate "
        "as drawn, and turn round for so much less; they are means over that much to either side.",
        *(f"{SHORT[a.field]}: {a.meaning}." for a in SHOWN),
        *(_missing(lever) for lever in told.levers if lever.why_not),
        *([told.redrawn] if told.redrawn else []),
    ]
    return "\n".join([*lines, *bullets("How to read it", notes)])


def dimension_words(lever: Lever) -> str:
    """A dimension with its size as drawn."""
    return f"{lever.dimension}: {lever.now:.1f} {'deg' if lever.unit == 'degrees' else lever.unit}"


def mass_words(lever: Lever) -> str:
    """How much heavier the plate becomes [kg]."""
    return "-" if lever.mass is None else f"{lever.mass:+.3f}" if abs(lever.mass) >= 5e-4 else "0"


def _dimension(lever: Lever) -> str:
    name = lever.dimension.replace(", from the top edge", " down").replace(", from the middle line", " out")
    unit = "deg" if lever.unit == "degrees" else lever.unit
    return f"{name} ({lever.now:.1f})" + ("" if unit == "cm" else f" +{lever.per:g} {unit}")


def _most(told: ChangeTold, answer: Answer) -> Iterator[str]:
    """Which dimension moves an answer most, for whom it does so; nothing where none moves it."""
    found = []
    for lever in told.levers:
        for on in lever.divers:
            value = answer.value(on.moves)
            if value is not None and round(abs(value), answer.digits) > 0.0:
                found.append((abs(value), value, lever, on.diver))
    if found:
        _, value, lever, who = max(found, key=lambda f: f[0])
        unit = "degrees" if lever.unit == "degrees" else lever.unit
        yield (
            f"{answer.name}: {lever.dimension}, {value:+.{answer.digits}f} {answer.unit} for {lever.per:g} {unit} "
            f"more ({who.lower()})."
        )


def _missing(lever: Lever) -> str:
    side = "It is compared with the plate as drawn." if lever.divers else "It is left as it is."
    return " ".join(wrapped(f"{lever.dimension} cannot go both ways: {lever.why_not}. {side}"))
