"""Pitches at which a rig rests when its roll is held at 0 (a buddy's hand, or the diver's own fins)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.cell_laws import Number
from sim.statics.equations import Bend, pitch_curvature, pitching
from sim.statics.equilibria import INDIFFERENT
from sim.statics.field import Field, SoftRig, field
from sim.statics.gas import bending_angle

STEPS: Final = (121, 1801)  # pitches looked at, 1.5 to 0.1 degrees apart ...
BEND: Final = 0.5  # ... and at most so much of the turn in which a cell goes from slack to taut
PARTS: Final = 12  # an interval in which the moment turns back towards nil is looked at in so many parts


@dataclass(frozen=True, eq=False)
class HeldPitch:
    """A pitch [rad] of zero moment with roll held at 0; ``stiffness`` [N m/rad] > 0 means it comes back."""

    pitch: float
    stiffness: float

    @property
    def stable(self) -> bool:
        """True when a small turn away is turned back, wing volume frozen."""
        return self.stiffness > 0.0


def up_of_pitch(pitch: Floats) -> Floats:
    """World's up in body axes (k, 3) at the given pitches (k,) [rad], roll 0; head-up is plus."""
    return np.stack([np.sin(pitch), np.zeros_like(pitch), np.cos(pitch)], axis=1)


def pitch_moment(values: Field) -> Floats:
    """Moment (k,) [N m] about the pitch axis of the attitudes in ``values`` (roll 0), plus turns head-up."""
    x, _, z = values.up.T
    return np.asarray(pitching(values.d[:, 0], values.d[:, 2], x, z))


def pitch_stiffness(values: Field) -> Floats:
    """Second derivative (k,) [N m/rad] of the energy along a pitch turn, wing volume frozen."""
    x, _, z = values.up.T
    bends = Bend(*(values.bend[:, i, j] for i, j in ((0, 0), (0, 1), (0, 2), (1, 1), (1, 2), (2, 2))))
    return np.asarray(pitch_curvature(bends, values.d[:, 0], values.d[:, 2], x, z))


def held_pitches(soft: SoftRig) -> tuple[HeldPitch, ...]:
    """All pitches from -90 to 90 degrees with no moment about the pitch axis, lowest pitch first.

    Empty when the moment is nil at every pitch (indifferent) or never nil (it turns past the vertical).
    """
    grid, moment = _looked_at(soft)
    if not np.abs(moment).max() > INDIFFERENT:
        return ()
    nil = np.abs(moment) <= 1e-9 * np.abs(moment).max()
    crossing = np.flatnonzero(~nil[:-1] & ~nil[1:] & (moment[:-1] * moment[1:] < 0.0))
    roots = np.concatenate([grid[nil], _bisected(soft, grid[crossing], grid[crossing + 1])])
    roots.sort()
    if not len(roots):
        return ()
    stiff = pitch_stiffness(field(soft, up_of_pitch(roots)))
    return tuple(HeldPitch(float(p), float(k)) for p, k in zip(roots, stiff, strict=True))


def looks_needed(sharpest: float) -> int:
    """Number of pitches to look at where some cell goes from slack to taut within ``sharpest`` [rad]."""
    return min(max(int(np.pi / (BEND * sharpest)) + 1, STEPS[0]), STEPS[1])


def may_hide(low: Number, high: Number, low_slope: Number, high_slope: Number) -> Number:
    """Whether a moment of the same sign at both ends of an interval may be nil twice inside: from each end it heads
    for nil."""
    return (low * high > 0.0) & (low * low_slope < 0.0) & (high * high_slope > 0.0)


def _looked_at(soft: SoftRig) -> tuple[Floats, Floats]:
    """Pitches [rad] from -90 to 90 degrees and the moments there [N m], closer where two zeros could hide."""
    sharp = [bending_angle(b) for b in (soft.suit, soft.wing) if b is not None]
    grid = np.linspace(-0.5 * np.pi, 0.5 * np.pi, looks_needed(min(sharp, default=np.pi)))
    values = field(soft, up_of_pitch(grid))
    moment, slope = pitch_moment(values), -pitch_stiffness(values)
    hides = may_hide(moment[:-1], moment[1:], slope[:-1], slope[1:])
    between = np.linspace(0.0, 1.0, PARTS + 1)[1:-1]
    more = (grid[:-1][hides, None] + np.diff(grid)[hides, None] * between).ravel()
    if len(more):
        grid = np.concatenate([grid, more])
        moment = np.concatenate([moment, pitch_moment(field(soft, up_of_pitch(more)))])
        order = grid.argsort()
        grid, moment = grid[order], moment[order]
    return grid, moment


def _bisected(soft: SoftRig, low: Floats, high: Floats) -> Floats:
    """Zeros of the pitch moment between ``low`` and ``high`` (k,) [rad], by false position kept in a bracket."""
    if not len(low):
        return low
    below = pitch_moment(field(soft, up_of_pitch(low)))
    above = pitch_moment(field(soft, up_of_pitch(high)))
    for turn in range(60):
        middle = 0.5 * (low + high)
        if turn % 2:  # a secant every other time: superlinear near the root, and never worse than halving
            with np.errstate(divide="ignore", invalid="ignore"):
                secant = low - below * (high - low) / (above - below)
            middle = np.where((secant > low) & (secant < high), secant, middle)
        moment = pitch_moment(field(soft, up_of_pitch(middle)))
        left = moment * below > 0.0
        low, below = np.where(left, middle, low), np.where(left, moment, below)
        high, above = np.where(left, high, middle), np.where(left, above, moment)
        if (high - low < 1e-11).all() or (np.abs(moment) < 1e-12).all():
            break
    return np.where(np.abs(below) < np.abs(above), low, high)
