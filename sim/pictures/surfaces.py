"""The scene as a list of coloured surfaces, ready for either way of drawing."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats, Mesh
from sim.pictures.gas_layer import covered_on, gas_layer, thickness_on, wing_fill_on
from sim.pictures.palette import (
    GAS_THICK,
    GAS_THIN,
    SKIN,
    SUIT,
    WING_CLOTH,
    Finish,
    finish_of,
    rgb,
)
from sim.pictures.scene import HangingScene

Bytes = NDArray[np.uint8]


@dataclass(frozen=True, eq=False)
class Surface:
    """One thing to draw.

    mesh : body axes [m];  colours : (n, 4) of the vertices, red green blue opacity, 0..255
    shine : share of mirror-like light 0..1;  layer : True for gas, drawn see-through over what is solid
    """

    name: str
    mesh: Mesh
    colours: Bytes
    shine: float
    layer: bool = False


@dataclass(frozen=True, eq=False)
class DressedScene:
    """Surfaces of a scene and the thickness [m] that the deepest gas colour stands for (0: no suit gas)."""

    surfaces: tuple[Surface, ...]
    deepest: float


def dressed(scene: HangingScene) -> DressedScene:
    """Colour every surface of the scene; the gas colour scale ends at a round number of millimetres."""
    surfaces = [
        Surface(p.name, p.solid.mesh, _plain(p.solid.mesh, finish_of(p.kind)), finish_of(p.kind).shine)
        for p in scene.parts
        if p.solid.mesh is not None and p.kind not in ("body", "suit", "wing")
    ]
    deepest = 0.0
    skin_share = np.ones(len(scene.skin.vertices))
    if scene.suit is not None:
        skin_share = covered_on(scene.skin, scene.suit)
        thickness = thickness_on(scene.skin, scene.suit)
        deepest = round_depth(float(scene.suit.thickness.max(initial=0.0)))
        if deepest > 0.0:
            layer = gas_layer(scene.skin, thickness, scene.gas_scale)
            surfaces.append(Surface("suit gas", layer, _gas_colours(thickness / deepest), 0.25, layer=True))
    surfaces.append(Surface("body", scene.skin, _mixed(SKIN, SUIT, skin_share), 0.12))
    if scene.wing is not None:
        surfaces.append(Surface("wing", scene.wing.bag, _wing_colours(wing_fill_on(scene.wing)), 0.2))
    return DressedScene(tuple(surfaces), deepest)


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


def _gas_colours(share: Floats) -> Bytes:
    """Thin gas is pale and nearly clear, thick gas deep blue and nearly opaque."""
    return _mixed(GAS_THIN, GAS_THICK, share, 0.10 + 0.72 * np.clip(share, 0.0, 1.0))


def _wing_colours(share: Floats) -> Bytes:
    """Cloth where the bag is empty, gas colour showing through where it is full."""
    return _mixed(WING_CLOTH, GAS_THICK, 0.9 * share)
