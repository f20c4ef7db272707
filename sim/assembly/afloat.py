"""An assembled diver at the surface, as limbs that float together: the wing blown up, the suit's gas as it is there.

What is close and what is not:

- The body's segments displace what the published tables say, about the tables' centres: their shapes stay where they
  are but for centimetres, and displace up to a third more or less than they enclose (``body_hulls``). Gear of over 2
  litres keeps its own mesh, moved so that its centre is its CB, and displaces its own volume in proportion to what of
  the mesh is under water. Wholly under water the diver is therefore the rig of the statics, in any pose.
- Smaller gear goes under with its surface, piece by piece; cloth and foam spread over the skin (suit, undergarment,
  wetsuit) with the patches of the skin.
- What a limb wears goes with it (``limbs``). Limbs are rigid and do not stop at each other or at the gear, but for
  the ranges of their joints; the trunk does not bend, and the shoulder does not rise with the arm.
- A wing blown up to its capacity is a rigid bag; with a stated volume its gas moves between its cells, as does the
  suit's, each cell feeling the water that stands above it, and the air where none does.
- The water that a hood or a boot carries up with it is left out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from math import radians
from typing import Final, TypeVar

import numpy as np

from meshes.mesh import Floats, Mesh, moved
from meshes.solid import combined, point_mass
from sim.assembly.assembled import Assembled
from sim.assembly.body_hulls import body_hulls
from sim.assembly.body_items import SEGMENT_GROUPS
from sim.assembly.limbs import LINK_OF, LINKS, Borne, borne, link_of_skin, straightened
from sim.assembly.limp_joints import limp_joints
from sim.assembly.suit_gas import SuitSkin
from sim.assembly.worn_wing import WingLooks
from sim.floating.articulated import Articulated, LinkedGas, articulated, carried_hull
from sim.floating.body import FloatingBody, Hull, SoftGas, Specks, floating_body, hull_of
from sim.person.pose import symmetric_pose
from sim.person.posed_body import PosedBody
from sim.person.tissue import kind_of
from sim.rig import Part, Pocket, Rig, SuitPocket, Water
from sim.statics.gas import bag_of

SomePocket = TypeVar("SomePocket", bound=Pocket)
SPREAD_KINDS: Final = ("suit", "wetsuit")
BULKY: Final = 2e-3  # m^3, from which on gear is clipped as the shape it is
PIECE: Final = 0.04  # m, size of the pieces that smaller gear goes under in
SUIT_CELL: Final = 0.05  # m, radius of a patch of skin, which is about 10 cm across
WING_CELL: Final = 0.06  # m, radius of a wing's cell, whose tube is about 12 cm thick
WING_GAS: Final = "gas in wing"
ITEM_OF: Final = {segment: item for item, segments in SEGMENT_GROUPS for segment in segments}
PRONATED: Final = {"pronation": radians(20.0)}  # a hanging hand
HANGING: Final = symmetric_pose(
    shoulder_abduction=radians(12.0), hip_abduction=radians(6.0), **PRONATED
)  # limbs nearly straight, clear of each other
SWUNG: Final = symmetric_pose(
    radians(30.0), shoulder_flexion=radians(40.0), shoulder_abduction=radians(50.0), elbow_flexion=radians(50.0),
    hip_flexion=radians(30.0), hip_abduction=radians(25.0), knee_flexion=radians(50.0),
    ankle_plantarflexion=radians(30.0), **PRONATED,
)  # every joint turned, so that what follows which limb shows  # fmt: skip


@dataclass(frozen=True, eq=False)
class Dressed:
    """A rig put together on a body in some pose."""

    assembled: Assembled
    body: PosedBody


@dataclass(frozen=True, eq=False)
class DiverAfloat:
    """A floating diver with limp limbs.

    body : links as ``limbs.LINKS``, joints as ``limp_joints.limp_joints``
    names : of the item each hull belongs to, in the order of ``articulated.at_angles``
    mouth : (3,) [m], on the head's link, root axes, all joints straight
    chest : (3,) [m], over the breastbone;  neck : how far the head is bent forward (below 0) and lifted [rad]
    wing_gas, suit_gas : [m^3] at the surface, None without;  wing_full : whether the wing is blown up to its capacity
    """

    body: Articulated
    names: tuple[str, ...]
    mouth: Floats
    chest: Floats
    neck: tuple[float, float]
    wing_gas: float | None
    suit_gas: float | None
    wing_full: bool


@dataclass(eq=False)
class _Load:
    """What one link carries so far: masses [kg] with their places, hulls with their items' names, specks."""

    masses: list[tuple[float, Floats]] = field(default_factory=list)
    hulls: list[tuple[str, Hull]] = field(default_factory=list)
    specks: list[Specks] = field(default_factory=list)


