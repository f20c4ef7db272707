"""What the viewer in a browser is to show of a diver (``shown``), made of a report and its scene."""

from __future__ import annotations

import base64
from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats
from sim.answers.model.motion import Motion
from sim.answers.model.parts import LAYERS, ShownPart
from sim.answers.model.shown import (
    Colours,
    ScriptWords,
    ShownItem,
    ShownLayer,
    ShownMotion,
    ShownSuit,
    ShownSurface,
    ShownWing,
    SuitScale,
    ToldView,
    View,
)
from sim.answers.settle.report import SettleReport
from sim.drawing.gas_layer import NearCells, suit_shares, vertex_normals, wing_shares
from sim.drawing.palette import GAS_THICK, GAS_THIN, WING_CLOTH, rgb
from sim.drawing.scene import HangingScene
from sim.drawing.surfaces import round_depth
from sim.said import word
from sim.statics.flat import ItemMoment
from sim.telling.caution import told_caution
from sim.telling.language import quantity, say, told
from sim.telling.lead_words import NO_MOMENT, like_lead
from sim.telling.words import NO_WEIGHT, as_printed, heavy_or_light, moment_words, unbroken

MARKS: Final = (
    ("forces", word("weight and buoyancy"), True),
    ("items", word("what turns the diver, the longer the harder (blue: head-up, orange: head-down)"), False),
)
GRAIN: Final = 1e-4  # m, to which places are kept in the page: half a tenth of a millimetre off at most, to 3.2 m
MOST_ITEMS: Final = 12
LEAST_ITEM: Final = 0.3  # N m (assumed: less is not seen in the water)


def view_of(
    report: SettleReport, scene: HangingScene, parts: Sequence[ShownPart], motion: Motion | None, words: ScriptWords
) -> View:  # fmt: skip
    """Everything; ``words`` : of the script."""
    surfaces = tuple(surface_of(part) for part in parts)
    return View(
        **vars(told_view_of(report, parts, motion, scene, words)), surfaces=surfaces, suit=suit_of(scene, parts)
    )


def told_view_of(
    report: SettleReport, parts: Sequence[ShownPart], motion: Motion | None, scene: HangingScene, words: ScriptWords
) -> ToldView:  # fmt: skip
    """The same without the shapes of the solids and of the suit's gas, which are most of it."""
    points = np.concatenate([p.surface.mesh.vertices for p in parts])
    rig = report.assembled.rig
    layers = (*(layer[:3] for layer in LAYERS), *MARKS)
    return ToldView(
        title=title_of(report),
        sentence=unbroken(_sentence(report.flat.pitch_moment)),
        caution=told_caution(),
        words=words,
        grain=GRAIN,
        held=tuple(float(x) for x in rig.held),
        reach=float(np.linalg.norm(points - rig.held, axis=1).max()),
        colours=Colours(),
        layers=tuple(ShownLayer(name, told(said), on) for name, said, on in layers),
        wing=_wing(scene, parts),
        items=items_of(report),
        numbers=tuple((name, unbroken(value)) for name, value in told_numbers(report)),
        motion=None if motion is None else packed_motion(motion, scene),
    )


def title_of(report: SettleReport) -> str:
    """The scenario's, as a heading."""
    title = report.assembled.title
    return title[:1].upper() + title[1:]


def _sentence(moment: float) -> str:
    if abs(moment) < NO_MOMENT:
        return say("Held flat and motionless, this diver is in balance.")
    return say(
        "Held flat and motionless, this diver is turned by {moment}{like}.",
        moment=moment_words(moment),
        like=like_lead(moment),
    )


def told_numbers(report: SettleReport) -> list[tuple[str, str]]:
    """The few numbers that go beside the diver, with their names."""
    flat, water = report.flat, report.assembled.rig.water
    neutral = abs(flat.net_buoyancy) < NO_WEIGHT
    density = as_printed(quantity(water.density, "kg/m^3", 0))
    return [
        (say("turned, held flat"), moment_words(flat.pitch_moment)),
        (say("mass with gear and gas"), quantity(flat.mass, "kg", 1)),
        (say("net buoyancy"), say("neutral") if neutral else heavy_or_light(flat.net_buoyancy)),
        (say("gas in the wing"), quantity(1e3 * flat.wing_gas, "l", 1)),
        (say("gas in the suit"), quantity(1e3 * flat.suit_gas, "l", 1)),
        (say("water"), f"{density}, {quantity(water.pressure / 1e5, 'bar', 2)}"),
    ]


def items_of(report: SettleReport) -> tuple[ShownItem, ...]:
    """What turns the diver, the strongest first: each with its moment, its weight in water and where that acts."""
    items = sorted((i for i in report.items if abs(i.moment) >= LEAST_ITEM), key=lambda i: -abs(i.moment))
    return tuple(
        ShownItem(told(i.name), moment_words(i.moment), i.moment, tuple(float(x) for x in _place(i, report)))
        for i in items[:MOST_ITEMS]
    )


