"""The trade-off: what gains and what loses as the rig is hung lower, or as the plate changes, on one person."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Annotated

import numpy as np

from meshes.mesh import Floats
from scenarios.errors import Problem, ScenarioError
from scenarios.models import Scenario
from scenarios.quantities import SI
from sim.answers.fit.answer import found_on
from sim.answers.fit.demands.every import ANGLES, DEMANDS, failing_of
from sim.answers.fit.drops import DropBand, feasible_drops
from sim.answers.fit.limits import EASY_REACH, SEES_AHEAD_DEG
from sim.answers.fit.plates import OWN_PLATE, asked_plates, blaming_plate, wearing_plate
from sim.answers.fit.sweep_kinds import Asked
from sim.answers.fit.told.sweep import MILLIONTH, band_sentence
from sim.answers.fit.waist import strap_heights
from sim.assembly.assembled import Assembled
from sim.case import Case
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.telling.record import Kept, Told
from sim.telling.written_file import WrittenFile


@dataclass(frozen=True, eq=False)
class SweepPoint:
    """One rig of a sweep.

    margins : of each demand, 0 or more where it is met; [m], of look-ahead [rad]
    also_fails : what else about the plate on the back does
    """

    moment: Annotated[
        float,
        Told("what turns the diver held flat; one point a value", "N m", plus="head-up", digits=MILLIONTH),
    ]
    ahead: Annotated[float, Told("look_ahead.looks_deg", "deg", plus="above straight ahead", digits=MILLIONTH)]
    head_up: Annotated[float, Told("look_ahead.seen_pitch_deg", "deg", plus="head-up", digits=MILLIONTH)]
    reach: Annotated[
        float,
        Told("margin of the valve hardest to reach", "m", none="no way to it, or no cylinders", digits=MILLIONTH),
    ]
    valve: Annotated[str | None, Told("its name", none="without cylinders", key="hardest_valve")]
    strap: Annotated[
        float,
        Told("waist strap above the top of the hip bones", "m", key="strap_above_crest_m", digits=MILLIONTH),
    ]
    waist: Annotated[
        float,
        Told("lowest rib above the top of the hip bones", "m", key="rib_above_crest_m", digits=MILLIONTH),
    ]
    margins: Annotated[
        Mapping[str, float],
        Told(
            "of each demand, of look-ahead in degrees",
            "m",
            key="margins",
            names="<demand>",
            others=ANGLES,
            digits=MILLIONTH,
        ),
    ]
    also_fails: Kept[tuple[str, ...]]


@dataclass(frozen=True)
class AlsoFails:
    """What else fails where every demand is met."""

    what: Annotated[str, Told("what else about the plate fails where every demand is met, as in verdicts")]
    at_all: Annotated[bool, Told("whether at all values there, or at some")]


@dataclass(frozen=True)
class SweepLimits:
    """From where on each demand is met."""

    ahead: Annotated[
        float,
        Told("look-ahead is met from here up, or where no gear stops the head", "deg", digits=MILLIONTH),
    ]
    reach: Annotated[float, Told("reach is met from here up", "m")]
    strap_above_crest: Annotated[
        float,
        Told("the waist strap is met from here up to as far below the lowest rib", "m", digits=MILLIONTH),
    ]


@dataclass(frozen=True, eq=False)
class PlateSweep:
    """One plate over the whole sweep."""

    plate: Annotated[str, Told("its name")]
    told: Annotated[str, Told("where every demand is met, or what rules that out, as a sentence")]
    bands: Annotated[tuple[DropBand, ...], Told("where every demand is met")]
    barred_by: Annotated[tuple[str, ...], Told("where there is no band, the fewest demands that rule each other out")]
    also_fails: Annotated[tuple[AlsoFails, ...], Told("what else fails where every demand is met")]
    limits: Annotated[SweepLimits, Told("from where on each demand is met")]
    values: Annotated[Floats, Told("of what is swept, rising", "m", digits=MILLIONTH)]
    points: Annotated[tuple[SweepPoint, ...], Told("the rig at each value")]

    def margin(self, demand: str) -> Floats:
        """Margins of one demand at all points."""
        return np.array([p.margins[demand] for p in self.points])


@dataclass(frozen=True)
class LeftOut:
    """A value at which no rig can be made."""

    plate: Annotated[str, Told("plate with which no rig could be made")]
    value: Annotated[float, Told("value of what is swept, there", "m")]
    why: Annotated[str, Told("why not")]


@dataclass(frozen=True, eq=False)
class FitSweep:
    """The sweep of every plate; ``title`` : of the person's case."""

    asked: Annotated[Asked, Told("what is swept", beside=True)]
    title: Kept[str]
    plates: Annotated[tuple[PlateSweep, ...], Told("each plate")]
    left_out: Annotated[tuple[LeftOut, ...], Told("where no rig could be made")]
    chart: Annotated[WrittenFile | None, Told("the chart", left_out=True)] = None
    table: Annotated[WrittenFile | None, Told("the table", left_out=True)] = None


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
        plates=tuple(plate_sweep(asked.kind.name, n, *zip(*found[n], strict=True)) for n in names),
        left_out=tuple(LeftOut(n, v, w.problems[0].message) for n in names for v, w in failed[n]),
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


