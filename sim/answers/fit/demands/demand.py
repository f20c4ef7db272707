"""What every demand can be asked."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats
from sim.answers.fit.found import Found
from sim.answers.fit.hung import Hung
from sim.answers.fit.hung_rig import HungRig
from sim.answers.fit.verdict import Verdict
from sim.said import amount

Flags = NDArray[np.bool_]


@dataclass(frozen=True)
class Look:
    """How those for whom something fails are drawn on the map of people.

    colour : one that means nothing else in any picture;  hatch : apart from all others without colour
    words : of the legend
    place : in the column, from the bottom up
    """

    colour: str
    hatch: str
    words: str
    place: int


@dataclass(frozen=True)
class Reason:
    """Why a plate does not pass for somebody; demands that say the same share one.

    words : in text and tables;  place : among the counts of reasons
    """

    name: str
    words: str
    place: int
    look: Look


class Finding(Protocol):
    """What is told of one diver, whether it can fail or not."""

    @property
    def name(self) -> str:
        """What it is called."""

    def verdicts(self, found: Found) -> tuple[Verdict, ...]:
        """The findings in words; none where there is nothing to say."""

    def failing(self, found: Found) -> tuple[str, ...]:
        """Subjects of those that do not pass, no more worked out than need be."""


@dataclass(frozen=True)
class Demand(ABC):
    """A demand on a rig as it is worn.

    name : of its margin;  unit : "m" or "rad";  reason : what its failing is called
    place : of its margin among those of others;  cost : of telling whether it is met: the least is asked first
    by_bands : whether the place of the bands on the cylinders decides it, too
    set_up : whether height and bands are looked for that meet it; nothing else mends the rest
    traded : whether it is one side of what a sweep trades
    """

    name: str
    reason: Reason
    place: int
    cost: int
    by_bands: bool = False
    set_up: bool = False
    traded: bool = False
    unit: str = "m"

    @abstractmethod
    def margin(self, found: Found) -> float:
        """What is left before it fails [unit], below 0 what is missing; inf where there is nothing to fail."""

    @abstractmethod
    def verdicts(self, found: Found) -> tuple[Verdict, ...]:
        """See ``Finding``."""

    @abstractmethod
    def margins(self, hung: Hung) -> Floats:
        """The margin (n,) in each of many ways."""

    def failing(self, found: Found) -> tuple[str, ...]:
        """See ``Finding``."""
        return () if self.margin(found) >= 0.0 else (self.name,)

    def met(self, hung: Hung) -> Flags:
        """Whether the margin (n,) is 0 or more."""
        return np.asarray(self.margins(hung) >= 0.0)

    def asked_of(self, rig: HungRig) -> bool:
        """Whether the rig has what it is about."""
        return True


def centimetres(length: float) -> str:
    """Size of a length [m] as "1.5 cm"."""
    return amount(100.0 * abs(length), "cm", 1)
