"""The fins on the feet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from meshes.gear.fins import fin
from meshes.memoized import memoized_on_body
from meshes.solid import mirrored
from scenarios.loose_gear import Fins
from sim.assembly.on_segment import TOES_FIRST, on_segment, sole_under_ankle
from sim.assembly.placement import solid_at
from sim.assembly.unbuildable import blaming
from sim.assembly.worn_thing import DiverSoFar, WornThing
from sim.person.posed_body import PosedBody
from sim.rig import Part
from sim.said import word

IN_BOOT: Final = 0.025  # m that a boot is longer than the bare foot (assumed)


def put_on_fins(on: DiverSoFar) -> Iterator[WornThing]:
    """Both fins, if worn."""
    if on.scenario.fins is None:
        return
    with blaming("fins"):
        parts = worn_fins(on.scenario.fins, on.body)
    yield WornThing("fins", parts)


@memoized_on_body
def worn_fins(table: Fins, body: PosedBody) -> tuple[Part, ...]:
    """Both fins."""
    foot = body.person.skeleton.measures["footlength"] + IN_BOOT
    left = fin(
        mass=table.mass_of_one,
        length=table.length,
        width=table.width,
        foot_length=foot,
        density=table.density,
        spring=table.spring_of_one,
    )
    parts = []
    for name, side, made in (("left", 1.0, left), ("right", -1.0, mirrored(left))):
        where = on_segment(body, f"{name} foot", sole_under_ankle(body, side), TOES_FIRST)
        parts.append(Part(word("left fin") if side > 0.0 else word("right fin"), "fins", solid_at(where, made)))
    return tuple(parts)
