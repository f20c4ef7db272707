"""An overfull suit lets gas out, as a real one does through its valve."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.rig import Rig, SuitPocket, Water
from sim.statics.gas import at_rest, bag_of

BRIM: Final = 0.999  # of the room: a bag without a valve keeps this much, so that its gas can still move
TRACE: Final = 1e-9  # m^3 (0.001 ml), in place of none where the cells stay open


def vented_at_valve(rig: Rig, at: Floats, opening: float) -> tuple[Rig, float]:
    """Rig after the suit's valve has done its work with the diver flat, and the volume let out [m^3], >= 0.

    at : (3,) the valve [m], body axes;  opening : gas over water pressure [Pa] at which it lets gas go
    Volumes are at the held point's pressure. The valve is a plain threshold: open above ``opening``, shut below.
    """
    suit = rig.suit
    if suit is None or suit.gas is None or not suit.gas > 0.0:
        return rig, 0.0
    bag = bag_of(suit, rig)
    flat = np.array([[0.0, 0.0, 1.0]])
    height = bag.weight * float(np.asarray(at)[2] - rig.held[2])
    if at_rest(bag, flat).pressure[0] + height <= opening:
        return rig, 0.0
    kept = left_after_venting(suit, rig, at, opening, flat[0])
    return replace(rig, suit=replace(suit, gas=kept)), suit.gas - kept


def left_after_venting(suit: SuitPocket, rig: Rig, at: Floats, opening: float, up: Floats) -> float:
    """Gas [m^3] at the held point's pressure that a valve has left in a suit that was full.

    at : (3,) the valve [m], body axes;  opening : gas over water pressure [Pa] at which it lets gas go
    up : (3,) world's up in body axes in the posture of the venting, in which all gas has time to get to the valve
    """
    bag = bag_of(suit, rig)
    pressure = opening - bag.weight * float((np.asarray(at) - rig.held) @ up)
    difference = pressure + bag.weight * (bag.levers @ up)
    return (1.0 + bag.compliance * pressure) * float(suit.law.volume(difference[None, :]).sum())


def unsqueezed_gas(suit: SuitPocket, rig: Rig) -> float:
    """Gas [m^3] at the held point's pressure with which, held flat, the suit's highest cell is just not squeezed."""
    bag = bag_of(suit, rig)
    lift = bag.weight * bag.levers[:, 2]
    pressure = -float(lift.max())
    return (1.0 + bag.compliance * pressure) * float(suit.law.volume((lift + pressure)[None, :]).sum())


def vented_to_room(suit: SuitPocket) -> tuple[SuitPocket, float]:
    """Suit that holds no more gas than its cells have room for at the held point's pressure, and what went [m^3].

    For a suit told by its cells alone, with no valve to ask. A suit that is taut cannot move gas and would only
    be pumped up.
    """
    room = float(suit.law.most.sum())
    if suit.gas is None or not suit.gas >= room:
        return suit, 0.0
    return replace(suit, gas=BRIM * room), suit.gas - BRIM * room


def with_trace(suit: SuitPocket, water: Water) -> SuitPocket:
    """Suit that is told to hold less than a trace of gas, with a trace where its cells stay open without any.

    What all the water's pressure cannot press flat, fibres with a tenth of their loft or so (van Wyk's law) or a
    least volume, displaces water whether there is gas between or not: no gas is the limit of little gas.
    """
    if suit.gas is None or not suit.gas < TRACE:
        return suit
    vacuum = np.full((1, len(suit.cells)), -water.pressure)
    return replace(suit, gas=TRACE) if float(suit.law.volume(vacuum).sum()) > TRACE else suit