def _place(item: ItemMoment, report: SettleReport) -> Floats:
    """Where an item's arrow starts: its CM, or the middle of its gas."""
    rig = report.assembled.rig
    for part in rig.parts:
        if part.name == item.name:
            return part.solid.cm
    pocket = rig.suit if item.kind == "suit gas" else rig.wing
    state = report.flat.field.suit if item.kind == "suit gas" else report.flat.field.wing
    if pocket is None or state is None:
        return rig.held
    gas = state.volume[0]
    return np.asarray(gas @ pocket.cells / max(float(gas.sum()), 1e-12))


def surface_of(part: ShownPart) -> ShownSurface:
    """A solid's shape and colours."""
    surface = part.surface
    wide = len(surface.mesh.vertices) >= 1 << 16
    plain = np.ptp(surface.colours, axis=0).max() == 0
    return ShownSurface(
        name=surface.name,
        group=part.layer,
        layer=surface.layer,
        shine=surface.shine,
        metal=part.metal,
        positions=packed(surface.mesh.vertices / GRAIN, np.int16),
        faces=packed(surface.mesh.faces, np.uint32 if wide else np.uint16),
        wide=wide,
        colours=packed(surface.colours[:1] if plain else surface.colours, np.uint8),
    )


def suit_of(scene: HangingScene, parts: Sequence[ShownPart]) -> ShownSuit | None:
    """How the layer of gas follows the patches; None without one."""
    scale = suit_scale_of(scene, parts)
    if scale is None or scene.skin is None or scene.suit is None:
        return None
    suited = next((there for kind, there in scene.worn if kind == "suit"), None)
    near, share = _cells(suit_shares(scene.skin, scene.suit, suited))
    return ShownSuit(
        **vars(scale),
        skin=packed(scene.skin.vertices / GRAIN, np.int16),
        normals=packed(127.0 * vertex_normals(scene.skin), np.int8),
        near=near,
        share=share,
    )


def suit_scale_of(scene: HangingScene, parts: Sequence[ShownPart]) -> SuitScale | None:
    """What of it changes with the gas."""
    kinds = [p.surface.kind for p in parts]
    if scene.skin is None or scene.suit is None or "suit gas" not in kinds:
        return None
    return SuitScale(
        surface=kinds.index("suit gas"),
        patches=len(scene.suit.centre),
        enlarged=scene.gas_scale / 127.0 / 255.0,
        deepest=round_depth(float(scene.suit.thickness.max(initial=0.0))),
        thin=_bytes(GAS_THIN),
        thick=_bytes(GAS_THICK),
    )


def _wing(scene: HangingScene, parts: Sequence[ShownPart]) -> ShownWing | None:
    kinds = [p.surface.kind for p in parts]
    if scene.wing is None or not len(scene.wing.cells) or "wing" not in kinds:
        return None
    near, share = _cells(wing_shares(scene.wing))
    return ShownWing(
        surface=kinds.index("wing"),
        cells=len(scene.wing.cells),
        cloth=_bytes(WING_CLOTH),
        thick=_bytes(GAS_THICK),
        near=near,
        share=share,
    )


def _bytes(colour: str) -> tuple[float, ...]:
    return tuple(255.0 * c for c in rgb(colour))


def _cells(cells: NearCells) -> tuple[str, str]:
    return packed(cells.near, np.uint16), packed(255.0 * cells.share, np.uint8)


def packed_motion(motion: Motion, scene: HangingScene) -> ShownMotion:
    """Frames as the viewer reads them."""
    from scipy.spatial.transform import Rotation

    turn = Rotation.from_matrix(motion.rotation).as_quat()
    turn *= np.where(np.einsum("ij,ij->i", turn, np.roll(turn, 1, axis=0)) < 0.0, -1.0, 1.0).cumprod()[:, None]
    thickness = None if motion.suit is None or scene.suit is None else motion.suit / scene.suit.area
    return ShownMotion(
        time=packed(motion.time, np.float32),
        turn=packed(turn, np.float32),
        cm=packed(motion.cm, np.float32),
        cb=packed(motion.cb, np.float32),
        pitch=packed(np.degrees(motion.pitch), np.float32),
        moment=packed(motion.moment, np.float32),
        suit=None if thickness is None else packed(thickness, np.float32),
        wing=None if motion.wing is None else packed(motion.wing, np.float32),
    )


def packed(values: ArrayLike, kind: type) -> str:
    """An array as base64 text, little-endian; rounded for kinds of whole numbers."""
    whole = np.issubdtype(kind, np.integer)
    rounded = np.clip(np.rint(values), np.iinfo(kind).min, np.iinfo(kind).max) if whole else np.asarray(values)
    array = np.ascontiguousarray(rounded.astype(np.dtype(kind).newbyteorder("<")))
    return base64.b64encode(array.tobytes()).decode("ascii")
