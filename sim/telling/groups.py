"""Items of a moment budget put together as people think of them, so that two divers' budgets have the same lines."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated, Final

from sim.rig import Kind
from sim.statics.flat import ItemMoment
from sim.telling.record import Told

GROUPS: Final[dict[str, tuple[Kind, ...]]] = {
    "body": ("body",),
    "suit": ("suit", "wetsuit"),
    "gas in suit": ("suit gas",),
    "hood, mask, gloves, boots": ("hood", "mask", "gloves", "boots"),
    "plate and harness": ("plate", "harness"),
    "cylinders with valves and bands": ("cylinder", "valve", "manifold", "bands"),
    "gas in the cylinders": ("breathing gas",),
    "regulators and hoses": ("regulator", "hose"),
    "wing": ("wing",),
    "gas in wing": ("wing gas",),
    "fins": ("fins",),
    "lead": ("lead",),
    "stage cylinders": ("stage",),
    "rebreather and its counterlungs": ("rebreather", "counterlungs"),
    "lights and other gear": ("light", "other"),
}


@dataclass(frozen=True)
class GroupMoment:
    """What a group of items does to the diver held flat."""

    apparent_weight: Annotated[float, Told("weight less buoyancy", "kg", plus="sinks")]
    moment: Annotated[float, Told("about the point that the diver turns about", "N m", plus="head-up")]


def grouped(items: Iterable[ItemMoment]) -> dict[str, GroupMoment]:
    """Sums by group, in the order of GROUPS; groups that nobody wears are not there."""
    all_items = list(items)
    found = {}
    for group, kinds in GROUPS.items():
        own = [item for item in all_items if item.kind in kinds]
        if own:
            found[group] = GroupMoment(sum(i.apparent_weight for i in own), sum(i.moment for i in own))
    return found
