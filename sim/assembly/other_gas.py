"""Two scenarios that differ in the gas of their drysuits alone: one rig is the other with its gas put in anew."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from scenarios.by_key import with_values
from scenarios.models import Scenario
from scenarios.suit import DrySuit
from sim.assembly.assembled import Assembled
from sim.assembly.dry_suit import suit_room
from sim.assembly.suit_gas import over_suit, suit_pocket
from sim.assembly.worn_plate import SeatedPlate
from sim.person.posed_body import PosedBody
from sim.rig import Rig

# What only says where the suit's gas can be and how much there is: no part of the rig hangs on it
OF_THE_GAS: Final = frozenset(
    {"gas", "inflation", "comfort_squeeze", "vented_head_up", "vented_left_up", "vented_arm_lift", "valve_place",
     "valve_pressure", "slack", "widths", "boots_room", "gaiters", "gaiter_pressure", "softness", "free_room",
     "fill_law", "gas_time"}
)  # fmt: skip
OF_THE_GARMENT: Final = frozenset({"stiffness", "on_limbs"})


def differ_in_gas_alone(one: Scenario, other: Scenario) -> bool:
    """Whether two scenarios differ in nothing but what the gas of their drysuits hangs on."""
    if not (isinstance(one.suit, DrySuit) and isinstance(other.suit, DrySuit)):
        return False
    if one.learnt is not None or other.learnt is not None:
        return False
    same = {f"suit.{k}": getattr(other.suit, k) for k in OF_THE_GAS}
    if one.suit.undergarment is not None and other.suit.undergarment is not None:
        same |= {f"suit.undergarment.{k}": getattr(other.suit.undergarment, k) for k in OF_THE_GARMENT}
    return with_values(one, same) == other


def with_other_gas(made: Assembled, scenario: Scenario, body: PosedBody) -> Rig:
    """The rig of a scenario that differs in gas alone from the one that ``made`` was assembled from, on its ``body``.

    Raises NarrowSuitError for a width that the diver cannot get into.
    """
    suit, worn = scenario.suit, made.worn
    if not isinstance(suit, DrySuit):
        raise TypeError("a rig's gas is put in anew in a drysuit only")
    plate = None if worn is None else SeatedPlate(worn.plate, worn.seat, worn.drop, worn=True)
    room = suit_room(suit, body, over_suit(scenario, body, plate))
    dressed = replace(made.rig, suit=None)
    return replace(dressed, suit=suit_pocket(dressed, room, scenario, suit, body)[0])
