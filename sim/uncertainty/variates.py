"""What may be otherwise than it was told or estimated, by how much, and what that does to a rig's numbers."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np

from meshes.mesh import Floats
from sim.rig import Rig
from sim.statics.venting import vented_to_room
from sim.uncertainty.rig_numbers import rig_of_numbers

NINETY: Final = 1.6448536269514722  # SDs from the middle to the 5th or 95th percentile of a Gaussian

Shape = Literal["normal", "uniform", "from nil"]


@dataclass(frozen=True, eq=False)
class Variate:
    """One independent unknown.

    name : what it is, in plain words;  basis : how far it may be off and why that is believed
    shape : of its spread: "normal" (in SDs), "uniform" (between -1 and 1), "from nil" (uniform between 0 and 1)
    numbers : (n,) change of the rig's numbers for one SD, for the half width of a uniform spread, all of one from nil
    log_stiffness, gas_share : of the suit's fabric and gas, for the same change
    reversal : how much stiffer the garment is on small reversals than on slow loading, less 1, for the same change
    """

    name: str
    basis: str
    shape: Shape
    numbers: Floats
    log_stiffness: float = 0.0
    gas_share: float = 0.0
    reversal: float = 0.0


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
class UncertainRig:
    """A rig with everything that may be otherwise.

    like : the rig as told;  base : its numbers;  notes : what was left out, as sentences
    """

    like: Rig
    base: Floats
    variates: tuple[Variate, ...]
    measures: BodyMeasures | None = None
    notes: tuple[str, ...] = ()

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


def with_suit(rig: Rig, stiffness: float, gas: float) -> Rig:
    """The rig with its suit so many times as stiff and with so many times the gas."""
    if rig.suit is None or rig.suit.gas is None or (stiffness == 1.0 and gas == 1.0):
        return rig
    suit = replace(rig.suit, law=rig.suit.law.stiffened(stiffness), gas=gas * rig.suit.gas)
    return replace(rig, suit=vented_to_room(suit)[0])
