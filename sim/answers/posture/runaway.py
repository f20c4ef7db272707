r"""How fast a small drift from flat grows: time to double, from inertia, water moved along, and gas that follows.

About an attitude where nothing turns the diver, a small pitch theta and the pitch q_i that the gas of each pocket has
come to know of follow

    I theta'' = - k0 theta + sum k_i q_i,        tau_i q_i' = theta - q_i,

with I the inertia and added inertia, k0 the stiffness with the gas held where it is, k_i what a pocket's moving gas
takes off it and tau_i the time in which it moves. Drag goes with the square of the rate and is nil at first order.
Where k0 < sum k_i one root s of I s^2 + k0 = sum k_i / (tau_i s + 1) is > 0, and a drift doubles in ln 2 / s.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log

import numpy as np
from numpy.polynomial import Polynomial

from sim.rig import Rig
from sim.settling.motion import model_of
from sim.statics.flat import FlatAnswer


@dataclass(frozen=True)
class Turning:
    """What resists a turn about the left-right axis, roll held.

    inertia : with the water moved along [kg m^2];  drag : for the rate's square [N m s^2]
    held_stiffness : gas held where it is [N m/rad]
    gas : of each pocket, what its moving gas takes off that [N m/rad], and in which time it moves [s]
    """

    inertia: float
    drag: float
    held_stiffness: float
    gas: tuple[tuple[float, float], ...]


def turning_of(rig: Rig, flat: FlatAnswer) -> Turning:
    """Of a whole rig (its parts with their shapes) held flat."""
    model = model_of(rig, roll_held=True, heaves=False, wing_volume=None)
    taken = ((rig.suit, flat.suit_pitch_gas), (rig.wing, flat.pitch_gas - flat.suit_pitch_gas))
    return Turning(
        inertia=1.0 / float(model.nimbleness[0, 0]),
        drag=model.braking[0],
        held_stiffness=flat.pitch_stiffness + flat.pitch_gas,
        gas=tuple((by, pocket.time_constant) for pocket, by in taken if pocket is not None),
    )


def growth(turning: Turning) -> float:
    """Rate [1/s] at which a small drift from flat grows; 0 where it does not."""
    if not sum(by for by, _ in turning.gas) > turning.held_stiffness:
        return 0.0
    lags = [Polynomial(np.array([1.0, time])) for _, time in turning.gas]
    equation = Polynomial(np.array([turning.held_stiffness, 0.0, turning.inertia]))
    for lag in lags:
        equation *= lag
    for number, (by, _) in enumerate(turning.gas):
        rest = Polynomial(np.array([by]))
        for lag in lags[:number] + lags[number + 1 :]:
            rest *= lag
        equation -= rest
    roots: list[complex] = equation.roots().tolist()
    return max((r.real for r in roots if abs(r.imag) <= 1e-9 * abs(r)), default=0.0)


def time_to_double(turning: Turning) -> float | None:
    """Time [s] in which a small drift doubles; None where it is turned back."""
    rate = growth(turning)
    return log(2.0) / rate if rate > 0.0 else None
