"""What an instructor reads of a diver later in the dive: ``hangflat.later/1`` as plain text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from sim.answers.later.answer import LaterAnswer, LaterPoint
from sim.answers.posture.posture import Held
from sim.assembly.refilled import BACK
from sim.telling.common_lines import diver_lines, ending_lines
from sim.telling.lead_words import like_lead
from sim.telling.words import NO_ANGLE, NO_WEIGHT, moment_words, rows, wrapped

LITRE: Final = 1e-3
BAR: Final = 1e5
GRAM: Final = 1e-3
MOST_ROWS: Final = 12
MOST_SPANS: Final = 2  # that a sentence names
SMALL_CHANGE: Final = 0.05  # N m, below the shown digits
HELD: Final[tuple[Held, ...]] = (
    "hangs by itself", "a small shift of the knees holds it", "has to be held", "cannot be held",
)  # fmt: skip
SAID: Final = (
    "you hang by yourself",
    "a small shift of the knees holds it",
    "it has to be held, with knees, hips or arms well away from where they rest",
    "no posture holds it: it takes the fins, or other gear",
)
READING: Final = (
    "Moment: plus turns head-up. Turned: degrees to which you are turned from flat if you stop moving, roll held "
    "level; over: past the vertical. Roll: what rolls you, plus lifts the left side."
)


def later_text(answer: LaterAnswer) -> str:
    """First what it comes to, then moment by moment, then the gas, then why."""
    points = answer.points
    lines = [
        *wrapped(_headline(points)),
        *wrapped(_held(points)),
        *wrapped(_lightest(points[answer.lightest])),
        *diver_lines(answer.title),
        "",
        *wrapped(answer.course),
        "",
        *_table(points),
        *rows("Where the gas went", _gas_rows(points)),
        *rows("What turns you more or less at the end, largest change first", _change_rows(answer)),
    ]
    return "\n".join([*lines, *ending_lines(answer.notes, answer.estimated, answer.caution)])


def _headline(points: Sequence[LaterPoint]) -> str:
    first, last = points[0], points[-1]
    most = max(points, key=lambda p: abs(p.pitch_moment))
    then, now = (f"{moment_words(p.pitch_moment)}{like_lead(p.pitch_moment)}" for p in (first, last))
    goes = f"stays at {now}" if then == now else f"goes from {then} to {now}"
    text = f"From {_where(first)} to {_where(last)}, what turns you when you hold flat {goes}."
    if most not in (first, last):
        text += f" Most is {moment_words(most.pitch_moment)}, {_when(most)}."
    return text


def _held(points: Sequence[LaterPoint]) -> str:
    """What the moment asks of the diver where it asks most, when that is, and what it asks at best."""
    asks = [HELD.index(p.held) for p in points]
    worst = max(asks)
    if min(asks) == worst:
        return f"All along, {SAID[worst]}."
    runs = list(_runs([a == worst for a in asks]))
    if len(runs) > MOST_SPANS:
        times = f"{len(runs)} times"
    else:
        times = " and ".join(_span(points, first, last) for first, last in runs)
    return f"{times[0].upper()}{times[1:]}, {SAID[worst]}; at best, {SAID[min(asks)]}."


def _runs(so: Sequence[bool]) -> Iterator[tuple[int, int]]:
    """First and last of each unbroken row of those that are so."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], so, [False]]).astype(int)))
    yield from ((int(first), int(end) - 1) for first, end in edges.reshape(-1, 2))


def _span(points: Sequence[LaterPoint], first: int, last: int) -> str:
    if last == len(points) - 1:
        return f"{_when(points[first])} and from then on"
    if last == first:
        return _when(points[first])
    if first == 0:
        return f"until minute {points[last].time / 60.0:.0f}"
    return f"from minute {points[first].time / 60.0:.0f} to {points[last].time / 60.0:.0f}"


def _where(point: LaterPoint) -> str:
    back = point.pressure.get("back")
    return f"{point.depth:.0f} m" + ("" if back is None else f" and {back / BAR:.0f} bar")


def _when(point: LaterPoint) -> str:
    minutes = point.time / 60.0
    return (
        f"after {minutes:.0f} min at {point.depth:.0f} m" if minutes >= 1.0 else f"at first, at {point.depth:.0f} m"
    )


