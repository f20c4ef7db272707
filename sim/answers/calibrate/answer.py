"""What a calibration says, as it is told: ``hangflat.calibrate/1``; moments of the diver held flat."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Final, Literal

import numpy as np

from meshes.mesh import Floats
from sim.answers.calibrate.calibrate import Calibration, Next
from sim.answers.calibrate.learnt import LearntLine, TiedPair, learnt_lines, tied_pairs
from sim.answers.calibrate.model import as_gaussian
from sim.answers.calibrate.surprise import Suspect
from sim.answers.check_bench.bench_file import Drift
from sim.said import joined, known, word
from sim.telling.caution import CAUTION
from sim.telling.made_by import MadeByMeasurements
from sim.telling.record import Told
from sim.telling.written_file import WrittenFile

FORMAT: Final = "hangflat.calibrate/1"
POOL_CARE: Final = word(
    "Measure in confined water, with a buddy within reach and a qualified instructor who agrees; breathe all the "
    "time, never hold the breath; end a try at once when anything is not as it should be."
)
CAUTIONS: Final = joined([known(CAUTION), known(POOL_CARE)], " ")
DRAWS: Final = 512  # of what was expected of a reading


@dataclass(frozen=True)
class Band:
    """Percentiles."""

    p5: Annotated[float, Told("5th percentile")]
    p50: Annotated[float, Told("50th percentile")]
    p95: Annotated[float, Told("95th percentile")]


@dataclass(frozen=True, kw_only=True)
class MomentBands:
    """What turns the diver, before and after."""

    band: Annotated[str, Told("from which percentile to which")] = "5 to 95 %"
    before: Annotated[Band, Told("before it was measured")]
    after: Annotated[Band | None, Told("after", none="nothing was fitted")]


@dataclass(frozen=True, kw_only=True)
class ToldReading:
    """A measurement beside what the model expected before and says now, in the unit that it names."""

    name: Annotated[str, Told("what was measured")]
    unit: Annotated[Literal["kg", "N m"], Told("of the numbers")]
    measured: Annotated[float, Told("what the file says")]
    spread: Annotated[float, Told("of that, a standard deviation")]
    assumed: Annotated[bool, Told("whether the file does not state it", key="spread_assumed")]
    expected: Annotated[float, Told("what the model said before")]
    expected_sd: Annotated[float, Told("of that, a standard deviation")]
    now: Annotated[float | None, Told("what the model says now", none="nothing was fitted")]
    drift: Annotated[Drift, Told("which way the diver turned, of a freeze test")]
    time: Annotated[float | None, Told("to 30 degrees, of a freeze test", "s", none="not timed")]


@dataclass(frozen=True, kw_only=True)
class CalibrationTold:
    """All of it."""

    format: Annotated[str, Told(FORMAT)] = FORMAT
    made_by: Annotated[MadeByMeasurements | None, Told("by which program and from what", left_out=True)] = None
    title: Annotated[str, Told("the scenario's own")]
    scenario: Annotated[str, Told("its file")]
    measurements: Annotated[str, Told("their file")]
    measured_on: Annotated[str | None, Told("day of the measurements", none="the file does not say")]
    contradicted: Annotated[bool, Told("whether they contradict the model: then nothing is fitted")]
    readings: Annotated[tuple[ToldReading, ...], Told("each measurement")]
    pitch_moment: Annotated[MomentBands, Told("what turns the diver", "N m", plus="head-up")]
    unknowns: Annotated[tuple[LearntLine, ...], Told("every unknown, those that moved most first")]
    together: Annotated[tuple[TiedPair, ...], Told("unknowns that are told only together", key="told_only_together")]
    suspects: Annotated[tuple[Suspect, ...], Told("what may be broken, where they contradict the model")]
    next: Annotated[tuple[Next, ...], Told("what to measure next, the most telling first")]
    draws: Annotated[
        float | None, Told("draws that carry the fit", none="nothing was fitted", key="draws_that_count")
    ]
    notes: Annotated[tuple[str, ...], Told("sentences on it")]
    caution: Annotated[str, Told("what this is not, and how to measure")] = CAUTIONS
    known: Annotated[str | None, Told("file that what was learnt was written to", none="none was")] = None
    picture: Annotated[WrittenFile | None, Told("the picture", left_out=True)] = None


def calibration_told(answer: Calibration) -> CalibrationTold:
    """An answer as it is told."""
    before, after = answer.band()
    return CalibrationTold(
        title=answer.scenario.title or Path(answer.path).stem,
        scenario=answer.path,
        measurements=answer.bench.name,
        measured_on=None if answer.day is None else answer.day.isoformat(),
        contradicted=answer.found is None,
        readings=tuple(_readings(answer)),
        pitch_moment=MomentBands(before=_band(before), after=None if after is None else _band(after)),
        unknowns=learnt_lines(answer),
        together=tied_pairs(answer),
        suspects=answer.suspects,
        next=answer.next,
        draws=None if answer.found is None else answer.found.counts,
        notes=tuple(answer.notes),
    )


def _band(percentiles: Floats) -> Band:
    return Band(*map(float, percentiles))


def _readings(answer: Calibration) -> Iterator[ToldReading]:
    rng = np.random.default_rng(0)
    before = answer.model.predicted(rng.standard_normal((DRAWS, answer.model.unknowns)))
    for i, reading in enumerate(answer.model.readings):
        value, sd = as_gaussian(reading, answer.model.law)
        yield ToldReading(
            name=reading.name,
            unit="kg" if reading.kind == "float" else "N m",
            measured=value,
            spread=sd,
            assumed=reading.assumed,
            expected=float(before[:, i].mean()),
            expected_sd=float(before[:, i].std()),
            now=None if answer.found is None else float(answer.found.weight @ answer.found.predicted[:, i]),
            drift=reading.drift,
            time=reading.time,
        )
