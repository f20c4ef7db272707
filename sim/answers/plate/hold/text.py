"""Whether plates hold, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sim.answers.plate.hold.told import HeldTold, HoldTold, WayTold
from sim.telling.words import bullets, rows, wrapped

SPOILT = 1.0  # of the strength
UNSURE = 0.10  # of a peak, beyond which it is said why


def hold_text(told: HoldTold) -> str:
    """The whole answer for people."""
    own = told.plates[0]
    lines = rows(f"Carried ashore: {told.carries}, {told.carried_mass:.1f} kg", (_own(own, way) for way in own.ways))
    lines += ["", "Stress as a share of what spoils the material, and how far the sheet bends", *_table(told.plates)]
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
    """A row a plate, a column a way."""
    cells = [("", *(way.way for way in plates[0].ways))]
    cells += [(_named(p), *(f"{_share(w)}, {1e3 * w.deflection:.1f} mm" for w in p.ways)) for p in plates]
    first, *others = (max(len(row[k]) for row in cells) for k in range(len(cells[0])))
    for name, *told in cells:
        yield "   ".join([f"  {name:<{first}}", *(f"{cell:>{w}}" for cell, w in zip(told, others, strict=True))])


def _named(plate: HeldTold) -> str:
    return f"{plate.plate}, {1e3 * plate.thickness:.1f} mm, {plate.mass:.2f} kg"


def _share(way: WayTold) -> str:
    return f"{100.0 * way.of_strength:.0f} %"


def _doubts(told: HoldTold) -> Iterator[str]:
    """What the figures are not worth, where that is so."""
    if any(way.of_strength > SPOILT for plate in told.plates for way in plate.ways):
        yield (
            "Beyond 100 % a metal gives way at that place and keeps a dent, and a laminate breaks there; how far "
            "that goes is not worked out."
        )
    if any(way.error > UNSURE for plate in told.plates for way in plate.ways):
        yield (
            "Where the mesh leaves more than 10 % uncertain, a corner into the sheet is drawn sharp, where stress "
            "has no limit: round it in the drawing as it will be made, or take the figure for a lower bound."
        )
    if any(way.deflection > plate.thickness for plate in told.plates for way in plate.ways):
        yield "Where the sheet bends by more than its thickness the figures are rough, since it stiffens as it bends."
