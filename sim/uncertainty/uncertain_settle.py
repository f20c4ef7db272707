"""How sure the answers are: bands by quasi-Monte Carlo, and which unknowns make them wide."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from scenarios.errors import Problem, ScenarioError
from scenarios.parts_file import PartsFile
from sim.case import Case
from sim.said import word
from sim.uncertainty.outcomes import Outcomes, outcomes
from sim.uncertainty.progress import Progress, part_of, unheard
from sim.uncertainty.sampling import SEED
from sim.uncertainty.shares import HIGH, LOW, Share, share_of
from sim.uncertainty.uncertain_rig import uncertain_parts, uncertain_scenario
from sim.uncertainty.variants import UnvariedError
from sim.uncertainty.variates import UncertainRig
from sim.worker_pool import worker_pool

SAMPLES: Final = 1024  # with which other points give a band whose width differs by 2 % (SD)
VARIANTS: Final = 0.6  # of the time goes into the variants, the rest into the draws

# of a garment, whose stiffness on small reversals is unknown to one side alone
ONE_SIDED: Final = word(
    "The pitch stiffness told for this diver takes the garment as soft on small turns as on slow loading; the band "
    "lets it be up to three times as stiff, never softer, so what is told can lie below the band."
)


@dataclass(frozen=True)
class Band:
    """The answer as told, and the 5th, 50th and 95th percentile of what it may be."""

    told: float
    low: float
    middle: float
    high: float


@dataclass(frozen=True, eq=False)
class UncertainAnswer:
    """Bands of the answers and the unknowns behind that of the moment.

    moment : flat [N m], plus turns head-up;  stiffness : of pitch [N m/rad];  wing_gas : [m^3]
    pitch : [rad] at which the turning from flat ends, roll held; infinite past the vertical (plus head-up)
    over_head_up, over_head_down : shares of the draws that turn past the vertical
    unknowns : most important first;  draws : the answers of each draw, in the units above
    """

    samples: int
    moment: Band
    stiffness: Band
    wing_gas: Band
    pitch: Band
    over_head_up: float
    over_head_down: float
    unknowns: tuple[Share, ...]
    draws: Outcomes
    notes: tuple[str, ...]


def uncertain_settle(
    case: Case, *, samples: int = SAMPLES, workers: int = 1, done: Progress = unheard
) -> UncertainAnswer:
    """Bands of the answers for a scenario or parts file.

    samples : a power of two;  workers : processes; more than one needs a script guarded by ``__name__``
    done : hears how far it is
    Raises ScenarioError for what cannot be built, or for a stated spread that cannot be.
    """
    content, rig = case.content, case.rig
    with worker_pool(workers) as pool:
        try:
            first = part_of(done, 0.0, VARIANTS)
            if isinstance(content, PartsFile):
                unknown = uncertain_parts(content, rig, pool, first)
            else:
                unknown = uncertain_scenario(content, rig, pool, first)
        except UnvariedError as error:
            raise ScenarioError([Problem(str(case.path), str(error), error.key)]) from error
        z = unknown.points(samples, SEED)
        return answered(unknown, z, outcomes(unknown, z, pool, workers, part_of(done, VARIANTS, 1.0)))


def answered(unknown: UncertainRig, z: Floats, draws: Outcomes) -> UncertainAnswer:
    """Bands and shares from draws ``z`` (n, number of variates) and what came out of them."""
    told = outcomes(unknown, np.zeros((1, z.shape[1])))
    return UncertainAnswer(
        samples=len(z),
        moment=_band(told.moment, draws.moment),
        stiffness=_band(told.stiffness, draws.stiffness),
        wing_gas=_band(told.wing_gas, draws.wing_gas),
        pitch=_band(told.pitch, draws.pitch),
        over_head_up=float(np.mean(np.isposinf(draws.pitch))),
        over_head_down=float(np.mean(np.isneginf(draws.pitch))),
        unknowns=_ranked(unknown, z, draws.moment),
        draws=draws,
        notes=(*unknown.notes, *([ONE_SIDED] if any(v.reversal for v in unknown.variates) else [])),
    )


def _band(told: Floats, values: Floats) -> Band:
    # an order statistic, not a mean of two: either may be infinite
    low, middle, high = np.quantile(values, [LOW, 0.5, HIGH], method="inverted_cdf")
    return Band(float(told[0]), float(low), float(middle), float(high))


def _ranked(unknown: UncertainRig, z: Floats, moment: Floats) -> tuple[Share, ...]:
    """Every unknown's share of the moment's spread, largest first; body measures one by one and all together."""
    body = unknown.measures
    rest = range(0 if body is None else body.at.stop, z.shape[1])
    shares = [share_of(unknown.variates[i].name, unknown.variates[i].basis, z[:, i], moment) for i in rest]
    if body is not None and len(body.names):
        values = z[:, body.at] @ body.loading.T
        shares += [
            share_of(n, b, values[:, i], moment) for i, (n, b) in enumerate(zip(body.names, body.basis, strict=True))
        ]
        shares.append(share_of(word("all body measures together"), "", z[:, body.at], moment, together=True))
    return tuple(sorted(shares, key=lambda s: -s.share))
