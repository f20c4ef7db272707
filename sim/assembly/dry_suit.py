r"""A drysuit: its cloth, what is worn under it, and the gas that is free to move in it.

How much stiffness the moving gas takes away hangs on the room it has and on how softly the garment gives way. No
measured pressure-thickness curve of a diving undergarment is published, so loft, stiffness and slack are assumed, and
held against the one figure the trade gives: 6 to 12 l of gas in a comfortable suit (from memory). The arithmetic for
the tall demo man (1.87 m^2 under the suit, medium garment, legs straight):

    loft 10 mm less 0.3 mm of fibre, 1.87 m^2                        18 l
    less what plate, boots and narrow sleeves press flat             13 l relaxed, 24 l with the shell taut
    just unsqueezed on the back, 2 kPa of squeeze on the belly 20 cm lower:
    (1 + 2000/570)^(-1/3) = 0.60 of the loft there                   9 l of gas

and so 5 to 7 l with the thin garment, 7 to 10 l with the medium and 10 to 13 l with the heavy one, for people of 1.4
to 1.9 m^2. That gas gives by K = sum V0/(3 P) (1 + squeeze/P)^(-4/3), about 2.3 ml/Pa, and over a body 1.9 m long it
takes (rho g)^2 K Var(x) = 1.0e8 * 2.3e-6 * 0.18, about 40 N m/rad, off the pitch stiffness: far more than the 2 to 20
N m/rad that buoyancy above weight could supply. With the small woman it is about 25. A garment twice as stiff takes
a third less; every report says how much of its answer hangs on this.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from scenarios.suit import DrySuit
from sim.assembly.shell import Flags, chosen, on_segments, spread_solid
from sim.fill_laws import FillLaw, garment_law, logistic_law
from sim.foam import gas_share, thickness_ratio
from sim.person.skin import SkinPatches
from sim.rig import Part, Pocket, Water, rig_of

FITTINGS_DENSITY: Final = 1800.0  # kg/m^3, zip, valves and rubber seals together (assumed)
BARE_LOFT: Final = 0.001  # m, gas in the folds of a shell worn with nothing under it (assumed)
UNDER_PLATE: Final = 0.3  # of loft and slack left where plate and harness press on the suit (assumed)
# How much of the suit's loft and of its slack each part of the body has: boots are laced, sleeves and lower legs are
# cut narrower than the trunk (assumed)
FIT: Final = {"foot": (0.4, 0.2), "shank": (0.8, 0.5), "forearm": (0.8, 0.5)}
GAITERED: Final = 0.3  # of loft and slack left in the lower legs under gaiters (assumed)


@dataclass(frozen=True, eq=False)
class WornDrySuit:
    """Cloth and gas of a drysuit: rigid parts, the pocket (amount of gas still to be set) and its patches."""

    parts: tuple[Part, ...]
    cells: Floats
    law: FillLaw
    patches: SkinPatches


def worn_dry_suit(suit: DrySuit, skin: SkinPatches, water: Water, under_plate: Flags) -> WornDrySuit:
    """Drysuit on all skin but head and hands; ``under_plate`` (n,) marks the patches of ``skin`` the plate covers."""
    covered = ~on_segments(skin, "head", "hand")
    patches, pressed = chosen(skin, covered), under_plate[covered]
    loft = _gas_thickness(suit)
    lofts, slacks = _room(suit, patches, pressed)
    cells = patches.centre + 0.5 * loft * patches.normal
    if suit.fill_law == "garment":
        law: FillLaw = garment_law(patches.area * loft * lofts, patches.area * suit.slack * slacks, _stiffness(suit))
    else:
        room = patches.area * (loft * lofts + suit.slack * slacks)
        most = room if suit.free_room is None else room * (suit.free_room / room.sum())
        law = logistic_law(np.zeros(len(most)), most, suit.softness)
    return WornDrySuit(_cloth(suit, patches, water), cells, law, patches)


def _room(suit: DrySuit, patches: SkinPatches, pressed: Flags) -> tuple[Floats, Floats]:
    """Shares (n,) of the suit's loft and of its slack that each patch has."""
    lofts, slacks = (np.where(pressed, UNDER_PLATE, 1.0) for _ in range(2))
    for segment, (loft, slack) in FIT.items():
        there = on_segments(patches, segment)
        lofts, slacks = np.where(there, loft * lofts, lofts), np.where(there, slack * slacks, slacks)
    if suit.gaiters:
        below = np.where(on_segments(patches, "shank", "foot"), GAITERED, 1.0)
        lofts, slacks = below * lofts, below * slacks
    return lofts, slacks


def _gas_thickness(suit: DrySuit) -> float:
    """Thickness of gas [m] in the relaxed undergarment: its loft less the fibres."""
    under = suit.undergarment
    if under is None:
        return BARE_LOFT
    return max(under.loft - under.mass_per_area / under.fibre_density, 0.1 * under.loft)


def _stiffness(suit: DrySuit) -> float:
    return suit.softness if suit.undergarment is None else suit.undergarment.stiffness


def _cloth(suit: DrySuit, patches: SkinPatches, water: Water) -> tuple[Part, ...]:
    """Shell with its fittings, and the undergarment without the gas in it."""
    area = float(patches.area.sum())
    shell = suit.mass_per_area * area
    total = shell + suit.fittings_mass if suit.mass is None else suit.mass
    thickness = suit.thickness
    if suit.foam_stiffness is not None:
        share = gas_share(min(suit.mass_per_area / suit.thickness, 1300.0))
        thickness *= thickness_ratio(water.pressure, share, suit.foam_stiffness)
    volume = area * thickness + suit.fittings_mass / FITTINGS_DENSITY
    loft = _gas_thickness(suit)
    parts = [Part("drysuit", "suit", spread_solid(patches, total, volume, loft))]
    under = suit.undergarment
    if under is not None:
        mass = under.mass_per_area * area if under.mass is None else under.mass
        worn = spread_solid(patches, mass, mass / under.fibre_density, 0.5 * loft)
        parts.append(Part("undergarment", "suit", worn))
    return tuple(parts)


def comfortable_gas(parts: list[Part], worn: WornDrySuit, suit: DrySuit, water: Water, gas_density: float) -> float:
    """Volume [m^3] at the held point's pressure of the gas that leaves ``comfort_squeeze`` on the trunk's back.

    The held point is the CM of ``parts``; the back is the highest of the trunk's patches with the diver flat.
    """
    held = rig_of(parts, water).held
    trunk = np.array(["trunk" in s for s in worn.patches.segment])
    weight = (water.density - gas_density) * water.gravity
    lift = weight * (worn.cells[:, 2] - worn.cells[trunk, 2].max()) - suit.comfort_squeeze
    at_held = weight * (held[2] - worn.cells[trunk, 2].max()) - suit.comfort_squeeze
    return float((1.0 + at_held / water.pressure) * worn.law.volume(lift[None, :]).sum())


def suit_pocket(worn: WornDrySuit, suit: DrySuit, gas: float, gas_density: float) -> Pocket:
    """The suit's gas as a pocket; ``gas`` [m^3] at the held point's pressure."""
    return Pocket("suit", worn.cells, worn.law, gas, gas_density, suit.gas_time)
