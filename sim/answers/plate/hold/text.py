"""Whether plates hold, in words."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import shorten

from sim.answers.plate.hold.told import HeldTold, HoldTold, LoadTold, WayTold
from sim.telling.language import quantity, say, told, unit_name
from sim.telling.words import bullets, rows, wrapped

SPOILT = 1.0  # of the strength
LONGEST = 32  # characters of a plate's name in the table
UNSURE = 0.10  # of a peak, beyond which it is said why


def hold_text(hold: HoldTold) -> str:
    """The whole answer for people."""
    own = hold.plates[0]
    carried = say(
        "Carried ashore: {carries}, {mass}", carries=told(hold.carries), mass=quantity(hold.carried_mass, "kg", 1)
    )
    lines = rows(carried, (_own(own, load) for load in hold.loads))
    lines += [
        "",
        say("Peak stress [% of what spoils the material] and how far the sheet bends [{unit}]", unit=unit_name("mm")),
        *_table(hold),
    ]
    lines += [line for doubt in _doubts(hold) for line in ("", *wrapped(doubt, "  "))]
    lines += bullets(say("Ways of carrying"), map(_load, hold.loads))
    lines += bullets(say("How it is worked out"), map(told, hold.how))
    return "\n".join([*lines, "", *wrapped(say("Caution: {caution}", caution=told(hold.caution)), "", "")])


def _load(load: LoadTold) -> str:
    return say(
        "{way}: {meaning}; {load:g} times its weight ({source}).",
        way=told(load.way),
        meaning=told(load.meaning),
        load=load.load,
        source=told(load.source),
    )


def _own(plate: HeldTold, load: LoadTold) -> tuple[str, str]:
    way = plate.way(load.way)
    if way is None:
        return told(load.way), say("left out, since it tips over")
    if way.folds:
        return told(way.way), say(
            "the plate folds up, {place} first, far beyond the {strength} that {material} bears",
            place=told(way.place),
            strength=quantity(1e-6 * plate.strength, "MPa", 0),
            material=told(plate.material),
        )
    side = say("on the middle line")
    if abs(way.across) >= 5e-4:
        side = say("{mm} beside the middle line", mm=quantity(1e3 * abs(way.across), "mm", 0))
    return told(way.way), say(
        "{peak} ({error:.0f} % uncertain by the mesh), {share:.0f} % of the {strength} of {material}, {place}, "
        "{down} below the top edge, {side}; it bends by {bends}",
        peak=quantity(1e-6 * way.peak, "MPa", 0),
        error=100.0 * way.error,
        share=100.0 * way.of_strength,
        strength=quantity(1e-6 * plate.strength, "MPa", 0),
        material=told(plate.material),
        place=told(way.place),
        down=quantity(1e3 * way.down, "mm", 0),
        side=side,
        bends=quantity(1e3 * way.deflection, "mm", 1 if way.deflection >= 5e-5 else 2),
    )


def _table(hold: HoldTold) -> Iterator[str]:
    """A row a plate, two columns a way."""
    names = [shorten(plate.plate, LONGEST, placeholder=" …") for plate in hold.plates]
    first, mm, kg = max(map(len, names)), unit_name("mm"), unit_name("kg")
    yield " " * (first + 16) + "".join(f"{told(load.way):>13}" for load in hold.loads)
    yield f"  {'':<{first}}{mm:>6}{kg:>7} " + f"{'%':>7}{mm:>6}" * len(hold.loads)
    for name, plate in zip(names, hold.plates, strict=True):
        made = f"  {name:<{first}}{_millimetres(plate.thickness):>6}{quantity(plate.mass, 'kg', 2, bare=True):>7} "
        yield made + "".join(_cell(plate.way(load.way)) for load in hold.loads)


def _cell(way: WayTold | None) -> str:
    if way is None:
        return f"{'-':>7}{'-':>6}"
    if way.folds:
        return f"{say('folds'):>13}"
    return f"{100.0 * way.of_strength:>7.0f}{_millimetres(way.deflection):>6}"


def _millimetres(length: float) -> str:
    return quantity(1e3 * length, "mm", 1, bare=True)


def _doubts(hold: HoldTold) -> Iterator[str]:
    """What the figures are not worth, where that is so."""
    if any(way.of_strength > SPOILT for plate in hold.plates for way in plate.ways):
        yield say(
            "Beyond 100 % a metal yields at that spot, at first at a hole's edge on the faces alone: a sheet that is "
            "bent carries half as much again before it yields all through, and keeps no dent to be seen till then. A "
            "laminate begins to break there. How far that goes is not worked out."
        )
    if any(way.error > UNSURE for plate in hold.plates for way in plate.ways):
        yield say(
            "Where the mesh leaves more than 10 % uncertain, there is too much detail for a finer one, or a corner "
            "into the sheet is drawn sharp, where stress has no limit: leave out what carries nothing and round "
            "corners as they will be made, or take the figure for a lower bound."
        )
    whole = [(plate, way) for plate in hold.plates for way in plate.ways if not way.folds]
    if len(whole) < sum(len(plate.ways) for plate in hold.plates):
        yield say(
            "Where a plate folds up it gives way all through, not only at a spot: how far it would bend cannot be "
            "worked out. Take a thicker sheet or a stronger material."
        )
    if any(way.deflection > plate.thickness for plate, way in whole):
        yield say(
            "Where the sheet bends by more than its thickness the figures are rough, since it stiffens as it bends."
        )
    for plate in hold.plates:
        if plate.floor is not None:
            yield f"{plate.plate}: {told(plate.floor)}"
