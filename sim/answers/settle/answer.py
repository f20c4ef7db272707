"""How a diver comes to rest, as it is told: ``hangflat.settle/1``, the contract that other programs depend on.

Records hold SI numbers; moments are about the held point, lengths in body axes. Fields may be added, never renamed or
removed under this format number.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

from meshes.mesh import Floats
from sim.answers.settle.afloat.answer import Surface
from sim.answers.settle.uncertain import Uncertain
from sim.telling.caution import CAUTION
from sim.telling.drawn_plate import DrawnPlate
from sim.telling.made_by import MadeBy
from sim.telling.record import Told

FORMAT: Final = "hangflat.settle/1"


@dataclass(frozen=True)
class WaterThere:
    """The water about the diver."""

    density: Annotated[float, Told("of the water", "kg/m^3")]
    gravity: Annotated[float, Told("local gravity", "m/s^2")]
    pressure: Annotated[float, Told("at the diver's depth, absolute", "Pa")]


@dataclass(frozen=True, eq=False)
class Whole:
    """Diver, gear and gas together, held flat."""

    mass: Annotated[float, Told("of all, gas included", "kg")]
    volume: Annotated[float, Told("of the water displaced", "l")]
    net_buoyancy: Annotated[float, Told("water displaced less mass", "kg", plus="floats")]
    wing_gas: Annotated[float, Told("gas in the wing", "l")]
    suit_gas: Annotated[float, Told("gas in the suit", "l")]
    cm: Annotated[Floats, Told("centre of mass: headward, to the left, to the back of the hip joints' middle", "m")]
    cb: Annotated[Floats, Told("centre of buoyancy, likewise", "m")]


@dataclass(frozen=True)
class SuitThere:
    """The gas in a drysuit."""

    gas_from: Annotated[str, Told("what the amount of gas comes from")]
    back_squeeze: Annotated[
        float | None,
        Told(
            "by how much the water presses harder than the gas on the highest of the trunk, held flat", "Pa",
            plus="squeezed", none="the suit holds no gas",
        ),
    ]  # fmt: skip


@dataclass(frozen=True, eq=False)
class HeldFlat:
    """The diver held flat, face down."""

    pitch_moment: Annotated[float, Told("the trimming moment: what turns the diver held flat", "N m", plus="head-up")]
    roll_moment: Annotated[float, Told("what rolls the diver held flat", "N m", plus="lifts the left side")]
    pitch_stiffness: Annotated[float, Told("against a small turn of pitch", "N m/rad", plus="stable")]
    roll_stiffness: Annotated[float, Told("against a small turn of roll", "N m/rad", plus="stable")]
    gas_takes_from_pitch_stiffness: Annotated[float, Told("what moving gas takes off the first", "N m/rad")]
    gas_takes_from_roll_stiffness: Annotated[float, Told("what moving gas takes off the second", "N m/rad")]
    held_point: Annotated[Floats, Told("point that moments are taken about", "m")]


@dataclass(frozen=True)
class HeldRest:
    """A pitch at which nothing turns a diver kept from rolling."""

    pitch: Annotated[float, Told("of the trunk", "deg", plus="head-up")]
    stable: Annotated[bool, Told("whether a small turn away is turned back")]


@dataclass(frozen=True, eq=False)
class FreeRest:
    """An attitude of rest of a diver free to roll."""

    pitch: Annotated[float, Told("of the trunk", "deg", plus="head-up")]
    roll: Annotated[float, Told("above -180 and up to 180", "deg", plus="left side up")]
    up: Annotated[Floats, Told("the world's up direction in body axes")]
    kind: Annotated[str, Told("stable, saddle or unstable")]
    energy: Annotated[float, Told("above the lowest rest", "J")]
    barrier: Annotated[
        float | None, Told("energy to leave it by the lowest way", "J", none="not stable, or no lowest way out")
    ]
    wing_gas: Annotated[float, Told("gas in the wing there", "l")]
    net_buoyancy: Annotated[float, Told("there", "kg", plus="floats")]
    stiffness: Annotated[Floats, Told("the two principal ones, the smaller first", "N m/rad", plus="stable")]


@dataclass(frozen=True)
class Drift:
    """Attitude some time after stopping."""

    time: Annotated[float, Told("after stopping", "s")]
    pitch: Annotated[float, Told("then", "deg", plus="head-up")]
    roll: Annotated[float, Told("then, above -180 and up to 180", "deg", plus="left side up")]


@dataclass(frozen=True)
class ComesToRest:
    """The motion from flat, and its end; past the vertical with roll held the diver lies on the back."""

    pitch: Annotated[float, Told("at the end, from -90 to 90", "deg", plus="head-up")]
    roll: Annotated[float, Told("at the end, above -180 and up to 180", "deg", plus="left side up")]
    time: Annotated[float, Told("until it stays within 1 degree of its end", "s")]
    time_is_least: Annotated[bool, Told("whether it swings on for longer than that")]
    reached: Annotated[bool, Told("whether it comes to rest as asked")]
    roll_rule: Annotated[str, Told("held: kept from rolling; free: may roll over", key="roll")]
    outcome: Annotated[str, Told("how it ends: at rest, past the vertical, poised, risen, sunk, time ran out ...")]
    time_to_30_deg_roll: Annotated[float | None, Told("until one side is 30 degrees up", "s", none="never")]
    freeze_test: Annotated[tuple[Drift, ...], Told("the drift from flat")]


@dataclass(frozen=True)
class Item:
    """What one thing worn does to the diver held flat."""

    name: Annotated[str, Told("what it is")]
    kind: Annotated[str, Told("body, suit, plate, lead ...")]
    mass: Annotated[float, Told("its mass", "kg")]
    volume: Annotated[float, Told("of the water that it displaces", "l")]
    apparent_weight: Annotated[float, Told("mass less water displaced", "kg", plus="sinks")]
    arm: Annotated[float, Told("how far its centre of mass lies from the held point", "m", plus="headward")]
    moment: Annotated[float, Told("by which it turns the diver", "N m", plus="head-up")]
    couple: Annotated[float, Told("part of it from its centre of buoyancy lying off its centre of mass", "N m")]


@dataclass(frozen=True)
class Otherwise:
    """The diver held flat with one thing of the suit changed."""

    change: Annotated[str, Told("what is otherwise")]
    pitch_moment: Annotated[float, Told("then", "N m", plus="head-up")]
    pitch_stiffness: Annotated[float, Told("then", "N m/rad", plus="stable")]


@dataclass(frozen=True)
class Picture:
    """A picture that was drawn."""

    file: Annotated[str, Told("where it was written")]
    drawn: Annotated[str, Told("shaded or in flat shapes, and why")]


@dataclass(frozen=True, kw_only=True, eq=False)
class SettleAnswer:
    """All that is told of how a diver comes to rest."""

    format: Annotated[str, Told(FORMAT)] = FORMAT
    made_by: Annotated[MadeBy | None, Told("by which program and from what", left_out=True)] = None
    title: Annotated[str, Told("of the file")]
    drawn_plate: Annotated[DrawnPlate | None, Told("the plate as drawn", none="no drawing shows it")]
    water: Annotated[WaterThere, Told("the water about the diver")]
    whole: Annotated[Whole, Told("diver, gear and gas together, held flat")]
    suit: Annotated[SuitThere | None, Told("gas in the drysuit", none="no drysuit, or one known by numbers only")]
    flat: Annotated[HeldFlat, Told("the diver held flat, face down")]
    held: Annotated[tuple[HeldRest, ...], Told("rests with roll held, lowest pitch first")]
    indifferent: Annotated[bool, Told("whether nothing turns the diver in any attitude")]
    rest: Annotated[tuple[FreeRest, ...], Told("rests free to roll, lowest energy first")]
    settled: Annotated[ComesToRest | None, Told("let go from flat, as asked", none="indifferent")]
    settled_roll_free: Annotated[
        ComesToRest | None, Told("the same free to roll", none="flat does not turn over by itself")
    ]
    items: Annotated[tuple[Item, ...], Told("each thing worn; moments add up to the trimming moment")]
    sensitivity: Annotated[tuple[Otherwise, ...], Told("if the suit were otherwise")]
    estimated: Annotated[tuple[str, ...], Told("inputs that were estimated, not given")]
    notes: Annotated[tuple[str, ...], Told("sentences on saturation, balance and doubtful inputs")]
    caution: Annotated[str, Told("what this is not")] = CAUTION
    surface: Annotated[Surface | None, Told("at the surface; only with --surface", left_out=True)] = None
    uncertain: Annotated[Uncertain | None, Told("how sure it is; only with --uncertain", left_out=True)] = None
    picture: Annotated[Picture | None, Told("the picture, where one was asked for", left_out=True)] = None
