"""What the model says that was measured, for many values of the unknowns at once, and how likely that makes it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.special import log_ndtr

from meshes.mesh import Floats
from sim.answers.calibrate.drawn_rigs import Drawn
from sim.answers.calibrate.time_law import TimeLaw
from sim.answers.check_bench.readings import Reading
from sim.answers.check_bench.situations import AS_TOLD, Situation
from sim.answers.check_bench.spreads import MOMENT_SPREAD, TIME_MODEL
from sim.batch.flat import FlatArrays, flat_answers
from sim.uncertainty.sampling import Shape, of_scores

AT_ONCE: Final = 1024  # draws: some hundred bytes a gas cell each


@dataclass(frozen=True, eq=False)
class Model:
    """Readings and the uncertain rig in each of their situations; d unknowns in normal scores, N(0, 1) before.

    drawn : by situation, the scenario's own among them;  law : how long a moment takes to turn by 30 degrees
    """

    drawn: dict[Situation, Drawn]
    readings: tuple[Reading, ...]
    law: TimeLaw
    threads: int | None = None

    @property
    def shapes(self) -> tuple[Shape, ...]:
        """Of each unknown's spread."""
        return tuple(v.shape for v in self.drawn[AS_TOLD].unknown.variates)

    @property
    def unknowns(self) -> int:
        """d."""
        return len(self.drawn[AS_TOLD].unknown.variates)

    def moment(self, g: Floats, situation: Situation = AS_TOLD) -> Floats:
        """Moment (B,) [N m] of the diver held flat at normal scores (B, d)."""
        return np.concatenate([self._flat(part, situation).pitch_moment for part in _parts(g)])

    def predicted(self, g: Floats, readings: Sequence[Reading] | None = None) -> Floats:
        """What each reading should have been (B, m), in the units of its value, at normal scores (B, d)."""
        chosen = self.readings if readings is None else readings
        columns = [np.concatenate([self._one(part, r) for part in _parts(g)]) for r in chosen]
        return np.array(columns).reshape(len(chosen), len(g)).T

    def log_likelihood(self, predicted: Floats) -> Floats:
        """Of the readings (B,), given what was predicted (B, m), up to a constant."""
        total = np.zeros(len(predicted))
        for reading, column in zip(self.readings, predicted.T, strict=True):
            total += log_likelihood(reading, column, self.law)
        return total

    def _one(self, g: Floats, reading: Reading) -> Floats:
        flat = self._flat(g, reading.situation, reading.added, reading.kind == "float")
        if reading.kind == "float":
            return reading.worn + reading.per_lead * flat.net_buoyancy
        return flat.pitch_moment

    def _flat(
        self, g: Floats, situation: Situation, added: Floats | None = None, wing_empty: bool = False
    ) -> FlatArrays:
        rigs = self.drawn[situation].rigs(of_scores(g, self.shapes), added=added, wing_empty=wing_empty)
        return flat_answers(rigs, threads=self.threads)


def _parts(g: Floats) -> list[Floats]:
    return np.array_split(g, max(1, -(-len(g) // AT_ONCE)))


def log_likelihood(reading: Reading, predicted: Floats, law: TimeLaw) -> Floats:
    """Of one reading (B,) given what was predicted (B,), up to a constant."""
    if reading.kind != "freeze" or reading.drift == "none":
        return np.asarray(-0.5 * ((predicted - reading.value) / reading.sd) ** 2)
    way = 1.0 if reading.drift == "head-up" else -1.0
    if reading.time is None:
        return np.asarray(log_ndtr(way * predicted / MOMENT_SPREAD))
    # a moment the other way would have had to be overlooked, and takes as long as none
    against = np.minimum(way * predicted, 0.0)
    time = law.time(np.maximum(way * predicted, 0.0))
    sd = time_sd(reading, time)
    return np.asarray(-0.5 * ((reading.time - time) / sd) ** 2 - np.log(sd) - 0.5 * (against / MOMENT_SPREAD) ** 2)


def time_sd(reading: Reading, time: Floats) -> Floats:
    """SD (B,) [s] of a mean time about ``time`` (B,) [s]: of the reading, and of the model's own motion."""
    read = np.sqrt(max(reading.time_sd**2 - (TIME_MODEL * (reading.time or 0.0)) ** 2, 1e-4))
    return np.hypot(read, TIME_MODEL * time)


def as_gaussian(reading: Reading, law: TimeLaw) -> tuple[float, float]:
    """Value and SD of a reading in the units of what is predicted: the Gaussian nearest its likelihood."""
    if reading.kind != "freeze" or reading.drift == "none":
        return reading.value, reading.sd
    way = 1.0 if reading.drift == "head-up" else -1.0
    if reading.time is None:
        return way * 4.0 * MOMENT_SPREAD, 4.0 * MOMENT_SPREAD
    moment = law.moment(reading.time)
    slope = abs(law.moment(1.01 * reading.time) - law.moment(0.99 * reading.time)) / (0.02 * reading.time)
    return way * moment, float(np.hypot(slope * reading.time_sd, 0.5 * MOMENT_SPREAD))
