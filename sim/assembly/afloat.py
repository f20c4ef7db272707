"""An assembled diver at the surface, as a floating body: the wing blown up, the suit's gas as it is there.

What is close and what is not:

- The body's segments stay where they are but for millimetres, and displace up to a tenth more or less than they
  enclose, so that together they are the body of the rig (``body_hulls``). Gear of over 2 litres keeps its own mesh,
  moved so that its centre is its CB, and displaces its own volume in proportion to what of the mesh is under water.
  Wholly under water the diver is therefore the rig of the statics.
- Smaller gear goes under with its surface, piece by piece; cloth and foam spread over the skin (suit, undergarment,
  wetsuit) with the skin of trunk, arms and legs.
- A wing blown up to its capacity is a rigid bag; with a stated volume its gas moves between its cells, as does the
  suit's, each cell feeling the water that stands above it, and the air where none does.
- The water that a hood or a boot carries up with it is left out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from meshes.mesh import Floats, Mesh, joined, moved
from meshes.solid import combined, point_mass
from sim.assembly.assembled import Assembled, WingLooks
from sim.assembly.body_hulls import body_hulls
from sim.floating.body import FloatingBody, Hull, SoftGas, Specks, floating_body, hull_of
from sim.rig import Part, Pocket, Rig, rig_of
from sim.statics.gas import bag_of

SPREAD_KINDS: Final = ("suit", "wetsuit")
BARE: Final = "head and neck"  # the body part that suits leave bare
BULKY: Final = 2e-3  # m^3, from which on gear is clipped as the shape it is
PIECE: Final = 0.04  # m, size of the pieces that smaller gear, cloth and foam go under in
SUIT_CELL: Final = 0.05  # m, radius of a patch of suit, which is about 10 cm across
WING_CELL: Final = 0.06  # m, radius of a wing's cell, whose tube is about 12 cm thick


@dataclass(frozen=True, eq=False)
class DiverAfloat:
    """A floating diver, and which hull is which item.

    names, kinds : of the item each hull of ``body`` belongs to, in order;  mouth : (3,) [m] body axes
    wing_gas, suit_gas : [m^3] at the surface, None without;  wing_full : whether the wing is blown up to its capacity
    """

    body: FloatingBody
    names: tuple[str, ...]
    kinds: tuple[str, ...]
    mouth: Floats
    wing_gas: float | None
    suit_gas: float | None
    wing_full: bool


def diver_afloat(assembled: Assembled, depth: float) -> DiverAfloat:
    """The diver of a rig assembled ``depth`` [m] under water, brought up to the surface.

    The wing holds what the rig says, or all it can where the rig leaves that open; the suit keeps its amount of gas.
    Raises ValueError for a rig known by numbers only, which has no shape.
    """
    looks = assembled.looks
    if looks is None:
        raise ValueError("a rig known by numbers only has no shape to float")
    rig = _at_surface(assembled.rig, depth)
    body_parts = combined([p.solid for p in rig.parts if p.kind == "body"])
    gear = [p for p in rig.parts if p.kind != "body"]
    bulky = [p for p in gear if p.solid.mesh is not None and p.solid.volume > BULKY]
    small = [p for p in gear if p not in bulky and p.solid.volume > 0.0]
    hulls = list(body_hulls([m for _, m in looks.segments], body_parts.volume, body_parts.cb))
    hulls += [hull_of(p.solid.mesh, p.solid.volume, p.solid.cb) for p in bulky if p.solid.mesh is not None]
    names = [*(name for name, _ in looks.segments), *(p.name for p in bulky)]
    kinds = ["body"] * len(looks.segments) + [str(p.kind) for p in bulky]
    gas = []
    if rig.suit is not None and rig.suit.gas:
        gas.append(_soft_gas(rig.suit, rig, SUIT_CELL))
    full, parts = _is_full(rig.wing), list(rig.parts)
    if rig.wing is not None and looks.wing is not None and full:
        hulls.append(_full_bag(looks.wing, rig.wing))
        names, kinds = [*names, "gas in wing"], [*kinds, "wing gas"]
        parts = [*rig.parts, _gas_part(rig.wing)]
    elif rig.wing is not None and rig.wing.gas:
        gas.append(_soft_gas(rig.wing, rig, WING_CELL))
    water, whole = rig.water, rig_of(parts, rig.water).whole
    body = floating_body(
        hulls,
        whole.mass,
        whole.cm,
        density=water.density,
        gravity=water.gravity,
        specks=[_in_pieces(small, rig.parts)] if small else [],
        gas=gas,
    )
    return DiverAfloat(
        body=body,
        names=tuple(names),
        kinds=tuple(kinds),
        mouth=looks.mouth,
        wing_gas=_wing_gas(rig.wing),
        suit_gas=None if rig.suit is None else rig.suit.gas,
        wing_full=full,
    )


def _at_surface(rig: Rig, depth: float) -> Rig:
    """The rig with the pressure of the air above it; its suit's gas spreads as p V = const."""
    air = rig.water.pressure - rig.water.density * rig.water.gravity * depth
    suit = rig.suit
    if suit is not None and suit.gas is not None:
        suit = replace(suit, gas=suit.gas * rig.water.pressure / air)
    return replace(rig, suit=suit, water=replace(rig.water, pressure=air))


