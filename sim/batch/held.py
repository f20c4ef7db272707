"""Pitches at which each of many rigs rests when its roll is held at 0: the twin of ``sim.statics.held``."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats, Ints
from sim.batch.blocks import over_blocks
from sim.batch.compiled import loop, part
from sim.batch.gas import TIGHT
from sim.batch.moment import COLD, moment_at, pressures_after
from sim.batch.rig_arrays import RigArrays
from sim.batch.rows import rig_row, table_of
from sim.statics.equations import pitch_curvature, pitching
from sim.statics.equilibria import INDIFFERENT
from sim.statics.held import PARTS, STEPS, looks_needed, may_hide

MOST: Final = 24  # rests kept of one rig
NIL: Final = 1e-9  # of the largest moment: a pitch with less than this is itself a rest
CLOSE: Final = 1e-12  # rad
LOOKS: Final = STEPS[1] * PARTS  # as many pitches as are ever looked at

part(looks_needed)
part(may_hide)


@dataclass(frozen=True, eq=False)
class HeldArrays:
    """Pitches of B rigs with no moment about the pitch axis, roll held at 0, from -90 to 90 degrees.

    pitch : (B, M) [rad], lowest first, NaN beyond ``count`` (B,);  stiffness : (B, M) [N m/rad], > 0 comes back
    from_flat : (B,) pitch [rad] to which a rig let go flat is turned, minus or plus infinity for past the vertical
    M is as large as the rig with most rests needs (at least 1). A rig whose moment is nil at every pitch has none.
    """

    pitch: Floats
    stiffness: Floats
    count: Ints
    from_flat: Floats


def held_pitches(rigs: RigArrays, *, threads: int | None = None) -> HeldArrays:
    """Held pitches of B rigs, looked for as for one; ``threads`` None uses every core."""
    n = len(rigs)
    pitch, stiffness = np.full((2, n, MOST), np.nan)
    count, turned = np.zeros(n, dtype=np.int64), np.zeros(n)
    table = table_of(rigs)
    over_blocks(lambda a, b: _helds(table, a, b, pitch, stiffness, count, turned), n, threads)
    most = max(1, int(count.max(initial=0)))
    return HeldArrays(pitch[:, :most].copy(), stiffness[:, :most].copy(), count, turned)


@part
def _at(rig: Any, pitch: float, before: Any, x: float, z: float) -> Any:
    """``Moment`` at a pitch [rad], the gas solved from that of the one ``before``, where up was (x, 0, z)."""
    now_x, now_z = math.sin(pitch), math.cos(pitch)
    suit_x, wing_x = pressures_after(rig, before, now_x - x, 0.0, now_z - z)
    return moment_at(rig, now_x, 0.0, now_z, suit_x, wing_x, rig.wing.gas, TIGHT, True), now_x, now_z


@part
def _sharpest(rig: Any, pocket: Any, least: float) -> Any:
    """Turn [rad] in which the pocket's furthest cell goes from slack to taut, if that is less than ``least``."""
    if not pocket.there:
        return least
    cells, furthest = pocket.cells, 1e-9
    for j in range(cells.shape[1]):
        x, y, z = cells[0, j] - rig.held_x, cells[1, j] - rig.held_y, cells[2, j] - rig.held_z
        furthest = max(furthest, abs(x), abs(y), abs(z))
    return min(least, pocket.scale / (pocket.weight * furthest))


@part
def _looked_at(rig: Any, m: Any, pitch: Floats, moment: Floats) -> int:
    """Fill in pitches [rad] from -90 to 90 degrees and the moments there [N m], and count them; ``m`` is flat's."""
    looks = looks_needed(_sharpest(rig, rig.wing, _sharpest(rig, rig.suit, math.pi)))
    m, x, z = _at(rig, -0.5 * math.pi, m, 0.0, 1.0)
    low, low_slope, low_pitch, count = 0.0, 0.0, 0.0, 0
    for j in range(looks):
        here = -0.5 * math.pi + j * (math.pi / (looks - 1))
        m, x, z = _at(rig, here, m, x, z)
        high, high_slope = pitching(m.dx, m.dz, x, z), -pitch_curvature(m.bends, m.dx, m.dz, x, z)
        if j > 0 and may_hide(low, high, low_slope, high_slope):
            inner, ix, iz = m, x, z
            for step in range(1, PARTS):
                between = low_pitch + step * ((here - low_pitch) / PARTS)
                inner, ix, iz = _at(rig, between, inner, ix, iz)
                pitch[count], moment[count] = between, pitching(inner.dx, inner.dz, ix, iz)
                count += 1
        pitch[count], moment[count] = here, high
        count += 1
        low, low_slope, low_pitch = high, high_slope, here
    return count


@part
def _zero(rig: Any, low: float, high: float, below: float, above: float, m: Any, x: float, z: float) -> Any:
    """Zero of the pitch moment between two pitches [rad], by Newton kept in a shrinking bracket; stiffness there."""
    pitch = low if abs(below) < abs(above) else high
    for _ in range(80):
        m, x, z = _at(rig, pitch, m, x, z)
        value = pitching(m.dx, m.dz, x, z)
        curvature = pitch_curvature(m.bends, m.dx, m.dz, x, z)
        if value * below > 0.0:
            low = pitch
        else:
            high = pitch
        # a wing kept neutral adds to the slope
        follows = m.refilling * (z * m.wing.mx - x * m.wing.mz) * (z * m.suit.mx - x * m.suit.mz)
        slope = curvature + follows
        new = pitch + value / slope if slope != 0.0 else math.nan
        if not low < new < high:
            new = 0.5 * (low + high)
        if abs(new - pitch) < CLOSE or value == 0.0:
            break
        pitch = new
    return pitch, curvature


@loop
def _helds(table: Any, begin: int, end: int, pitch: Floats, stiffness: Floats, count: Ints, turned: Floats) -> None:
    at, moment = np.empty(LOOKS), np.empty(LOOKS)
    for i in range(begin, end):
        rig = rig_row(table, i)
        m = moment_at(rig, 0.0, 0.0, 1.0, COLD, COLD, rig.wing.gas, TIGHT, True)
        flat = -m.dx
        looks = _looked_at(rig, m, at, moment)
        largest = 0.0
        for j in range(looks):
            largest = max(largest, abs(moment[j]))
        turned[i] = math.copysign(math.inf, flat) if abs(flat) > INDIFFERENT else 0.0
        if not largest > INDIFFERENT:
            continue
        nil = NIL * largest
        found = 0
        for j in range(looks):
            here, there = moment[j], moment[min(j + 1, looks - 1)]
            at_zero = abs(here) <= nil
            crosses = not at_zero and abs(there) > nil and here * there < 0.0
            if not (at_zero or crosses) or found == MOST:
                continue
            if at_zero:
                root = at[j]
                here_m, x, z = _at(rig, root, m, 0.0, 1.0)
                curvature = pitch_curvature(here_m.bends, here_m.dx, here_m.dz, x, z)
            else:
                root, curvature = _zero(rig, at[j], at[j + 1], here, there, m, 0.0, 1.0)
            pitch[i, found], stiffness[i, found] = root, curvature
            found += 1
            if turned[i] < 0.0 and root < 0.0:
                turned[i] = max(turned[i], root)
            elif turned[i] == math.inf and root > 0.0:
                turned[i] = root
        count[i] = found
