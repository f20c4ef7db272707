"""What may be otherwise than it was told or estimated, by how much, and what that does to a rig's numbers."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from meshes.mesh import Floats
from scenarios.known import Effect, Owner
from sim.assembly.learnt import with_suit
from sim.rig import Rig
from sim.uncertainty.rig_numbers import rig_of_numbers
from sim.uncertainty.sampling import Shape, of_scores, spread_points

Spread = Callable[[Sequence[Shape], int, int], Floats]
NINETY: Final = 1.6448536269514722  # SDs from the middle to the 5th or 95th percentile of a Gaussian


@dataclass(frozen=True)
class Said:
    """An unknown as a value of the scenario: ``value`` under a dotted key as told or estimated, and what one spread
    adds to it (SI)."""

    value: float
    per_spread: float


@dataclass(frozen=True, eq=False)
class Variate:
    """One independent unknown.

    name : what it is, in plain words;  basis : how far it may be off and why that is believed
    shape : of its spread: "normal" (in SDs), "uniform" (between -1 and 1), "from nil" (uniform between 0 and 1)
    numbers : (n,) change of the rig's numbers for one SD, for the half width of a uniform spread, all of one from nil
    log_stiffness, gas_share : of the suit's fabric and gas, for the same change
    reversal : how much stiffer the garment is on small reversals than on slow loading, less 1, for the same change
    owner : what it goes along with: another rig on the same diver keeps what is the diver's and the suit's, and a
        reading of one occasion is kept by none
    said : the scenario's values that it changes, by dotted key; empty where no key says it
    effect : what it does to an assembled rig where no key says it, for the same change
    """

    name: str
    basis: str
    shape: Shape
    numbers: Floats
    log_stiffness: float = 0.0
    gas_share: float = 0.0
    reversal: float = 0.0
    owner: Owner = "rig"
    said: Mapping[str, Said] = field(default_factory=dict)
    effect: Effect | None = None


@dataclass(frozen=True, eq=False)
class BodyMeasures:
    """Body measures that were not taken; those of one person go together.

    names : k of them;  basis : of each
    loading : (k, j) change of each [m] for one SD of the j variates that stand for them
    at : where these variates stand among all of a rig's
    """

    names: tuple[str, ...]
    basis: tuple[str, ...]
    loading: Floats
    at: slice


@dataclass(frozen=True, eq=False)
class Belief:
    """What is believed of d unknowns after measurements, as a Gaussian in normal scores (SDs; a uniform spread by its
    quantiles).

    mean : (d,);  factor : (d, d) of the covariance, factor @ factor.T
    in_base : (d,) 1 where the rig's numbers were worked out at the middle of the belief, 0 where as told
    """

    mean: Floats
    factor: Floats
    in_base: Floats

    def values(self, even: Floats, shapes: Sequence[Shape]) -> Floats:
        """Values (n, d) in units of each spread, counted from where the rig's numbers are; ``even`` (n, d) normal."""
        middle = self.in_base * of_scores(self.mean[None], shapes)
        return of_scores(self.mean + even @ self.factor.T, shapes) - middle


@dataclass(frozen=True, eq=False)
class UncertainRig:
    """A rig with everything that may be otherwise.

    like : the rig as told;  base : its numbers;  notes : what was left out, as sentences
    belief : what measurements of this diver have taught, in which ``base`` lies at its middle; None for nothing
    """

    like: Rig
    base: Floats
    variates: tuple[Variate, ...]
    measures: BodyMeasures | None = None
    notes: tuple[str, ...] = ()
    belief: Belief | None = None

    def points(self, samples: int, seed: int, spread: Spread = spread_points) -> Floats:
        """Values (samples, number of variates) for ``drawn`` that fill what is believed.

        spread : how points are made; of ``spread_points`` a power of 2
        """
        shapes = tuple(v.shape for v in self.variates)
        if self.belief is None:
            return spread(shapes, samples, seed)
        even = spread(["normal"] * len(shapes), samples, seed)
        return self.belief.values(even, shapes)

    def drawn(self, z: Floats) -> Rig:
        """The rig at values ``z`` (number of variates,) in units of each spread."""
        lines = np.array([v.numbers for v in self.variates]).reshape(len(z), len(self.base))
        numbers = self.base + z @ lines
        rig = rig_of_numbers(numbers, self.like)
        if rig.suit is None or rig.suit.gas is None:
            return rig
        log_stiffness = sum(a * v.log_stiffness for a, v in zip(z, self.variates, strict=True))
        share = sum(a * v.gas_share for a, v in zip(z, self.variates, strict=True))
        return with_suit(rig, float(np.exp(log_stiffness)), max(1.0 + float(share), 0.01))

    def reversal(self, z: Floats) -> float:
        """How many times as stiff the garment is on small reversals at values ``z``."""
        return 1.0 + float(sum(a * v.reversal for a, v in zip(z, self.variates, strict=True)))
