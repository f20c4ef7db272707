"""What a plate does to divers, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from sim.answers.plate.dimension_words import short_unit
from sim.answers.plate.divers.answer import Beside, DiversTold, DiverWith
from sim.answers.plate.divers.words import ANSWERS, cell
from sim.telling.language import quantity, say, told
from sim.telling.words import bullets, wrapped

NO_WAY: Final = 5e-4  # m, below the shown digits


def divers_text(answer: DiversTold) -> str:
    """The whole answer: a table for each diver and each plate of the catalogue beside it."""
    lines: list[str] = []
    for diver in answer.divers:
        lines += ["", diver.diver, *wrapped(set_up_words(diver), "  ")]
        for beside in diver.beside:
            lines += ["", *_table(diver, beside)]
    notes = [
        say(
            "mass: the catalogue's plate, once it weighs in water what this one does. place: then this plate itself, "
            "its waist slots at the same height, with all that hangs on it. fit: then worn so that it passes."
        ),
        *(say("{name}: {meaning}.", name=told(one.name), meaning=told(one.meaning)) for one in ANSWERS),
        say(
            "The wing is kept neutral and lies where the plate does: a plate's mass changes the lead and the gas in "
            "the wing more than it turns the diver."
        ),
    ]
    return "\n".join([*lines, *bullets(say("How to read it"), notes)])


def set_up_words(diver: DiverWith) -> str:
    """Whether the plate passes on a diver, and how worn."""
    if diver.passes:
        return say("It passes as worn.")
    if diver.drop is None or diver.shift is None:
        barred = ", ".join(map(told, diver.barred_by))
        return say("No height and no place of the bands lets it pass: {barred}.", barred=barred)
    return say("It passes with {height} and {bands}.", height=_height(diver.drop), bands=_bands(diver.shift))


def _height(drop: float) -> str:
    if abs(drop) < NO_WAY:
        return say("the strap at the waist")
    size = quantity(100.0 * abs(drop), "cm", 1)
    if drop > 0.0:
        return say("the waist strap {size} below the natural waist", size=size)
    return say("the waist strap {size} above the natural waist", size=size)


def _bands(shift: float) -> str:
    if abs(shift) < NO_WAY:
        return say("the bands at their usual place")
    size = quantity(100.0 * abs(shift), "cm", 1)
    if shift > 0.0:
        return say("the cylinders {size} headward of their usual place", size=size)
    return say("the cylinders {size} footward of their usual place", size=size)


def _table(diver: DiverWith, beside: Beside) -> list[str]:
    heads = ("", told(beside.plate), say("mass"), say("place"), say("this plate"), say("fit"))
    return lined([(*heads, say("so that it passes")), *_cells(diver, beside)])


def _cells(diver: DiverWith, beside: Beside) -> Iterator[tuple[str, ...]]:
    for answer in ANSWERS:
        yield (
            f"{told(answer.name)} [{short_unit(answer.unit)}]",
            cell(answer, beside.worn),
            cell(answer, beside.by_mass, change=True),
            cell(answer, beside.by_place, change=True),
            cell(answer, diver.worn),
            cell(answer, diver.by_fit, change=True),
            cell(answer, diver.fitted),
        )


def lined(cells: Sequence[Sequence[str]]) -> list[str]:
    """Rows of a table, the first column to the left and numbers below one another to the right."""
    widths = [max(len(row[k]) for row in cells) for k in range(len(cells[0]))]
    return [
        "  " + "  ".join(c.rjust(w) if k else c.ljust(w) for k, (c, w) in enumerate(zip(row, widths, strict=True)))
        for row in cells
    ]
