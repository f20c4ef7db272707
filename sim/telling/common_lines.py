"""Lines that several answers share: whose diver, the moment in a sentence, what every answer ends with."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sim.said import by_units, note
from sim.telling.caution import told_caution
from sim.telling.language import quantity, say, told
from sim.telling.lead_words import HALF_A_METRE, NO_MOMENT, TWENTY_INCHES, lead_at
from sim.telling.words import bullets, wrapped
from sim.telling.written_file import WrittenFile


def moment_lines(moment: float) -> list[str]:
    """The trimming moment [N m], plus turns head-up, as a sentence over two lines."""
    if abs(moment) < NO_MOMENT:
        return [
            say(
                "When you hold flat and stop moving you are in balance: the moment is {moment}.",
                moment=quantity(abs(moment), "N m", 2),
            )
        ]
    size = quantity(abs(moment), "N m", 1)
    metric, imperial = lead_at(moment, HALF_A_METRE, 2), lead_at(moment, TWENTY_INCHES, 2)
    if moment > 0:
        return [
            say("When you hold flat and stop moving you are turned head-up with {size}:", size=size),
            told(
                by_units(
                    note("like {mass} moved half a metre toward the feet.", mass=metric),
                    note("like {mass} moved 20 in toward the feet.", mass=imperial),
                )
            ),
        ]
    return [
        say("When you hold flat and stop moving you are turned head-down with {size}:", size=size),
        told(
            by_units(
                note("like {mass} moved half a metre toward the head.", mass=metric),
                note("like {mass} moved 20 in toward the head.", mass=imperial),
            )
        ),
    ]


def diver_lines(title: str) -> list[str]:
    """The scenario's own title, where it has one."""
    return ["", *wrapped(say("Diver: {title}", title=title), later="  ")] if title else []


def ending_lines(notes: Iterable[str], estimated: Sequence[str], caution: str) -> list[str]:
    """What every report ends with: notes, what was estimated, the caution."""
    lines = bullets(say("Notes"), (told(text) for text in notes))
    if estimated:
        names = ", ".join(told(name) for name in estimated)
        lines += ["", *wrapped(say("Estimated, not given: {names}.", names=names), later="  ")]
    return [*lines, "", *wrapped(say("Caution: {caution}", caution=told_caution(caution)), later="  ")]


def chart_lines(chart: WrittenFile | None) -> list[str]:
    """Where a chart was written, where one was asked for."""
    return [] if chart is None else ["", say("Chart: {file}", file=chart.file)]
