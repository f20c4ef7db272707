"""What an instructor reads of set-ups side by side: a ``Comparison`` as plain text, 100 columns wide."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

from sim.answers.compare.compared import Against, Comparison, Diver, Weighting, Worn, named
from sim.answers.compare.differences import Differences
from sim.telling.caution import told_caution
from sim.telling.imperial import IMPERIAL
from sim.telling.language import quantity, reader, say, say_count, told
from sim.telling.lead_words import NO_MOMENT
from sim.telling.words import NO_WEIGHT, WIDTH, attitude_words, bullets, moment_words, wrapped

MEASURED: Final = re.compile(r"(-?[0-9]+(?:\.[0-9]+)?) ?(\S.*)")  # a number with its unit
Row = tuple[str, Sequence[str]]
NAMES: Final = 26  # letters that the names of rows get at most
SMALL: Final = 0.1  # N m: lines in which no two divers differ by more are added up
MORE: Final = 12  # keys that differ and are listed before the rest is counted


def compare_text(answer: Comparison) -> str:
    """Differences first, then what they do; the caution last."""
    names = named([Path(d.file) for d in answer.divers])
    letters = "ABCDE"[: len(names)]
    lines = [f"{letter}  {name}: {d.title}" for letter, name, d in zip(letters, names, answer.divers, strict=True)]
    lines += _said_lines(answer.differences, letters)
    lines += table(say("Held flat and motionless"), letters, _flat_rows(answer.divers))
    weighed = [d.weighting for d in answer.divers]
    if any(weighed):
        heading = say("Weighed for the last stop, little gas left, wing empty")
        lines += table(heading, letters, _lead_rows(weighed))
    for against, letter in zip(answer.against, letters[1:], strict=True):
        lines += _effect_lines(against, letter)
    lines += table(say("What turns the diver, by groups of items"), letters, group_rows(answer.divers))
    worn = [d.worn for d in answer.divers]
    if any(worn):
        lines += table(say("Fit and the carry ashore"), letters, _fit_rows(worn))
        lines += wrapped(say("Plus passes by so much, minus fails by it: what passing asks for is taken off."), "  ")
        lines += _failing(worn, letters)
    if answer.estimated:
        lines += [
            "",
            *wrapped(say("Estimated, not given: {names}.", names=", ".join(map(told, answer.estimated))), later="  "),
        ]
    return "\n".join(
        [*lines, "", *wrapped(say("Caution: {caution}", caution=told_caution(answer.caution)), later="  ")]
    )


def table(heading: str, letters: Sequence[str], rows: Iterator[Row]) -> list[str]:
    """A heading over one column a diver; words too long for a column are broken within it."""
    found = list(rows)
    wide = min(max(len(name) for name, _ in found), NAMES)
    column = (WIDTH - wide - 2) // len(letters) - 2
    column = min(column, max(max(len(c) for _, cells in found for c in cells), 10))
    lines = ["", heading, " " * (wide + 2) + "".join(f"  {letter:<{column}}" for letter in letters).rstrip()]
    for name, cells in found:
        lines += _row(name, cells, wide, column)
    return lines


def _row(name: str, cells: Sequence[str], wide: int, column: int) -> Iterator[str]:
    import textwrap

    parts = [textwrap.wrap(name, wide), *(textwrap.wrap(cell, column) for cell in cells)]
    for i in range(max(len(p) for p in parts)):
        first, *rest = (p[i] if i < len(p) else "" for p in parts)
        yield (f"  {first:<{wide}}" + "".join(f"  {cell:<{column}}" for cell in rest)).rstrip()


def _flat_rows(divers: Sequence[Diver]) -> Iterator[Row]:
    yield say("turned"), [moment_words(d.pitch_moment) for d in divers]
    if any(d.held for d in divers):
        yield say("which"), [told(d.held) if d.held else "-" for d in divers]
    yield say("a small turn"), [say("goes back") if d.pitch_stiffness > 0 else say("grows by itself") for d in divers]
    if any(d.let_go for d in divers):
        yield say("5 s after stopping"), [_soon(d) for d in divers]
        yield say("in the end"), [_end(d) for d in divers]
    yield say("mass, gear and gas too"), [quantity(d.mass, "kg", 1) for d in divers]
    if any(abs(d.net_buoyancy) >= NO_WEIGHT for d in divers):
        yield say("net buoyancy"), [_buoyancy(d.net_buoyancy) for d in divers]
    yield say("gas in the wing"), [quantity(1e3 * d.wing_gas, "l", 1) for d in divers]
    yield say("gas in the suit"), [quantity(1e3 * d.suit_gas, "l", 1) for d in divers]


def _lead_rows(weighed: Sequence[Weighting | None]) -> Iterator[Row]:
    yield say("lead worn"), ["-" if w is None else quantity(w.worn, "kg", 1) for w in weighed]
    yield say("lead that is right"), ["-" if w is None else _right(w) for w in weighed]
    yield say("turned then, as worn"), ["-" if w is None else moment_words(w.moment) for w in weighed]
    yield say("which"), ["-" if w is None else told(w.held) for w in weighed]


def _right(w: Weighting) -> str:
    if w.heavy < NO_WEIGHT:
        return quantity(w.right, "kg", 1)
    return say("none, {heavy} too heavy without", heavy=quantity(w.heavy, "kg", 1))


def _buoyancy(net: float) -> str:
    if abs(net) < NO_WEIGHT:
        return say("neutral")
    size = quantity(abs(net), "kg", 1)
    return say("{size}, floats up", size=size) if net > 0 else say("{size}, sinks", size=size)


def _soon(diver: Diver) -> str:
    return say("as before") if diver.let_go is None else attitude_words(math.degrees(diver.let_go.pitch_soon), 0.0)


def _end(diver: Diver) -> str:
    go = diver.let_go
    if go is None:
        return say("stays as it is")
    where = attitude_words(math.degrees(go.pitch), 0.0)
    if go.reached or abs(go.pitch) > 0.5 * math.pi:
        return say("{where}, after {time:.0f} s", where=where, time=go.time)
    return say("moving: {where}", where=where)


def _effect_lines(against: Against, letter: str) -> list[str]:
    """What each differing table does by itself, for one pair."""
    if not against.effects:
        return []
    shown = [e for e in against.effects if e.moment is not None and abs(e.moment) >= NO_MOMENT]
    nothing = [e.table for e in against.effects if e.moment is not None and abs(e.moment) < NO_MOMENT]
    beyond, whole = say("together, beyond the sum"), say("all of it")
    wide = max([len(e.table) for e in shown] + [len(beyond)])
    heading = say("What turns A into {letter}: only this table of A's file replaced by {letter}'s", letter=letter)
    lines = ["", *wrapped(heading)]
    lines += [f"  {e.table:<{wide}}  {change_words(e.moment or 0.0)}" for e in shown]
    if len(shown) > 1 and abs(against.together) >= NO_MOMENT:
        lines.append(f"  {beyond:<{wide}}  {change_words(against.together)}")
    lines.append(f"  {whole:<{wide}}  {change_words(against.whole)}")
    if nothing:
        lines += wrapped(say("nothing to speak of: {tables}", tables=", ".join(nothing)), "  ", "    ")
    for effect in against.effects:
        if effect.moment is None:
            words = say("{table}: not by itself ({why})", table=effect.table, why=told(effect.why_not or ""))
            lines += wrapped(words, "  ", "    ")
    return lines


def change_words(moment: float) -> str:
    """A change of the moment [N m], plus head-up, in words."""
    if abs(moment) < NO_MOMENT:
        return say("nothing")
    size = f"{quantity(abs(moment), 'N m', 1):>8}"
    return say("{size} toward head-up", size=size) if moment > 0 else say("{size} toward head-down", size=size)


def group_rows(divers: Sequence[Diver]) -> Iterator[Row]:
    """What each group of items turns each diver with, the greatest difference first; what is alike added up."""
    names = list(dict.fromkeys(g for d in divers for g in d.groups))
    moments = {n: [d.groups[n].moment if n in d.groups else 0.0 for d in divers] for n in names}
    order = sorted(names, key=lambda n: -(max(moments[n]) - min(moments[n])))
    alike = [n for n in order if max(moments[n]) - min(moments[n]) < SMALL]
    for name in order:
        if name not in alike:
            yield (
                told(name),
                [_moment(m) if name in d.groups else say("none") for m, d in zip(moments[name], divers, strict=True)],
            )
    if alike:
        sums = [sum(moments[n][i] for n in alike) for i in range(len(divers))]
        yield say("all else, much alike") if len(alike) < len(order) else say("together"), [_moment(s) for s in sums]
    yield say("together"), [_moment(d.pitch_moment) for d in divers]


def _moment(moment: float) -> str:
    return quantity(round(moment, 1) + 0.0, "N m", 1, sign=True)


def _fit_rows(worn: Sequence[Worn | None]) -> Iterator[Row]:
    yield say("eyes look, held flat"), [_looks(w) for w in worn]
    for subject in dict.fromkeys(s for w in worn if w for s, d in w.demands.items() if d.passes is not None):
        yield told(subject), [_demand(w, subject) for w in worn]
    yield say("carried ashore"), ["-" if w is None else quantity(w.carried, "kg", 1) for w in worn]
    yield say("of the rig on the hips"), ["-" if w is None else _shares(w) for w in worn]


def _looks(worn: Worn | None) -> str:
    if worn is None:
        return "-"
    angle = round(math.degrees(worn.looks))
    if not angle:
        return say("straight ahead")
    if angle > 0:
        return say_count("{n} degree above ahead", "{n} degrees above ahead", angle)
    return say_count("{n} degree below ahead", "{n} degrees below ahead", -angle)


def _shares(worn: Worn) -> str:
    least, most = round(100 * worn.hips_least), round(100 * worn.hips_most)
    return f"{most} %" if least == most else say("{least} to {most} %", least=least, most=most)


def _demand(worn: Worn | None, subject: str) -> str:
    if worn is None or subject not in worn.demands:
        return "-"
    demand = worn.demands[subject]
    if demand.passes is None:
        return "-"
    said = say("passes") if demand.passes else say("FAILS")
    known = demand.margin is not None and math.isfinite(demand.margin)
    return f"{said} {quantity(100 * (demand.margin or 0.0), 'cm', 1, sign=True)}" if known else said


def _failing(worn: Sequence[Worn | None], letters: Sequence[str]) -> list[str]:
    """The sentences of what fails."""
    return bullets(
        say("What fails"),
        [f"{a}, {told(name)}: {told(d.sentence)}" for w, a in zip(worn, letters, strict=True) if w
         for name, d in w.demands.items() if d.passes is False],
    )  # fmt: skip


def _as_measured(said: str) -> str:
    """What a file says, in what an imperial reader measures in; all else as it stands there."""
    found = MEASURED.fullmatch(said) if reader().units == "imperial" else None
    if found is None or found[2] not in IMPERIAL:
        return said
    return quantity(float(found[1]), found[2], len(found[1].partition(".")[2]))


def _said_lines(said: Differences | None, letters: Sequence[str]) -> list[str]:
    if said is None:
        return ["", *wrapped(say("A parts file has no keys to compare: only what comes out stands here."))]
    if not said.tables:
        return ["", say("The files say the same.")]
    shown, left = said.written[:MORE], len(said.written[MORE:]) + said.following
    rows = (
        iter([(d.key, [_as_measured(s) for s in d.said]) for d in shown])
        if shown
        else iter([(say("all that is written"), [say("the same")] * len(letters))])
    )
    lines = table(say("What the files say"), letters, rows)
    if left:
        lines += wrapped(
            say_count("and {n} further value that differ", "and {n} further values that differ", left), "  ", "  "
        )
    return lines