def _is_full(wing: Pocket | None) -> bool:
    return wing is not None and (wing.gas is None or wing.gas >= float(wing.law.most.sum()))


def _wing_gas(wing: Pocket | None) -> float | None:
    if wing is None:
        return None
    most = float(wing.law.most.sum())
    return most if wing.gas is None else min(wing.gas, most)


def _full_bag(wing: WingLooks, pocket: Pocket) -> Hull:
    """The taut bag as a rigid hull."""
    taut = wing.bag.bag_mesh(np.ones(len(wing.bag.capacity)))
    placed = moved(taut, wing.where.rotation, wing.where.origin)
    room = pocket.law.most
    return hull_of(placed, float(room.sum()), room @ pocket.cells / room.sum())


def _gas_part(wing: Pocket) -> Part:
    """The weight of the gas in the taut bag."""
    room = wing.law.most
    return Part(
        "gas in wing", "wing gas", point_mass(wing.gas_density * float(room.sum()), room @ wing.cells / room.sum())
    )


def _soft_gas(pocket: Pocket, rig: Rig, radius: float) -> SoftGas:
    total = None if pocket.name == "suit" else pocket.gas
    return SoftGas(pocket.cells, bag_of(pocket, rig), total, rig.water.pressure, radius)


def _in_pieces(small: Sequence[Part], parts: Sequence[Part]) -> Specks:
    """Small gear by its own surface, cloth and foam by the skin, anything without a shape in one place."""
    worn = [p.solid.mesh for p in parts if p.kind == "body" and p.name != BARE and p.solid.mesh is not None]
    skin = _pieces(joined(worn)) if worn else None
    at, volume = [], []
    for part in small:
        own = part.solid.mesh
        if own is not None:
            where, share = _pieces(own)
        elif part.kind in SPREAD_KINDS and skin is not None:
            where, share = skin
        else:
            where, share = part.solid.cb[None], np.ones(1)
        at.append(where + (part.solid.cb - share @ where))
        volume.append(part.solid.volume * share)
    return Specks(np.concatenate(at), np.concatenate(volume), 0.5 * PIECE)


def _pieces(mesh: Mesh) -> tuple[Floats, Floats]:
    """Middles (n, 3) [m] of the surface within each box of a grid of ``PIECE``, and their shares (n,) of its area."""
    corners = mesh.vertices[mesh.faces]
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    area, middle = 0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1), corners.mean(axis=1)
    box = np.floor((middle - middle.min(axis=0)) / PIECE).astype(np.int64)
    label = np.unique(box @ [1, 1000, 1000000], return_inverse=True)[1]
    total = np.bincount(label, area)
    sums = np.stack([np.bincount(label, area * column) for column in middle.T], axis=1)
    kept = total > 0.0
    return sums[kept] / total[kept, None], total[kept] / area.sum()
