"""A plate searched for a group, in words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sim.answers.plate.design.answer import DesignTold, PlateFound
from sim.answers.plate.dimension_words import dimension_name, short_unit, sized
from sim.answers.plate.divers.text import lined
from sim.said import word
from sim.telling.language import in_unit, number, quantity, say, say_count, set_apart, told, unit_name
from sim.telling.words import bullets, rows

BUILT_ANEW: Final = word("Slots and bolts go along with the outline as it grows or shrinks.")
DRAWN_ANEW: Final = word(
    "The outline is drawn out between bolts, slots and edges as these move; openings keep their shape, and slots go "
    "along with it as it grows or shrinks."
)
AT_THE_END: Final = 0.02  # of what was searched: so near its end a choice would go on


def design_text(answer: DesignTold) -> str:
    """The whole answer."""
    names = (dimension_name(d.dimension).split(",")[0] for d in answer.searched)
    heads = ["", say("mass"), say("suits"), say("moment"), *names]
    units = ["", unit_name("kg"), "", unit_name("N m"), *(short_unit(d.unit) for d in answer.searched)]
    body = [_row(say("at the start"), answer.start, answer), *_found(answer)]
    lines = [*rows(say("Searched"), _asked(answer)), "", *lined([heads, units, *body])]
    notes = [
        say("Chosen: {rule}.", rule=told(answer.rule)),
        say("Limits: {limits}.", limits=told(answer.limits)),
        say_count(
            "{n} plate was worked out in full, the others guessed from it; every number here is one of those.",
            "{n} plates were worked out in full, the others guessed from these; every number here is one of those.",
            answer.worked_out,
        ),
        told(BUILT_ANEW if answer.drawing_text is None else DRAWN_ANEW),
        say("The share is of this group; hangflat plate FILE --people 10000 says it for all such people."),
        say("moment: the greater of start and end, of the diver whose gear they wear."),
        *_at_an_end(answer),
    ]
    return "\n".join([*lines, *bullets(say("How"), notes)])


def _at_an_end(answer: DesignTold) -> Iterator[str]:
    """Whether the search would go on if it were let."""
    if answer.chosen is None:
        return
    for d in answer.searched:
        value, room = answer.chosen.dimensions[d.dimension], AT_THE_END * (d.greatest - d.least)
        if min(value - d.least, d.greatest - value) < room:
            yield say(
                "{dimension} came out at the end of what was searched: start again from the plate chosen to go on.",
                dimension=dimension_name(d.dimension),
            )


def _asked(answer: DesignTold) -> Iterator[tuple[str, str]]:
    yield say("for"), say("{who}; they wear {wears}", who=told(answer.who), wears=told(answer.wears))
    limits = []
    if answer.most_mass is not None:
        limits.append(say("mass at most {mass}", mass=quantity(answer.most_mass, "kg", 2)))
    if answer.most_stress is not None:
        limits.append(say("stress at most {stress}", stress=quantity(1e-6 * answer.most_stress, "MPa", 0)))
    yield say("within"), ", ".join(limits) or say("any mass")
    over = (
        say(
            "{dimension} {least} to {greatest}",
            dimension=dimension_name(d.dimension),
            least=number(d.least if d.unit == "degrees" else in_unit(d.least, d.unit), 1),
            greatest=sized(d.greatest, d.unit, 1),
        )
        for d in answer.searched
    )
    yield say("over"), set_apart(over)


def _found(answer: DesignTold) -> Iterator[list[str]]:
    if answer.chosen is None:
        yield [say("none keeps the limits"), *[""] * (3 + len(answer.searched))]
    for plate in answer.front:
        yield _row(say("chosen") if plate == answer.chosen else say("as good"), plate, answer)


def _row(name: str, plate: PlateFound, answer: DesignTold) -> list[str]:
    moment = max((plate.start_moment, plate.end_moment), key=abs)
    sizes = (_size(plate.dimensions[d.dimension], d.unit) for d in answer.searched)
    mass, turns = number(in_unit(plate.mass, "kg"), 3), number(in_unit(moment, "N m"), 1, sign=True)
    return [name, mass, f"{number(100.0 * plate.share, 0)} %", turns, *sizes]


def _size(value: float, unit: str) -> str:
    return number(value if unit == "degrees" else in_unit(value, unit), 2 if unit == "cm" else 1)
