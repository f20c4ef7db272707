"""What the picture tells of a diver: held flat, what turns them, and where letting go leads."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.settle.drawn.settled import GasThere, gas_there, scene_at
from sim.answers.settle.drawn.words import after_words, end_words
from sim.answers.settle.freeze import TIMES
from sim.answers.settle.report import SettleReport
from sim.drawing.scene import HangingScene
from sim.drawing.sheet_options import MEASURED, USUAL, Layer
from sim.settling.settle import Settled
from sim.statics.flat import ItemMoment
from sim.telling.groups import GROUPS
from sim.telling.lead_words import NO_MOMENT

if TYPE_CHECKING:
    from sim.answers.settle.drawn.measures import Measure

FLAT: Final = np.array([0.0, 0.0, 1.0])
MOST_ARROWS: Final = 6
SMALLEST: Final = 0.12  # of the greatest: a thing that turns the diver less has no arrow
SOON: Final = 2  # moments of the motion before its end
NEARLY_THERE: Final = 0.7  # of the time until it rests; a moment later than that looks like the end


@dataclass(frozen=True, eq=False)
class Turner:
    """Things that turn the diver: their name, where they are (3,) [m], and by how much [N m], plus head-up."""

    name: str
    at: Floats
    moment: float


@dataclass(frozen=True, eq=False)
class Moment:
    """The diver some time after letting go: when and how in words, and what is seen."""

    words: tuple[str, str]
    scene: HangingScene


@dataclass(frozen=True, eq=False)
class Story:
    """All that one picture tells.

    flat : the diver held flat, the gas at rest;  turners : what turns them, the greatest first
    others : what all else does together [N m], plus head-up;  held : what that asks of posture, as a sentence
    moments : after letting go, the end last; none for a rig that stays as it is put
    measures : what else may be laid over the diver held flat
    kept_level : whether they are kept from rolling meanwhile
    """

    flat: HangingScene
    turners: tuple[Turner, ...]
    others: float
    held: str
    moments: tuple[Moment, ...] = ()
    measures: tuple[Measure, ...] = ()
    kept_level: bool = True


def story_of(report: SettleReport, held: str = "", layers: frozenset[Layer] = USUAL) -> Story:
    """The story of a report.

    held : what that asks, in the words of the answer on posture;  layers : of the picture to be
    """
    turners = turners_of(report)
    shown = _worth_an_arrow(turners)
    rest = sum(t.moment for t in turners) - sum(t.moment for t in shown)
    measures: tuple[Measure, ...] = ()
    if layers & MEASURED:
        from sim.answers.settle.drawn.measures import measures_of  # what answers on fit need is a tenth of a second

        measures = measures_of(report.assembled, layers)
    kept = report.settled is not None and report.settled.roll_rule == "held"
    return Story(scene_at(report, FLAT), shown, rest, held, _moments(report), measures, kept)


def turners_of(report: SettleReport) -> tuple[Turner, ...]:
    """Every group of things worn, the greatest first; their moments add up to the trimming moment."""
    places = _places(report)
    found = []
    for group, kinds in GROUPS.items():
        own = [i for i in report.items if i.kind in kinds]
        if own:
            found.append(_together(group, own, places))
    return tuple(sorted(found, key=lambda t: -abs(t.moment)))


def _worth_an_arrow(turners: tuple[Turner, ...]) -> tuple[Turner, ...]:
    greatest = max((abs(t.moment) for t in turners), default=0.0)
    least = max(SMALLEST * greatest, NO_MOMENT)
    return tuple(t for t in turners[:MOST_ARROWS] if abs(t.moment) >= least)


def _places(report: SettleReport) -> dict[str, Floats]:
    """(3,) [m] of each item by its name: a solid's CM, a gas's middle."""
    rig, flat = report.assembled.rig, report.flat.field
    found = {p.name: p.solid.cm for p in rig.parts}
    for pocket, state in ((rig.suit, flat.suit), (rig.wing, flat.wing)):
        if pocket is not None and state is not None:
            volume = state.volume[0]
            total = float(volume.sum())
            found[f"gas in {pocket.name}"] = (
                volume @ pocket.cells / total if total > 0.0 else pocket.cells.mean(axis=0)
            )
    return found


def _together(group: str, own: Iterable[ItemMoment], places: dict[str, Floats]) -> Turner:
    """A group where most of its turning is."""
    own = list(own)
    weights = np.array([abs(i.moment) + 1e-9 for i in own])
    at = weights @ np.array([places[i.name] for i in own]) / weights.sum()
    return Turner(own[0].name if len(own) == 1 and group != "suit" else group, at, sum(i.moment for i in own))


def _moments(report: SettleReport) -> tuple[Moment, ...]:
    """A few moments after letting go, then the end."""
    settled = report.settled
    if settled is None or settled.outcome == "indifferent":
        return ()
    times = [t for t in TIMES if t < NEARLY_THERE * settled.time][:SOON]
    end = settled.up / np.linalg.norm(settled.up)
    last = Moment(end_words(settled), scene_at(report, end, gas_there(report.soft, end)))
    return (*(_moment(report, settled, t) for t in times), last)


def _moment(report: SettleReport, settled: Settled, time: float) -> Moment:
    """On the way, with the gas as it then flows."""
    path, rig = settled.path, report.assembled.rig
    up = _then(path.time, path.up, time)
    up /= np.linalg.norm(up)
    gas = GasThere(
        None if rig.suit is None else _then(path.time, path.suit, time),
        None if rig.wing is None else _then(path.time, path.wing, time),
        report.flat.net_buoyancy,
    )
    pitch, roll = (float(np.interp(time, path.time, np.unwrap(a))) for a in (path.pitch, path.roll))
    return Moment(after_words(time, pitch, roll), scene_at(report, up, gas))


def _then(at: Floats, rows: Floats, time: float) -> Floats:
    """Row (k,) of (n, k) at a time, straight between."""
    return np.array([np.interp(time, at, column) for column in np.reshape(rows, (len(at), -1)).T])
