"""The gas in a drysuit: put into a rig that has everything else, and put in anew where nothing else changed."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from meshes.kept import kept_few
from meshes.mesh import Floats
from meshes.plate.back_plate import Plate
from scenarios.models import Scenario
from scenarios.suit import DrySuit
from sim.assembly.assembled import Assembled, SuitSkin
from sim.assembly.dry_suit import OverSuit, WornDrySuit, gas_of, suit_pocket, worn_dry_suit
from sim.assembly.placement import Placement
from sim.assembly.shell import Flags
from sim.assembly.surroundings import inside_density, mixed
from sim.person.posed_body import PosedBody
from sim.rig import Rig, rig_of
from sim.statics.venting import vented_at_valve

VALVE_SEGMENT: Final = {"left upper arm": "left upper arm", "left wrist": "left forearm"}  # by the valve's place
# What only says where the suit's gas can be and how much there is: no part of the rig hangs on it
OF_THE_GAS: Final = frozenset(
    {"gas", "inflation", "comfort_squeeze", "vented_head_up", "vented_left_up", "vented_arm_lift", "valve_place",
     "valve_pressure", "slack", "widths", "boots_room", "gaiters", "gaiter_pressure", "softness", "free_room",
     "fill_law", "gas_time"}
)  # fmt: skip
OF_THE_GARMENT: Final = frozenset({"stiffness", "on_limbs"})


def with_suit_gas(rig: Rig, dry: WornDrySuit, scenario: Scenario, body: PosedBody) -> tuple[Rig, str | None]:
    """The rig with gas in its drysuit, vented at the valve if there is too much, and a sentence when it was."""
    suit = scenario.suit
    if not isinstance(suit, DrySuit):
        return rig, None
    density = inside_density(mixed(suit.inflation), rig.water, scenario.water.temperature)
    gas = gas_of(suit, dry, rig, body, density)
    full = rig_of(rig.parts, rig.water, suit=suit_pocket(dry, suit, gas, density), wing=rig.wing, held=rig.held)
    after, out = vented_at_valve(full, _exhaust_valve(suit, dry), suit.valve_pressure)
    if not out > 0.0:
        return after, None
    return after, (
        f"The suit was overfull: held flat, its exhaust valve lets {out * 1e3:.1f} of {gas * 1e3:.1f} l go "
        f"(it opens at {suit.valve_pressure / 1e3:.1f} kPa over the water)."
    )


def suit_skin(dry: WornDrySuit, scenario: Scenario) -> SuitSkin:
    """The covered skin for pictures and words, and what the gas over it comes from."""
    patches = dry.patches
    on_trunk = np.array(["trunk" in s for s in patches.segment])
    return SuitSkin(patches.centre, patches.normal, patches.area, on_trunk, _gas_from(scenario))


def _gas_from(scenario: Scenario) -> str:
    suit = scenario.suit
    if not isinstance(suit, DrySuit) or not isinstance(suit.gas, str):
        return "as the file says"
    if suit.gas == "comfortable":
        return "what takes the squeeze off the back"
    lean, side, arm = (round(np.degrees(a)) for a in (suit.vented_head_up, suit.vented_left_up, suit.vented_arm_lift))
    sides = f" and {abs(side)} degrees {'left' if side > 0 else 'right'} side up" if side else ""
    posture = f"{abs(lean)} degrees head-{'up' if lean >= 0 else 'down'}{sides}" if lean or side else "flat"
    raised = f"raised {arm} degrees" if arm > 0 else "level" if arm == 0 else f"lowered {-arm} degrees"
    return f"left when last vented {posture}, left arm {raised}"


def differ_in_gas_alone(one: Scenario, other: Scenario) -> bool:
    """Whether two scenarios differ in nothing but what the gas of their drysuits hangs on."""
    if not (isinstance(one.suit, DrySuit) and isinstance(other.suit, DrySuit)):
        return False
    if one.learnt is not None or other.learnt is not None:
        return False
    same = {k: getattr(other.suit, k) for k in OF_THE_GAS}
    if one.suit.undergarment is not None and other.suit.undergarment is not None:
        under = {k: getattr(other.suit.undergarment, k) for k in OF_THE_GARMENT}
        same["undergarment"] = one.suit.undergarment.model_copy(update=under)
    return one.model_copy(update={"suit": one.suit.model_copy(update=same)}) == other


def with_other_gas(made: Assembled, scenario: Scenario, body: PosedBody) -> Rig:
    """The rig of a scenario that differs in gas alone from the one that ``made`` was assembled from, on its ``body``.

    Raises NarrowSuitError for a width that the diver cannot get into.
    """
    suit, rig = scenario.suit, made.rig
    if not isinstance(suit, DrySuit):
        raise TypeError("a rig's gas is put in anew in a drysuit only")
    none = np.zeros(len(body.skin.area), dtype=bool)
    pressed = none if made.worn is None else under_plate(body, made.worn.plate, made.worn.seat)
    over = OverSuit(pressed, scenario.harness is not None, scenario.fins is not None)
    dry = worn_dry_suit(suit, body, rig.water, over)
    return with_suit_gas(replace(rig, suit=None), dry, scenario, body)[0]


@kept_few
def under_plate(body: PosedBody, plate: Plate, seat: Placement) -> Flags:
    """(n,) skin patches that a plate lying at ``seat`` presses on."""
    local = (body.skin.centre - seat.origin) @ seat.rotation
    on_back = body.skin.normal @ seat.rotation[:, 2] > 0.5
    along = (local[:, 0] > plate.bottom[0]) & (local[:, 0] < plate.top[0])
    trunk = np.array(["trunk" in s for s in body.skin.segment])
    return np.asarray(trunk & on_back & along & (np.abs(local[:, 1]) < 0.5 * plate.width))


def _exhaust_valve(suit: DrySuit, dry: WornDrySuit) -> Floats:
    """Place (3,) of the exhaust valve: the outermost patch of the part of the arm that it sits on."""
    arm = np.flatnonzero([s == VALVE_SEGMENT[suit.valve_place] for s in dry.patches.segment])
    return np.asarray(dry.patches.centre[arm[dry.patches.normal[arm, 1].argmax()]])
