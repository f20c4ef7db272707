"""What an instructor reads of a diver as the cylinders empty."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from sim.answers.later.empty_answer import EmptyAnswer, Point
from sim.answers.later.empty_report import BAR
from sim.answers.later.text import change_words
from sim.telling.common_lines import diver_lines, ending_lines
from sim.telling.language import quantity, reader, say, told
from sim.telling.lead_words import like_lead
from sim.telling.words import NO_WEIGHT, light_or_heavy, moment_words, rows, wrapped

LITRE: Final = 1e-3
MOST_ROWS: Final = 8
SMALL_CHANGE: Final = 0.05  # N m, below the shown digits


def empty_text(answer: EmptyAnswer) -> str:
    """First what it comes to, then pressure by pressure, then why."""
    points = answer.points
    first, last = points[0], points[-1]
    lines = [
        *wrapped(_headline(first, last)),
        *diver_lines(answer.title),
        "",
        *_table(points),
        *rows(say("What the gas does"), _gas_rows(answer)),
        *rows(say("What turns you more or less at the end, largest change first"), _change_rows(answer)),
        *ending_lines(answer.notes, answer.estimated, answer.caution),
    ]
    return "\n".join(lines)


def _headline(first: Point, last: Point) -> str:
    start, end = quantity(first.pressure / BAR, "bar", 0, bare=True), quantity(last.pressure / BAR, "bar", 0)
    then, now = (f"{moment_words(m)}{like_lead(m)}" for m in (first.moment, last.moment))
    if then == now:
        return say(
            "From {start} to {end}, what turns you when you hold flat stays at {now}.", start=start, end=end, now=now
        )
    return say(
        "From {start} to {end}, what turns you when you hold flat goes from {then} to {now}.",
        start=start,
        end=end,
        then=then,
        now=now,
    )


def _table(points: Sequence[Point]) -> list[str]:
    picked = np.unique(np.linspace(0, len(points) - 1, min(MOST_ROWS, len(points))).round().astype(int))
    named = (
        (say("pressure"), 8),
        (say("breathed"), 9),
        (say("wing gas"), 8),
        (say("buoyancy"), 20),
        (say("moment"), 11),
        (say("pitch stiffness"), 15),  # and its cells one wider
    )
    wider = 0 if reader().units == "metric" else 3  # for units with longer names
    names = [(name, max(width + wider, len(name))) for name, width in named]
    head = "  ".join(f"{name:>{width}}" for name, width in names)
    lines = [head, "-" * len(head)]
    for p in (points[i] for i in picked):
        cells = (
            quantity(p.pressure / BAR, "bar", 0),
            quantity(p.breathed, "kg", 2),
            quantity(p.wing_gas / LITRE, "l", 1),
            _buoyancy(p.net_buoyancy),
            quantity(p.moment, "N m", 1, sign=True),
            quantity(p.pitch_stiffness, "N m/rad", 1, sign=True),
        )
        line = "  ".join(f"{cell:>{width}}" for cell, (_, width) in zip(cells[:-1], names[:-1], strict=True))
        lines.append(f"{line}  {cells[-1]:>{names[-1][1] + 1}}")
    return [*lines, "", *wrapped(say("Moment: plus turns head-up. Depth, suit and pose stay as they are."))]


def _buoyancy(net: float) -> str:
    if abs(net) < NO_WEIGHT:
        return say("neutral")
    size = quantity(abs(net), "kg", 2)
    return say("{size}, floats up", size=size) if net > 0.0 else say("{size}, sinks", size=size)


def _gas_rows(answer: EmptyAnswer) -> Iterator[tuple[str, str]]:
    first, last = answer.points[0], answer.points[-1]
    mass = quantity(last.breathed, "kg", 2)
    yield say("breathed"), say("{mass} of gas, which lay on the back", mass=mass)
    if last.heavy is None:
        yield (
            say("buoyancy"),
            say(
                "at first {first}, at last {last}",
                first=light_or_heavy(first.net_buoyancy),
                last=light_or_heavy(last.net_buoyancy),
            ),
        )
        return
    yield say("wing"), _wing(answer, last.heavy)
    full = [p.pressure / BAR for p in answer.points if p.net_buoyancy < -NO_WEIGHT]
    if full:
        words = say(
            "the wing does not hold the diver up from {first} to {last}",
            first=quantity(full[0], "bar", 0, bare=True),
            last=quantity(full[-1], "bar", 0),
        )
        yield say("too heavy"), words


def _wing(answer: EmptyAnswer, heavy: float) -> str:
    """What becomes of its gas; ``heavy`` : what the diver weighs at the end with an empty one [kg], plus sinks."""
    first, last = answer.points[0], answer.points[-1]
    let_out = quantity((first.wing_gas - last.wing_gas) / LITRE, "l", 1)
    end, at = quantity(last.pressure / BAR, "bar", 0), answer.wing_empty_at
    holds = quantity(last.wing_gas / LITRE, "l", 1)
    if all(p.net_buoyancy < -NO_WEIGHT for p in answer.points):
        return say(
            "full throughout, {holds}: with an empty one the diver would sink with {heavy}",
            holds=holds,
            heavy=quantity(heavy, "kg", 1),
        )
    if at is None:
        return say(
            "lets out {let_out} and never runs empty: at {end} it holds {holds}; with an "
            "empty one the diver would sink with {heavy}, so much more is worn than this depth asks for",
            let_out=let_out,
            end=end,
            holds=holds,
            heavy=quantity(heavy, "kg", 1),
        )
    if at >= first.pressure:
        return say(
            "empty from the start: at {end} the diver floats up with {light}, which are missing",
            end=end,
            light=quantity(-heavy, "kg", 1),
        )
    return say(
        "empty at {at}: below that the diver floats up, at {end} with {light}, weighed in water, which are missing",
        at=quantity(at / BAR, "bar", 0),
        end=end,
        light=quantity(-heavy, "kg", 1),
    )


def _change_rows(answer: EmptyAnswer) -> Iterator[tuple[str, str]]:
    for item in answer.changes:
        if abs(item.last - item.first) >= SMALL_CHANGE:
            yield told(item.name), change_words(item.first, item.last)