def diver_afloat(
    told: Assembled, hanging: Dressed, swung: Dressed, depth: float, neck: tuple[float, float]
) -> DiverAfloat:
    """The diver of a rig assembled ``depth`` [m] under water, brought up to the surface.

    told : the rig in the pose of its file, whose suit's amount of gas is kept;  hanging, swung : the same rig in the
    poses HANGING and SWUNG;  neck : how far the head is bent forward (below 0) and lifted [rad]
    The wing holds what the rig says, or all it can where the rig leaves that open.
    Raises ValueError for a rig known by numbers only, which has no shape.
    """
    looks = hanging.assembled.looks
    if looks is None:
        raise ValueError("a rig known by numbers only has no shape to float")
    rig, suit_gas = at_surface(hanging.assembled.rig, depth), _suit_gas(told, depth)
    loads = [_Load() for _ in LINKS]
    _add_body(loads, hanging.body)
    _add_gear(loads, rig.parts, swung.assembled.rig.parts, hanging.body, swung.body)
    gas = []
    if rig.suit is not None and suit_gas:
        gas.append(_suit_over_limbs(replace(rig.suit, gas=suit_gas), rig, looks.suit, hanging.body))
    full = _is_full(rig.wing)
    if rig.wing is not None and looks.wing is not None and full:
        _add_full_wing(loads[0], looks.wing, rig.wing)
    elif rig.wing is not None and rig.wing.gas:
        own = _soft_gas(rig.wing, rig, WING_CELL)
        gas.append(LinkedGas(own, np.zeros(len(own.cells), dtype=int)))
    links = [_link(number, load, hanging.body, rig.water) for number, load in enumerate(loads)]
    return DiverAfloat(
        body=articulated(links, limp_joints(hanging.body.person.skeleton, neck), gas),
        names=tuple(name for load in loads for name, _ in load.hulls),
        mouth=straightened(hanging.body.placements, LINK_OF["head"], looks.mouth),
        chest=hanging.body.landmarks["sternum"],
        neck=neck,
        wing_gas=_wing_gas(rig.wing),
        suit_gas=suit_gas,
        wing_full=full,
    )


def at_surface(rig: Rig, depth: float) -> Rig:
    """The rig with the pressure of the air above it: the suit's gas spreads as p V = const, all gas gets thinner."""
    air = rig.water.pressure - rig.water.density * rig.water.gravity * depth
    thinner = air / rig.water.pressure
    suit, wing = (rig.suit and _thinner(rig.suit, thinner)), (rig.wing and _thinner(rig.wing, thinner))
    if suit is not None and suit.gas is not None:
        suit = replace(suit, gas=suit.gas / thinner)
    return replace(rig, suit=suit, wing=wing, water=replace(rig.water, pressure=air))


def _thinner(pocket: SomePocket, by: float) -> SomePocket:
    return replace(pocket, gas_density=by * pocket.gas_density)


def _suit_gas(told: Assembled, depth: float) -> float | None:
    suit = at_surface(told.rig, depth).suit
    return None if suit is None else suit.gas


def _add_body(loads: list[_Load], body: PosedBody) -> None:
    """Each link's tissue, as the tables have it, and the lungs in the trunk."""
    solids = dict(body.segments)
    for load, names in zip(loads, LINKS, strict=True):
        own = [solids[name] for name in names]
        whole = combined([*own, body.lungs]) if "upper trunk" in names else combined(own)
        meshes = [s.mesh for s in own if s.mesh is not None]
        load.masses.append((whole.mass, whole.cm))
        load.hulls += zip([ITEM_OF[name] for name in names], body_hulls(meshes, whole.volume, whole.cb), strict=True)


def _add_gear(
    loads: list[_Load], parts: Sequence[Part], others: Sequence[Part], body: PosedBody, other: PosedBody
) -> None:
    for part, moved_part in zip(parts, others, strict=True):
        if part.kind == "body":
            continue
        if part.kind in SPREAD_KINDS and part.solid.mesh is None:
            _add_spread(loads, part, body)
            continue
        shared = borne(part, moved_part, body.placements, other.placements)
        if part.solid.mesh is not None and part.solid.volume > BULKY:
            load = loads[max(shared, key=lambda b: b.share).link]
            load.masses.append((part.solid.mass, part.solid.cm))
            load.hulls.append((part.name, hull_of(part.solid.mesh, part.solid.volume, part.solid.cb)))
            continue
        for piece in shared:
            _add_piece(loads[piece.link], part, piece)


