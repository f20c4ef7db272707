"""The comparison as plain text."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sim.answers.check_bench.answer import BenchTold, ToldLine
from sim.answers.check_bench.compare import SURE
from sim.telling.words import bullets, wrapped

SHOWN: Final = {
    "kg": ("kg", 1.0, 2),
    "m^3": ("l", 1e3, 2),
    "m": ("cm", 1e2, 1),
    "s": ("s", 1.0, 1),
    "N m": ("N m", 1.0, 1),
}
MEANING: Final = {
    "item mass": 'what it weighs: state it in the scenario (mass = "...")',
    "displaced volume": "its size or its density, or air trapped in it when it was weighed",
    "position": "where its mass lies: how its parts are placed, or its shape",
    "suit gas or garment": "how much gas the suit holds and where the undergarment lets it go",
    "lung gas": "the breathing level, or a regulator above or below the chest",
    "body density": "state body_fat or body_density",
    "motion": "inertia, water moved and drag, on which the time hangs but not the direction",
}


def bench_text(told: BenchTold) -> str:
    """Plain text, at most 100 columns wide; what is contradicted comes after the table."""
    wrong = told.contradicted
    count = len(told.lines)
    first = (
        f"All {count} lines agree with the model within {SURE:g} spreads, or cannot tell."
        if not wrong
        else f"{len(wrong)} of {count} lines contradict the model."
    )
    lines = [first, "", f"Scenario: {told.title} ({told.scenario})"]
    if told.water_density is not None:
        lines.append(f"Water of the weighings: {told.water_density:.1f} kg/m^3")
    lines += ["", f"{'':<47}{'measured':>11}{'model':>11}{'difference':>12}{'spread':>10}", "-" * 100]
    for line in told.lines:
        lines += _row(line)
    lines += bullets(
        "What is contradicted, and which assumption that points to (most likely first)", map(_said, wrong)
    )
    blamed = dict.fromkeys(a for line in wrong for a in line.assumptions)
    lines += bullets("Where to look", (f"{a}: {MEANING[a]}" for a in blamed))
    lines += bullets("What cannot be told", [_said(x) for x in told.lines if x.verdict == "cannot tell"])
    lines += bullets("Notes", [*_about_spreads(told), *told.notes])
    return "\n".join([*lines, "", *wrapped(f"Caution: {told.caution}", "", "  ")])


def _row(line: ToldLine) -> Iterator[str]:
    name = f"{line.item}: {line.quantity}"
    if len(name) > 46:
        yield name
        name = ""
    values = (
        _value(line, line.measured),
        _value(line, line.model),
        _value(line, line.difference, "+"),
        _value(line, line.spread),
    )
    mark = {"agrees": "agrees", "contradicts": "NO", "cannot tell": "unsure"}[line.verdict]
    yield f"{name:<47}{values[0]:>11}{values[1]:>11}{values[2]:>12}{values[3]:>10}  {mark}"


def _value(line: ToldLine, value: float | str | None, sign: str = "") -> str:
    if value is None or isinstance(value, str):
        return value or "-"
    unit, factor, digits = SHOWN[line.unit]
    return f"{factor * value:{sign}.{digits}f} {unit}"


def _said(line: ToldLine) -> str:
    remark = f"; {line.remark}" if line.remark else ""
    named = ", ".join(line.assumptions)
    return f"{line.item}, {line.quantity}{': ' + named if named else ''}{remark}"


def _about_spreads(told: BenchTold) -> Iterator[str]:
    yield f"A line agrees when it is off by no more than {SURE:g} spreads (standard deviations)."
    if any(line.assumed_spread for line in told.lines):
        yield (
            "Spreads not stated were taken as 0.05 kg dry, 0.1 kg in water, 1 cm, 0.5 s, 0.4 kg of a float's lead "
            "and 2 N m: what careful reading of ordinary tools is good for (assumed). Write your own: "
            '"2.62 +- 0.02 kg".'
        )
    if any(line.quantity.startswith("time") for line in told.lines):
        yield "The spread of the time holds 20 % of the model's own, for added inertia and the flow of gas."
