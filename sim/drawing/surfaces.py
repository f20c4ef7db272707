"""The scene as a list of coloured surfaces, ready for either way of drawing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Mesh, joined, mesh_of
from sim.drawing.gas_layer import gas_layer, suit_on, vertex_normals, wing_fill_on
from sim.drawing.palette import (
    GAS_THICK,
    GAS_THIN,
    SKIN,
    WING_CLOTH,
    Finish,
    finish_of,
    rgb,
)
from sim.drawing.scene import HangingScene
from sim.rig import Kind, Part

Bytes = NDArray[np.uint8]

# m by which skin is drawn in under what has a shape of its own; "body" where hands have
UNDER: Final[dict[Kind, float]] = {"body": 0.016, "hood": 0.012, "gloves": 0.007, "boots": 0.012}


@dataclass(frozen=True, eq=False)
class Surface:
    """One thing to draw.

    mesh : body axes [m];  colours : (n, 4) of the vertices, red green blue opacity, 0..255
    shine : share of mirror-like light 0..1;  layer : True for gas, drawn see-through over what is solid
    gear : True for what is worn over the suit and shows through its gas the more
    faceted : True for what has level faces and sharp edges, which are not to be rounded off in flat shapes
    kind : of the part that it is drawn for
    """

    name: str
    mesh: Mesh
    colours: Bytes
    shine: float
    layer: bool = False
    gear: bool = False
    faceted: bool = False
    kind: Kind = "other"


@dataclass(frozen=True, eq=False)
class DressedScene:
    """Surfaces of a scene and the thickness [m] that the deepest gas colour stands for (0: no suit gas)."""

    surfaces: tuple[Surface, ...]
    deepest: float


def dressed(scene: HangingScene) -> DressedScene:
    """Colour every surface of the scene; the gas colour scale ends at a round number of millimetres."""
    return dressed_all((scene,))[0]


def deepest_of(scenes: Sequence[HangingScene]) -> float:
    """Thickness [m] of the suit's gas that the deepest colour stands for, so that one scale serves all scenes."""
    return round_depth(max(0.0 if s.suit is None else float(s.suit.thickness.max(initial=0.0)) for s in scenes))


def dressed_all(scenes: Sequence[HangingScene], deepest: float | None = None) -> tuple[DressedScene, ...]:
    """One diver in several attitudes, all gas in one scale of colours; what does not change is the same object."""
    deepest = deepest_of(scenes) if deepest is None else deepest
    first = _dressed(scenes[0], deepest)
    again = [_dressed(s, deepest, first) for s in scenes[1:]]
    return tuple(DressedScene(surfaces, deepest) for surfaces in (first, *again))


def _dressed(scene: HangingScene, deepest: float, like: tuple[Surface, ...] = ()) -> tuple[Surface, ...]:
    """Surfaces of a scene, with all but the gas taken from ``like``, if given."""
    if like:
        gas = {s.kind: s for s in _gas_of(scene, deepest)}
        return tuple(gas.get(s.kind, s) for s in like)
    hidden = _drawn_otherwise(scene)
    surfaces = [_of_part(p, p.solid.mesh) for p in scene.parts if p.solid.mesh is not None and p.kind not in hidden]
    if scene.skin is not None:
        surfaces.append(_body(scene.skin, scene))
    surfaces += _gas_of(scene, deepest)
    if not surfaces:
        raise ValueError("nothing in the scene has a shape to draw")
    return tuple(surfaces)


def _of_part(part: Part, mesh: Mesh) -> Surface:
    finish = finish_of(part.kind)
    return Surface(part.name, mesh, _plain(mesh, finish), finish.shine, gear=True, kind=part.kind)


def _drawn_otherwise(scene: HangingScene) -> set[str]:
    """Kinds of part whose own mesh gives way to a better one: the skin, the wing's filled bag."""
    person = {"body", "suit", "wetsuit"} if scene.skin is not None else set()
    return person | ({"wing"} if scene.wing is not None else set())


