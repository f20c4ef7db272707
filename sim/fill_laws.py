r"""How much gas a cell of a soft bag holds at a pressure difference across its wall.

The difference is :math:`\Delta = p_\mathrm{gas} - p_\mathrm{water}` [Pa] at the cell. Each law is the minimum of
a convex elastic energy :math:`\varphi(V)` with :math:`\varphi'(V) = \Delta`, so a bag of such cells has exactly
one state at rest, and moving gas between them conserves or loses energy but never makes any.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Self

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import expit

from meshes.mesh import Floats
from sim.cell_laws import garment_numbers, garment_ready, garment_sides, loaded, logistic_cell


class FillLaw(ABC):
    """Law of all n cells of one pocket. Arguments are pressure differences (..., n) [Pa]."""

    @abstractmethod
    def volume_and_slope(self, difference: Floats) -> tuple[Floats, Floats]:
        """Gas in each cell [m^3] and dV/dDelta >= 0 [m^3/Pa], each (..., n)."""

    def volume(self, difference: Floats) -> Floats:
        """Gas in each cell (..., n) [m^3]."""
        return self.volume_and_slope(difference)[0]

    def slope(self, difference: Floats) -> Floats:
        """dV/dDelta of each cell (..., n) [m^3/Pa], >= 0."""
        return self.volume_and_slope(difference)[1]

    @abstractmethod
    def energy(self, difference: Floats) -> Floats:
        """Elastic energy phi(V(Delta)) of each cell (..., n) [J], up to a constant a cell."""

    @property
    @abstractmethod
    def least(self) -> Floats:
        """Gas that no pressure squeezes out, (n,) [m^3]."""

    @property
    @abstractmethod
    def most(self) -> Floats:
        """Gas at which the cell is taut, (n,) [m^3]."""

    @property
    @abstractmethod
    def scale(self) -> float:
        """Pressure difference [Pa] over which the law bends."""

    @abstractmethod
    def stiffened(self, factor: float) -> Self:
        """A bag of fabric ``factor`` (> 0) times as stiff: the same volumes at so many times the pressure."""


@dataclass(frozen=True, eq=False)
class LogisticLaw(FillLaw):
    r"""V = a + (b - a) sigmoid(Delta / p0).

    Elastic energy p0 (b - a) [f ln f + (1 - f) ln(1 - f)] with f the fill (V - a)/(b - a), written as
    p0 (b - a) [x f - ln(1 + e^x)], x = Delta/p0, which does not lose its digits when f is near 0 or 1.

    lower, upper : (n,) least and greatest gas a, b [m^3];  softness : p0 [Pa]
    """

    lower: Floats
    upper: Floats
    softness: float

    @property
    def least(self) -> Floats:
        return self.lower

    @property
    def most(self) -> Floats:
        return self.upper

    @property
    def scale(self) -> float:
        return self.softness

    def stiffened(self, factor: float) -> LogisticLaw:
        return replace(self, softness=factor * self.softness)

    def volume_and_slope(self, difference: Floats) -> tuple[Floats, Floats]:
        return logistic_cell(difference, self.softness, self.lower, self.upper - self.lower)

    def energy(self, difference: Floats) -> Floats:
        x = difference / self.softness
        span = self.softness * (self.upper - self.lower)
        return np.asarray(span * (x * expit(x) - np.logaddexp(0.0, x)))


@dataclass(frozen=True, eq=False)
class GarmentLaw(FillLaw):
    r"""A springy undergarment under a shell that can balloon a little.

    Squeezed (Delta < 0), the garment follows van Wyk's law for a mass of fibres (van Wyk 1946, J. Text. Inst. 37
    T285: p = K (1/h^3 - 1/h0^3)), which with P = K/h0^3 reads

        V = V0 (1 - Delta/P)^(-1/3).

    Above ambient (Delta > 0) the shell lifts off the relaxed garment until it is taut,

        V = V0 + B (1 - exp(-Delta/q)),   q = 3 P B / V0,

    q chosen so that volume and slope are continuous at Delta = 0. Elastic energy in closed form on both sides.

    Where the shell is cut so narrow that it is taut before the garment is relaxed, it keeps a squeeze c on the
    garment by itself: the gas is then that of the taut shell, V1 = V0 (1 + c/P)^(-1/3), for all Delta > -c, and

        V = V0 (1 - Delta/P)^(-1/3) = V1 (1 - (Delta + c)/(P + c))^(-1/3)        for Delta < -c:

    the same law with the loft V1, the stiffness P + c and Delta + c. A pressure from outside, as of a strap, is
    a c < 0 that squeezes without making the garment any stiffer.

    loft : (n,) V0 (V1 under a taut shell), gas held with no load on the wall [m^3], > 0
    slack : (n,) B, ballooning room [m^3], > 0
    stiffness : P [Pa], the squeeze that thins the garment to 2^(-1/3) = 79 % of its relaxed thickness
    preload : (n,) c [Pa], what the taut shell keeps on the garment; < 0 for what presses from outside
    """

    loft: Floats
    slack: Floats
    stiffness: float
    preload: Floats

    @property
    def least(self) -> Floats:
        return np.zeros_like(self.loft)

    @property
    def most(self) -> Floats:
        return np.asarray(self.loft + self.slack)

    @property
    def scale(self) -> float:
        return self.stiffness

    def stiffened(self, factor: float) -> GarmentLaw:
        return replace(self, stiffness=factor * self.stiffness, preload=factor * self.preload)

    def volume_and_slope(self, difference: Floats) -> tuple[Floats, Floats]:
        squeezing, blowing, give = self._numbers
        return garment_ready(difference + self.preload, squeezing, blowing, self.loft, self.slack, give)

    @cached_property
    def _numbers(self) -> tuple[Floats, Floats, Floats]:
        _, stiffness = loaded(0.0, self.preload, self.stiffness)
        return garment_numbers(stiffness, self.loft, self.slack)

    def energy(self, difference: Floats) -> Floats:
        on_cell, stiffness = loaded(difference, self.preload, self.stiffness)
        squeezed, blown, scale = garment_sides(on_cell, stiffness, self.loft, self.slack)
        root = np.cbrt(squeezed)
        below = stiffness * self.loft * (0.5 * root**2 - 1.5 + 1.0 / root)
        above = self.slack * (scale - np.exp(-blown / scale) * (blown + scale))
        return np.asarray(below + above - self.preload * self.volume(difference))  # phi' = Delta, not Delta + c


def logistic_law(least: ArrayLike, most: ArrayLike, softness: float) -> LogisticLaw:
    """Checked logistic law; ``least``, ``most`` (n,) [m^3], ``softness`` [Pa].

    Raises ValueError unless 0 <= least <= most and softness > 0.
    """
    a, b = np.asarray(least, dtype=float), np.asarray(most, dtype=float)
    if a.shape != b.shape or a.ndim != 1 or not ((a >= 0.0) & (b >= a)).all():
        raise ValueError("each cell needs 0 <= least <= most")
    if not softness > 0.0:
        raise ValueError(f"softness must be > 0 Pa, got {softness}")
    return LogisticLaw(a, b, float(softness))


def garment_law(loft: ArrayLike, slack: ArrayLike, stiffness: float, preload: ArrayLike = 0.0) -> GarmentLaw:
    """Checked garment law; ``loft``, ``slack`` (n,) [m^3] > 0, ``stiffness`` > 0, ``preload`` (n,) or one [Pa]."""
    v, b = np.asarray(loft, dtype=float), np.asarray(slack, dtype=float)
    if v.shape != b.shape or v.ndim != 1 or not ((v > 0.0) & (b > 0.0)).all():
        raise ValueError("each cell needs loft > 0 and slack > 0")
    if not stiffness > 0.0:
        raise ValueError(f"stiffness must be > 0 Pa, got {stiffness}")
    c = np.array(np.broadcast_to(np.asarray(preload, dtype=float), v.shape))
    if not np.isfinite(c).all():
        raise ValueError("each cell needs a finite preload")
    return GarmentLaw(v, b, float(stiffness), c)
