"""The comparison as plain text."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sim.answers.check_bench.answer import BenchTold, ToldLine
from sim.answers.check_bench.compare import SURE
from sim.said import word
from sim.telling.caution import told_caution
from sim.telling.language import number, quantity, say, say_count, set_apart, told
from sim.telling.words import bullets, wrapped

SHOWN: Final = {
    "kg": ("kg", 1.0, 2),
    "m^3": ("l", 1e3, 2),
    "m": ("cm", 1e2, 1),
    "s": ("s", 1.0, 1),
    "N m": ("N m", 1.0, 1),
}
MEANING: Final = {
    "item mass": word('what it weighs: state it in the scenario (mass = "...")'),
    "displaced volume": word("its size or its density, or air trapped in it when it was weighed"),
    "position": word("where its mass lies: how its parts are placed, or its shape"),
    "suit gas or garment": word("how much gas the suit holds and where the undergarment lets it go"),
    "lung gas": word("the breathing level, or a regulator above or below the chest"),
    "body density": word("state body_fat or body_density"),
    "motion": word("inertia, water moved and drag, on which the time hangs but not the direction"),
}
NAMED: Final = {
    "item mass": word("item mass"),
    "displaced volume": word("displaced volume"),
    "position": word("position"),
    "suit gas or garment": word("suit gas or garment"),
    "lung gas": word("lung gas"),
    "body density": word("body density"),
    "motion": word("motion"),
}
NAME_ROOM: Final = 42  # letters before the numbers


def bench_text(answer: BenchTold) -> str:
    """Plain text, at most 100 columns wide; what is contradicted comes after the table."""
    wrong = answer.contradicted
    lines = [_first(answer), "", say("Scenario: {title} ({file})", title=answer.title, file=answer.scenario)]
    if answer.water_density is not None:
        density = quantity(answer.water_density, "kg/m^3", 1)
        lines.append(say("Water of the weighings: {density}", density=density))
    heads = say("measured"), say("model"), say("difference"), say("spread")
    lines += ["", f"{'':<43}{heads[0]:>13}{heads[1]:>13}{heads[2]:>12}{heads[3]:>10}", "-" * 100]
    for line in answer.lines:
        lines += _row(line)
    heading = say("What is contradicted, and which assumption that points to (most likely first)")
    lines += bullets(heading, map(_said, wrong))
    blamed = dict.fromkeys(a for line in wrong for a in line.assumptions)
    meanings = (say("{name}: {meaning}", name=told(NAMED[a]), meaning=told(MEANING[a])) for a in blamed)
    lines += bullets(say("Where to look"), meanings)
    lines += bullets(say("What cannot be told"), [_said(x) for x in answer.lines if x.verdict == "cannot tell"])
    lines += bullets(say("Notes"), [*_about_spreads(answer), *map(told, answer.notes)])
    return "\n".join(
        [*lines, "", *wrapped(say("Caution: {caution}", caution=told_caution(answer.caution)), "", "  ")]
    )


def _first(answer: BenchTold) -> str:
    wrong, count = len(answer.contradicted), len(answer.lines)
    if wrong:
        return say_count(
            "{n} of {count} lines contradicts the model.", "{n} of {count} lines contradict the model.", wrong,
            count=count,
        )  # fmt: skip
    return say(
        "All {count} lines agree with the model within {sure:g} spreads, or cannot tell.", count=count, sure=SURE
    )


def _row(line: ToldLine) -> Iterator[str]:
    name = f"{told(line.item)}: {told(line.quantity)}"
    if len(name) > NAME_ROOM:
        yield name
        name = ""
    values = (
        _value(line, line.measured),
        _value(line, line.model),
        _value(line, line.difference, sign=True),
        _value(line, line.spread),
    )
    mark = {"agrees": say("agrees"), "contradicts": say("NO"), "cannot tell": say("unsure")}[line.verdict]
    yield f"{name:<43}{values[0]:>13}{values[1]:>13}{values[2]:>12}{values[3]:>10}  {mark}"


def _value(line: ToldLine, value: float | str | None, *, sign: bool = False) -> str:
    if value is None or isinstance(value, str):
        return told(value) if value else "-"
    unit, factor, digits = SHOWN[line.unit]
    return quantity(factor * value, unit, digits, sign=sign)


def _said(line: ToldLine) -> str:
    named = ", ".join(told(NAMED[a]) for a in line.assumptions)
    words = f"{told(line.item)}, {told(line.quantity)}"
    words = say("{name}: {meaning}", name=words, meaning=named) if named else words
    return set_apart((words, told(line.remark))) if line.remark else words


def _about_spreads(answer: BenchTold) -> Iterator[str]:
    sure = number(SURE, 0)
    yield say("A line agrees when it is off by no more than {sure} spreads (standard deviations).", sure=sure)
    if any(line.assumed_spread for line in answer.lines):
        yield say(
            "Spreads not stated were taken as {dry} dry, {wet} in water, {length}, {time}, {lead} of a float's lead "
            "and {moment}: what careful reading of ordinary tools is good for (assumed). Write your own: "
            '"2.62 +- 0.02 kg".',
            dry=quantity(0.05, "kg", 2),
            wet=quantity(0.1, "kg", 1),
            length=quantity(1.0, "cm", 0),
            time=quantity(0.5, "s", 1),
            lead=quantity(0.4, "kg", 1),
            moment=quantity(2.0, "N m", 0),
        )
    if any(line.quantity.startswith("time") for line in answer.lines):
        yield say("The spread of the time holds 20 % of the model's own, for added inertia and the flow of gas.")
