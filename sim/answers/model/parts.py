"""What is shown of a diver, part by part: shape, colours, and the layer by which it is switched on and off."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from sim.drawing.palette import finish_of
from sim.drawing.scene import HangingScene
from sim.drawing.surfaces import Surface, dressed
from sim.rig import Kind
from sim.said import word

# layer, what it is called, whether it is on at first, and the kinds of part in it
LAYERS: Final[tuple[tuple[str, str, bool, tuple[Kind, ...]], ...]] = (
    ("body", word("body and suit"), True, ("body", "suit", "wetsuit", "hood", "mask", "boots", "gloves")),
    ("gas", word("gas in the suit"), True, ("suit gas",)),
    ("wing", word("wing and its gas"), True, ("wing", "wing gas")),
    ("cylinders", word("cylinders"), True, ("cylinder", "valve", "manifold", "bands", "stage", "breathing gas")),
    ("rebreather", word("rebreather"), True, ("rebreather", "counterlungs")),
    ("plate", word("plate and harness"), True, ("plate", "harness")),
    ("hoses", word("regulators and hoses"), True, ("regulator", "hose")),
    ("fins", word("fins"), True, ("fins",)),
    ("lead", word("lead and other gear"), True, ("lead", "light", "other")),
)
METALS: Final = ("plate", "cylinder", "valve", "manifold", "bands", "regulator")


@dataclass(frozen=True, eq=False)
class ShownPart:
    """A surface with the layer it belongs to;  metal : how much it looks like one, 0..1."""

    surface: Surface
    layer: str
    metal: float


def shown_parts(scene: HangingScene) -> tuple[ShownPart, ...]:
    """Every surface of a scene with its layer; names that turn up again are numbered, so that each is its own."""
    by_kind = {kind: layer for layer, _, _, members in LAYERS for kind in members}
    found, met = [], dict[str, int]()
    for surface in dressed(scene).surfaces:
        met[surface.name] = met.get(surface.name, 0) + 1
        name = surface.name if met[surface.name] == 1 else f"{surface.name} {met[surface.name]}"
        metal = 0.6 if surface.kind in METALS else 0.0
        own = replace(surface, name=name, shine=finish_of(surface.kind).shine)
        found.append(ShownPart(own, by_kind[surface.kind], metal))
    return tuple(found)
