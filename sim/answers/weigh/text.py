"""What an instructor reads of a weighing: first the lead, then what it leaves, then what goes wrong."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sim.answers.weigh.answer import InWater, Left, Lying, Start, Sureness, SurfaceCheck, WeighAnswer
from sim.telling.common_lines import diver_lines, ending_lines
from sim.telling.lead_words import NO_MOMENT
from sim.telling.words import rows, wrapped

LITRE: Final = 1e-3
BAR: Final = 1e5
RIGHT: Final = 0.25  # kg: half of the lightest block
AT_THE_EYES: Final = 0.015  # m: nobody sees less in a swell
HEAD_OUT: Final = 5.0  # kg: what head and neck in a hood weigh out of the water (from memory, 4 to 5)
LEAST_SHOWN: Final = 0.05  # kg, below the shown digits
SWUM: Final = 4.0  # kg: about what fins lift for a short while (from memory, 3 to 5)
WHERE: Final = {
    "belt": "on the belt", "plate channel": "in the plate's channel", "tail": "at the plate's tail",
    "between cylinders": "between the cylinders", "upper band": "at the upper band", "ankles": "on the ankles",
}  # fmt: skip
BREATHS: Final = {
    "mid-breath": "quiet, on average", "relaxed": "after breathing out quietly",
    "breathed in": "after a quiet breath in", "full": "as full as can be", "empty": "as empty as can be",
}  # fmt: skip
SUIT_GASES: Final = {
    "vented": "what the last venting left, the least that divers keep",
    "comfortable": "as much as takes the squeeze off the back",
}
FAILURES: Final = (
    f"Swim up: what you are too heavy by with the wing as full as it helps; fins lift about {SWUM:g} kg for a short "
    "while (from memory). Hold down: what you are too light by with the wing empty."
)
LOST: Final = {"nothing": "nothing lost", "wing": "wing torn", "suit": "suit flooded", "lead": "all lead lost"}


def weigh_text(answer: WeighAnswer) -> str:
    """The answer as plain text of 100 columns."""
    lines = [
        *wrapped(headline(answer)),
        *([] if answer.sure is None else wrapped(band(answer.sure))),
        *diver_lines(answer.title),
        *rows(
            "How you are weighed (common practice; --depth, --pressure, --breath, --suit-gas set it)", _how(answer)
        ),
        *_waters(answer),
        *rows(f"At the start, {_so_weighed(answer)}", _start(answer)),
    ]
    if answer.surface is not None:
        lines += rows(f"The check at the surface, {_so_weighed(answer)}", _surface(answer, answer.surface))
    lines += [*_places(answer), *_failures(answer)]
    lines += _sure(answer)
    return "\n".join([*lines, *ending_lines(answer.notes, answer.estimated, answer.caution)])


def headline(answer: WeighAnswer) -> str:
    """What it comes to, in a sentence or two."""
    told = answer.told
    where = "as this file stands, wing empty" if answer.how is None else "at the last stop, wing empty"
    if told.lead < LEAST_SHOWN:
        heavy = told.heavy_without_lead
        first = f"You need no lead: without any you {_sinks(heavy)} {where}."
        if answer.worn_lead >= LEAST_SHOWN:
            first += f" You wear {answer.worn_lead:.1f} kg, all of it too much."
        return first
    first = f"Wear {told.lead:.1f} kg of lead: with it you neither sink nor float up {where}."
    if answer.how is None:
        return first
    return f"{first} You wear {_worn(answer.worn_lead, told.surplus)}."


def band(sure: Sureness) -> str:
    """How sure the lead is, in a sentence."""
    low, high = sure.lead.low, sure.lead.high
    if high <= 0.0:
        return f"In nine of ten divers of whom this file is true it is so: {-high:.1f} to {-low:.1f} kg too heavy."
    least = f"{low:.1f}" if low > 0.0 else "none"
    unknown = sure.unknowns[0].name if sure.unknowns else ""
    most = f"; what is least known is the {unknown}" if unknown else ""
    return f"In nine of ten divers of whom this file is true it is {least} to {high:.1f} kg{most}."


def _sinks(heavy: float) -> str:
    return "neither sink nor float up" if heavy < LEAST_SHOWN else f"sink with {heavy:.1f} kg"


def _worn(worn: float, surplus: float) -> str:
    wears = f"{worn:.1f} kg" if worn >= LEAST_SHOWN else "none"
    if abs(surplus) <= RIGHT:
        return f"{wears}: right, by this"
    return f"{wears}: {abs(surplus):.1f} kg too {'much' if surplus > 0.0 else 'little'}"


def _so_weighed(answer: WeighAnswer) -> str:
    return "with that lead" if answer.told.lead >= LEAST_SHOWN else "without lead"


def _how(answer: WeighAnswer) -> Iterator[tuple[str, str]]:
    how = answer.how
    if how is None:
        yield "as told", "in the water, at the pressure and with the suit's gas that the parts file tells"
        return
    left = (
        ""
        if answer.breathed is None
        else f", {how.pressure / BAR:.0f} bar in every cylinder (or what it has, if less)"
    )
    yield "last stop", f"{how.depth:g} m{left}, wing empty, held flat"
    yield "breath", BREATHS[how.breath]
    if how.suit_gas is not None:
        kind = SUIT_GASES.get(str(how.suit_gas), "as stated")
        text = kind if answer.suit_gas is None else f"{answer.suit_gas / LITRE:.1f} l, {kind}"
        if answer.fuller is not None:
            needs = "no lead" if answer.fuller.lead < LEAST_SHOWN else f"{answer.fuller.lead:.1f} kg of lead"
            text += f"; filled until nothing squeezes ({answer.fuller.suit_gas / LITRE:.1f} l) you would need {needs}"
        yield "suit gas", text


def waters_table(answer: WeighAnswer) -> tuple[list[str], list[tuple[str, list[str]]]]:
    """Names of the waters, and rows of one cell for each: what is weighed, and the start with that lead."""
    names = [f"{w.water} water" if w.water != "as told" else "as told" for w in answer.waters]
    table: list[tuple[str, list[str]]] = [
        ("lead, neutral at the end", [_lead(w) for w in answer.waters]),
        ("what you wear", [_surplus(w) for w in answer.waters] if answer.worn_lead > 0.0 else []),
        ("heavy at the start, wing empty", [_heavy(w.start.heavy) for w in answer.waters]),
        ("wing gas at the start", [_litres(w.start.wing_gas) for w in answer.waters]),
        ("wing's lift to spare", [_kg(w.start.margin) for w in answer.waters]),
    ]
    return names, [(name, cells) for name, cells in table if cells]


def _waters(answer: WeighAnswer) -> list[str]:
    names, table = waters_table(answer)
    wide = max(len(name) for name, _ in table)
    lines = ["", f"  {'':<{wide}}" + "".join(f"  {name:>20}" for name in names)]
    lines += [f"  {name:<{wide}}" + "".join(f"  {cell:>20}" for cell in cells) for name, cells in table]
    return lines


def _lead(water: InWater) -> str:
    if water.lead >= LEAST_SHOWN:
        return f"{water.lead:.1f} kg"
    return f"none, {water.heavy_without_lead:.1f} kg heavy" if water.heavy_without_lead >= LEAST_SHOWN else "none"


def _surplus(water: InWater) -> str:
    if abs(water.surplus) <= RIGHT:
        return "right"
    return f"{abs(water.surplus):.1f} kg too {'much' if water.surplus > 0.0 else 'little'}"


def _heavy(kilograms: float) -> str:
    if abs(kilograms) < LEAST_SHOWN:
        return "neutral"
    return f"{kilograms:.1f} kg" if kilograms > 0.0 else f"{-kilograms:.1f} kg light"


def _litres(volume: float | None) -> str:
    return "no wing" if volume is None else f"{volume / LITRE + 0.0:.1f} l"


def _kg(kilograms: float | None) -> str:
    return "no wing" if kilograms is None else f"{kilograms:.1f} kg"


def _start(answer: WeighAnswer) -> Iterator[tuple[str, str]]:
    start = answer.told.start
    if start.depth is not None:
        full = "" if start.pressure is None else f", {start.pressure / BAR:.0f} bar on the back"
        suit = ", suit gas as the file says" if answer.suit_room is not None else ""
        yield "where", f"{start.depth:g} m{full}{suit}"
    if answer.breathed is not None:
        yield "gas", f"{answer.breathed:.1f} kg are breathed until the last stop; the wing holds that up at first"
    yield "wing", _wing(start)


def _wing(start: Start) -> str:
    if start.wing_gas is None or start.wing_lift is None or start.margin is None:
        return f"none is worn: you are {_heavy(start.heavy)}{' heavy' if start.heavy >= LEAST_SHOWN else ''}"
    if start.heavy < -LEAST_SHOWN:
        return f"empty, and you float up with {-start.heavy:.1f} kg all the same"
    if start.margin < 0.0:
        return f"full ({start.wing_lift:.1f} kg of lift) it is {-start.margin:.1f} kg too small"
    return (
        f"{start.wing_gas / LITRE + 0.0:.1f} l hold you; full it lifts {start.wing_lift:.1f} kg, so "
        f"{start.margin:.1f} kg are to spare{'' if start.margin >= HEAD_OUT else ', too little'} to hold your head "
        "out of the water at the surface, which takes 4 to 5 kg (from memory)"
    )


def _surface(answer: WeighAnswer, check: SurfaceCheck) -> Iterator[tuple[str, str]]:
    how = answer.how
    left = "" if how is None or answer.breathed is None else f"{how.pressure / BAR:.0f} bar left, "
    suit = "" if check.suit_gas is None else f", suit vented ({check.suit_gas / LITRE:.1f} l left in it)"
    yield "how", f"upright, {left}wing empty, half a breath held ({check.chest_gas / LITRE:.1f} l in the chest){suit}"
    yield "shows", _water_line(check)
    by = "no lead" if check.lead < LEAST_SHOWN else f"{check.lead:.1f} kg of lead"
    yield "asks for", f"{by}, if the eyes are to be at the water line"
    if check.full_floats is not None:
        yield "full", f"with the cylinders as full as now you would {_floats(check.full_floats)} in it"


def _water_line(check: SurfaceCheck) -> str:
    line = check.water_line
    if line is None:
        if check.floats < 0.0:
            return f"you sink, {-check.floats:.1f} kg too heavy for the eyes at the water line"
        return f"you float with the chin out of the water, {check.floats:.1f} kg too light"
    if abs(line) <= AT_THE_EYES:
        return "the water line at your eyes: the check agrees with the stop"
    way = "above" if line > 0.0 else "below"
    weight = "heavy" if check.floats < 0.0 else "light"
    return (
        f"the water line {100.0 * abs(line):.0f} cm {way} your eyes: {abs(check.floats):.1f} kg too {weight} for that"
    )


def _floats(net: float) -> str:
    return f"sink with {-net:.1f} kg" if net < 0.0 else f"float {net:.1f} kg too high"


def _places(answer: WeighAnswer) -> list[str]:
    if not answer.places:
        return []
    all_there = answer.best is not None
    heading = "Where lead lies, and what it does to you held flat [N m, plus turns head-up]"
    lines = [
        "",
        heading,
        f"  {'':<24}  {'a kilogram there':>16}" + (f"  {'all there: start':>16}  {'end':>6}" if all_there else ""),
    ]
    for place in sorted(answer.places, key=lambda p: -p.per_kilogram):
        line = f"  {WHERE[place.place]:<24}  {_signed(place.per_kilogram):>16}"
        lines.append(line + (f"  {_signed(place.start):>16}  {_signed(place.end):>6}" if all_there else ""))
    told = [(name, lying) for name, lying in (("as worn", answer.as_worn), ("best", answer.best)) if lying]
    for name, lying in told:
        lines += wrapped(_lying(lying), f"  {name:<8} ", " " * 11)
    return lines


def _signed(moment: float) -> str:
    return f"{round(moment, 1) + 0.0:+.1f}"


def _lying(lying: Lying) -> str:
    pieces = " and ".join(f"{p.mass:.1f} kg {WHERE.get(p.place, p.place)}" for p in lying.pieces)
    return f"{pieces}: {_turned(lying.start)} at the start, {_turned(lying.end)} at the end"


def _turned(moment: float) -> str:
    if abs(moment) < NO_MOMENT:
        return "nothing"
    return f"{abs(moment):.1f} N m head-{'up' if moment > 0.0 else 'down'}"


def _failures(answer: WeighAnswer) -> list[str]:
    columns = ("at the start", "at the last stop") if answer.how is not None else ("as it stands",)
    names = {f.lost: LOST.get(f.lost, f"{f.lost} handed over") for f in answer.failures}
    wide = max(len(name) for name in names.values())
    lines = ["", f"If one thing fails, {_so_weighed(answer)}"]
    lines.append(f"  {'':<{wide}}" + "".join(f"  {c:>26}" for c in columns))
    for failure in answer.failures:
        cells = [left_words(left) for left in (failure.start, failure.end)[: len(columns)]]
        lines.append(f"  {names[failure.lost]:<{wide}}" + "".join(f"  {c:>26}" for c in cells))
    lines += wrapped(FAILURES, "  ")
    if answer.suit_room is not None:
        room = f"With its valve shut the suit takes {answer.suit_room / LITRE:.0f} l more before it is taut"
        room += ": it can stand in for a torn wing."
        lines += wrapped(room, "  ")
    return lines


def left_words(left: Left) -> str:
    """What a failure leaves, in a few words."""
    if left.weight >= LEAST_SHOWN:
        return f"swim up {left.weight:.1f} kg"
    if left.weight <= -LEAST_SHOWN:
        return f"hold down {-left.weight:.1f} kg"
    gas = 0.0 if left.wing_gas is None else left.wing_gas / LITRE
    return "neutral" if gas < LEAST_SHOWN else f"wing holds it: {gas:.1f} l"


def _sure(answer: WeighAnswer) -> list[str]:
    sure = answer.sure
    if sure is None:
        return []
    lines = rows("How sure the lead is: what it hangs on, in percent of its variance", _unknowns(sure))
    return [
        *lines,
        *wrapped(f"Bands of {sure.samples} draws, 5 to 95 %; weigh yourself, as above, and you know better.", "  "),
    ]


def _unknowns(sure: Sureness) -> Iterator[tuple[str, str]]:
    for unknown in sure.unknowns:
        yield unknown.name, f"{100.0 * unknown.share:.0f} %. {unknown.basis[:1].upper()}{unknown.basis[1:]}"
