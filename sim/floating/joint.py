"""A hinge between two links, and what the flesh round it does by itself."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from meshes.mesh import Floats


@dataclass(frozen=True, eq=False)
class Spring:
    """Moment of a relaxed joint at an angle q [rad]: constant - stiffness q + sum amplitude exp(rate q) [N m].

    constant : [N m];  stiffness : [N m/rad], >= 0
    amplitude : (k,) [N m];  rate : (k,) [1/rad], of the other sign than its amplitude: the moment falls with q
    """

    constant: float
    stiffness: float
    amplitude: Floats
    rate: Floats

    def at(self, angle: float) -> tuple[float, float, float]:
        """Energy [J], moment [N m] and the moment's derivative [N m/rad], which is below 0."""
        each = self.amplitude * np.exp(self.rate * angle)
        energy = angle * (0.5 * self.stiffness * angle - self.constant) - float((each / self.rate).sum())
        moment = self.constant - self.stiffness * angle + float(each.sum())
        return energy, moment, float(self.rate @ each) - self.stiffness


@dataclass(frozen=True, eq=False)
class Joint:
    """A hinge, where it lies with all joints straight.

    name : what it is called;  parent, child : numbers of the links that it joins
    axis : (3,) unit, a plus angle turns the child right-handed about it;  point : (3,) on the axis [m]
    low, high : angles between which it turns freely [rad];  spring : what it does by itself there, if anything
    """

    name: str
    parent: int
    child: int
    axis: Floats
    point: Floats
    low: float
    high: float
    spring: Spring | None = None
