"""Righting arm and metacentre of a heeled body at constant displacement, as naval architecture defines them."""

from __future__ import annotations

import numpy as np

from meshes.mesh import Floats
from sim.floating.body import FloatingBody
from sim.floating.energy import afloat
from sim.floating.equilibrium import draught


def heeled(up: Floats, axis: Floats, angle: float) -> Floats:
    """World-up (3,) in body axes after the body has turned by ``angle`` [rad] about its own ``axis`` (3,) (unit)."""
    around = axis * (axis @ up)
    return np.asarray(around + (up - around) * np.cos(angle) - np.cross(axis, up) * np.sin(angle))


def righting_arm(body: FloatingBody, up: Floats, axis: Floats, angle: float) -> float:
    """GZ [m] at a heel of ``angle`` [rad] from ``up`` about a level ``axis``, plus turns back, draught adjusted.

    Raises ValueError when the body sinks at that attitude.
    """
    there = heeled(up, axis, angle)
    level = draught(body, there)
    if level is None:
        raise ValueError("the body sinks at this attitude")
    torque = np.cross(there, afloat(body, there, level).slope[1:])
    return float(-torque @ axis / (body.mass * body.gravity))


def metacentric_height(body: FloatingBody, up: Floats, axis: Floats) -> float:
    """GM [m] for small turns about a level ``axis`` (3,) of a body floating at ``up``: KB + BM - KG.

    Raises ValueError when the body sinks at that attitude.
    """
    level = draught(body, up)
    if level is None:
        raise ValueError("the body sinks at this attitude")
    now = afloat(body, up, level)
    side = np.cross(up, axis)
    turn = np.concatenate([[0.0], side])
    rise = np.array([1.0, 0.0, 0.0, 0.0])
    # the draught follows the turn: the waterplane counts about its own centroid
    second = turn @ now.bend @ turn - (rise @ now.bend @ turn) ** 2 / now.bend[0, 0]
    return float((second - up @ now.slope[1:]) / (body.mass * body.gravity))
