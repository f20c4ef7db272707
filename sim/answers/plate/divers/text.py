"""What a plate does to divers, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sim.answers.plate.divers.answer import Beside, DiversTold, DiverWith
from sim.answers.plate.divers.words import ANSWERS, cell
from sim.telling.words import bullets, wrapped


def divers_text(told: DiversTold) -> str:
    """The whole answer: a table for each diver and each plate of the catalogue beside it."""
    lines: list[str] = []
    for diver in told.divers:
        lines += ["", diver.diver, *wrapped(set_up_words(diver), "  ")]
        for beside in diver.beside:
            lines += ["", *_table(diver, beside)]
    notes = [
        "mass: the catalogue's plate, once it weighs in water what this one does. place: then this plate itself, its "
        "waist slots at the same height, with all that hangs on it. fit: then worn so that it passes.",
        *(f"{answer.name}: {answer.meaning}." for answer in ANSWERS),
        "The wing is kept neutral and lies where the plate does: a plate's mass changes the lead and the gas in the "
        "wing more than it turns the diver.",
    ]
    return "\n".join([*lines, *bullets("How to read it", notes)])


def set_up_words(diver: DiverWith) -> str:
    """Whether the plate passes on a diver, and how worn."""
    if diver.passes:
        return "It passes as worn."
    if diver.drop is None or diver.shift is None:
        return f"No height and no place of the bands lets it pass: {', '.join(diver.barred_by)}."
    height = _by(diver.drop, "below", "above", "the waist strap {by} the natural waist", "the strap at the waist")
    bands = _by(
        diver.shift,
        "headward",
        "footward",
        "the cylinders {by} of their usual place",
        "the bands at their usual place",
    )
    return f"It passes with {height} and {bands}."


def _by(length: float, plus: str, minus: str, some: str, none: str) -> str:
    size = f"{100.0 * abs(length):.1f} cm"
    return none if abs(length) < 5e-4 else some.format(by=f"{size} {plus if length > 0.0 else minus}")


def _table(diver: DiverWith, beside: Beside) -> list[str]:
    return lined(
        [("", beside.plate, "mass", "place", "this plate", "fit", "so that it passes"), *_cells(diver, beside)]
    )


def _cells(diver: DiverWith, beside: Beside) -> Iterator[tuple[str, ...]]:
    for answer in ANSWERS:
        yield (
            f"{answer.name} [{answer.unit}]",
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
