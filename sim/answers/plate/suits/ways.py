"""From margins of many people to how each ends: ``plate_on_person.outcome`` for arrays."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from meshes.mesh import Floats
from sim.answers.fit.demands.demand import Demand, Flags
from sim.answers.fit.demands.every import REASONS
from sim.answers.fit.demands.together import NEVER_TOGETHER, SEVERAL
from sim.answers.fit.demands.waist_strap import WAIST_STRAP
from sim.answers.plate.suits.known import BANDS, PASSES
from sim.answers.plate.suits.shares import Names

ROUNDING = 1e-12  # of the way between two heights


def met_somewhere(margins: Floats) -> Flags:
    """Whether (n,) all margins (n, d, 3), straight between their three heights, are 0 or more at one height."""
    found = np.zeros(len(margins), dtype=bool)
    for lower in (0, 1):
        a, b = margins[:, :, lower], margins[:, :, lower + 1]
        with np.errstate(divide="ignore", invalid="ignore"):
            crossing = a / (a - b)
        first = np.where(a >= 0.0, 0.0, np.where(b >= 0.0, crossing, np.inf))
        last = np.where(b >= 0.0, 1.0, np.where(a >= 0.0, crossing, -np.inf))
        found |= first.max(axis=1) <= last.min(axis=1) + ROUNDING
    return found


def outcomes(demands: Sequence[Demand], margins: Floats, by_bands: Floats) -> Names:
    """How each of n people ends: PASSES, BANDS or the name of a reason.

    margins : (n, d, 3) of the demands at the three heights that keep the strap on the waist
    by_bands : (n,) above 0 where the plate passes as banded, or with the bands set for the person
    """
    of_strap = [i for i, demand in enumerate(demands) if demand.name == WAIST_STRAP.name]
    passing = met_somewhere(margins)
    failing = np.zeros(len(margins), dtype=int)
    names = np.full(len(margins), NEVER_TOGETHER.name, dtype="<U40")
    for reason in REASONS:
        if reason == WAIST_STRAP.reason:
            continue
        own = [i for i, demand in enumerate(demands) if demand.reason == reason]
        if own:
            fails = ~met_somewhere(margins[:, sorted({*of_strap, *own})])
            names[fails] = reason.name
            failing += fails
    names[failing > 1] = SEVERAL.name
    if of_strap:
        names[~met_somewhere(margins[:, of_strap])] = WAIST_STRAP.reason.name
    others = [i for i, demand in enumerate(demands) if not demand.by_bands]  # which no bands mend
    names[~passing & (by_bands > 0.0) & met_somewhere(margins[:, others])] = BANDS
    names[passing] = PASSES
    return names
