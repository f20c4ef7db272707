r"""A drysuit: its cloth, what is worn under it, and the room there is for gas that is free to move in it.

How much stiffness the moving gas takes away hangs on the room it has and on how softly the garment gives way. No
measured pressure-thickness curve of a diving undergarment is published, so loft and stiffness are assumed. Where
gas can be is told by the cut of the shell (``suit_cut``), how much there is by the last venting.
The arithmetic, with the heavy undergarment (14 mm, of which 0.4 mm are fibre, 470 Pa) and the limbs' at 80 %:

                                                      man 180 cm, 80 kg    woman 166 cm, 58 kg
    trunk, 13.6 mm, less plate and straps             0.53 m^2   5.3 l     0.43 m^2   4.5 l
    arms and legs, 10.9 mm and a ring's tenth more    1.05 m^2  12.5 l     0.87 m^2  10.4 l
    boots, half in the fins                           0.13 m^2   0.5 l     0.10 m^2   0.4 l
    relaxed                                                     18 l                 15 l
    with the shell taut everywhere                              28 l                 24 l
    vented head-up by 30 degrees at 0.3 kPa, the valve 0.3 m over the chest: a flat back then bears 2 kPa, the belly
    20 cm lower 4 kPa, and there is (1 + 2000/470)^(-1/3) = 0.57 and 0.47 of the loft left
                                                                10.5 l               9 l
    no squeeze on the back                                      14 l                 12 l

The trade's figures are 6 to 12 l in a comfortable suit (from memory) and 13 to 14 l weighed once with a garment of
two layers. Gas of 10 l in such a garment gives by K = sum V0/(3 P) (1 + squeeze/P)^(-4/3), about 1.7 ml/Pa, and over
a body 1.9 m long it takes (rho g)^2 K Var(x) = 1.0e8 * 1.7e-6 * 0.2, about 35 N m/rad, off the pitch stiffness: far
more than the 2 to 20 N m/rad that buoyancy above weight could supply. Every report says what hangs on this.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.memoized import memoized_on_body
from meshes.mesh import Floats
from meshes.solid import combined
from scenarios.suit import DrySuit
from sim.assembly.clothing import UNDER_STRAPS
from sim.assembly.shell import TORSO, Flags, chosen, on_segments, spread_solid
from sim.assembly.suit_cut import Room, covered, gas_thickness, pressed, room_of
from sim.fill_laws import FillLaw, garment_law, logistic_law
from sim.foam import gas_share, thickness_ratio
from sim.person.posed_body import PosedBody
from sim.person.skin import SkinPatches
from sim.rig import Part, Water
from sim.said import word

FITTINGS_DENSITY: Final = 1800.0  # kg/m^3, zip, valves and rubber seals together (assumed)
FITTED: Final = ("upper trunk",)  # where zip, valves, neck seal and braces are sewn in (common practice)
UNDER_PLATE: Final = 0.3  # of loft and slack left where the plate presses on the suit (assumed)
IN_FINS: Final = 0.6  # of a boot that sits in the fin's foot pocket, from the toes to the instep (assumed)
WEBBING: Final = 0.05  # m wide (common practice)


@dataclass(frozen=True, eq=False)
class SuitRoom:
    """Where gas can be in a drysuit: cells (n, 3) [m, body axes], how they fill, and the skin under each of them."""

    cells: Floats
    law: FillLaw
    patches: SkinPatches


@dataclass(frozen=True, eq=False)
class OverSuit:
    """What is worn over a drysuit and presses on it.

    under_plate : (n,) patches of the body's skin that the plate covers;  harness, fins : whether they are worn
    """

    under_plate: Flags
    harness: bool
    fins: bool


@memoized_on_body
def suit_room(suit: DrySuit, body: PosedBody, over: OverSuit) -> SuitRoom:
    """Room for gas under a drysuit, on all skin but head and hands.

    Raises NarrowSuitError for a width that the diver cannot get into.
    """
    clad = _clad(body)
    patches, stiffness = chosen(body.skin, clad), _stiffness(suit)
    room = room_of(suit, patches, body.person.measures, stiffness)
    room = covered(room, np.where(over.under_plate[clad], 1.0, 0.0), UNDER_PLATE)
    if over.harness:
        room = covered(room, _under_webbing(body, patches), UNDER_STRAPS)
    if over.fins:
        room = covered(room, np.where(on_segments(patches, "foot"), IN_FINS, 0.0), UNDER_PLATE)
    if suit.gaiters:
        room = pressed(room, on_segments(patches, "shank"), suit.gaiter_pressure, stiffness)
    law: FillLaw
    if suit.fill_law == "garment":
        law = garment_law(room.loft, room.slack, stiffness, room.preload)
    else:
        law = _logistic(suit, room)
    cells = patches.centre + 0.5 * gas_thickness(suit) * patches.normal
    return SuitRoom(cells, law, patches)


def _clad(body: PosedBody) -> Flags:
    """(n,) whether a drysuit covers each patch of the body's skin."""
    return ~on_segments(body.skin, "head", "hand")


def _logistic(suit: DrySuit, room: Room) -> FillLaw:
    most = room.loft + room.slack
    if suit.free_room is not None:
        most = most * (suit.free_room / most.sum())
    return logistic_law(np.zeros(len(most)), most, suit.softness)


def _under_webbing(body: PosedBody, patches: SkinPatches) -> Floats:
    """Share (n,) of each patch that lies under webbing: a belt, and straps over the shoulders and through the crotch.

    Spread evenly over the trunk, round which they run; their length is that of waist and vertical trunk girth.
    """
    m = body.person.measures
    trunk = on_segments(patches, *TORSO)
    length = m["waistcircumference"] + m["verticaltrunkcircumferenceusa"]
    return np.where(trunk, WEBBING * length / float(patches.area[trunk].sum()), 0.0)


def _stiffness(suit: DrySuit) -> float:
    return suit.softness if suit.undergarment is None else suit.undergarment.stiffness


def drysuit_cloth(suit: DrySuit, body: PosedBody, water: Water) -> tuple[Part, ...]:
    """Shell with its fittings, and the undergarment without the gas in it."""
    patches = chosen(body.skin, _clad(body))
    area = float(patches.area.sum())
    shell = suit.mass_per_area * area
    total = shell + suit.fittings_mass if suit.mass is None else suit.mass
    thickness = suit.thickness
    if suit.foam_stiffness is not None:
        share = gas_share(min(suit.mass_per_area / suit.thickness, 1300.0))
        thickness *= thickness_ratio(water.pressure, share, suit.foam_stiffness)
    loft, fittings = gas_thickness(suit), min(suit.fittings_mass, total)
    cloth = spread_solid(patches, total - fittings, area * thickness, loft)
    above = chosen(patches, on_segments(patches, *FITTED))
    sewn = spread_solid(above, fittings, suit.fittings_mass / FITTINGS_DENSITY, loft)
    parts = [Part(word("drysuit"), "suit", combined([cloth, sewn]))]
    under = suit.undergarment
    if under is not None:
        mass = under.mass_per_area * area if under.mass is None else under.mass
        worn = spread_solid(patches, mass, mass / under.fibre_density, 0.5 * loft)
        parts.append(Part(word("undergarment"), "suit", worn))
    return tuple(parts)
