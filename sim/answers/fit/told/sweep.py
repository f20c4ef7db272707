"""``hangflat fit --sweep``: the trade-off of one person and several plates, for text, JSON, CSV and chart."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from scenarios.errors import Problem, ScenarioError
from scenarios.models import Scenario
from scenarios.quantities import SI
from sim.answers.fit.drops import feasible_drops
from sim.answers.fit.limits import EASY_REACH, SEES_AHEAD_DEG
from sim.answers.fit.plates import OWN_PLATE, asked_plates, blaming_plate
from sim.answers.fit.report import wearing_plate
from sim.answers.fit.sweep import LOOK_AHEAD, PlateSweep, SweepPoint, plate_sweep, sweep_point
from sim.answers.fit.sweep_kinds import Asked
from sim.answers.fit.waist import strap_heights
from sim.case import Case

COLUMNS: Final = (
    ("trimming moment, plus turns head-up [N m]", "moment_nm"),
    ("eyes, flat, against straight ahead, plus above [deg]", "ahead_deg"),
    ("head-up to look straight ahead [deg]", "head_up_deg"),
    ("reach to spare at the hardest valve [m]", "reach_m"),
    ("hardest valve", "hardest_valve"),
    ("waist strap above the hip bones [m]", "strap_above_crest_m"),
    ("lowest rib above the hip bones [m]", "rib_above_crest_m"),
)


@dataclass(frozen=True, eq=False)
class FitSweep:
    """The sweep of every plate; ``left_out`` : plate, value [m] and why no rig could be made there."""

    asked: Asked
    title: str
    plates: tuple[PlateSweep, ...]
    left_out: tuple[tuple[str, float, str], ...]


Track = Callable[[Sequence[tuple[str, float]]], Iterable[tuple[str, float]]]


def fit_sweep(case: Case, asked: Asked, plates: Sequence[str] = (), track: Track = iter) -> FitSweep:
    """Every plate at every value, on the person of the case.

    track : goes over the work, showing how far it got. A value at which no rig can be made is left out and told.
    Raises ScenarioError where that is so of every value of a plate.
    """
    if asked.kind.key.startswith("cylinders."):
        content = case.content
        if isinstance(content, Scenario) and content.cylinders is None:
            message = (
                f"there are no cylinders whose place could be swept; sweep something else than {asked.kind.name}"
            )
            raise ScenarioError([Problem(str(case.path), message, "cylinders")])
    worn: dict[str, Case] = {}
    for plate in asked_plates(case, plates):
        with blaming_plate(plate):
            worn[plate.name] = case.vary(plate.settings)
            if asked.kind.key.startswith("plate."):
                _check_shape(worn[plate.name], asked, plate.name)
    names = tuple(worn)
    found: dict[str, list[tuple[float, SweepPoint]]] = {name: [] for name in names}
    failed: dict[str, list[tuple[float, ScenarioError]]] = {name: [] for name in names}
    title = ""
    for name, value in track([(name, float(v)) for name in names for v in asked.values]):
        try:
            rig = wearing_plate(worn[name].vary({asked.kind.key: SI(value)}))
        except ScenarioError as wrong:
            failed[name].append((value, wrong))
            continue
        title = rig.title
        found[name].append((value, sweep_point(rig)))
    for name in names:
        if not found[name]:
            raise failed[name][0][1]
    return FitSweep(
        asked=asked,
        title=title,
        plates=tuple(plate_sweep(n, *zip(*found[n], strict=True)) for n in names),
        left_out=tuple((n, v, w.problems[0].message) for n in names for v, w in failed[n]),
    )


def _check_shape(case: Case, asked: Asked, name: str) -> None:
    """Raises ScenarioError for a plate from a drawing, which no key stretches."""
    content = case.content
    if isinstance(content, Scenario) and content.plate is not None and content.plate.file is not None:
        drawn = f"{name} is drawn in {content.plate.file.name}" if name == OWN_PLATE else f"{name} is a drawing"
        message = (
            f"{drawn}, with one {asked.kind.name.removeprefix('plate ')} only, so that {asked.kind.name} cannot be "
            "swept; draw it otherwise and lay both side by side, or sweep drop or cylinder shift"
        )
        raise ScenarioError([Problem(str(case.path), message)])


def sweep_json(sweep: FitSweep) -> dict[str, Any]:
    """Lengths [m], angles [deg], moments [N m], as the field names say."""
    return {
        "along": sweep.asked.kind.name,
        "along_words": sweep.asked.kind.words,
        "plates": [_plate_json(sweep, p) for p in sweep.plates],
        "left_out": [{"plate": n, "value_m": v, "why": why} for n, v, why in sweep.left_out],
    }


def sweep_csv(sweep: FitSweep) -> str:
    """One row a rig, units in the header."""
    demands = list(sweep.plates[0].points[0].margins)
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    margins = [f"margin of {d} [{'deg' if d == LOOK_AHEAD else 'm'}]" for d in demands]
    table.writerow(["plate", f"{sweep.asked.kind.name} [m]", *(words for words, _ in COLUMNS), *margins, "all met"])
    for plate in sweep.plates:
        for value, point in zip(plate.values, plate.points, strict=True):
            told = _point_json(point)
            cells = ["" if told[key] is None else told[key] for _, key in COLUMNS]
            each = [told["margins"][d] for d in demands]
            met = all(m is not None and m >= 0.0 for m in each)
            table.writerow([plate.plate, _rounded(value), *cells, *each, "yes" if met else "no"])
    return out.getvalue()


def band_sentence(sweep: FitSweep, plate: PlateSweep) -> str:
    """Where every demand is met, or which demands rule that out."""
    name = sweep.asked.kind.name
    if plate.bands:
        spans = " and ".join(f"{centimetres(b.least)} to {centimetres(b.greatest)} cm" for b in plate.bands)
        demands = list(plate.points[0].margins)
        met = f"{', '.join(demands[:-1])} and {demands[-1]} are met at a {name} of {spans}"
        return "; ".join([met, *_also(plate.also_failing())])
    swept = f"no {name} from {centimetres(plate.values[0])} to {centimetres(plate.values[-1])} cm will do"
    if len(plate.barred_by) == 1:
        return f"{swept}: {plate.barred_by[0]} fails at all of them"
    return f"{swept}: {', '.join(_span(plate, demand) for demand in plate.barred_by)}"


def _also(failing: Sequence[tuple[str, bool]]) -> Iterator[str]:
    """What else fails, at all values and at some."""
    for at_all, words in ((True, "all the same"), (False, "in part")):
        names = [name for name, everywhere in failing if everywhere == at_all]
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


def sweep_rows(told: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Label and text of each plate's band, from ``sweep_json``, and of what could not be made."""
    for plate in told["plates"]:
        yield plate["plate"], f"{plate['told']}."
    for left in told["left_out"]:
        yield "left out", f"{left['plate']} at {centimetres(left['value_m'])} cm: {left['why'].rstrip('.')}."


