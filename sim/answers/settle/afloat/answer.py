"""The diver at the surface, as it is told: ``surface`` of ``settle --surface``."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Final

from meshes.mesh import Floats
from sim.telling.record import Told


@dataclass(frozen=True, eq=False)
class Lying:
    """How a diver lies in the water: the same of a rest and of an attitude that is held."""

    up: Annotated[Floats, Told("the world's up direction in body axes")]
    pitch: Annotated[float, Told("of the trunk", "deg", plus="head-up")]
    roll: Annotated[float, Told("above -180 and up to 180", "deg", plus="left side up")]
    face: Annotated[str, Told("which way the front looks: up, down, forward, to the side")]
    trunk_from_vertical: Annotated[float, Told("lean of the trunk", "deg")]
    mouth_above_water: Annotated[float, Told("height of the mouth", "mm", plus="over the water")]
    chest_above_water: Annotated[float, Told("height of the chest", "mm", plus="over the water")]
    water_level: Annotated[float, Told("of the water, along up from the body's origin", "m")]
    displaced: Annotated[float, Told("water displaced", "l")]
    reserve_buoyancy: Annotated[float, Told("what is dry could carry besides", "kg")]
    under_water: Annotated[Mapping[str, float], Told("share of each part under water, 0 to 1", "1", names="<part>")]
    joints: Annotated[Mapping[str, float], Told("angles of the limp joints", "deg", names="<joint>")]


@dataclass(frozen=True, eq=False)
class RestAfloat:
    """A rest that a limp diver comes to."""

    reached_from: Annotated[tuple[str, ...], Told("attitudes that lead there when left alone")]
    lying: Annotated[Lying, Told("how the diver lies there", beside=True)]
    stable: Annotated[bool, Told("whether it stays so")]
    least_stiffness: Annotated[float, Told("of all ways to turn", "N m/rad", plus="stable")]


@dataclass(frozen=True, eq=False)
class HeldAttitude:
    """An attitude that the diver is held in, and what that asks."""

    name: Annotated[str, Told("face up, upright, face down or on the side")]
    lying: Annotated[Lying, Told("how the diver lies then", beside=True)]
    moment: Annotated[
        float,
        Told(
            "by which the diver is turned: upright about the hips, else about the long axis", "N m",
            plus="forward; toward face up on the side, toward the left side down on the back",
        ),
    ]  # fmt: skip
    at_arms_length: Annotated[
        float, Told("what one would hold out at arm's length to feel it", "kg", key="moment_kg_at_arms_length")
    ]
    wing_moment: Annotated[
        float | None,
        Told("what the wing's gas alone does to an upright diver", "N m", plus="forward", none="not upright"),
    ]
    leads_to_rest: Annotated[int | None, Told("number of the rest it leads to, from 0", none="to none")]
    stays: Annotated[bool, Told("whether the diver stays so when left alone")]


@dataclass(frozen=True)
class Lifejackets:
    """What is asked of lifejackets, to compare with only."""

    mouth_above_water: Annotated[float, Told("asked for", "mm")]
    trunk_leaning_back: Annotated[float, Told("asked for, from the vertical", "deg")]
    source: Annotated[str, Told("where from")]


REFERENCE: Final = Lifejackets(
    0.12, math.radians(20.0), "LSA Code 2.2, which is about lifejackets; drawn as reference only"
)


@dataclass(frozen=True)
class Turning:
    """What turning from one attitude to another takes; not a number for a diver who sinks."""

    sit_up: Annotated[float, Told("greatest moment against leaning forward from the back", "N m", none="sinks")]
    tips_back_from: Annotated[
        float | None, Told("lean back from which a diver is carried onto the back", "deg", none="from none")
    ]
    turn_up: Annotated[float, Told("greatest moment against turning over onto the back", "N m", none="sinks")]
    rights_from_10_deg: Annotated[
        float,
        Told("on the back, tipped 10 degrees to a side, limbs limp", "N m", plus="brings back", none="sinks"),
    ]
    rights_from_10_deg_limbs_still: Annotated[
        float, Told("the same with the limbs kept still", "N m", plus="brings back", none="sinks")
    ]


SINKS: Final = Turning(math.nan, None, math.nan, math.nan, math.nan)


@dataclass(frozen=True, eq=False)
class Surface:
    """The diver at the surface with the wing blown up and the limbs relaxed."""

    outcome: Annotated[str, Told("floats or sinks")]
    wing_gas: Annotated[float | None, Told("gas in the wing", "l", none="no wing")]
    wing_full: Annotated[bool, Told("whether the wing is blown up to its capacity")]
    suit_gas: Annotated[float | None, Told("gas in the suit", "l", none="no drysuit")]
    mass: Annotated[float, Told("of all, gas included", "kg")]
    heavy_by: Annotated[float | None, Told("by how much too heavy to float", "kg", none="floats")]
    rests: Annotated[tuple[RestAfloat, ...], Told("rests of a limp diver, lowest energy first")]
    attitudes: Annotated[tuple[HeldAttitude, ...], Told("attitudes held")]
    arm_length: Annotated[float, Told("from shoulder to palm", "m")]
    turning: Annotated[Turning, Told("what turning takes", beside=True)]
    reference: Annotated[Lifejackets, Told("to compare with only")]
    notes: Annotated[tuple[str, ...], Told("sentences on what this hangs on")]