def sweep_point(assembled: Assembled) -> SweepPoint:
    """What the trade-off is about, for one rig. Raises ValueError for a rig told by numbers, or without a plate."""
    found = found_on(assembled)
    on, eyes, hands = found.on_back, found.look_ahead, found.hands
    traded = {demand.name: demand.margin(found) for demand in DEMANDS if demand.traded}
    worst = min(hands, key=lambda name: hands[name], default=None)
    return SweepPoint(
        moment=flat_answer(soft_rig(assembled.rig)).pitch_moment,
        ahead=eyes.ahead,
        head_up=eyes.head_up,
        reach=np.nan if worst is None else hands[worst],
        valve=worst,
        strap=on.waist_strap - on.crest,
        waist=on.tenth_rib - on.crest,
        margins=MappingProxyType({name: margin for name, margin in traded.items() if not np.isposinf(margin)}),
        also_fails=failing_of(found, but=traded),
    )


def plate_sweep(along: str, plate: str, values: Sequence[float], points: Sequence[SweepPoint]) -> PlateSweep:
    """Points put together; ``along`` : what is swept. Raises ValueError for values that do not rise."""
    x = np.asarray(values, dtype=float)
    margins = {name: np.array([p.margins[name] for p in points]) for name in points[0].margins}
    bands = feasible_drops(x, margins)
    strap, _ = strap_heights(float(np.median([p.waist for p in points])))
    swept = PlateSweep(
        plate=plate, told="", bands=bands, barred_by=() if bands else ruled_out_by(x, margins),
        also_fails=_also_failing(x, points, bands),
        limits=SweepLimits(float(np.radians(SEES_AHEAD_DEG)), EASY_REACH, strap), values=x, points=tuple(points),
    )  # fmt: skip
    return replace(swept, told=band_sentence(along, swept))


def _also_failing(values: Floats, points: Sequence[SweepPoint], bands: Sequence[DropBand]) -> tuple[AlsoFails, ...]:
    """Where a band lies between two values, the nearest stands for it."""
    there: list[tuple[str, ...]] = []
    for band in bands:
        inside = [i for i, v in enumerate(values) if band.least <= v <= band.greatest]
        nearest = [int(np.abs(values - 0.5 * (band.least + band.greatest)).argmin())]
        there += [points[i].also_fails for i in inside or nearest]
    names = dict.fromkeys(name for fails in there for name in fails)
    return tuple(AlsoFails(name, all(name in fails for fails in there)) for name in names)


def ruled_out_by(values: Floats, margins: Mapping[str, Floats]) -> tuple[str, ...]:
    """The fewest demands that cannot all be met anywhere; nothing where all can."""
    for count in range(1, len(margins) + 1):
        for names in itertools.combinations(margins, count):
            if not feasible_drops(values, {n: margins[n] for n in names}):
                return names
    return ()