def _plate_json(sweep: FitSweep, plate: PlateSweep) -> dict[str, Any]:
    points = [_point_json(p) for p in plate.points]
    least, _ = strap_heights(float(np.median(plate.column("waist"))))
    return {
        "plate": plate.plate,
        "told": band_sentence(sweep, plate),
        "bands": [{"least_m": b.least, "greatest_m": b.greatest} for b in plate.bands],
        "barred_by": list(plate.barred_by),
        "also_fails": [{"what": name, "at_all": at_all} for name, at_all in plate.also_failing()],
        "limits": {"ahead_deg": SEES_AHEAD_DEG, "reach_m": EASY_REACH, "strap_above_crest_m": _rounded(least)},
        "values_m": [_rounded(v) for v in plate.values],
        "points": points,
    }


def _point_json(point: SweepPoint) -> dict[str, Any]:
    return {
        "moment_nm": _rounded(point.moment),
        "ahead_deg": _rounded(np.degrees(point.ahead)),
        "head_up_deg": _rounded(np.degrees(point.head_up)),
        "reach_m": _rounded(point.reach),
        "hardest_valve": point.valve or None,
        "strap_above_crest_m": _rounded(point.strap),
        "rib_above_crest_m": _rounded(point.waist),
        "margins": {name: _rounded(np.degrees(m) if name == LOOK_AHEAD else m) for name, m in point.margins.items()},
    }


def _rounded(value: float) -> float | None:
    """To a millionth; None for what is no finite number (a hand with no way to the valve)."""
    return round(float(value), 6) if np.isfinite(value) else None
