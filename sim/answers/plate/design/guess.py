"""What a plate would come out as, from those worked out in full: a smooth surface through each margin of each person.

Every number of every trial is laid through the places of the trials by radial basis functions (scipy's, cubic, with a
straight trend), so that it is exact there. Shares follow from guessed margins as they do from margins, which move
evenly where a share jumps.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.plate.design.brief import Brief
from sim.answers.plate.design.trial import Built, Trial, suits, wanted_of
from sim.answers.plate.suits.guess import FURTHEST

if TYPE_CHECKING:
    from scipy.interpolate import RBFInterpolator

FEWEST: Final = 2  # trials more than dimensions, from which a surface with a trend can be laid


@dataclass(frozen=True, eq=False)
class Guess:
    """Surfaces through trials.

    surface : of mass, moments, what each check has left, all that is found of each person, and the stress
    """

    brief: Brief
    trials: Sequence[Trial]
    start: Built
    surface: RBFInterpolator

    def scores(self, places: Floats) -> tuple[Floats, Floats]:
        """Objectives (n, 3) at places (n, d), and by how much limits are broken (n,)."""
        found = self.surface(places)
        keys, demands, people = len(self.start.slacks), self.trials[0].demands, len(self.trials[0].targets)
        mass, moments, slacks = found[:, 0], found[:, 1:3], found[:, 3 : 3 + keys]
        targets = found[:, 3 + keys : -1].reshape(len(places) * people, -1)
        share = suits(demands, targets).reshape(len(places), people).mean(axis=1)
        wanted = np.array(list(wanted_of(self.start).values()))
        over = 100.0 * np.maximum(wanted - slacks, 0.0).sum(axis=1)
        if self.brief.most_mass is not None:
            over = over + np.maximum(mass - self.brief.most_mass, 0.0)
        if self.brief.most_stress is not None:
            over = over + np.maximum(found[:, -1] / self.brief.most_stress - 1.0, 0.0)
        return np.column_stack([mass, 1.0 - share, np.abs(moments).max(axis=1)]), over


def guess_from(brief: Brief, trials: Sequence[Trial], start: Built) -> Guess:
    """Raises ValueError for too few trials."""
    from scipy.interpolate import RBFInterpolator

    if len(trials) < len(brief.names) + FEWEST:
        raise ValueError(f"from {len(trials)} plates nothing is guessed over {len(brief.names)} dimensions")
    places = np.array([brief.places(t.built.values) for t in trials])
    rows = np.array([_row(t, start) for t in trials])
    return Guess(brief, trials, start, RBFInterpolator(places, rows, kernel="cubic", degree=1))


def _row(trial: Trial, start: Built) -> Floats:
    slacks = [trial.built.slacks.get(key, 0.0) for key in start.slacks]
    targets = np.clip(trial.targets, -FURTHEST, FURTHEST)
    stress = np.nan_to_num(trial.built.stress)  # 0 where nobody asks
    return np.concatenate([[trial.built.mass, *trial.moments], slacks, targets.ravel(), [stress]])
