"""Whether plates hold, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import shorten

from sim.answers.plate.hold.told import HeldTold, HoldTold, WayTold
from sim.telling.words import bullets, rows, wrapped

SPOILT = 1.0  # of the strength
LONGEST = 32  # characters of a plate's name in the table
FOLDED = 15.0  # thicknesses, beyond which nothing worked out in a straight line means much (assumed)
UNSURE = 0.10  # of a peak, beyond which it is said why


def hold_text(told: HoldTold) -> str:
    """The whole answer for people."""
    own = told.plates[0]
    lines = rows(f"Carried ashore: {told.carries}, {told.carried_mass:.1f} kg", (_own(own, way) for way in own.ways))
    lines += [
        "",
        "Peak stress [% of what spoils the material] and how far the sheet bends [mm]",
        *_table(told.plates),
    ]
    lines += [line for doubt in _doubts(told) for line in ("", *wrapped(doubt, "  "))]
    loads = (f"{w.way}: {w.meaning}; {w.load:g} times its weight ({w.source})." for w in told.loads)
    lines += bullets("Ways of carrying", loads)
    lines += bullets("How it is worked out", told.how)
    return "\n".join([*lines, "", *wrapped(told.caution, "Caution: ", "")])


def _own(plate: HeldTold, way: WayTold) -> tuple[str, str]:
    side = (
        "on the middle line" if abs(way.across) < 5e-4 else f"{1e3 * abs(way.across):.0f} mm beside the middle line"
    )
    return way.way, (
        f"{1e-6 * way.peak:.0f} MPa ({100.0 * way.error:.0f} % uncertain by the mesh), {_share(way)} of the "
        f"{1e-6 * plate.strength:.0f} MPa of {plate.material}, {way.place}, {1e3 * way.down:.0f} mm below the top "
        f"edge, {side}; it bends by {1e3 * way.deflection:.1f} mm"
    )


def _table(plates: Sequence[HeldTold]) -> Iterator[str]:
    """A row a plate, two columns a way."""
    names = [shorten(plate.plate, LONGEST, placeholder=" …") for plate in plates]
    first = max(map(len, names))
    yield " " * (first + 16) + "".join(f"{way.way:>13}" for way in plates[0].ways)
    yield f"  {'':<{first}}{'mm':>6}{'kg':>7} " + f"{'%':>7}{'mm':>6}" * len(plates[0].ways)
    for name, plate in zip(names, plates, strict=True):
        made = f"  {name:<{first}}{1e3 * plate.thickness:>6.1f}{plate.mass:>7.2f} "
        yield made + "".join(f"{100.0 * w.of_strength:>7.0f}{1e3 * w.deflection:>6.1f}" for w in plate.ways)


def _share(way: WayTold) -> str:
    return f"{100.0 * way.of_strength:.0f} %"


def _doubts(told: HoldTold) -> Iterator[str]:
    """What the figures are not worth, where that is so."""
    if any(way.of_strength > SPOILT for plate in told.plates for way in plate.ways):
        yield (
            "Beyond 100 % a metal yields at that spot, at first at a hole's edge on the faces alone: a sheet that is "
            "bent carries half as much again before it yields all through, and keeps no dent to be seen till then. A "
            "laminate begins to break there. How far that goes is not worked out."
        )
    if any(way.error > UNSURE for plate in told.plates for way in plate.ways):
        yield (
            "Where the mesh leaves more than 10 % uncertain, there is too much detail for a finer one, or a corner "
            "into the sheet is drawn sharp, where stress has no limit: leave out what carries nothing and round "
            "corners as they will be made, or take the figure for a lower bound."
        )
    bent = max(way.deflection / plate.thickness for plate in told.plates for way in plate.ways)
    if bent > FOLDED:
        yield "Where the sheet bends by many times its thickness it folds up, and its figures say no more than that."
    elif bent > 1.0:
        yield "Where the sheet bends by more than its thickness the figures are rough, since it stiffens as it bends."