def _body(skin: Mesh, scene: HangingScene) -> Surface:
    """The body in its suit, drawn in a little where hood, gloves or boots have a shape that lies over it."""
    colours = _plain(skin, Finish(SKIN))
    shaped = {p.kind for p in scene.parts if p.kind in UNDER and p.solid.mesh is not None}
    depth = np.zeros(len(skin.vertices))
    if scene.hands is not None:
        shaped.add("body")
    for kind, there in scene.worn:
        if kind != "body":
            colours[there] = _plain(skin, finish_of(kind))[there]
        if kind in shaped:
            depth[there] = UNDER[kind]
    if shaped:
        skin = mesh_of(skin.vertices - depth[:, None] * vertex_normals(skin), skin.faces)
    if scene.hands is not None:
        skin = joined([skin, scene.hands])
        colours = np.concatenate([colours, _plain(scene.hands, Finish(SKIN))])
    return Surface("body", skin, colours, 0.12, kind="body")


def _gas_of(scene: HangingScene, deepest: float) -> list[Surface]:
    """The suit's layer of gas, in colours that end at ``deepest`` [m], and the wing's bag."""
    found = []
    if scene.suit is not None and scene.skin is not None and deepest > 0.0:
        suited = next((there for kind, there in scene.worn if kind == "suit"), None)
        suit = suit_on(scene.skin, scene.suit, scene.gas_scale, suited)
        layer, colours = gas_layer(scene.skin, suit), gas_colours(suit.thickness / deepest)
        if suited is not None:  # head and hands have none
            colours[~suited, 3] = 0
            layer = mesh_of(layer.vertices, layer.faces[suited[layer.faces].any(axis=1)])
        found.append(Surface("suit gas", layer, colours, 0.2, layer=True, kind="suit gas"))
    if scene.wing is not None:
        colours = wing_colours(wing_fill_on(scene.wing))
        found.append(Surface("wing", scene.wing.bag, colours, 0.2, gear=True, kind="wing"))
    return found


def round_depth(thickness: float) -> float:
    """The next of 2, 5, 10, 15, 20, 30, 40, 60, 80 ... mm above a thickness [m]; 0 below a tenth of a millimetre."""
    if not thickness > 1e-4:
        return 0.0
    steps = (0.002, 0.005, 0.010, 0.015, 0.020, 0.030, 0.040, 0.060, 0.080)
    return next((s for s in steps if s >= thickness), float(np.ceil(thickness / 0.05) * 0.05))


def _plain(mesh: Mesh, finish: Finish) -> Bytes:
    rgba = (*rgb(finish.colour), 1.0)
    return np.tile(np.round(np.multiply(rgba, 255.0)).astype(np.uint8), (len(mesh.vertices), 1))


def _mixed(low: str, high: str, share: Floats, opacity: Floats | float = 1.0) -> Bytes:
    """Colours (n, 4) between two named ones by a share (n,) 0..1."""
    t = np.clip(share, 0.0, 1.0)[:, None]
    between = (1.0 - t) * np.asarray(rgb(low)) + t * np.asarray(rgb(high))
    alpha = np.broadcast_to(np.asarray(opacity, dtype=float), share.shape)[:, None]
    return np.asarray(np.round(255.0 * np.concatenate([between, alpha], axis=1)), dtype=np.uint8)


def gas_colours(share: Floats) -> Bytes:
    """Thin gas is pale and nearly clear, thick gas deep blue and nearly opaque."""
    return _mixed(GAS_THIN, GAS_THICK, share, 0.10 + 0.72 * np.clip(share, 0.0, 1.0))


def wing_colours(share: Floats) -> Bytes:
    """Cloth where the bag is empty, gas colour showing through where it is full."""
    return _mixed(WING_CLOTH, GAS_THICK, 0.9 * share)
