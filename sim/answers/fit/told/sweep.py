"""The trade-off told: the sentence of each plate, rows of text, a table for spreadsheets."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final

from sim.answers.fit.demands.every import UNITS
from sim.answers.fit.drops import feasible_drops
from sim.telling.record import as_json

if TYPE_CHECKING:
    from sim.answers.fit.sweep import AlsoFails, FitSweep, PlateSweep

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
        spans = " and ".join(f"{centimetres(b.least)} to {centimetres(b.greatest)} cm" for b in plate.bands)
        demands = list(plate.points[0].margins)
        met = f"{', '.join(demands[:-1])} and {demands[-1]} are met at a {name} of {spans}"
        return "; ".join([met, *_also(plate.also_fails)])
    swept = f"no {name} from {centimetres(plate.values[0])} to {centimetres(plate.values[-1])} cm will do"
    if len(plate.barred_by) == 1:
        return f"{swept}: {plate.barred_by[0]} fails at all of them"
    return f"{swept}: {', '.join(_span(plate, demand) for demand in plate.barred_by)}"


def _also(failing: Sequence[AlsoFails]) -> Iterator[str]:
    """What else fails, at all values and at some."""
    for at_all, words in ((True, "all the same"), (False, "in part")):
        names = [one.what for one in failing if one.at_all == at_all]
        if names:
            yield f"{' and '.join(names)} fail{'s' if len(names) == 1 else ''} {words}"


def centimetres(length: float) -> str:
    """A length [m] in centimetres to a millimetre, as "−4.0"."""
    return f"{round(100.0 * float(length), 1) + 0.0:.1f}".replace("-", "−")


def _span(plate: PlateSweep, demand: str) -> str:
    """Where one demand alone is met."""
    spans = []
    for band in feasible_drops(plate.values, {demand: plate.margin(demand)}):
        low, high = centimetres(band.least), centimetres(band.greatest)
        if band.least <= plate.values[0]:
            spans.append(f"{high} cm or less")
        elif band.greatest >= plate.values[-1]:
            spans.append(f"{low} cm or more")
        else:
            spans.append(f"{low} to {high} cm")
    return f"{demand} asks for {' or '.join(spans)}"


def sweep_rows(sweep: FitSweep) -> Iterator[tuple[str, str]]:
    """Label and text of each plate's band, and of what could not be made."""
    for plate in sweep.plates:
        yield plate.plate, f"{plate.told}."
    for left in sweep.left_out:
        yield "left out", f"{left.plate} at {centimetres(left.value)} cm: {left.why.rstrip('.')}."
