"""What to change in the drawing of a plate, in words: a table for each diver, and the strongest levers."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sim.answers.plate.change.answer import ChangeTold, Lever
from sim.answers.plate.dimension_words import dimension_name, short_dimension, short_unit, sized, sized_whole
from sim.answers.plate.divers.text import lined
from sim.answers.plate.divers.words import ANSWERS, Answer, cell
from sim.said import word
from sim.telling.language import in_unit, number, say, told, unit_name
from sim.telling.words import bullets, wrapped

SHORT = {
    "start_moment": word("start"), "end_moment": word("end"), "lead": word("lead"), "looks": word("looks"),
    "reach": word("reach"), "straps": word("straps"), "length": word("long"), "width": word("wide"),
    "carried": word("ashore"), "lean": word("lean"),
}  # fmt: skip

# carried ashore is leaned against by what hangs on the plate, not by its dimensions
SHOWN: Final = tuple(answer for answer in ANSWERS if answer.field != "lean")


def change_text(answer: ChangeTold) -> str:
    """The whole answer."""
    lines = ["", say("What should change: by how much a dimension moves each answer")]
    levers = [lever for lever in answer.levers if lever.divers]
    for place, diver in enumerate(answer.now):
        heads = ["", say("mass"), *(told(SHORT[a.field]) for a in SHOWN)]
        units = ["", unit_name("kg"), *(short_unit(a.unit) for a in SHOWN)]
        mass = number(in_unit(answer.mass, "kg"), 2)
        now = [say("as drawn"), mass, *(cell(a, diver.moves) for a in SHOWN)]
        moved = [
            [_dimension(lv), mass_words(lv), *(cell(a, lv.divers[place].moves, change=True) for a in SHOWN)]
            for lv in levers
        ]
        lines += ["", f"{diver.diver}", *lined([heads, units, now, *moved])]
    if answer.share is not None:
        named = [[say("as drawn"), f"{number(100.0 * answer.share, 0)} %"]]
        named += [
            [_dimension(lv), f"{number(100.0 * lv.share, 1, sign=True)} %" if lv.share else "0"]
            for lv in levers
            if lv.share is not None
        ]
        lines += ["", say("Suits, of {group}", group=told(answer.group or "")), *lined(named)]
    lines += bullets(say("Most for"), [words for one in SHOWN for words in _most(answer, one)])
    return "\n".join([*lines, *bullets(say("How to read it"), _notes(answer))])


def _notes(answer: ChangeTold) -> Iterator[str]:
    yield say(
        "Each row: one dimension (as drawn) grows by 1 cm or as it says there, all the others kept; down is from the "
        "top edge, out from the middle line. Its numbers are added to those of the plate as drawn, and turn round "
        "for so much less; they are means over that much to either side."
    )
    yield from meanings()
    yield from (_missing(lever) for lever in answer.levers if lever.why_not)
    if answer.redrawn:
        yield told(answer.redrawn)


def meanings() -> Iterator[str]:
    """What the head of each column means."""
    yield from (say("{name}: {meaning}.", name=told(SHORT[a.field]), meaning=told(a.meaning)) for a in SHOWN)


def dimension_words(lever: Lever) -> str:
    """A dimension with its size as drawn."""
    return f"{short_dimension(lever.dimension)}: {sized(lever.now, lever.unit, 1)}"


def mass_words(lever: Lever) -> str:
    """How much heavier the plate becomes [kg]."""
    if lever.mass is None:
        return "-"
    return number(in_unit(lever.mass, "kg"), 3, sign=True) if abs(lever.mass) >= 5e-4 else "0"


def more_of(lever: Lever) -> str:
    """How much more of a dimension its moves are told for, "+1 mm"."""
    return f"+{sized_whole(lever.per, lever.unit)}"


def _dimension(lever: Lever) -> str:
    name = short_dimension(lever.dimension)
    if unit_name("cm") != "cm":
        return f"{name} ({sized(lever.now, lever.unit, 1)}) {more_of(lever)}"
    now = f"{name} ({number(lever.now, 1)})"
    return now if lever.unit == "cm" else f"{now} {more_of(lever)}"


def _most(answer: ChangeTold, asked: Answer) -> Iterator[str]:
    """Which dimension moves an answer most, for whom it does so; nothing where none moves it."""
    found = []
    for lever in answer.levers:
        for on in lever.divers:
            value = asked.value(on.moves)
            if value is not None and round(abs(value), asked.digits) > 0.0:
                found.append((abs(value), lever, on))
    if found:
        _, lever, on = max(found, key=lambda f: f[0])
        yield say(
            "{name}: {dimension}, {value} {unit} for {more} more ({who}).",
            name=told(asked.name),
            dimension=dimension_name(lever.dimension),
            value=cell(asked, on.moves, change=True),
            unit=short_unit(asked.unit),
            more=sized_whole(lever.per, lever.unit),
            who=on.diver,
        )


def _missing(lever: Lever) -> str:
    name, why = dimension_name(lever.dimension), told(lever.why_not or "")
    if lever.divers:
        words = say("{name} cannot go both ways: {why}. It is compared with the plate as drawn.", name=name, why=why)
    else:
        words = say("{name} cannot go both ways: {why}. It is left as it is.", name=name, why=why)
    return " ".join(wrapped(words))
