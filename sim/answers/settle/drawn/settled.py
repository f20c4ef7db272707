"""From a report to the picture of the diver at rest."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from meshes.body.topology import KIND_OF, SEGMENTS, skin_topology
from meshes.mesh import Floats, Mesh
from meshes.mesh import moved as moved_mesh
from sim.answers.settle.drawn.loose_shapes import balls_for
from sim.answers.settle.report import SettleReport
from sim.assembly.assembled import Assembled, Looks
from sim.drawing.scene import HangingScene, LooseGas, SuitGas, WingGas
from sim.person.person import FINENESS
from sim.rig import Kind, Part, Pocket, Rig
from sim.statics.field import SoftRig, field
from sim.telling.caution import told_caution
from sim.telling.language import quantity, say
from sim.telling.words import as_printed, light_or_heavy

FACE_REACH = 0.10  # m, from the middle of the face to a hood's edge (by eye)
LITRE = 1e-3


@dataclass(frozen=True, eq=False)
class GasThere:
    """Gas in one attitude: (n,) of each cell [m^3] of suit and wing, None without the pocket; net buoyancy [kg]."""

    suit: Floats | None
    wing: Floats | None
    net_buoyancy: float


def scene_of(report: SettleReport) -> HangingScene:
    """The scene at the end of the report's settling; flat for a rig that is indifferent to attitude."""
    if report.settled is None:
        return scene_at(report, np.array([0.0, 0.0, 1.0]))
    return scene_at(report, report.settled.up / np.linalg.norm(report.settled.up))


def scene_at(report: SettleReport, up: Floats, gas: GasThere | None = None) -> HangingScene:
    """The report's diver in the attitude ``up`` (3,), a unit vector in body axes; the gas at rest or as told."""
    gas = gas_there(report.soft, up) if gas is None else gas
    scene = scene_with(report.assembled, up, gas)
    return replace(
        scene,
        trimming_moment=report.flat.pitch_moment,
        caption=captions(report, gas, scene.mass),
        caution=told_caution(),
    )


def scene_with(assembled: Assembled, up: Floats, gas: GasThere) -> HangingScene:
    """A rig in the attitude ``up`` (3,) with its gas as told, without words or moment."""
    rig, looks = assembled.rig, assembled.looks
    mass, cm, cb = centres(rig, gas)
    pitch, roll = float(np.arcsin(np.clip(up[0], -1.0, 1.0))), float(np.arctan2(up[1], up[2]))
    return HangingScene(
        parts=rig.parts if looks is not None else balls_for(rig.parts),
        skin=None if looks is None else looks.skin,
        worn=() if looks is None else worn_on(looks, rig.parts),
        hands=None if looks is None else hands_of(looks, rig.parts),
        up=up, pitch=pitch, roll=roll, cm=cm, cb=cb, mass=mass, net_buoyancy=gas.net_buoyancy,
        trimming_moment=0.0, title=assembled.title[:1].upper() + assembled.title[1:],
        suit=_suit(looks, gas.suit), wing=_wing(looks, rig.wing, gas.wing),
        loose_gas=_loose(rig, gas) if looks is None else None,
    )  # fmt: skip


def gas_there(soft: SoftRig, up: Floats) -> GasThere:
    """Gas at rest in the attitude ``up`` (3,)."""
    values = field(soft, up[None])
    suit, wing = (None if state is None else state.volume[0] for state in (values.suit, values.wing))
    return GasThere(suit, wing, float(values.net_buoyancy[0]))


def centres(rig: Rig, gas: GasThere) -> tuple[float, Floats, Floats]:
    """Mass [kg], CM (3,) and CB (3,) [m] of the whole with its gas, in body axes."""
    mass, first = rig.whole.mass, rig.whole.mass * rig.whole.cm
    volume, displaced = rig.whole.volume, rig.whole.volume * rig.whole.cb
    for pocket, held in ((rig.suit, gas.suit), (rig.wing, gas.wing)):
        if pocket is not None and held is not None:
            mass += pocket.gas_density * float(held.sum())
            first = first + pocket.gas_density * (held @ pocket.cells)
            volume += float(held.sum())
            displaced = displaced + held @ pocket.cells
    return mass, np.asarray(first / mass), np.asarray(displaced / volume)


