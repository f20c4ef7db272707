"""Which unknowns moved, and by how much, in the units that people use."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

import numpy as np

from meshes.mesh import Floats
from scenarios.by_key import quantity_at
from scenarios.known import Owner
from scenarios.unit_table import Dimension
from sim.answers.calibrate.calibrate import Calibration
from sim.said import amount, note
from sim.telling.record import Told
from sim.uncertainty.sampling import of_scores
from sim.uncertainty.shares import share_of
from sim.uncertainty.variates import Variate

MOVED: Final = 0.5  # SDs: less than this is not told as learnt
SETTLED: Final = 0.85  # of its former SD, below which an unknown counts as learnt
TOGETHER: Final = 0.35  # correlation from which two unknowns are told only together
CARRIES: Final = 0.03  # of the moment's variance, from which an unknown is worth telling
SCORES: Final = 2048
SHOWN: Final[dict[Dimension, tuple[str, float, int]]] = {
    "length": ("cm", 1e2, 1), "mass": ("kg", 1.0, 2), "volume": ("l", 1e3, 2), "pressure": ("kPa", 1e-3, 2),
    "density": ("kg/m^3", 1.0, 0), "fraction": ("%", 1e2, 1), "angle": ("deg", 57.29577951308232, 1),
    "mass per area": ("g/m^2", 1e3, 0), "temperature": ("K", 1.0, 1), "age": ("years", 1.0 / 31_557_600.0, 0),
}  # fmt: skip


@dataclass(frozen=True)
class LearntLine:
    """One unknown before and after."""

    name: Annotated[str, Told("the unknown")]
    owner: Annotated[Owner, Told("what it belongs to")]
    before: Annotated[str, Told("middle and SD before, in words")]
    now: Annotated[str, Told("middle and SD now, in words")]
    moved: Annotated[float, Told("how far its middle moved, in SDs of before", key="moved_sd")]
    sd_ratio: Annotated[float, Told("its SD now over that before")]
    share: Annotated[
        float,
        Told("of what is left of the moment's variance, that goes with it, 0 to 1", key="share_of_variance_left"),
    ]
    learnt: Annotated[bool, Told("whether it moved, or is known better")]


@dataclass(frozen=True)
class TiedPair:
    """Two unknowns that the measurements fix only together."""

    unknowns: Annotated[tuple[str, str], Told("the two")]
    correlation: Annotated[float, Told("of the two, by what was measured, -1 to 1")]


def learnt_lines(answer: Calibration) -> tuple[LearntLine, ...]:
    """Every unknown, those that moved most first; none where nothing was fitted."""
    found = answer.found
    if found is None or answer.after is None:
        return ()
    after = found.resampled(SCORES, 0)
    moment = answer.model.moment(after)
    before = np.random.default_rng(0).standard_normal((SCORES, len(found.mean)))
    was, now = (of_scores(g, answer.model.shapes) for g in (before, after))
    lines = []
    for i, variate in enumerate(answer.unknown.variates):
        shown = _shown(answer, variate, i, was, now)
        share = share_of(variate.name, "", after[:, i], moment).share
        moved, sd_ratio = float(found.mean[i]), float(np.sqrt(found.covariance[i, i]))
        learnt = abs(moved) >= MOVED or sd_ratio <= SETTLED
        lines.append(LearntLine(variate.name, variate.owner, *shown, moved, sd_ratio, share, learnt))
    return tuple(sorted(lines, key=lambda x: -max(abs(x.moved), 2.0 * (1.0 - x.sd_ratio))))


def tied_pairs(answer: Calibration) -> tuple[TiedPair, ...]:
    """Pairs of unknowns that were learnt and are tied to one another, the closest first."""
    if answer.found is None:
        return ()
    covariance = answer.found.covariance
    sd = np.sqrt(np.diag(covariance))
    correlation = covariance / sd[:, None] / sd
    names = [v.name for v in answer.unknown.variates]
    pairs = [
        TiedPair((names[i], names[j]), float(correlation[i, j]))
        for i in range(len(names)) for j in range(i) if abs(correlation[i, j]) >= TOGETHER
    ]  # fmt: skip
    return tuple(sorted(pairs, key=lambda p: -abs(p.correlation)))


def _shown(answer: Calibration, variate: Variate, at: int, was: Floats, now: Floats) -> tuple[str, str]:
    """Value and SD before and now, in words."""
    body = answer.unknown.measures
    if body is not None and body.at.start <= at < body.at.stop:
        row = body.loading[at - body.at.start]
        told = _measure(answer, variate)
        before, after = (told + z[:, body.at] @ row for z in (was, now))
        return _numbers(before, "length"), _numbers(after, "length")
    keys = [k for k, s in variate.said.items() if s.per_spread != 0.0]
    if len(keys) == 1:
        said, quantity = variate.said[keys[0]], quantity_at(answer.scenario, keys[0])
        if quantity is not None and quantity.dimension in SHOWN:
            before, after = (said.value + said.per_spread * z[:, at] for z in (was, now))
            return _numbers(before, quantity.dimension), _numbers(after, quantity.dimension)
    effect = variate.effect
    if effect is None:
        return _numbers(was[:, at], None), _numbers(now[:, at], None)
    before, after = (effect.amount * z[:, at] for z in (was, now))
    if effect.what in ("cb", "cm", "moved"):
        return (
            note("{size} headward", size=_numbers(before, "length", sign=True)),
            note("{size} headward", size=_numbers(after, "length", sign=True)),
        )
    if effect.what == "gas":
        return _numbers(before, "fraction", sign=True), _numbers(after, "fraction", sign=True)
    return _factor(before), _factor(after)


def _factor(log: Floats) -> str:
    low, middle, high = np.exp(log.mean() + log.std() * np.array([-1.0, 0.0, 1.0]))
    return note(
        "{middle:.2f} times as stiff ({low:.2f} to {high:.2f})",
        middle=float(middle),
        low=float(low),
        high=float(high),
    )


def _measure(answer: Calibration, variate: Variate) -> float:
    """The body measure [m] that a direction of the body is named by, as estimated."""
    from scenarios.measure_names import measures

    key = next(f"diver.measures.{m.measure}" for m in measures() if m.name == variate.name)
    return variate.said[key].value


def _numbers(values: Floats, dimension: Dimension | None, *, sign: bool = False) -> str:
    unit, factor, digits = ("", 1.0, 1) if dimension is None else SHOWN[dimension]
    middle = amount(float(factor * values.mean()), unit, digits, sign=sign, bare=True)
    spread = amount(float(factor * values.std()), unit, digits, bare=dimension is None)
    if dimension is None:
        return note("{middle} +- {spread} of its spreads", middle=middle, spread=spread)
    return note("{middle} +- {spread}", middle=middle, spread=spread)
