"""What an instructor reads of which item turns the diver, as plain text, 100 columns wide."""

from __future__ import annotations

from collections.abc import Sequence

from sim.answers.settle.answer import Item
from sim.answers.why.answer import WhyAnswer
from sim.telling.common_lines import diver_lines, ending_lines, moment_lines
from sim.telling.drawn_plate import drawn_plate_lines, notes_not_told
from sim.telling.language import quantity, say, told, unit_name
from sim.telling.words import wrapped


def why_text(answer: WhyAnswer) -> str:
    """What each item does to the diver held flat, largest moment first."""
    moment = answer.flat.pitch_moment
    lines = [
        *drawn_plate_lines(answer.drawn_plate),
        *moment_lines(moment),
        *diver_lines(answer.title),
        "",
        *budget_table(answer.items, moment),
        "",
        *wrapped(
            say(
                "Apparent weight: plus sinks. Arm: how far headward the middle of its mass lies of the point the "
                "moments are taken about. Moment: plus turns head-up; other than weight times arm where the water "
                "that it displaces has another middle than its mass, like lungs or a cylinder's heavy base."
            )
        ),
        *ending_lines(notes_not_told(answer.notes, answer.drawn_plate), answer.estimated, answer.caution),
    ]
    return "\n".join(lines)


def budget_table(items: Sequence[Item], total: float) -> list[str]:
    """One aligned line for each item and one for the sum of moments ``total`` [N m]."""
    item, weight, arm, turns = say("item"), say("apparent weight"), say("arm"), say("moment")
    names = [told(i.name)[:44] for i in items]
    width = max(len(name) for name in (item, *names))
    widths = [max(14 + len(unit_name("kg")), len(weight)), 8 + len(unit_name("m")), 8 + len(unit_name("N m"))]

    def line(name: str, *cells: str) -> str:
        return "  ".join([f"{name:<{width}}", *(f"{cell:>{w}}" for cell, w in zip(cells, widths, strict=True))])

    head = line(item, weight, arm, turns)
    rule = "-" * len(head)
    rows = [
        line(
            name,
            quantity(i.apparent_weight, "kg", 2, sign=True),
            quantity(i.arm, "m", 3, sign=True),
            quantity(i.moment, "N m", 2, sign=True),
        )
        for name, i in zip(names, items, strict=True)
    ]
    return [head, rule, *rows, rule, line(say("together"), "", "", quantity(total, "N m", 2, sign=True))]
