"""The lead for each water side by side, and the start with it, as a table."""

from __future__ import annotations

from typing import Final

from sim.answers.weigh.amounts import LEAST_SHOWN, kilograms, litres
from sim.answers.weigh.answer import InWater, WeighAnswer
from sim.telling.language import say, told
from sim.telling.waters import WATERS

RIGHT: Final = 0.25  # kg: half of the lightest block
CELL: Final = 20  # letters, at least, of a column of the waters


def waters_table(answer: WeighAnswer) -> tuple[list[str], list[tuple[str, list[str]]]]:
    """Names of the waters, and rows of one cell for each: what is weighed, and the start with that lead."""
    names = [told(WATERS[w.water]) for w in answer.waters]
    table: list[tuple[str, list[str]]] = [
        (say("lead, neutral at the end"), [_lead(w) for w in answer.waters]),
        (say("what you wear"), [_surplus(w) for w in answer.waters] if answer.worn_lead > 0.0 else []),
        (say("heavy at the start, wing empty"), [_heavy(w.start.heavy) for w in answer.waters]),
        (say("wing gas at the start"), [_wing_gas(w.start.wing_gas) for w in answer.waters]),
        (say("wing's lift to spare"), [_to_spare(w.start.margin) for w in answer.waters]),
    ]
    return names, [(name, cells) for name, cells in table if cells]


def waters_lines(answer: WeighAnswer) -> list[str]:
    """The table as lines of text."""
    names, table = waters_table(answer)
    wide = max(len(name) for name, _ in table)
    cell = max(CELL, *(len(text) for texts in (names, *(cells for _, cells in table)) for text in texts))
    lines = ["", f"  {'':<{wide}}" + "".join(f"  {name:>{cell}}" for name in names)]
    lines += [f"  {name:<{wide}}" + "".join(f"  {text:>{cell}}" for text in cells) for name, cells in table]
    return lines


def _lead(water: InWater) -> str:
    if water.lead >= LEAST_SHOWN:
        return kilograms(water.lead)
    if water.heavy_without_lead >= LEAST_SHOWN:
        return say("none, {size} heavy", size=kilograms(water.heavy_without_lead))
    return say("none", sense="lead")


def _surplus(water: InWater) -> str:
    if abs(water.surplus) <= RIGHT:
        return say("right", sense="lead")
    size = kilograms(abs(water.surplus))
    return say("{size} too much", size=size) if water.surplus > 0.0 else say("{size} too little", size=size)


def _heavy(mass: float) -> str:
    if abs(mass) < LEAST_SHOWN:
        return say("neutral")
    return kilograms(mass) if mass > 0.0 else say("{size} light", size=kilograms(-mass))


def _wing_gas(volume: float | None) -> str:
    return say("no wing") if volume is None else litres(volume)


def _to_spare(mass: float | None) -> str:
    return say("no wing") if mass is None else kilograms(mass)
