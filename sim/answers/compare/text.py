"""What an instructor reads of set-ups side by side: a ``Comparison`` as plain text, 100 columns wide."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

from sim.answers.compare.compared import Against, Comparison, Diver, Worn, named
from sim.answers.compare.differences import Differences
from sim.telling.lead_words import NO_MOMENT
from sim.telling.words import NO_WEIGHT, WIDTH, attitude_words, bullets, moment_words, wrapped

Row = tuple[str, Sequence[str]]
NAMES: Final = 26  # letters that the names of rows get at most
SMALL: Final = 0.1  # N m: lines in which no two divers differ by more are added up
MORE: Final = 12  # keys that differ and are listed before the rest is counted


def compare_text(told: Comparison) -> str:
    """Differences first, then what they do; the caution last."""
    names = named([Path(d.file) for d in told.divers])
    letters = "ABCDE"[: len(names)]
    lines = [f"{letter}  {name}: {d.title}" for letter, name, d in zip(letters, names, told.divers, strict=True)]
    lines += _said_lines(told.differences, letters)
    lines += table("Held flat and motionless", letters, _flat_rows(told.divers))
    for against, letter in zip(told.against, letters[1:], strict=True):
        lines += _effect_lines(against, letter)
    lines += table("What turns the diver, by groups of items", letters, group_rows(told.divers))
    worn = [d.worn for d in told.divers]
    if any(worn):
        lines += table("Fit and the carry ashore", letters, _fit_rows(worn))
        lines += _failing(worn, letters)
    if told.estimated:
        lines += ["", *wrapped("Estimated, not given: " + ", ".join(told.estimated) + ".", later="  ")]
    return "\n".join([*lines, "", *wrapped("Caution: " + told.caution, later="  ")])


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
    yield "turned", [moment_words(d.pitch_moment) for d in divers]
    yield "a small turn", ["goes back" if d.pitch_stiffness > 0 else "grows by itself" for d in divers]
    if any(d.let_go for d in divers):
        yield "5 s after stopping", [_soon(d) for d in divers]
        yield "in the end", [_end(d) for d in divers]
    yield "mass, gear and gas too", [f"{d.mass:.1f} kg" for d in divers]
    if any(abs(d.net_buoyancy) >= NO_WEIGHT for d in divers):
        yield "net buoyancy", [_buoyancy(d.net_buoyancy) for d in divers]
    yield "gas in the wing", [f"{1e3 * d.wing_gas:.1f} l" for d in divers]
    yield "gas in the suit", [f"{1e3 * d.suit_gas:.1f} l" for d in divers]


def _buoyancy(net: float) -> str:
    return "neutral" if abs(net) < NO_WEIGHT else f"{abs(net):.1f} kg, {'floats up' if net > 0 else 'sinks'}"


def _soon(diver: Diver) -> str:
    return "as before" if diver.let_go is None else attitude_words(math.degrees(diver.let_go.pitch_soon), 0.0)


def _end(diver: Diver) -> str:
    go = diver.let_go
    if go is None:
        return "stays as it is"
    where = attitude_words(math.degrees(go.pitch), 0.0)
    return f"{where}, after {go.time:.0f} s" if go.reached or abs(go.pitch) > 0.5 * math.pi else f"moving: {where}"


def _effect_lines(against: Against, letter: str) -> list[str]:
    """What each differing table does by itself, for one pair."""
    if not against.effects:
        return []
    told = [e for e in against.effects if e.moment is not None and abs(e.moment) >= NO_MOMENT]
    nothing = [e.table for e in against.effects if e.moment is not None and abs(e.moment) < NO_MOMENT]
    wide = max([len(e.table) for e in told] + [len("together, beyond the sum")])
    lines = ["", *wrapped(f"What turns A into {letter}: only this table of A's file replaced by {letter}'s")]
    lines += [f"  {e.table:<{wide}}  {change_words(e.moment or 0.0)}" for e in told]
    if len(told) > 1 and abs(against.together) >= NO_MOMENT:
        lines.append(f"  {'together, beyond the sum':<{wide}}  {change_words(against.together)}")
    lines.append(f"  {'all of it':<{wide}}  {change_words(against.whole)}")
    if nothing:
        lines += wrapped(f"nothing to speak of: {', '.join(nothing)}", "  ", "    ")
    for effect in against.effects:
        if effect.moment is None:
            lines += wrapped(f"{effect.table}: not by itself ({effect.why_not})", "  ", "    ")
    return lines


def change_words(moment: float) -> str:
    """A change of the moment [N m], plus head-up, in words."""
    if abs(moment) < NO_MOMENT:
        return "nothing"
    return f"{abs(moment):4.1f} N m toward head-{'up' if moment > 0 else 'down'}"


def group_rows(divers: Sequence[Diver]) -> Iterator[Row]:
    """What each group of items turns each diver with, the greatest difference first; what is alike added up."""
    names = list(dict.fromkeys(g for d in divers for g in d.groups))
    moments = {n: [d.groups[n].moment if n in d.groups else 0.0 for d in divers] for n in names}
    order = sorted(names, key=lambda n: -(max(moments[n]) - min(moments[n])))
    alike = [n for n in order if max(moments[n]) - min(moments[n]) < SMALL]
    for name in order:
        if name not in alike:
            yield (
                name,
                [_moment(m) if name in d.groups else "none" for m, d in zip(moments[name], divers, strict=True)],
            )
    if alike:
        sums = [sum(moments[n][i] for n in alike) for i in range(len(divers))]
        yield "all else, much alike" if len(alike) < len(order) else "together", [_moment(s) for s in sums]
    yield "together", [_moment(d.pitch_moment) for d in divers]


def _moment(moment: float) -> str:
    return f"{round(moment, 1) + 0.0:+.1f} N m"


def _fit_rows(worn: Sequence[Worn | None]) -> Iterator[Row]:
    yield "eyes look, held flat", [_looks(w) for w in worn]
    for subject in dict.fromkeys(s for w in worn if w for s, d in w.demands.items() if d.passes is not None):
        yield subject, [_demand(w, subject) for w in worn]
    yield "carried ashore", ["-" if w is None else f"{w.carried:.1f} kg" for w in worn]
    yield "of the rig on the hips", ["-" if w is None else _shares(w) for w in worn]


def _looks(worn: Worn | None) -> str:
    if worn is None:
        return "-"
    angle = round(math.degrees(worn.looks))
    if not angle:
        return "straight ahead"
    return f"{abs(angle)} degree{'s' * (abs(angle) != 1)} {'above' if angle > 0 else 'below'} ahead"


def _shares(worn: Worn) -> str:
    least, most = round(100 * worn.hips_least), round(100 * worn.hips_most)
    return f"{most} %" if least == most else f"{least} to {most} %"


def _demand(worn: Worn | None, subject: str) -> str:
    if worn is None or subject not in worn.demands:
        return "-"
    demand = worn.demands[subject]
    if demand.passes is None:
        return "-"
    said = "passes" if demand.passes else "FAILS"
    known = demand.margin is not None and math.isfinite(demand.margin)
    return f"{said} {100 * (demand.margin or 0.0):+.1f} cm" if known else said


def _failing(worn: Sequence[Worn | None], letters: Sequence[str]) -> list[str]:
    """The sentences of what fails."""
    return bullets(
        "What fails",
        [f"{a}: {d.sentence}" for w, a in zip(worn, letters, strict=True) if w for d in w.demands.values()
         if d.passes is False],
    )  # fmt: skip


def _said_lines(said: Differences | None, letters: Sequence[str]) -> list[str]:
    if said is None:
        return ["", *wrapped("A parts file has no keys to compare: only what comes out stands here.")]
    if not said.tables:
        return ["", "The files say the same."]
    shown, left = said.written[:MORE], len(said.written[MORE:]) + said.following
    rows = (
        iter([(d.key, d.said) for d in shown])
        if shown
        else iter([("all that is written", ["the same"] * len(letters))])
    )
    lines = table("What the files say", letters, rows)
    if left:
        lines += wrapped(f"and {left} further value{'s' * (left != 1)} that differ", "  ", "  ")
    return lines
