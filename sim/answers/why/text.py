"""What an instructor reads of which item turns the diver, as plain text, 100 columns wide."""

from __future__ import annotations

from collections.abc import Sequence

from sim.answers.settle.answer import Item
from sim.answers.why.answer import WhyAnswer
from sim.telling.common_lines import diver_lines, ending_lines, moment_lines
from sim.telling.drawn_plate import drawn_plate_lines, notes_not_told
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
            "Apparent weight: plus sinks. Arm: how far headward of the point the moments are taken about. "
            "Moment: plus turns head-up."
        ),
        *ending_lines(notes_not_told(answer.notes, answer.drawn_plate), answer.estimated, answer.caution),
    ]
    return "\n".join(lines)


def budget_table(items: Sequence[Item], total: float) -> list[str]:
    """One aligned line for each item and one for the sum of moments ``total`` [N m]."""
    width = max([len("item"), *(min(len(i.name), 44) for i in items)])
    lines = [f"{'item':<{width}}  {'apparent weight':>16}  {'arm':>9}  {'moment':>11}", "-" * (width + 42)]
    lines += [
        f"{i.name[:44]:<{width}}  {i.apparent_weight:>+13.2f} kg  {i.arm:>+7.3f} m  {i.moment:>+7.2f} N m"
        for i in items
    ]
    return [*lines, "-" * (width + 42), f"{'together':<{width}}  {'':>16}  {'':>9}  {total:>+7.2f} N m"]
