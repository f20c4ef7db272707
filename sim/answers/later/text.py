"""What an instructor reads of a diver later in the dive: ``hangflat.later/1`` as plain text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from sim.answers.later.answer import LaterAnswer, LaterPoint
from sim.answers.later.loop import LOOP
from sim.answers.posture.posture import Held
from sim.assembly.refilled import BACK, OXYGEN
from sim.said import word
from sim.telling.common_lines import diver_lines, ending_lines
from sim.telling.language import number, quantity, reader, say, say_count, told
from sim.telling.lead_words import like_lead
from sim.telling.words import NO_ANGLE, NO_WEIGHT, moment_words, rows, wrapped

LITRE: Final = 1e-3
BAR: Final = 1e5
GRAM: Final = 1e-3
MINUTE: Final = 60.0
MOST_ROWS: Final = 12
MOST_SPANS: Final = 2  # that a sentence names
ALIKE: Final = 1e6  # Pa by which cylinders may differ that count as equally full (assumed)
SMALL_CHANGE: Final = 0.05  # N m, below the shown digits
HELD: Final[tuple[Held, ...]] = (
    "hangs by itself", "a small shift of the knees holds it", "has to be held", "cannot be held",
)  # fmt: skip
SAID: Final = (
    word("you hang by yourself"),
    word("a small shift of the knees holds it"),
    word("it has to be held, with knees, hips or arms well away from where they rest"),
    word("no posture holds it: it takes the fins, or other gear"),
)
READING: Final = word(
    "Moment: plus turns head-up. Turned: degrees to which you are turned from flat if you stop moving, roll held "
    "level; over: past the vertical. Roll: what rolls you, plus lifts the left side."
)


def later_text(answer: LaterAnswer) -> str:
    """First what it comes to, then moment by moment, then the gas, then why."""
    points = answer.points
    lines = [
        *wrapped(_headline(points)),
        *wrapped(_held(points)),
        *wrapped(f"{_lightest(points[answer.lightest])} {_counted(answer)}"),
        *wrapped(_at_the_end(points[-1])),
        *diver_lines(answer.title),
        "",
        *wrapped(told(answer.course)),
        "",
        *_table(points),
        *rows(say("Where the gas went"), _gas_rows(points)),
        *rows(say("What turns you more or less at the end, largest change first"), _change_rows(answer)),
    ]
    return "\n".join([*lines, *ending_lines(answer.notes, answer.estimated, answer.caution)])


def _headline(points: Sequence[LaterPoint]) -> str:
    first, last = points[0], points[-1]
    most = max(points, key=lambda p: abs(p.pitch_moment))
    then, now = (f"{moment_words(p.pitch_moment)}{like_lead(p.pitch_moment)}" for p in (first, last))
    start, end = _where(first), _where(last)
    if then == now:
        text = say(
            "From {start} to {end}, what turns you when you hold flat stays at {now}.", start=start, end=end, now=now
        )
    else:
        text = say(
            "From {start} to {end}, what turns you when you hold flat goes from {then} to {now}.",
            start=start,
            end=end,
            then=then,
            now=now,
        )
    if most not in (first, last):
        text += " " + say("Most is {moment}, {when}.", moment=moment_words(most.pitch_moment), when=_when(most))
    return text


def _held(points: Sequence[LaterPoint]) -> str:
    """What the moment asks of the diver where it asks most, when that is, and what it asks at best."""
    asks = [HELD.index(p.held) for p in points]
    worst = max(asks)
    if min(asks) == worst:
        return say("All along, {asked}.", asked=told(SAID[worst]))
    runs = list(_runs([a == worst for a in asks]))
    if len(runs) > MOST_SPANS:
        times = say_count("{n} time", "{n} times", len(runs))
    else:
        times = say(" and ").join(_span(points, first, last) for first, last in runs)
    times = times[0].upper() + times[1:]
    return say("{times}, {worst}; at best, {best}.", times=times, worst=told(SAID[worst]), best=told(SAID[min(asks)]))


def _runs(so: Sequence[bool]) -> Iterator[tuple[int, int]]:
    """First and last of each unbroken row of those that are so."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], so, [False]]).astype(int)))
    yield from ((int(first), int(end) - 1) for first, end in edges.reshape(-1, 2))


