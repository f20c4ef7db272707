"""The diver held flat and motionless: what turns them, how stiff that attitude is, and what each item does."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.rig import Kind, Pocket
from sim.statics.field import Field, SoftRig, field
from sim.statics.gas import BagState

FLAT: Final = np.array([[0.0, 0.0, 1.0]])


@dataclass(frozen=True, eq=False)
class FlatAnswer:
    """Flat (pitch 0, roll 0, face down), moments about the held point.

    pitch_moment : [N m], plus turns head-up;  roll_moment : [N m], plus lifts the left side
    pitch_stiffness, roll_stiffness : [N m/rad], wing volume frozen, plus is stable
    pitch_gas, roll_gas : what the moving gas takes off those two stiffnesses [N m/rad], >= 0
    suit_pitch_gas : the suit's part of ``pitch_gas``
    mass : [kg] and volume : [m^3] of the whole, pocket gas included;  cm, cb : (3,) [m] of the whole
    """

    pitch_moment: float
    roll_moment: float
    pitch_stiffness: float
    roll_stiffness: float
    pitch_gas: float
    roll_gas: float
    suit_pitch_gas: float
    mass: float
    volume: float
    cm: Floats
    cb: Floats
    suit_gas: float
    wing_gas: float
    net_buoyancy: float
    field: Field


@dataclass(frozen=True, eq=False)
class ItemMoment:
    """What one item does to the diver held flat.

    mass [kg], volume displaced [m^3], apparent_weight [kg] = mass - rho V, plus sinks
    arm : how far its CM lies headward of the held point [m];  moment : [N m], plus turns head-up
    couple : the part of ``moment`` that comes from its CB lying off its CM [N m];
        moment = -g apparent_weight arm + couple
    """

    name: str
    kind: Kind
    mass: float
    volume: float
    apparent_weight: float
    arm: float
    moment: float
    couple: float


def flat_answer(soft: SoftRig) -> FlatAnswer:
    """Moments and stiffnesses of a rig held flat."""
    rig = soft.rig
    values = field(soft, FLAT)
    d, bend = values.d[0], values.bend[0]
    gas = [(p, s) for p, s in ((rig.suit, values.suit), (rig.wing, values.wing)) if p and s]
    held = [(p.gas_density * s.volume[0], s.volume[0], p.cells) for p, s in gas]
    whole = rig.whole
    mass = whole.mass + sum(float(m.sum()) for m, _, _ in held)
    volume = whole.volume + sum(float(v.sum()) for _, v, _ in held)
    first = whole.mass * whole.cm + sum((m @ at for m, _, at in held), np.zeros(3))
    displaced = whole.volume * whole.cb + sum((v @ at for _, v, at in held), np.zeros(3))
    return FlatAnswer(
        pitch_moment=float(-d[0]),
        roll_moment=float(-d[1]),
        pitch_stiffness=float(-d[2] + bend[0, 0]),
        roll_stiffness=float(-d[2] + bend[1, 1]),
        pitch_gas=float(-bend[0, 0]),
        roll_gas=float(-bend[1, 1]),
        suit_pitch_gas=float(-values.suit_bend[0, 0, 0]),
        mass=float(mass),
        volume=float(volume),
        cm=first / mass if mass > 0.0 else whole.cm,
        cb=displaced / volume if volume > 0.0 else whole.cb,
        suit_gas=float(values.suit_gas[0]),
        wing_gas=float(values.wing_gas[0]),
        net_buoyancy=float(values.net_buoyancy[0]),
        field=values,
    )


def moment_budget(soft: SoftRig, answer: FlatAnswer) -> tuple[ItemMoment, ...]:
    """Every item's share, pocket gas included: masses add up to the whole's, moments to the pitch moment."""
    rig = soft.rig
    items = [_item(soft, p.name, p.kind, (p.solid.mass, p.solid.cm), (p.solid.volume, p.solid.cb)) for p in rig.parts]
    pockets = ((rig.suit, answer.field.suit, "suit gas"), (rig.wing, answer.field.wing, "wing gas"))
    items += [_gas_item(soft, p, s, kind) for p, s, kind in pockets if p is not None and s is not None]  # type: ignore[arg-type]
    return tuple(items)


def _gas_item(soft: SoftRig, pocket: Pocket, state: BagState, kind: Kind) -> ItemMoment:
    volume = float(state.volume[0].sum())
    centre = state.volume[0] @ pocket.cells / volume if volume > 0.0 else pocket.cells.mean(axis=0)
    return _item(soft, f"gas in {pocket.name}", kind, (pocket.gas_density * volume, centre), (volume, centre))


def _item(
    soft: SoftRig, name: str, kind: Kind, weight: tuple[float, Floats], displaced: tuple[float, Floats]
) -> ItemMoment:
    """Item from (mass [kg], CM) and (volume [m^3], CB), centres (3,) in body axes."""
    (mass, cm), (volume, cb) = weight, displaced
    water = soft.rig.water
    apparent = mass - water.density * volume
    arm = float(cm[0] - soft.rig.held[0])
    couple = water.gravity * water.density * volume * float(cb[0] - cm[0])
    return ItemMoment(name, kind, mass, volume, apparent, arm, -water.gravity * apparent * arm + couple, couple)
