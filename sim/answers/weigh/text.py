"""What an instructor reads of a weighing: first the lead, then what it leaves, then what goes wrong."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sim.answers.weigh.amounts import LEAST_SHOWN, kilograms, litres
from sim.answers.weigh.answer import Lying, Start, Sureness, WeighAnswer
from sim.answers.weigh.failures_text import failures_table
from sim.answers.weigh.surface_text import surface_rows
from sim.answers.weigh.waters_text import RIGHT, waters_lines
from sim.said import brief, word
from sim.telling.common_lines import chart_lines, diver_lines, ending_lines
from sim.telling.language import in_unit, number, quantity, say, told, unit_name
from sim.telling.words import moment_words, rows, wrapped

BAR: Final = 1e5
HEAD_OUT: Final = 5.0  # kg: what head and neck in a hood weigh out of the water (from memory, 4 to 5)
WHERE: Final = {
    "belt": word("on the belt"), "plate channel": word("in the plate's channel"), "tail": word("at the plate's tail"),
    "between cylinders": word("between the cylinders"), "upper band": word("at the upper band"),
    "ankles": word("on the ankles"),
}  # fmt: skip
BREATHS: Final = {
    "mid-breath": word("quiet, on average"), "relaxed": word("after breathing out quietly"),
    "breathed in": word("after a quiet breath in"), "full": word("as full as can be"),
    "empty": word("as empty as can be"),
}  # fmt: skip
SUIT_GASES: Final = {
    "vented": word("what the last venting left, the least that divers keep"),
    "comfortable": word("as much as takes the squeeze off the back"),
}
STATED: Final = word("as stated")


def weigh_text(answer: WeighAnswer) -> str:
    """The answer as plain text of 100 columns."""
    lead = answer.told.lead >= LEAST_SHOWN
    lines = [
        *wrapped(headline(answer)),
        *([] if answer.sure is None else wrapped(band(answer.sure))),
        *diver_lines(answer.title),
        *rows(
            say("How you are weighed (common practice; --depth, --pressure, --breath, --suit-gas set it)"),
            _how(answer),
        ),
        *waters_lines(answer),
        *rows(say("At the start, with that lead") if lead else say("At the start, without lead"), _start(answer)),
    ]
    if answer.surface is not None:
        so = (
            say("The check at the surface, with that lead") if lead else say("The check at the surface, without lead")
        )
        lines += rows(so, surface_rows(answer, answer.surface))
    lines += [*_places(answer), *failures_table(answer)]
    lines += _sure(answer) + ending_lines(answer.notes, answer.estimated, answer.caution)
    return "\n".join([*lines, *chart_lines(answer.chart)])


def headline(answer: WeighAnswer) -> str:
    """What it comes to, in a sentence or two."""
    at = answer.told
    if at.lead < LEAST_SHOWN:
        first = _without(at.heavy_without_lead, answer.how is not None)
        if answer.worn_lead < LEAST_SHOWN:
            return first
        return f"{first} {say('You wear {worn}, all of it too much.', worn=kilograms(answer.worn_lead))}"
    if answer.how is None:
        return say(
            "Wear {lead} of lead: with it you neither sink nor float up as this file stands, wing empty.",
            lead=kilograms(at.lead),
        )
    first = say(
        "Wear {lead} of lead: with it you neither sink nor float up at the last stop, wing empty.",
        lead=kilograms(at.lead),
    )
    return f"{first} {_worn(answer.worn_lead, at.surplus)}"


def _without(heavy: float, at_the_stop: bool) -> str:
    """No lead is needed."""
    size = kilograms(heavy)
    if heavy < LEAST_SHOWN and at_the_stop:
        return say("You need no lead: without any you neither sink nor float up at the last stop, wing empty.")
    if heavy < LEAST_SHOWN:
        return say("You need no lead: without any you neither sink nor float up as this file stands, wing empty.")
    if at_the_stop:
        return say("You need no lead: without any you sink with {size} at the last stop, wing empty.", size=size)
    return say("You need no lead: without any you sink with {size} as this file stands, wing empty.", size=size)


def band(sure: Sureness) -> str:
    """How sure the lead is, in a sentence."""
    low, high = sure.lead.low, sure.lead.high
    if high <= 0.0:
        return say(
            "In nine of ten divers of whom this file is true it is so: {least} to {most} too heavy.",
            least=quantity(-high, "kg", 1, bare=True),
            most=kilograms(-low),
        )
    if low > 0.0:
        span = say("{low} to {high}", low=quantity(low, "kg", 1, bare=True), high=kilograms(high))
    else:
        span = say("none to {high}", high=kilograms(high))
    if not sure.unknowns:
        return say("In nine of ten divers of whom this file is true it is {span}.", span=span)
    return say(
        "In nine of ten divers of whom this file is true it is {span}; what is least known is the {unknown}.",
        span=span,
        unknown=told(sure.unknowns[0].name),
    )


def _worn(worn: float, surplus: float) -> str:
    """What is worn, held against what is asked for, in a sentence."""
    wears, size = kilograms(worn), kilograms(abs(surplus))
    if abs(surplus) <= RIGHT:
        if worn >= LEAST_SHOWN:
            return say("You wear {wears}: right, by this.", wears=wears)
        return say("You wear none: right, by this.")
    if surplus > 0.0:
        return say("You wear {wears}: {size} too much.", wears=wears, size=size)
    if worn >= LEAST_SHOWN:
        return say("You wear {wears}: {size} too little.", wears=wears, size=size)
    return say("You wear none: {size} too little.", size=size)


def _how(answer: WeighAnswer) -> Iterator[tuple[str, str]]:
    how = answer.how
    if how is None:
        yield say("as told"), say("in the water, at the pressure and with the suit's gas that the parts file tells")
        return
    depth = told(brief(how.depth, "m"))
    if answer.breathed is None:
        stop = say("{depth}, wing empty, held flat", depth=depth)
    else:
        stop = say(
            "{depth}, {pressure} in every cylinder (or what it has, if less), wing empty, held flat",
            depth=depth,
            pressure=quantity(how.pressure / BAR, "bar", 0),
        )
    yield say("last stop"), stop
    yield say("breath"), told(BREATHS[how.breath])
    if how.suit_gas is not None:
        yield say("suit gas"), _suit_gas(answer, told(SUIT_GASES.get(str(how.suit_gas), STATED)))


def _suit_gas(answer: WeighAnswer, kind: str) -> str:
    """How much of it, of which kind, and what more of it would ask for."""
    if answer.suit_gas is not None:
        kind = f"{litres(answer.suit_gas)}, {kind}"
    if answer.fuller is None:
        return kind
    full = litres(answer.fuller.suit_gas)
    if answer.fuller.lead < LEAST_SHOWN:
        return say("{kind}; filled until nothing squeezes ({full}) you would need no lead", kind=kind, full=full)
    return say(
        "{kind}; filled until nothing squeezes ({full}) you would need {lead} of lead",
        kind=kind,
        full=full,
        lead=kilograms(answer.fuller.lead),
    )


def _start(answer: WeighAnswer) -> Iterator[tuple[str, str]]:
    start = answer.told.start
    if start.depth is not None:
        where = [told(brief(start.depth, "m"))]
        if start.pressure is not None:
            where.append(say("{pressure} on the back", pressure=quantity(start.pressure / BAR, "bar", 0)))
        if answer.suit_room is not None:
            where.append(say("suit gas as the file says"))
        yield say("where"), ", ".join(where)
    if answer.breathed is not None:
        yield (
            say("gas"),
            say(
                "{mass} are breathed until the last stop; the wing holds that up at first",
                mass=kilograms(answer.breathed),
            ),
        )
    yield say("wing"), _wing(start)


def _wing(start: Start) -> str:
    heavy = kilograms(abs(start.heavy))
    if start.wing_gas is None or start.wing_lift is None or start.margin is None:
        if abs(start.heavy) < LEAST_SHOWN:
            return say("none is worn: you are neutral")
        if start.heavy < 0.0:
            return say("none is worn: you are {heavy} light", heavy=heavy)
        return say("none is worn: you are {heavy} heavy", heavy=heavy)
    lift, spare = kilograms(start.wing_lift), kilograms(abs(start.margin))
    if start.heavy < -LEAST_SHOWN:
        return say("empty, and you float up with {heavy} all the same", heavy=heavy)
    if start.margin < 0.0:
        return say("full ({lift} of lift) it is {spare} too small", lift=lift, spare=spare)
    gas, least, most = litres(start.wing_gas), quantity(4.0, "kg", 0, bare=True), quantity(HEAD_OUT, "kg", 0)
    if start.margin < HEAD_OUT:
        return say(
            "{gas} hold you; full it lifts {lift}, so {spare} are to spare, too little to hold your head out of the "
            "water at the surface, which takes {least} to {most} (from memory)",
            gas=gas,
            lift=lift,
            spare=spare,
            least=least,
            most=most,
        )
    return say(
        "{gas} hold you; full it lifts {lift}, so {spare} are to spare to hold your head out of the water at the "
        "surface, which takes {least} to {most} (from memory)",
        gas=gas,
        lift=lift,
        spare=spare,
        least=least,
        most=most,
    )


def _places(answer: WeighAnswer) -> list[str]:
    """A table of the places, and below it the lead as it is worn and as it lies best."""
    if not answer.places:
        return []
    heads = [say("a kilogram there")]
    if answer.best is not None:
        heads += [say("all there: start"), say("end", sense="column")]
    unit = unit_name("N m")
    lines = ["", say("Where lead lies, and what it does to you held flat [{unit}, plus turns head-up]", unit=unit)]
    names = {place.place: told(WHERE[place.place]) for place in answer.places}
    wide = max(24, *map(len, names.values()))
    least = [max(size, len(head)) for size, head in zip((16, 16, 6), heads, strict=False)]
    lines.append(f"  {'':<{wide}}" + "".join(f"  {head:>{n}}" for head, n in zip(heads, least, strict=True)))
    for place in sorted(answer.places, key=lambda p: -p.per_kilogram):
        cells = [_signed(m) for m in (place.per_kilogram, place.start, place.end)]
        row = "".join(f"  {cell:>{n}}" for cell, n in zip(cells, least, strict=False))
        lines.append(f"  {names[place.place]:<{wide}}{row}")
    lying = [(n, one) for n, one in ((say("as worn"), answer.as_worn), (say("best"), answer.best)) if one]
    wide = max(8, *(len(name) + 1 for name, _ in lying)) if lying else 0
    for name, one in lying:
        lines += wrapped(_lying(one), f"  {name:<{wide}} ", " " * (wide + 3))
    return lines


def _signed(moment: float) -> str:
    return number(round(in_unit(moment, "N m"), 1) + 0.0, 1, sign=True)


def _lying(lying: Lying) -> str:
    pieces = [f"{kilograms(p.mass)} {told(WHERE.get(p.place, p.place))}" for p in lying.pieces]
    return say(
        "{pieces}: {start} at the start, {end} at the end",
        pieces=say(" and ").join(pieces),
        start=moment_words(lying.start),
        end=moment_words(lying.end),
    )


def _sure(answer: WeighAnswer) -> list[str]:
    sure = answer.sure
    if sure is None:
        return []
    return [
        *rows(say("How sure the lead is: what it hangs on, in percent of its variance"), _unknowns(sure)),
        *wrapped(
            say(
                "Bands of {draws} draws, 5 to 95 %; each share is known to a few percent, so they need not add up to "
                "100 %. Weigh yourself, as above, and you know better.",
                draws=sure.samples,
            ),
            "  ",
        ),
    ]


def _unknowns(sure: Sureness) -> Iterator[tuple[str, str]]:
    for unknown in sure.unknowns:
        basis = told(unknown.basis)
        yield told(unknown.name), f"{number(100.0 * unknown.share, 0)} %. {basis[:1].upper()}{basis[1:]}"