def _span(points: Sequence[LaterPoint], first: int, last: int) -> str:
    if last == len(points) - 1:
        return say("{when} and from then on", when=_when(points[first]))
    if last == first or points[last].time < MINUTE:
        return _when(points[first])
    if first == 0:
        return say("until minute {last:.0f}", last=points[last].time / 60.0)
    return say(
        "from minute {first:.0f} to {last:.0f}", first=points[first].time / 60.0, last=points[last].time / 60.0
    )


def _where(point: LaterPoint) -> str:
    back = point.pressure.get("back")
    depth = quantity(point.depth, "m", 0)
    return (
        depth if back is None else say("{depth} and {pressure}", depth=depth, pressure=quantity(back / BAR, "bar", 0))
    )


def _when(point: LaterPoint) -> str:
    minutes = point.time / 60.0
    depth = quantity(point.depth, "m", 0)
    if minutes >= 1.0:
        return say("after {minutes:.0f} min at {depth}", minutes=minutes, depth=depth)
    return say("at first, at {depth}", depth=depth)


def _lightest(point: LaterPoint) -> str:
    heavy = point.heavy_with_empty_wing
    if heavy is None:
        net = point.net_buoyancy
        if abs(net) < NO_WEIGHT:
            return say("You are lightest {when}: you neither sink nor float up.", when=_when(point))
        size = quantity(abs(net), "kg", 1)
        if net > 0.0:
            return say("You are lightest {when}: you float up with {size}.", when=_when(point), size=size)
        return say("You are lightest {when}: you sink with {size}.", when=_when(point), size=size)
    size = quantity(abs(heavy), "kg", 1)
    if heavy < -NO_WEIGHT:
        return say(
            "You are lightest {when}: the wing is empty and you float up with {size}.", when=_when(point), size=size
        )
    size = quantity(heavy, "kg", 1)
    return say(
        "You are lightest {when}: with an empty wing you would sink with {size} even then.",
        when=_when(point),
        size=size,
    )


def _counted(answer: LaterAnswer) -> str:
    """What that weight is made of, which ``hangflat weigh`` counts otherwise."""
    gas = quantity(answer.points[answer.lightest].gas, "kg", 1)
    if answer.lead < NO_WEIGHT:
        return say("That counts {gas} of gas in the cylinders.", gas=gas)
    lead = quantity(answer.lead, "kg", 1)
    return say(
        "That counts {lead} of lead, which hangflat weigh first leaves off, and {gas} of gas in the cylinders.",
        lead=lead,
        gas=gas,
    )


def _at_the_end(last: LaterPoint) -> str:
    """What stands in which cylinder at the end, where that is not the same in all; empty where it is."""
    carried = {name: bar for name, bar in last.pressure.items() if name not in last.left_behind}
    if len(carried) < 2 or max(carried.values()) - min(carried.values()) < ALIKE:
        return ""
    each = ", ".join(f"{told(name)} {quantity(bar / BAR, 'bar', 0)}" for name, bar in carried.items())
    return say(
        "At the end here: {cylinders}. hangflat change and hangflat weigh count every cylinder as nearly empty then, "
        "hence their other figures.",
        cylinders=each,
    )


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
    named = (
        (say("time"), 8), (say("depth"), 6), (say("breathed from"), 17), (say("wing"), 6), (say("suit"), 6),
        (say("buoyancy"), 13), (say("moment"), 9), (say("turned"), 7), (say("roll"), 8),
    )  # fmt: skip
    wider = 0 if reader().units == "metric" else 3  # for units with longer names
    names = [(name, max(width + wider, len(name))) for name, width in named]
    head = "  ".join(f"{name:>{width}}" for name, width in names)
    lines = [head, "-" * len(head)]
    for p in _picked(points):
        source = p.breathed_from
        gauge = p.pressure[OXYGEN if source == LOOP else source]
        name = say("oxygen", sense="what is breathed") if source == LOOP else told(source)[:9]
        bar = f"{name} {quantity(gauge / BAR, 'bar', 0)}"
        cells = (
            f"{number(p.time / 60.0, 1)} min", quantity(p.depth, "m", 1), bar,
            quantity(p.wing_gas / LITRE + 0.0, "l", 1),
            quantity(p.suit_gas / LITRE, "l", 1) if p.suit_gas > 0.0 else "-", _buoyancy(p.net_buoyancy),
            quantity(p.pitch_moment, "N m", 1, sign=True),
            _angle(p.pitch), quantity(p.roll_moment, "N m", 1, sign=True),
        )  # fmt: skip
        lines.append("  ".join(f"{cell:>{width}}" for cell, (_, width) in zip(cells, names, strict=True)))
    return [*lines, "", *wrapped(told(READING))]


