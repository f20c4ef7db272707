"""What comes out of each draw: moment, stiffness and wing gas when flat, and the pitch the diver is turned to."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from multiprocessing import get_context

import numpy as np

from meshes.mesh import Floats
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.uncertainty.turning import rest_pitch
from sim.uncertainty.variates import UncertainRig


@dataclass(frozen=True, eq=False)
class Outcomes:
    """Answers of n draws, flat but for ``pitch``; each (n,).

    moment : [N m], plus turns head-up;  stiffness : of pitch [N m/rad];  wing_gas : [m^3]
    pitch : [rad] at which the turning from flat ends, roll held; minus or plus infinity past the vertical
    """

    moment: Floats
    stiffness: Floats
    wing_gas: Floats
    pitch: Floats


@contextmanager
def worker_pool(workers: int) -> Iterator[Executor | None]:
    """A pool of spawned processes, or None when one process does it all."""
    if workers < 2:
        yield None
        return
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn"), initializer=_one_thread) as pool:
        yield pool


def _one_thread() -> None:
    """Keep a worker to one core: threads of its linear algebra would only wait for those of the others."""
    from threadpoolctl import threadpool_limits

    threadpool_limits(1)


def outcomes(rig: UncertainRig, z: Floats, pool: Executor | None = None, workers: int = 1) -> Outcomes:
    """Answers for draws ``z`` (n, number of variates). Each is worked out alone, so the pool changes nothing."""
    if pool is None:
        table = _answers(rig, z)
    else:
        pieces = np.array_split(z, 2 * workers)
        table = np.concatenate(list(pool.map(_answers, [rig] * len(pieces), pieces)))
    return Outcomes(*np.ascontiguousarray(table.T))


def _answers(rig: UncertainRig, z: Floats) -> Floats:
    """Rows of moment, stiffness, wing gas and rest pitch (n, 4)."""
    return np.array([_answer(rig, row) for row in z]).reshape(len(z), 4)


def _answer(rig: UncertainRig, z: Floats) -> tuple[float, float, float, float]:
    soft = soft_rig(rig.drawn(z))
    flat = flat_answer(soft)
    return flat.pitch_moment, flat.pitch_stiffness, flat.wing_gas, rest_pitch(soft, flat.pitch_moment)