def captions(report: SettleReport, gas: GasThere, mass: float) -> tuple[str, ...]:
    """Small print: gas, balance of weight, water."""
    water, said = report.assembled.rig.water, []
    if gas.wing is not None:
        said.append(say("wing {size}", size=quantity(gas.wing.sum() / LITRE, "l", 1)))
    if gas.suit is not None:
        said.append(say("suit {size}", size=quantity(gas.suit.sum() / LITRE, "l", 1)))
    said += [say("mass {size}", size=quantity(mass, "kg", 1)), light_or_heavy(gas.net_buoyancy)]
    said.append(say("water {size}", size=as_printed(quantity(water.density, "kg/m^3", 0))))
    return (*said, say("{size} absolute", size=quantity(water.pressure / 1e5, "bar", 2)))


def worn_on(looks: Looks, parts: tuple[Part, ...]) -> tuple[tuple[Kind, NDArray[np.bool_]], ...]:
    """What covers the skin of a posed body: suit, boots, gloves, and a hood that leaves the face free.

    Nothing for a mesh that is not a posed body's skin.
    """
    topology, skin = skin_topology(FINENESS), looks.skin
    if len(skin.faces) != len(topology.faces):
        return ()
    segments = np.array([KIND_OF[s] for s in SEGMENTS])[topology.segment]
    kinds = {p.kind for p in parts}
    head, hands, feet = (segments == kind for kind in ("head", "hand", "foot"))
    covers: tuple[tuple[Kind, NDArray[np.bool_]], ...] = (
        ("suit", ~(head | hands)),
        ("wetsuit", ~(head | hands | feet)),
        ("boots", feet),
        ("gloves", hands),
        ("hood", head),
    )
    found: list[tuple[Kind, NDArray[np.bool_]]] = []
    for kind, faces in covers:
        if kind in kinds:
            there = np.zeros(len(skin.vertices), dtype=bool)
            there[skin.faces[faces]] = True
            found.append((kind, there & ~_face(looks, there, parts) if kind == "hood" else there))
    if "gloves" not in kinds:
        bare = np.zeros(len(skin.vertices), dtype=bool)
        bare[skin.faces[hands]] = True
        found.append(("body", bare))
    return tuple(found)


def hands_of(looks: Looks, parts: tuple[Part, ...]) -> Mesh | None:
    """Bare hands; None where gloves are worn."""
    return None if any(p.kind == "gloves" for p in parts) else looks.hands


def _face(looks: Looks, head: NDArray[np.bool_], parts: tuple[Part, ...]) -> NDArray[np.bool_]:
    """(v,) the part of the head that a hood leaves free: about the mask, or where it would be, toward the mouth."""
    mask = next((p.solid.mesh for p in parts if p.kind == "mask" and p.solid.mesh is not None), None)
    skin, ahead = looks.skin, looks.mouth if mask is None else mask.vertices.mean(axis=0)
    top = skin.vertices[head]
    crown = top[top[:, 0].argmax()]
    middle = top[np.linalg.norm(top - crown, axis=1) < 2.0 * FACE_REACH].mean(axis=0)
    front = ahead - middle
    front /= np.linalg.norm(front)
    chin = middle + FACE_REACH * front
    return np.asarray(np.linalg.norm(skin.vertices - chin, axis=1) < FACE_REACH)


def _suit(looks: Looks | None, gas: Floats | None) -> SuitGas | None:
    if looks is None or looks.suit is None or gas is None:
        return None
    patches = looks.suit
    return SuitGas(
        patches.centre, patches.normal, patches.area, gas / patches.area,
        np.zeros(len(gas), dtype=bool),
    )  # fmt: skip


def _wing(looks: Looks | None, pocket: Pocket | None, gas: Floats | None) -> WingGas | None:
    if looks is None or looks.wing is None or pocket is None or gas is None:
        return None
    fill = np.clip(gas / np.maximum(pocket.law.most, 1e-12), 0.0, 1.0)
    where = looks.wing.where
    return WingGas(moved_mesh(looks.wing.bag.bag_mesh(fill), where.rotation, where.origin), pocket.cells, gas)


def _loose(rig: Rig, gas: GasThere) -> LooseGas | None:
    pairs = [(p.cells, held) for p, held in ((rig.suit, gas.suit), (rig.wing, gas.wing)) if p and held is not None]
    if not pairs:
        return None
    return LooseGas(np.concatenate([c for c, _ in pairs]), np.concatenate([v for _, v in pairs]))
