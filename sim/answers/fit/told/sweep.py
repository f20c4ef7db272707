"""The trade-off told: the sentence of each plate, rows of text, a table for spreadsheets."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from functools import reduce
from typing import TYPE_CHECKING, Final

from sim.answers.fit.demands.every import UNITS
from sim.answers.fit.drops import feasible_drops
from sim.said import amount, joined, known, note
from sim.telling.language import say, told
from sim.telling.listed import listed
from sim.telling.record import as_json

if TYPE_CHECKING:
    from sim.answers.fit.sweep import AlsoFails, FitSweep, LeftOut, PlateSweep

MILLIONTH: Final = 6  # digits behind the point of the numbers told
HEADINGS: Final = (
    "trimming moment, plus turns head-up [N m]",
    "eyes, flat, against straight ahead, plus above [deg]",
    "head-up to look straight ahead [deg]",
    "reach to spare at the hardest valve [m]",
    "hardest valve",
    "waist strap above the hip bones [m]",
    "lowest rib above the hip bones [m]",
)  # of a point's fields, in their order; its margins follow


def sweep_csv(sweep: FitSweep) -> str:
    """One row a rig, units in the header."""
    demands = list(sweep.plates[0].points[0].margins)
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    margins = [f"margin of {d} [{'deg' if UNITS[d] == 'rad' else 'm'}]" for d in demands]
    table.writerow(["plate", f"{sweep.asked.kind.name} [m]", *HEADINGS, *margins, "all met"])
    for plate in sweep.plates:
        for value, point in zip(plate.values, plate.points, strict=True):
            *cells, margins_there = as_json(point).values()
            each = list(margins_there.values())
            met = all(m is not None and m >= 0.0 for m in each)
            shown = ("" if cell is None else cell for cell in cells)
            table.writerow([plate.plate, round(float(value), MILLIONTH), *shown, *each, "yes" if met else "no"])
    return out.getvalue()


def band_sentence(name: str, plate: PlateSweep) -> str:
    """Where every demand is met, or which demands rule that out, over what has this name."""
    if plate.bands:
        spans = [_from_to(b.least, b.greatest) for b in plate.bands]
        demands = [known(demand) for demand in plate.points[0].margins]
        met = note(
            "{demands} are met at a {name} of {spans}",
            demands=listed(demands),
            name=known(name),
            spans=_all_of(spans),
        )
        return joined([met, *_also(plate.also_fails)], "; ")
    swept = note("no {name} from {span} will do", name=known(name), span=_from_to(plate.values[0], plate.values[-1]))
    if len(plate.barred_by) == 1:
        return note("{swept}: {demand} fails at all of them", swept=swept, demand=known(plate.barred_by[0]))
    return note("{swept}: {why}", swept=swept, why=joined([_span(plate, demand) for demand in plate.barred_by]))


def _from_to(least: float, greatest: float) -> str:
    """A span of lengths [m], as "-4.0 to 3.0 cm"."""
    return note("{least} to {greatest}", least=_shown(least, bare=True), greatest=_shown(greatest))


def _shown(length: float, *, bare: bool = False) -> str:
    """A length [m] in centimetres to a millimetre, as "-4.0 cm"."""
    return amount(round(100.0 * float(length), 1) + 0.0, "cm", 1, bare=bare, dash=True)


def _also(failing: Sequence[AlsoFails]) -> Iterator[str]:
    """What else fails, at all values and at some."""
    for at_all in (True, False):
        names = [known(one.what) for one in failing if one.at_all == at_all]
        said = _all_of(names)
        if len(names) == 1:
            yield (
                note("{names} fails all the same", names=said)
                if at_all
                else note("{names} fails in part", names=said)
            )
        elif names:
            yield (
                note("{names} fail all the same", names=said) if at_all else note("{names} fail in part", names=said)
            )


def _all_of(words: Sequence[str]) -> str:
    """As "a and b and c"."""
    return reduce(lambda most, last: note("{most} and {last}", most=most, last=last), words) if words else ""


def _any_of(words: Sequence[str]) -> str:
    """As "a or b or c"."""
    return reduce(lambda most, last: note("{most} or {last}", most=most, last=last), words)


def _span(plate: PlateSweep, demand: str) -> str:
    """Where one demand alone is met."""
    spans: list[str] = []
    for band in feasible_drops(plate.values, {demand: plate.margin(demand)}):
        if band.least <= plate.values[0]:
            spans.append(note("{most} or less", most=_shown(band.greatest)))
        elif band.greatest >= plate.values[-1]:
            spans.append(note("{least} or more", least=_shown(band.least)))
        else:
            spans.append(_from_to(band.least, band.greatest))
    return note("{demand} asks for {spans}", demand=known(demand), spans=_any_of(spans))


def sweep_rows(sweep: FitSweep) -> Iterator[tuple[str, str]]:
    """Label and text of each plate's band, and of what could not be made."""
    for plate in sweep.plates:
        yield told(plate.plate), f"{told(plate.told)}."
    for left in sweep.left_out:
        yield say("left out"), say("{left_out}.", left_out=left_out_words(left).rstrip("."))


def left_out_words(left: LeftOut, more: int = 0) -> str:
    """A plate with which no rig could be made, where and why; ``more`` : how many others there are."""
    plate, at, why = told(left.plate), told(_shown(left.value)), told(left.why)
    if more:
        return say("{plate} at {at} (and {more} more): {why}", plate=plate, at=at, more=more, why=why)
    return say("{plate} at {at}: {why}", plate=plate, at=at, why=why)