def _angle(angle: float | None) -> str:
    if angle is None:
        return say("over", sense="past the vertical")
    turned = float(np.degrees(angle))
    if abs(turned) < NO_ANGLE:
        return say("level")
    size = number(abs(turned), 0)
    return say("{size} up", size=size) if turned > 0.0 else say("{size} down", size=size)


def _buoyancy(net: float) -> str:
    if abs(net) < NO_WEIGHT:
        return say("neutral")
    size = quantity(abs(net), "kg", 1)
    return say("{size} floats", size=size) if net > 0.0 else say("{size} sinks", size=size)


def _gas_rows(points: Sequence[LaterPoint]) -> Iterator[tuple[str, str]]:
    first, last = points[0], points[-1]
    flows = last.flows
    if flows.breathed or not flows.oxygen_used:
        yield say("breathed"), quantity(flows.breathed, "kg", 2)
    if flows.oxygen_used:
        used = quantity(flows.oxygen_used / GRAM, "g", 0)
        yield say("oxygen"), say("{used} used by the body, caught in the canister as carbon dioxide", used=used)
    for name, inside, out in (
        (say("loop"), flows.loop_in, flows.loop_out),
        (say("wing"), flows.wing_in, flows.wing_out),
        (say("suit"), flows.suit_in, flows.suit_out),
    ):
        if inside or out:
            yield name, _let_in_and_out(first, inside, out)
    if flows.suit_own:
        own = quantity(flows.suit_own / GRAM, "g", 0)
        yield say("suit's own"), say("{let_in} let in from a cylinder of its own", let_in=own)
    for source, bar in first.pressure.items():
        yield (
            told(source),
            say(
                "from {first} to {last}",
                first=quantity(bar / BAR, "bar", 0, bare=True),
                last=quantity(last.pressure[source] / BAR, "bar", 0),
            ),
        )
    shrinks = max(p.foam_lift for p in points) - min(p.foam_lift for p in points)
    if shrinks > NO_WEIGHT:
        lost = quantity(shrinks, "kg", 1)
        yield say("foam"), say("suit, hood, gloves and boots lose up to {lost} of lift to the depth", lost=lost)


def _let_in_and_out(first: LaterPoint, inside: float, out: float) -> str:
    """Gas [kg] let into a pocket from whatever feeds it, and out of it."""
    let_in, let_out = quantity(inside / GRAM, "g", 0), quantity(out / GRAM, "g", 0)
    if BACK in first.pressure:
        return say(
            "{let_in} let in from the cylinders on the back, {let_out} let out", let_in=let_in, let_out=let_out
        )
    if OXYGEN in first.pressure:
        return say("{let_in} let in from the diluent, {let_out} let out", let_in=let_in, let_out=let_out)
    return say("{let_in} let in from the first side-hung cylinder, {let_out} let out", let_in=let_in, let_out=let_out)


def _change_rows(answer: LaterAnswer) -> Iterator[tuple[str, str]]:
    for item in answer.changes:
        if abs(item.last - item.first) >= SMALL_CHANGE:
            yield told(item.name), change_words(item.first, item.last)


def change_words(first: float, last: float) -> str:
    """What an item's moment was and has become [N m]."""
    more, then = quantity(abs(last - first), "N m", 1), quantity(first, "N m", 1, sign=True)
    now = quantity(last, "N m", 1, sign=True, bare=True)
    if last > first:
        return say("{more} more head-up ({then}, then {now})", more=more, then=then, now=now)
    return say("{more} more head-down ({then}, then {now})", more=more, then=then, now=now)