def _lightest(point: LaterPoint) -> str:
    heavy = point.heavy_with_empty_wing
    if heavy is None:
        net = point.net_buoyancy
        words = "float up with" if net > 0.0 else "sink with"
        how = "neither sink nor float up" if abs(net) < NO_WEIGHT else f"{words} {abs(net):.1f} kg"
        return f"You are lightest {_when(point)}: you {how}."
    if heavy < -NO_WEIGHT:
        return f"You are lightest {_when(point)}: the wing is empty and you float up with {-heavy:.1f} kg."
    return f"You are lightest {_when(point)}: with an empty wing you would sink with {heavy:.1f} kg even then."


def _picked(points: Sequence[LaterPoint]) -> list[LaterPoint]:
    """Where depth, gas or load turn, and some between."""
    turns = {0, len(points) - 1}
    for i in range(1, len(points) - 1):
        before, here, after = points[i - 1 : i + 2]
        bends = not np.isclose(after.depth - here.depth, here.depth - before.depth, atol=0.5)
        if bends or here.left_behind != before.left_behind or after.breathed_from != here.breathed_from:
            turns.add(i)
    spare = max(MOST_ROWS - len(turns), 0)
    between = np.linspace(0, len(points) - 1, spare + 2).round().astype(int)[1:-1]
    return [points[i] for i in sorted(turns | set(between.tolist()))]


def _table(points: Sequence[LaterPoint]) -> list[str]:
    names = (
        ("time", 8), ("depth", 6), ("breathed from", 17), ("wing", 6), ("suit", 6), ("buoyancy", 13), ("moment", 9),
        ("turned", 7), ("roll", 8),
    )  # fmt: skip
    head = "  ".join(f"{name:>{width}}" for name, width in names)
    lines = [head, "-" * len(head)]
    for p in _picked(points):
        source = p.breathed_from
        bar = f"{source[:9]} {p.pressure[source] / BAR:.0f} bar"
        cells = (
            f"{p.time / 60.0:.1f} min", f"{p.depth:.1f} m", bar, f"{p.wing_gas / LITRE + 0.0:.1f} l",
            f"{p.suit_gas / LITRE:.1f} l" if p.suit_gas > 0.0 else "-", _buoyancy(p.net_buoyancy),
            f"{p.pitch_moment:+.1f} N m",
            _angle(p.pitch), f"{p.roll_moment:+.1f} N m",
        )  # fmt: skip
        lines.append("  ".join(f"{cell:>{width}}" for cell, (_, width) in zip(cells, names, strict=True)))
    return [*lines, "", *wrapped(READING)]


def _angle(angle: float | None) -> str:
    if angle is None:
        return "over"
    turned = float(np.degrees(angle))
    return "level" if abs(turned) < NO_ANGLE else f"{abs(turned):.0f} {'up' if turned > 0.0 else 'down'}"


def _buoyancy(net: float) -> str:
    if abs(net) < NO_WEIGHT:
        return "neutral"
    return f"{abs(net):.1f} kg {'floats' if net > 0.0 else 'sinks'}"


def _gas_rows(points: Sequence[LaterPoint]) -> Iterator[tuple[str, str]]:
    first, last = points[0], points[-1]
    flows = last.flows
    yield "breathed", f"{flows.breathed:.2f} kg"
    feeds = "the cylinders on the back" if BACK in first.pressure else "the first side-hung cylinder"
    for name, inside, out in (("wing", flows.wing_in, flows.wing_out), ("suit", flows.suit_in, flows.suit_out)):
        if inside or out:
            yield name, f"{inside / GRAM:.0f} g let in from {feeds}, {out / GRAM:.0f} g let out"
    if flows.suit_own:
        yield "suit's own", f"{flows.suit_own / GRAM:.0f} g let in from a cylinder of its own"
    for source, bar in first.pressure.items():
        yield source, f"from {bar / BAR:.0f} to {last.pressure[source] / BAR:.0f} bar"
    shrinks = max(p.foam_lift for p in points) - min(p.foam_lift for p in points)
    if shrinks > NO_WEIGHT:
        yield "foam", f"suit, hood, gloves and boots lose up to {shrinks:.1f} kg of lift to the depth"


def _change_rows(answer: LaterAnswer) -> Iterator[tuple[str, str]]:
    for item in answer.changes:
        change = item.last - item.first
        if abs(change) >= SMALL_CHANGE:
            way = "up" if change > 0.0 else "down"
            yield item.name, f"{abs(change):.1f} N m more head-{way} ({item.first:+.1f} N m, then {item.last:+.1f})"
