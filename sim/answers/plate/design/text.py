"""A plate searched for a group, in words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sim.answers.plate.design.answer import DesignTold, PlateFound
from sim.answers.plate.divers.text import lined
from sim.telling.words import bullets, rows

AT_THE_END: Final = 0.02  # of what was searched: so near its end a choice would go on


def design_text(told: DesignTold) -> str:
    """The whole answer."""
    heads = ["", "mass", "suits", "moment", *(d.dimension.split(",")[0] for d in told.searched)]
    units = ["", "kg", "", "N m", *(_unit(d.unit) for d in told.searched)]
    body = [_row("at the start", told.start, told), *_found(told)]
    lines = [*rows("Searched", _asked(told)), "", *lined([heads, units, *body])]
    notes = [
        f"Chosen: {told.rule}.",
        f"Limits: {told.limits}.",
        f"{told.worked_out} plates were worked out in full, the others guessed from these; every number here is one "
        "of those. Slots and bolts go along with the outline as it grows or shrinks.",
        "The share is of this group; hangflat plate FILE --people 10000 says it for all such people.",
        "moment: the greater of start and end, of the diver whose gear they wear.",
        *_at_an_end(told),
    ]
    return "\n".join([*lines, *bullets("How", notes)])


def _at_an_end(told: DesignTold) -> Iterator[str]:
    """Whether the search would go on if it were let."""
    if told.chosen is None:
        return
    for d in told.searched:
        value, room = told.chosen.dimensions[d.dimension], AT_THE_END * (d.greatest - d.least)
        if min(value - d.least, d.greatest - value) < room:
            yield (
                f"{d.dimension} came out at the end of what was searched: start again from the plate chosen to go on."
            )


def _asked(told: DesignTold) -> Iterator[tuple[str, str]]:
    yield "for", f"{told.who}; they wear {told.wears}"
    limits = [] if told.most_mass is None else [f"mass at most {told.most_mass:.3g} kg"]
    limits += [] if told.most_stress is None else [f"stress at most {1e-6 * told.most_stress:.0f} MPa"]
    yield "within", ", ".join(limits) or "any mass"
    yield "over", "; ".join(f"{d.dimension} {d.least:.1f} to {d.greatest:.1f} {_unit(d.unit)}" for d in told.searched)


def _found(told: DesignTold) -> Iterator[list[str]]:
    if told.chosen is None:
        yield ["none keeps the limits", *[""] * (3 + len(told.searched))]
    for plate in told.front:
        yield _row("chosen" if plate == told.chosen else "as good", plate, told)


def _row(name: str, plate: PlateFound, told: DesignTold) -> list[str]:
    moment = max((plate.start_moment, plate.end_moment), key=abs)
    sizes = (f"{plate.dimensions[d.dimension]:.{2 if d.unit == 'cm' else 1}f}" for d in told.searched)
    return [name, f"{plate.mass:.3f}", f"{100.0 * plate.share:.0f} %", f"{moment:+.1f}", *sizes]


def _unit(unit: str) -> str:
    return "deg" if unit == "degrees" else unit
