"""The diver's own body as the first items of a rig."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from meshes.memoized import memoized_on_body
from meshes.mesh import Mesh
from meshes.solid import combined
from sim.assembly.diver import plainly
from sim.assembly.worn_thing import DiverSoFar, WornThing, sentence
from sim.person.posed_body import PosedBody
from sim.rig import Part
from sim.said import word

BREATHES: Final = word("trunk with lungs")  # the item to which the gas in the lungs belongs
# limbs in two at knee and elbow: bent, they reach where no single solid does
SEGMENT_GROUPS: Final = (
    (word("head and neck"), ("head",)),
    (BREATHES, ("lower trunk", "middle trunk", "upper trunk")),
    (word("left upper arm"), ("left upper arm",)),
    (word("right upper arm"), ("right upper arm",)),
    (word("left forearm with hand"), ("left forearm", "left hand")),
    (word("right forearm with hand"), ("right forearm", "right hand")),
    (word("left thigh"), ("left thigh",)),
    (word("right thigh"), ("right thigh",)),
    (word("left lower leg with foot"), ("left shank", "left foot")),
    (word("right lower leg with foot"), ("right shank", "right foot")),
)


def start_with_body(on: DiverSoFar) -> Iterator[WornThing]:
    """The body's segments, and what was noted and estimated of the person."""
    notes = tuple(sentence(plainly(note)) for note in on.body.person.notes)
    yield WornThing("diver", _body_parts(on.body), notes=notes, estimated=on.diver.estimated)


@memoized_on_body
def _body_parts(body: PosedBody) -> tuple[Part, ...]:
    """The diver as items; the gas in the lungs belongs to the trunk."""
    solids = dict(body.segments)
    parts = []
    for name, members in SEGMENT_GROUPS:
        group = [solids[m] for m in members]
        parts.append(Part(name, "body", combined([*group, body.lungs] if name == BREATHES else group)))
    return tuple(parts)


@memoized_on_body
def outside_of_items(body: PosedBody) -> tuple[tuple[str, Mesh], ...]:
    """Each segment's closed outside [m, body axes] with the name of its item."""
    solids = dict(body.segments)
    pairs = [(name, solids[m].mesh) for name, members in SEGMENT_GROUPS for m in members]
    return tuple((name, mesh) for name, mesh in pairs if mesh is not None)
