"""Cylinders on two lines laid where they come to lie, now or with less gas in them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from meshes.solid import moved
from sim.hanging import Loads, cylinder_frame, hung, loads
from sim.rig import Part
from sim.said import amount, note

LEVEL: Final = 2.0  # degrees: told as level


def hung_parts(parts: Sequence[Part], density: float) -> tuple[Part, ...]:
    """A cylinder that hangs, its gas and its fittings, where they come to lie. Raises ValueError as ``hung``."""
    before = parts[0].hangs
    if before is None:
        return tuple(parts)
    after = replace(before, lies=hung(before.how, loads_of(parts, density)))
    (was, begin), (now, end) = cylinder_frame(before), cylinder_frame(after)
    turn = now @ was.T
    shift = end - turn @ begin
    made = [replace(p, solid=moved(p.solid, turn, shift)) for p in parts]
    return (replace(made[0], hangs=after), *made[1:])


def loads_of(parts: Sequence[Part], density: float) -> Loads:
    """What a hung cylinder's two holds carry, with its gas and fittings."""
    hangs = parts[0].hangs
    if hangs is None:
        raise ValueError(f"{parts[0].name} does not hang on lines")
    turn, origin = cylinder_frame(hangs)
    masses = [(p.solid.mass, float((p.solid.cm - origin) @ turn[:, 0])) for p in parts]
    volumes = [(p.solid.volume, float((p.solid.cb - origin) @ turn[:, 0])) for p in parts if p.solid.volume > 0.0]
    return loads(hangs.how, masses, volumes, density)


def hanging_note(parts: Sequence[Part], density: float) -> str | None:
    """How a cylinder hangs, in words; None for one that does not."""
    hangs = parts[0].hangs
    if hangs is None:
        return None
    carried, way = loads_of(parts, density), hangs.lies.along
    weight, slope = carried.collar + carried.band, np.degrees(np.arcsin(-way[2]))
    tail = note("its base is heavy and hangs") if carried.band > 0.0 else note("its base is light and floats up")
    if abs(slope) < LEVEL:
        lies = note("level")
    elif slope > 0:
        lies = note("{angle:.0f} degrees above its valve", angle=float(slope))
    else:
        lies = note("{angle:.0f} degrees below its valve", angle=float(-slope))
    told = {"name": parts[0].name, "weight": amount(abs(weight), "kg", 1), "tail": tail, "lies": lies}
    if weight > 0.0:
        return note("{name}: {weight} heavy in water; {tail}, {lies} while the diver lies flat.", **told)
    return note("{name}: {weight} light in water; {tail}, {lies} while the diver lies flat.", **told)
