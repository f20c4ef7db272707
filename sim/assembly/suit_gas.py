"""The gas in a drysuit: how much there is once everything else is worn, and what is let out again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from meshes.body.bend import rotation
from meshes.memoized import memoized_on_body
from meshes.mesh import Floats
from meshes.plate.back_plate import Plate
from scenarios.models import Scenario
from scenarios.suit import DrySuit
from sim.assembly.dry_suit import OverSuit, SuitRoom, suit_room
from sim.assembly.placement import Placement
from sim.assembly.shell import TORSO, Flags, on_segments
from sim.assembly.suit_cut import NarrowSuitError
from sim.assembly.surroundings import inside_density, mixed
from sim.assembly.unbuildable import UnbuildableError, blaming
from sim.assembly.worn_plate import SeatedPlate
from sim.assembly.worn_thing import DiverSoFar, WornThing
from sim.person.posed_body import PosedBody
from sim.rig import Rig, SuitPocket
from sim.said import amount, note, word
from sim.statics.sphere import direction
from sim.statics.venting import left_after_venting, vented_at_valve, with_trace

VALVE_SEGMENT: Final = {"left upper arm": "left upper arm", "left wrist": "left forearm"}  # by the valve's place
VALVE_ON_ARM: Final = 0.5  # of the upper arm's length, how far down it the exhaust valve sits (common practice)
FACES_BACK: Final = 0.5  # cosine of the angle to the plate's, up to which skin can be pressed by it (assumed)


@dataclass(frozen=True, eq=False)
class SuitSkin:
    """Patches of the covered skin, in body axes; patch i lies under cell i of the suit's pocket.

    centre, normal : (n, 3) [m], outward unit;  area : (n,) [m^2];  on_trunk : (n,)
    gas_from : what the amount of gas comes from, in words
    """

    centre: Floats
    normal: Floats
    area: Floats
    on_trunk: Flags
    gas_from: str


def fill_suit(on: DiverSoFar) -> Iterator[WornThing]:
    """The gas in a drysuit over which all else is worn; offers SuitSkin. Nothing without a drysuit."""
    scenario = on.scenario
    suit = scenario.suit
    if not isinstance(suit, DrySuit):
        return
    lies = on.needed(SeatedPlate)
    with blaming("suit"):
        try:
            room = suit_room(suit, on.body, over_suit(scenario, on.body, lies if lies.worn else None))
        except NarrowSuitError as error:
            raise UnbuildableError(f"suit.widths.{error.place}", str(error)) from error
    pocket, vented = suit_pocket(on.rig, room, scenario, suit, on.body)
    asked = (word("suit gas"),) if isinstance(suit.gas, str) else ()
    yield WornThing(
        "suit",
        pocket=pocket,
        notes=() if vented is None else (vented,),
        estimated=(*asked, word("softness and room of the suit")),
        offers=(_suit_skin(room, suit),),
    )


def over_suit(scenario: Scenario, body: PosedBody, plate: SeatedPlate | None) -> OverSuit:
    """What presses on a scenario's drysuit; ``plate`` : None where none is worn."""
    worn = None if plate is None else (plate.plate, plate.seat)
    return _over_suit(body, worn, scenario.harness is not None, scenario.fins is not None)


@memoized_on_body
def _over_suit(body: PosedBody, plate: tuple[Plate, Placement] | None, harness: bool, fins: bool) -> OverSuit:
    pressed = np.zeros(len(body.skin.area), dtype=bool) if plate is None else under_plate(body, *plate)
    return OverSuit(pressed, harness, fins)


def suit_pocket(
    rig: Rig, room: SuitRoom, scenario: Scenario, suit: DrySuit, body: PosedBody
) -> tuple[SuitPocket, str | None]:
    """The gas of a drysuit in ``rig``, which has all else: what its valve leaves, and a sentence if any goes."""
    density = inside_density(mixed(suit.inflation), rig.water, scenario.water.temperature)
    empty = SuitPocket(room.cells, room.law, 0.0, density, suit.gas_time)
    gas = _gas_of(suit, empty, rig, room, body)
    filled = replace(rig, suit=with_trace(replace(empty, gas=gas), rig.water))
    after, out = vented_at_valve(filled, _exhaust_valve(suit, room), suit.valve_pressure)
    assert after.suit is not None  # it went in with one
    if not out > 0.0:
        return after.suit, None
    return after.suit, note(
        "The suit was overfull: held flat, its exhaust valve lets {out} of {gas} go "
        "(it opens at {opens} over the water).",
        out=amount(out * 1e3, "l", 1, bare=True),
        gas=amount(gas * 1e3, "l", 1),
        opens=amount(suit.valve_pressure / 1e3, "kPa", 1),
    )


def _gas_of(suit: DrySuit, empty: SuitPocket, rig: Rig, room: SuitRoom, body: PosedBody) -> float:
    """Volume [m^3] at the held point's pressure of the gas in the suit: as stated, comfortable, or left by venting.

    rig : everything worn but the suit's gas, which is vented about its held point
    """
    if not isinstance(suit.gas, str):
        return float(suit.gas)
    if suit.gas == "comfortable":
        return comfortable_gas(suit.comfort_squeeze, empty, rig, room)
    up = direction(suit.vented_head_up, suit.vented_left_up)
    valve = lifted_valve(suit, body, up)
    then = replace(empty, cells=arms_under_valve(room, body, valve, up))
    return left_after_venting(then, rig, valve, suit.valve_pressure, up)


