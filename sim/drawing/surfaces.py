"""The scene as a list of coloured surfaces, ready for either way of drawing."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Mesh
from sim.drawing.gas_layer import gas_layer, suit_on, wing_fill_on
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

Bytes = NDArray[np.uint8]


@dataclass(frozen=True, eq=False)
class Surface:
    """One thing to draw.

    mesh : body axes [m];  colours : (n, 4) of the vertices, red green blue opacity, 0..255
    shine : share of mirror-like light 0..1;  layer : True for gas, drawn see-through over what is solid
    gear : True for what is worn over the suit and shows through its gas the more
    """

    name: str
    mesh: Mesh
    colours: Bytes
    shine: float
    layer: bool = False
    gear: bool = False


@dataclass(frozen=True, eq=False)
class DressedScene:
    """Surfaces of a scene and the thickness [m] that the deepest gas colour stands for (0: no suit gas)."""

    surfaces: tuple[Surface, ...]
    deepest: float


def dressed(scene: HangingScene) -> DressedScene:
    """Colour every surface of the scene; the gas colour scale ends at a round number of millimetres."""
    hidden = _drawn_otherwise(scene)
    surfaces = [
        Surface(p.name, p.solid.mesh, _plain(p.solid.mesh, finish_of(p.kind)), finish_of(p.kind).shine, gear=True)
        for p in scene.parts
        if p.solid.mesh is not None and p.kind not in hidden
    ]
    deepest = 0.0
    if scene.skin is not None:
        clothed, deepest = _clothed(scene.skin, scene)
        surfaces += clothed
    if scene.wing is not None:
        surfaces.append(Surface("wing", scene.wing.bag, wing_colours(wing_fill_on(scene.wing)), 0.2, gear=True))
    if not surfaces:
        raise ValueError("nothing in the scene has a shape to draw")
    return DressedScene(tuple(surfaces), deepest)


def _drawn_otherwise(scene: HangingScene) -> set[str]:
    """Kinds of part whose own mesh gives way to a better one: the skin, the wing's filled bag."""
    person = {"body", "suit", "wetsuit"} if scene.skin is not None else set()
    return person | ({"wing"} if scene.wing is not None else set())


def _clothed(skin: Mesh, scene: HangingScene) -> tuple[list[Surface], float]:
    """The body in its suit, the gas layer over it, and the thickness of the deepest gas colour."""
    colours = _plain(skin, Finish(SKIN))
    for kind, there in scene.worn:
        colours[there] = _plain(skin, finish_of(kind))[there]
    body = Surface("body", skin, colours, 0.12)
    if scene.suit is None:
        return [body], 0.0
    suited = next((there for kind, there in scene.worn if kind == "suit"), None)
    suit = suit_on(skin, scene.suit, scene.gas_scale, suited)
    deepest = round_depth(float(scene.suit.thickness.max(initial=0.0)))
    if deepest == 0.0:
        return [body], 0.0
    colours = gas_colours(suit.thickness / deepest)
    return [Surface("suit gas", gas_layer(skin, suit), colours, 0.2, layer=True), body], deepest


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
