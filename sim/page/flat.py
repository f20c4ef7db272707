"""The diver held flat: what can be said without letting go, and two frames of it for the view."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from meshes.mesh import Floats
from sim.answers.model.motion import Motion, turned
from sim.answers.settle.drawn.settled import GasThere
from sim.answers.settle.report import SettleReport
from sim.case import Case
from sim.statics.equilibria import Equilibria
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer, moment_budget

NO_RESTS = Equilibria((), indifferent=True, complete=True)


@lru_cache(maxsize=2)  # several answers are asked for of one set-up
def flat_report(case: Case) -> SettleReport:
    """Moment, gas and items; no rests, no motion."""
    soft = soft_rig(case.rig)
    flat = flat_answer(soft)
    return SettleReport(case.assembled, soft, flat, moment_budget(soft, flat), (), NO_RESTS, (), None, None, (), ())


def still(report: SettleReport) -> Motion:
    """Two frames of the diver held flat, so that forces and gas can be shown."""
    suit, wing = report.flat.field.suit, report.flat.field.wing
    gas = GasThere(None if suit is None else suit.volume[0], None if wing is None else wing.volume[0], 0.0)
    cm, cb, moment = turned(report.assembled.rig, gas, np.array([0.0, 0.0, 1.0]))
    return Motion(
        np.array([0.0, 1e-3]), _twice(np.eye(3)), np.zeros(2), np.full(2, moment), _twice(cm), _twice(cb),
        None if gas.suit is None else _twice(gas.suit), None if gas.wing is None else _twice(gas.wing),
    )  # fmt: skip


def _twice(row: Floats) -> Floats:
    return np.stack([row, row])
