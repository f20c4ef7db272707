"""How deep and at which attitude a body floats: minima of its potential energy in heave and two turns."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.floating.body import FloatingBody, extent
from sim.floating.energy import Afloat, afloat
from sim.statics.field import tangent_basis

MOST_TURN: Final = 0.25  # rad a step
MOST_RISE: Final = 0.15  # m a step
CLOSE_ENOUGH: Final = 1e-11  # of the weight [N] and of weight times a metre [N m]
NEARLY: Final = 1e-7  # the same, where rounding lets the energy fall no further
ITERATIONS: Final = 200
NUDGE: Final = 1e-3  # rad off a balance that does not hold


@dataclass(frozen=True, eq=False)
class Floating:
    """A body afloat at rest.

    up : (3,) world-up in body axes;  level : of the water along ``up`` from the body's origin [m]
    stiffness : (3,) rising eigenvalues of the energy's second derivative by (level [m], turn [rad], turn [rad]);
        all > 0 for a stable rest, 0 where a turn changes nothing
    settled : False when the search ended before forces and moments vanished
    """

    up: Floats
    level: float
    stiffness: Floats
    settled: bool
    state: Afloat


def sinks(body: FloatingBody, up: Floats) -> float:
    """Kilograms by which the body is too heavy to float at ``up`` (3,); <= 0 when it floats."""
    _, top = extent(body, up)
    return -float(afloat(body, up, top).slope[0]) / body.gravity


def draught(body: FloatingBody, up: Floats) -> float | None:
    """Level [m] along ``up`` (3,) at which weight and buoyancy balance with the attitude held; None if it sinks."""
    low, high = extent(body, up)
    if sinks(body, up) > 0.0:
        return None
    level = 0.5 * (low + high)
    for _ in range(ITERATIONS):
        now = afloat(body, up, level)
        excess = float(now.slope[0])
        if abs(excess) <= 1e-13 * body.mass * body.gravity:
            break
        low, high = (level, high) if excess < 0.0 else (low, level)
        step = level - excess / now.bend[0, 0] if now.bend[0, 0] > 0.0 else np.nan
        level = step if low < step < high else 0.5 * (low + high)
        if high - low <= 1e-15 * (1.0 + abs(level)):
            break
    return float(level)


def floats_from(body: FloatingBody, start: Floats) -> Floating | None:
    """The rest reached downhill from the attitude ``start`` (3,), or None when the body sinks there.

    Newton steps on energy with the curvature's size for its sign, shortened until the energy falls; a balance that
    does not hold (a saddle, as a symmetric start may be) is left by a nudge down its steepest side.
    """
    up = np.asarray(start, dtype=float) / np.linalg.norm(start)
    level = draught(body, up)
    if level is None:
        return None
    now, weight = afloat(body, up, level), body.mass * body.gravity
    for _ in range(ITERATIONS):
        basis = tangent_basis(up[None])[0]
        slope, values, vectors = _local(now, up, basis)
        if np.abs(slope).max() <= CLOSE_ENOUGH * weight:
            if values[0] > -1e-6 * weight:
                return Floating(up, level, values, True, now)
            step = NUDGE * vectors[:, 0]
        else:
            size = np.maximum(np.abs(values), 1e-6 * weight)
            step = -vectors @ ((vectors.T @ slope) / size)
        step = step / max(1.0, abs(step[0]) / MOST_RISE, float(np.hypot(step[1], step[2])) / MOST_TURN)
        moved = _downhill(body, now, up, level, step, basis)
        if moved is None:
            return Floating(up, level, values, bool(np.abs(slope).max() <= NEARLY * weight), now)
        now, up, level = moved
    return Floating(up, level, _local(now, up, tangent_basis(up[None])[0])[1], False, now)


def _local(now: Afloat, up: Floats, basis: Floats) -> tuple[Floats, Floats, Floats]:
    """Slope (3,), and eigenvalues and eigenvectors of the second derivative, by level and two turns in ``basis``."""
    frame = np.zeros((4, 3))
    frame[0, 0] = 1.0
    frame[1:, 1:] = basis.T
    bend = frame.T @ now.bend @ frame - np.diag([0.0, 1.0, 1.0]) * float(up @ now.slope[1:])
    values, vectors = np.linalg.eigh(bend)
    return frame.T @ now.slope, values, vectors


def _downhill(
    body: FloatingBody, now: Afloat, up: Floats, level: float, step: Floats, basis: Floats
) -> tuple[Afloat, Floats, float] | None:
    """State after the largest halving of ``step`` (3,) that lowers the energy; None when none does.

    Where rounding hides the energy's change, the step must at least halve forces and moments.
    """
    noise = 1e-12 * body.mass * body.gravity
    before = np.abs(_local(now, up, basis)[0]).max()
    for halving in range(12):
        part = step * 0.5**halving
        turned = up + part[1:] @ basis
        turned = turned / np.linalg.norm(turned)
        then = afloat(body, turned, level + float(part[0]))
        after = np.abs(_local(then, turned, tangent_basis(turned[None])[0])[0]).max()
        if then.energy < now.energy - noise or (then.energy < now.energy + noise and after < 0.5 * before):
            return then, turned, level + float(part[0])
    return None
