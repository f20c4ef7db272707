"""How much energy it takes to leave an attitude of rest."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.statics.energy import energy
from sim.statics.equilibria import Equilibrium
from sim.statics.field import SoftRig, field

STEP_OFF: Final = 0.02  # rad off a saddle, far enough for the slide to start, near enough to stay on its ridge
NEAR: Final = 0.02  # rad: this close to a rest the slide has arrived


def barriers(soft: SoftRig, found: tuple[Equilibrium, ...]) -> tuple[float | None, ...]:
    """Energy [J] to leave each rest over its lowest pass; None for saddles and maxima, inf where there is no pass.

    From each saddle the diver is let slide off both sides; the pass belongs to the rests the slides end in. The
    energy is that with the wing's volume frozen at the rest's own.
    """
    rests = [e for e in found if e.kind == "stable"]
    saddles = [e for e in found if e.kind == "saddle"]
    ends = _slides(soft, saddles, rests)
    heights: list[float | None] = []
    for e in found:
        if e.kind != "stable":
            heights.append(None)
            continue
        number = next(i for i, r in enumerate(rests) if r is e)
        passes = [s.up for s, pair in zip(saddles, ends, strict=True) if number in pair]
        heights.append(_lowest(soft, e, passes))
    return tuple(heights)


def _lowest(soft: SoftRig, rest: Equilibrium, passes: list[Floats]) -> float:
    if not passes:
        return float("inf")
    level = energy(soft, field(soft, np.array([rest.up, *passes]), wing_volume=rest.wing_gas))
    return float(max(level[1:].min() - level[0], 0.0))


def _slides(soft: SoftRig, saddles: list[Equilibrium], rests: list[Equilibrium]) -> list[tuple[int, int]]:
    """For each saddle the numbers of the two rests reached by sliding off its two sides (-1: none).

    The slide is u <- -d/|d|: with the gas frozen the diver swings to that pendulum's rest, the gas settles, and
    so on. It never raises the energy (which is concave in u) and is drawn to minima alone.
    """
    if not saddles or not rests:
        return [(-1, -1)] * len(saddles)
    offs = [s.up + side * STEP_OFF * s.soft_axis for s in saddles for side in (1.0, -1.0)]
    up = np.array(offs) / np.linalg.norm(offs, axis=1)[:, None]
    ends = np.full(len(up), -1)
    goals = np.array([r.up for r in rests])
    for _ in range(300):
        going = np.flatnonzero(ends < 0)
        if not len(going):
            break
        d = field(soft, up[going]).d
        up[going] = -d / np.linalg.norm(d, axis=1)[:, None]
        distance = np.linalg.norm(up[going][:, None, :] - goals[None, :, :], axis=2)
        arrived = distance.min(axis=1) < NEAR
        ends[going[arrived]] = distance[arrived].argmin(axis=1)
    return [(int(ends[2 * i]), int(ends[2 * i + 1])) for i in range(len(saddles))]