def _add_piece(load: _Load, part: Part, piece: Borne) -> None:
    """One limb's share of a small item, which goes under with its surface; in one place if it has no shape."""
    solid = part.solid
    load.masses.append((solid.mass * piece.share, piece.centre))
    if solid.volume > 0.0:
        at, share = (piece.centre[None], np.ones(1)) if piece.mesh is None else _pieces(piece.mesh)
        at = at + (piece.centre + (solid.cb - solid.cm) - share @ at)
        load.specks.append(Specks(at, solid.volume * piece.share * share, 0.5 * PIECE))


def _add_spread(loads: list[_Load], part: Part, body: PosedBody) -> None:
    """Cloth or foam, spread evenly over the skin that suits cover."""
    covered = np.array([LINK_OF[s] != LINK_OF["head"] and kind_of(s) != "hand" for s in body.skin.segment])
    at, area = body.skin.centre[covered], body.skin.area[covered]
    link, share = link_of_skin(body.skin.segment)[covered], area / area.sum()
    for number in np.unique(link):
        here = link == number
        part_of = float(share[here].sum())
        middle = share[here] @ at[here] / part_of - share @ at
        loads[number].masses.append((part.solid.mass * part_of, part.solid.cm + middle))
        places = at[here] + (part.solid.cb - share @ at)
        loads[number].specks.append(Specks(places, part.solid.volume * share[here], SUIT_CELL))


def _add_full_wing(load: _Load, wing: WingLooks, pocket: Pocket) -> None:
    """The taut bag as a rigid hull, and the weight of the gas in it."""
    room = pocket.law.most
    total, middle = float(room.sum()), room @ pocket.cells / room.sum()
    taut = moved(wing.bag.bag_mesh(np.ones(len(room))), wing.where.rotation, wing.where.origin)
    load.hulls.append((WING_GAS, hull_of(taut, total, middle)))
    inside = point_mass(pocket.gas_density * total, middle)
    load.masses.append((inside.mass, inside.cm))


def _link(number: int, load: _Load, body: PosedBody, water: Water) -> FloatingBody:
    """What a link carries, brought to where it is with all joints straight."""
    p = body.placements[LINKS[number][0]]
    turn, shift = p.rotation.T, p.pivot - p.rotation.T @ p.at
    mass = sum(m for m, _ in load.masses)
    cm = np.sum([m * at for m, at in load.masses], axis=0) / mass
    alike = {s.radius: [k for k in load.specks if k.radius == s.radius] for s in load.specks}
    return floating_body(
        [carried_hull(hull, turn, shift) for _, hull in load.hulls],
        mass,
        turn @ cm + shift,
        density=water.density,
        gravity=water.gravity,
        specks=[
            Specks(np.concatenate([k.at for k in same]) @ turn.T + shift, np.concatenate([k.volume for k in same]), r)
            for r, same in alike.items()
        ],
    )


def _suit_over_limbs(suit: Pocket, rig: Rig, worn: SuitSkin | None, body: PosedBody) -> LinkedGas:
    """The suit's gas, each cell on the link whose patch of skin it lies over."""
    if worn is None:
        raise ValueError("a suit with gas needs the skin it is worn on")
    place = {tuple(c): number for number, c in enumerate(body.skin.centre.tolist())}
    under = [place[tuple(c)] for c in worn.centre.tolist()]
    link = link_of_skin(body.skin.segment)[under]
    cells = np.array([straightened(body.placements, n, c) for n, c in zip(link.tolist(), suit.cells, strict=True)])
    return LinkedGas(replace(_soft_gas(suit, rig, SUIT_CELL), cells=cells), link)


def _is_full(wing: Pocket | None) -> bool:
    return wing is not None and (wing.gas is None or wing.gas >= float(wing.law.most.sum()))


def _wing_gas(wing: Pocket | None) -> float | None:
    if wing is None:
        return None
    most = float(wing.law.most.sum())
    return most if wing.gas is None else min(wing.gas, most)


def _soft_gas(pocket: Pocket, rig: Rig, radius: float) -> SoftGas:
    total = None if isinstance(pocket, SuitPocket) else pocket.gas
    return SoftGas(pocket.cells, bag_of(pocket, rig), total, rig.water.pressure, radius)


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
