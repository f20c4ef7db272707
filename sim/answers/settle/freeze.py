"""The freeze test: hold flat, stop moving, time the drift. What an instructor can see in the water."""

from __future__ import annotations

from typing import Final

import numpy as np

from sim.answers.settle.answer import Drift
from sim.settling.settle import Settled
from sim.telling.attitude import within_a_turn

TIMES: Final = (2.0, 5.0, 10.0, 20.0)  # s after stopping
AT_AN_END: Final = ("at rest", "poised", "past the vertical", "indifferent")


def freeze_test(settled: Settled) -> tuple[Drift, ...]:
    """Attitude at TIMES; once at rest it stays, and a motion that was not followed further is told no further."""
    path = settled.path
    stays = settled.outcome in AT_AN_END
    pitch, roll = np.unwrap(path.pitch), np.unwrap(path.roll)
    return tuple(
        Drift(t, float(np.interp(t, path.time, pitch)), within_a_turn(float(np.interp(t, path.time, roll))))
        for t in TIMES
        if stays or t <= path.time[-1]
    )