def arms_under_valve(room: SuitRoom, body: PosedBody, valve: Floats, up: Floats) -> Floats:
    """The suit's cells (n, 3) [m], body axes, in the posture of a venting in which ``up`` (3,) is the world's.

    The valve (3,) is to be the suit's highest place then (common practice): arms that the pose would hold with the
    wrist above it, as those stretched ahead of a diver who is upright by now, are turned down to it at the shoulders,
    but not below level.
    """
    cells = room.cells.copy()
    for side in ("left", "right"):
        shoulder = body.joints[f"{side} shoulder"]
        reach = body.joints[f"{side} wrist"] - shoulder
        length, rise = float(np.linalg.norm(reach)), float(reach @ up)
        most = max(float((valve - shoulder) @ up), 0.0)
        ahead = reach - rise * up
        run = float(np.linalg.norm(ahead))
        if not (rise > most and run > 0.0):
            continue
        down = np.arctan2(rise, run) - np.arcsin(most / length)
        arm = on_segments(room.patches, f"{side} upper arm", f"{side} forearm")
        cells[arm] = shoulder + (cells[arm] - shoulder) @ rotation(np.cross(up, ahead / run), down).T
    return cells


def lifted_valve(suit: DrySuit, body: PosedBody, up: Floats) -> Floats:
    """Place (3,) of the exhaust valve [m], body axes, with its arm lifted to let gas go.

    The arm is stretched out from the shoulder joint; of where it points, only how far above level counts.
    """
    shoulder, elbow, wrist = (body.joints[f"left {j}"] for j in ("shoulder", "elbow", "wrist"))
    upper = float(np.linalg.norm(elbow - shoulder))
    reach = VALVE_ON_ARM * upper
    if suit.valve_place == "left wrist":
        reach = upper + float(np.linalg.norm(wrist - elbow))
    return np.asarray(shoulder + reach * np.sin(suit.vented_arm_lift) * up)


def comfortable_gas(squeeze: float, pocket: SuitPocket, rig: Rig, room: SuitRoom) -> float:
    """Volume [m^3] at the held point's pressure of the gas that leaves ``squeeze`` [Pa] on the trunk's back.

    The back is the highest of the trunk's patches with the diver flat.
    """
    trunk = on_segments(room.patches, *TORSO)
    weight = (rig.water.density - pocket.gas_density) * rig.water.gravity
    top = room.cells[trunk, 2].max()
    lift = weight * (room.cells[:, 2] - top) - squeeze
    at_held = weight * (rig.held[2] - top) - squeeze
    return float((1.0 + at_held / rig.water.pressure) * room.law.volume(lift[None, :]).sum())


def _suit_skin(room: SuitRoom, suit: DrySuit) -> SuitSkin:
    """The covered skin for pictures and words, and what the gas over it comes from."""
    patches = room.patches
    on_trunk = on_segments(patches, *TORSO)
    return SuitSkin(patches.centre, patches.normal, patches.area, on_trunk, _gas_from(suit))


def _gas_from(suit: DrySuit) -> str:
    if not isinstance(suit.gas, str):
        return note("as the file says")
    if suit.gas == "comfortable":
        return note("what takes the squeeze off the back")
    lean, side, arm = (round(np.degrees(a)) for a in (suit.vented_head_up, suit.vented_left_up, suit.vented_arm_lift))
    if not (lean or side):
        posture = note("flat")
    elif lean >= 0:
        posture = note("{angle} degrees head-up", angle=abs(lean))
    else:
        posture = note("{angle} degrees head-down", angle=abs(lean))
    if side > 0:
        posture = note("{posture} and {angle} degrees left side up", posture=posture, angle=abs(side))
    elif side:
        posture = note("{posture} and {angle} degrees right side up", posture=posture, angle=abs(side))
    if arm > 0:
        raised = note("left arm raised {angle} degrees", angle=arm)
    elif arm == 0:
        raised = note("left arm level")
    else:
        raised = note("left arm lowered {angle} degrees", angle=-arm)
    return note("left when last vented {posture}, {arm}", posture=posture, arm=raised)


@memoized_on_body
def under_plate(body: PosedBody, plate: Plate, seat: Placement) -> Flags:
    """(n,) skin patches that a plate lying at ``seat`` presses on."""
    local = (body.skin.centre - seat.origin) @ seat.rotation
    on_back = body.skin.normal @ seat.rotation[:, 2] > FACES_BACK
    along = (local[:, 0] > plate.bottom[0]) & (local[:, 0] < plate.top[0])
    return np.asarray(on_segments(body.skin, *TORSO) & on_back & along & (np.abs(local[:, 1]) < 0.5 * plate.width))


def _exhaust_valve(suit: DrySuit, room: SuitRoom) -> Floats:
    """Place (3,) of the exhaust valve: the outermost patch of the part of the arm that it sits on."""
    arm = np.flatnonzero(on_segments(room.patches, VALVE_SEGMENT[suit.valve_place]))
    return np.asarray(room.patches.centre[arm[room.patches.normal[arm, 1].argmax()]])
