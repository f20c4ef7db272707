"""Items of a moment budget put together as people think of them, so that two divers' budgets have the same lines."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated, Final

from sim.rig import Kind
from sim.said import word
from sim.statics.flat import ItemMoment
from sim.telling.record import Told

GROUPS: Final[dict[str, tuple[Kind, ...]]] = {
    word("body"): ("body",),
    word("suit"): ("suit", "wetsuit"),
    word("gas in suit"): ("suit gas",),
    word("hood, mask, gloves, boots"): ("hood", "mask", "gloves", "boots"),
    word("plate and harness"): ("plate", "harness"),
    word("cylinders with valves and bands"): ("cylinder", "valve", "manifold", "bands"),
    word("gas in the cylinders"): ("breathing gas",),
    word("regulators and hoses"): ("regulator", "hose"),
    word("wing"): ("wing",),
    word("gas in wing"): ("wing gas",),
    word("fins"): ("fins",),
    word("lead"): ("lead",),
    word("stage cylinders"): ("stage",),
    word("rebreather and its counterlungs"): ("rebreather", "counterlungs"),
    word("lights and other gear"): ("light", "other"),
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
