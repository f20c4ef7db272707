"""What an instructor reads of a diver as the cylinders empty."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from sim.answers.later.empty_answer import EmptyAnswer, Point
from sim.answers.later.empty_report import BAR
from sim.telling.common_lines import diver_lines, ending_lines
from sim.telling.lead_words import like_lead
from sim.telling.words import NO_WEIGHT, light_or_heavy, moment_words, rows, wrapped

LITRE: Final = 1e-3
MOST_ROWS: Final = 8
SMALL_CHANGE: Final = 0.05  # N m, below the shown digits


def empty_text(told: EmptyAnswer) -> str:
    """First what it comes to, then pressure by pressure, then why."""
    points = told.points
    first, last = points[0], points[-1]
    then, now = (f"{moment_words(m)}{like_lead(m)}" for m in (first.moment, last.moment))
    lines = [
        *wrapped(
            f"From {first.pressure / BAR:.0f} to {last.pressure / BAR:.0f} bar, what turns you when you hold flat "
            f"{'stays at' if then == now else f'goes from {then} to'} {now}."
        ),
        *diver_lines(told.title),
        "",
        *_table(points),
        *rows("What the gas does", _gas_rows(told)),
        *rows("What turns you more or less at the end, largest change first", _change_rows(told)),
        *ending_lines(told.notes, told.estimated, told.caution),
    ]
    return "\n".join(lines)


def _table(points: Sequence[Point]) -> list[str]:
    picked = np.unique(np.linspace(0, len(points) - 1, min(MOST_ROWS, len(points))).round().astype(int))
    names = (
        ("pressure", 8),
        ("breathed", 9),
        ("wing gas", 8),
        ("buoyancy", 20),
        ("moment", 11),
        ("pitch stiffness", 15),
    )
    head = "  ".join(f"{name:>{width}}" for name, width in names)
    lines = [head, "-" * len(head)]
    lines += [
        f"{p.pressure / BAR:>4.0f} bar  {p.breathed:>6.2f} kg  {p.wing_gas / LITRE:>6.1f} l  "
        f"{_buoyancy(p.net_buoyancy):>20}  {p.moment:>+7.1f} N m  "
        f"{p.pitch_stiffness:>+8.1f} N m/rad"
        for p in (points[i] for i in picked)
    ]
    return [*lines, "", *wrapped("Moment: plus turns head-up. Depth, suit and pose stay as they are.")]


def _buoyancy(net: float) -> str:
    if abs(net) < NO_WEIGHT:
        return "neutral"
    return f"{abs(net):.2f} kg, {'floats up' if net > 0.0 else 'sinks'}"


def _gas_rows(told: EmptyAnswer) -> Iterator[tuple[str, str]]:
    first, last = told.points[0], told.points[-1]
    yield "breathed", f"{last.breathed:.2f} kg of gas, which lay on the back"
    if last.heavy is None:
        yield (
            "buoyancy",
            f"at first {light_or_heavy(first.net_buoyancy)}, at last {light_or_heavy(last.net_buoyancy)}",
        )
        return
    let_out, heavy = (first.wing_gas - last.wing_gas) / LITRE, last.heavy
    end, at = f"at {last.pressure / BAR:.0f} bar", told.wing_empty_at
    if all(p.net_buoyancy < -NO_WEIGHT for p in told.points):
        words = (
            f"full throughout, {last.wing_gas / LITRE:.1f} l: with an empty one the diver would sink with "
            f"{heavy:.1f} kg"
        )
    elif at is None:
        words = (
            f"lets out {let_out:.1f} l and never runs empty: {end} it holds {last.wing_gas / LITRE:.1f} l; with an "
            f"empty one the diver would sink with {heavy:.1f} kg, so much more is worn than this depth asks for"
        )
    elif at >= first.pressure:
        words = f"empty from the start: {end} the diver floats up with {-heavy:.1f} kg, which are missing"
    else:
        words = (
            f"empty at {at / BAR:.0f} bar: below that the diver floats up, {end} with {-heavy:.1f} kg, weighed in "
            "water, which are missing"
        )
    yield "wing", words
    full = [p.pressure / BAR for p in told.points if p.net_buoyancy < -NO_WEIGHT]
    if full:
        yield "too heavy", f"the wing does not hold the diver up from {full[0]:.0f} to {full[-1]:.0f} bar"


def _change_rows(told: EmptyAnswer) -> Iterator[tuple[str, str]]:
    for item in told.changes:
        change = item.last - item.first
        if abs(change) >= SMALL_CHANGE:
            way = "up" if change > 0.0 else "down"
            yield (
                item.name,
                f"{abs(change):.1f} N m more head-{way} ({item.first:+.1f} N m, then {item.last:+.1f})",
            )
