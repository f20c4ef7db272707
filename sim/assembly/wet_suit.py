"""Neoprene on the skin: wetsuit, hood, gloves; boots of foam or rubber. Foam thins with depth, its mass does not."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from meshes.memoized import memoized_on_body
from meshes.solid import Solid, scaled_to_mass
from scenarios.suit import DrySuit, Wetsuit
from sim.assembly.head_hands_feet import SHAFT, worn_boots, worn_gloves, worn_hood
from sim.assembly.on_segment import SOLE
from sim.assembly.shell import chosen, on_segments, spread_solid
from sim.foam import WALL_STIFFNESS, gas_share, thickness_ratio
from sim.person.posed_body import PosedBody
from sim.person.skin import SkinPatches
from sim.rig import Part, Water
from sim.said import word

HOOD_COVERS: Final = 0.8  # of the skin of head and neck; the face is bare (assumed)
HAND: Final = 0.025  # of the skin; Lund and Browder 1944, from memory. The body's own hands have no fingers: 0.020
GLOVE_CUFF: Final = 0.05  # m of the forearm under a glove's cuff (assumed)
FOOT: Final = 0.26  # m, the foot that boots' masses are stated for (the catalogue's definition)
LINING: Final = 0.16  # kg/m^2, both sides (80 g/m^2 a side: found in a materials page, secondary)
LINING_DENSITY: Final = 1140.0  # kg/m^3, nylon (from memory)


@memoized_on_body
def worn_neoprene(suit: DrySuit | Wetsuit, body: PosedBody, water: Water) -> tuple[Part, ...]:
    """The wetsuit itself, and hood, gloves and boots of either kind of suit.

    Hood, gloves and boots have their shape from ``meshes``; their mass and the water they displace at depth come
    from the skin they cover, unless they were weighed.
    """
    parts = []
    skin = body.skin
    if isinstance(suit, Wetsuit):
        parts.append(_wetsuit(suit, chosen(skin, ~on_segments(skin, "head", "hand", "foot")), water))
    foam = suit.foam_density
    if suit.hood_thickness > 0.0:
        area = HOOD_COVERS * float(chosen(skin, on_segments(skin, "head")).area.sum())
        mass, volume = _foam(area, suit.hood_thickness, foam, LINING, WALL_STIFFNESS, water)
        hood = worn_hood(body, suit.hood_thickness)
        parts.append(Part(word("hood"), "hood", _amounting(hood, suit.hood_mass or mass, volume)))
    if suit.gloves_thickness > 0.0:
        cuffs = 2.0 * GLOVE_CUFF * body.person.skeleton.measures["wristcircumference"]
        area = 2.0 * HAND * float(skin.area.sum()) + cuffs
        mass, volume = _foam(area, suit.gloves_thickness, foam, LINING, WALL_STIFFNESS, water)
        parts.append(Part(word("gloves"), "gloves", _amounting(worn_gloves(body), suit.gloves_mass or mass, volume)))
    return (*parts, *_boots(suit, body, water))


def _amounting(solid: Solid, mass: float, volume: float) -> Solid:
    """The same shape with another mass [kg] and displacement [m^3]."""
    return replace(scaled_to_mass(solid, mass), volume=volume)


def _wetsuit(suit: Wetsuit, body: SkinPatches, water: Water) -> Part:
    stiffness = suit.foam_stiffness
    mass, volume = _foam(body.area.sum(), suit.thickness, suit.foam_density, suit.lining, stiffness, water)
    weighed = mass if suit.mass is None else suit.mass
    return Part(word("wetsuit"), "wetsuit", spread_solid(body, weighed, volume, 0.5 * suit.thickness))


def _boots(suit: DrySuit | Wetsuit, body: PosedBody, water: Water) -> list[Part]:
    """Foam by the skin it covers, soles and uppers by the foot's length; what was weighed more is taken for these."""
    kind, thickness = suit.boots, suit.boots_thickness
    if kind is None or (thickness == 0.0 and suit.boots_mass is None):
        return []
    foam, foam_volume = 0.0, 0.0
    if thickness is None:
        thickness = kind.foam_thickness
    if thickness > 0.0:
        foam, foam_volume = _foam(_booted_skin(body), thickness, suit.foam_density, LINING, WALL_STIFFNESS, water)
    outer = kind.outer_mass * (body.person.skeleton.measures["footlength"] / FOOT) ** 2
    mass = foam + outer if suit.boots_mass is None else suit.boots_mass
    volume = foam_volume + max(mass - foam, 0.0) / kind.outer_density
    return [Part(word("boots"), "boots", worn_boots(body, mass, volume))]


def _booted_skin(body: PosedBody) -> float:
    """Skin [m^2] of both feet, and of the shanks up to the boots' shafts, whose girth is taken as the ankle's."""
    feet = float(chosen(body.skin, on_segments(body.skin, "foot")).area.sum())
    heights, measures = body.person.skeleton.heights, body.person.skeleton.measures
    shaft = max(SHAFT - SOLE - (heights["ankle"] - heights["floor"]), 0.0)
    return feet + 2.0 * shaft * measures["anklecircumference"]


def _foam(
    area: float, thickness: float, density: float, lining: float, stiffness: float, water: Water
) -> tuple[float, float]:
    """Mass [kg] and volume at depth [m^3] of foam ``thickness`` [m] thick at the surface, and its lining."""
    left = thickness_ratio(water.pressure, gas_share(density), stiffness)
    mass = area * (thickness * density + lining)
    return float(mass), float(area * (thickness * left + lining / LINING_DENSITY))
