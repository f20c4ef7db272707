"""What comes out of each draw: moment, stiffness and wing gas when flat, and the pitch the diver is turned to."""

from __future__ import annotations

from concurrent.futures import Executor
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.uncertainty.progress import Progress, unheard
from sim.uncertainty.turning import rest_pitch
from sim.uncertainty.variates import UncertainRig

PIECES: Final = 4  # of the draws for each process


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


def outcomes(
    rig: UncertainRig, z: Floats, pool: Executor | None = None, workers: int = 1, done: Progress = unheard
) -> Outcomes:
    """Answers for draws ``z`` (n, number of variates). Each is worked out alone, so the pool changes nothing."""
    bare = replace(rig, like=replace(rig.like, parts=()))  # shapes are of no use here, and heavy to send
    pieces = np.array_split(z, PIECES * workers)
    rows = []
    each = map if pool is None else pool.map
    for found in each(_answers, [bare] * len(pieces), pieces):
        rows.append(found)
        done(len(rows) / len(pieces))
    return Outcomes(*np.ascontiguousarray(np.concatenate(rows).T))


def _answers(rig: UncertainRig, z: Floats) -> Floats:
    """Rows of moment, stiffness, wing gas and rest pitch (n, 4)."""
    return np.array([_answer(rig, row) for row in z]).reshape(len(z), 4)


def _answer(rig: UncertainRig, z: Floats) -> tuple[float, float, float, float]:
    soft = soft_rig(rig.drawn(z))
    flat = flat_answer(soft)
    back = flat.suit_pitch_gas * (1.0 - 1.0 / rig.reversal(z))
    return flat.pitch_moment, flat.pitch_stiffness + back, flat.wing_gas, rest_pitch(soft, flat.pitch_moment)
