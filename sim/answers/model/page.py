"""One HTML file with the diver in it, to turn and to let go: all inside, nothing is asked of any other machine."""

from __future__ import annotations

import base64
import html
import json
from collections.abc import Sequence
from importlib.resources import files
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats
from sim.answers.model.motion import Motion
from sim.answers.model.parts import LAYERS, ShownPart
from sim.answers.settle.report import SettleReport
from sim.drawing.gas_layer import NearCells, suit_shares, vertex_normals, wing_shares
from sim.drawing.palette import BUOYANCY, GAS_THICK, GAS_THIN, HEAD_DOWN, HEAD_UP, WEIGHT, WING_CLOTH, rgb
from sim.drawing.scene import HangingScene
from sim.drawing.surfaces import round_depth
from sim.said import word
from sim.statics.flat import ItemMoment
from sim.telling.caution import told_caution
from sim.telling.language import comma, in_unit, quantity, reader, say, told, unit_name
from sim.telling.lead_words import NO_MOMENT, like_lead
from sim.telling.words import NO_WEIGHT, as_printed, heavy_or_light, moment_words, unbroken

MARKS: Final = (
    ("forces", word("weight and buoyancy"), True),
    ("items", word("what turns the diver, the longer the harder (blue: head-up, orange: head-down)"), False),
)
GRAIN: Final = 1e-4  # m, to which places are kept in the page: half a tenth of a millimetre off at most, to 3.2 m
MOST_ITEMS: Final = 12
LEAST_ITEM: Final = 0.3  # N m (assumed: less is not seen in the water)


def write_page(
    report: SettleReport, scene: HangingScene, parts: Sequence[ShownPart], motion: Motion | None, path: Path
) -> None:
    """Write the page for a report, its scene and what of it is shown."""
    data = json.dumps(page_data(report, scene, parts, motion), ensure_ascii=False, allow_nan=False)
    web = files("sim.drawing.web")
    page = web.joinpath("page.html").read_text(encoding="utf-8")
    for mark, text in (
        ("@LANGUAGE@", reader().language),
        ("@TITLE@", html.escape(_title(report))),
        ("@DIVER@", html.escape(say("The diver in three dimensions"))),
        ("@BESIDE@", html.escape(say("What is shown, and numbers"))),
        ("@LOOK@", html.escape(say("Look from"))),
        ("@SHOWN@", html.escape(say("Shown"))),
        ("@TURNS@", html.escape(say("What turns the diver, held flat"))),
        ("@AFTER@", html.escape(say("after stopping flat"))),
        ("@NO_SCRIPT@", html.escape(say("This page draws with JavaScript, which is switched off here."))),
        ("@STYLE@", web.joinpath("page.css").read_text(encoding="utf-8")),
        ("@VIEWER@", web.joinpath("viewer.min.js").read_text(encoding="utf-8")),
        ("@PAGE@", web.joinpath("page.js").read_text(encoding="utf-8")),
        ("@TOLD@", data.replace("<", "\\u003c")),  # so that no title can end the script
    ):
        page = page.replace(mark, text, 1)
    path.write_text(page, encoding="utf-8", newline="\n")


def _title(report: SettleReport) -> str:
    title = report.assembled.title
    return title[:1].upper() + title[1:]


def page_data(
    report: SettleReport, scene: HangingScene, parts: Sequence[ShownPart], motion: Motion | None
) -> dict[str, Any]:
    """What the viewer reads; lengths m, body axes."""
    return {
        **told_data(report, parts, motion, scene),
        "surfaces": [surface_data(part) for part in parts],
        "suit": suit_data(scene, parts),
    }


def told_data(
    report: SettleReport, parts: Sequence[ShownPart], motion: Motion | None, scene: HangingScene
) -> dict[str, Any]:
    """The same without the shapes of the solids and of the suit's gas, which are most of it."""
    points = np.concatenate([p.surface.mesh.vertices for p in parts])
    rig = report.assembled.rig
    return {
        "title": _title(report),
        "sentence": _sentence(report.flat.pitch_moment),
        "caution": told_caution(),
        "words": page_words(),
        "grain": GRAIN,
        "held": [float(x) for x in rig.held],
        "reach": float(np.linalg.norm(points - rig.held, axis=1).max()),
        "colours": {"weight": WEIGHT, "buoyancy": BUOYANCY, "up": HEAD_UP, "down": HEAD_DOWN},
        "layers": [[name, told(words), on] for name, words, on in (*(layer[:3] for layer in LAYERS), *MARKS)],
        "wing": _wing(scene, parts),
        "items": items_data(report),
        "numbers": [(name, unbroken(value)) for name, value in told_numbers(report)],
        "motion": None if motion is None else packed_motion(motion, scene),
    }


def page_words() -> dict[str, str | float]:
    """What the page's own script says, with the fields that it fills in; what a moment is divided by."""
    return {
        "let_go": say("Let go"),
        "hold": say("Hold"),
        "no_webgl": say(
            "This browser cannot draw in three dimensions (no WebGL). The numbers beside it hold all the same."
        ),
        "keys": say("Arrow keys turn the view, plus and minus zoom."),
        "side": say("Side"),
        "front": say("Front"),
        "above": say("Above"),
        "corner": say("Three-quarter"),
        "level": say("level"),
        "on_back": say(", on the back"),
        "balance": say("in balance"),
        "angle_up": say("{shown}° head-up"),
        "angle_down": say("{shown}° head-down"),
        "moment_up": say("{size} head-up"),
        "moment_down": say("{size} head-down"),
        "comma": comma("."),
        "moment_unit": unit_name("N m"),
        "moment_size": 1.0 / in_unit(1.0, "N m"),
    }


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


def items_data(report: SettleReport) -> list[dict[str, Any]]:
    """What turns the diver, the strongest first: each with its moment, its weight in water and where that acts."""
    items = sorted((i for i in report.items if abs(i.moment) >= LEAST_ITEM), key=lambda i: -abs(i.moment))
    return [_item(i, report) for i in items[:MOST_ITEMS]]


def _item(item: ItemMoment, report: SettleReport) -> dict[str, Any]:
    return {
        "name": told(item.name),
        "words": moment_words(item.moment),
        "moment": item.moment,
        "at": [float(x) for x in _place(item, report)],
    }


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


def surface_data(part: ShownPart) -> dict[str, Any]:
    surface = part.surface
    return {
        "name": surface.name,
        "group": part.layer,
        "layer": surface.layer,
        "shine": surface.shine,
        "metal": part.metal,
        "positions": packed(surface.mesh.vertices / GRAIN, np.int16),
        "faces": packed(surface.mesh.faces, np.uint16 if len(surface.mesh.vertices) < 1 << 16 else np.uint32),
        "wide": len(surface.mesh.vertices) >= 1 << 16,
        "colours": packed(
            surface.colours[:1] if np.ptp(surface.colours, axis=0).max() == 0 else surface.colours, np.uint8
        ),
    }


def suit_data(scene: HangingScene, parts: Sequence[ShownPart]) -> dict[str, Any] | None:
    """How the layer of gas follows the patches."""
    scale = suit_scale(scene, parts)
    if scale is None or scene.skin is None or scene.suit is None:
        return None
    suited = next((there for kind, there in scene.worn if kind == "suit"), None)
    return {
        **scale,
        "skin": packed(scene.skin.vertices / GRAIN, np.int16),
        "normals": packed(127.0 * vertex_normals(scene.skin), np.int8),
        **_cells(suit_shares(scene.skin, scene.suit, suited)),
    }


def suit_scale(scene: HangingScene, parts: Sequence[ShownPart]) -> dict[str, Any] | None:
    """Which surface the layer is, and how its thickness is drawn and coloured."""
    names = [p.surface.name for p in parts]
    if scene.skin is None or scene.suit is None or "suit gas" not in names:
        return None
    return {
        "surface": names.index("suit gas"),
        "patches": len(scene.suit.centre),
        "enlarged": scene.gas_scale / 127.0 / 255.0,
        "deepest": round_depth(float(scene.suit.thickness.max(initial=0.0))),
        "thin": [255.0 * c for c in rgb(GAS_THIN)],
        "thick": [255.0 * c for c in rgb(GAS_THICK)],
    }


def _wing(scene: HangingScene, parts: Sequence[ShownPart]) -> dict[str, Any] | None:
    names = [p.surface.name for p in parts]
    if scene.wing is None or not len(scene.wing.cells) or "wing" not in names:
        return None
    return {
        "surface": names.index("wing"),
        "cells": len(scene.wing.cells),
        "cloth": [255.0 * c for c in rgb(WING_CLOTH)],
        "thick": [255.0 * c for c in rgb(GAS_THICK)],
        **_cells(wing_shares(scene.wing)),
    }


def _cells(cells: NearCells) -> dict[str, str]:
    return {"near": packed(cells.near, np.uint16), "share": packed(255.0 * cells.share, np.uint8)}


def packed_motion(motion: Motion, scene: HangingScene) -> dict[str, Any]:
    """Frames as the viewer reads them."""
    from scipy.spatial.transform import Rotation

    turn = Rotation.from_matrix(motion.rotation).as_quat()
    turn *= np.where(np.einsum("ij,ij->i", turn, np.roll(turn, 1, axis=0)) < 0.0, -1.0, 1.0).cumprod()[:, None]
    thickness = None if motion.suit is None or scene.suit is None else motion.suit / scene.suit.area
    return {
        "time": packed(motion.time, np.float32),
        "turn": packed(turn, np.float32),
        "cm": packed(motion.cm, np.float32),
        "cb": packed(motion.cb, np.float32),
        "pitch": packed(np.degrees(motion.pitch), np.float32),
        "moment": packed(motion.moment, np.float32),
        "suit": None if thickness is None else packed(thickness, np.float32),
        "wing": None if motion.wing is None else packed(motion.wing, np.float32),
    }


def packed(values: ArrayLike, kind: type) -> str:
    """An array as base64 text, little-endian; rounded for kinds of whole numbers."""
    whole = np.issubdtype(kind, np.integer)
    rounded = np.clip(np.rint(values), np.iinfo(kind).min, np.iinfo(kind).max) if whole else np.asarray(values)
    array = np.ascontiguousarray(rounded.astype(np.dtype(kind).newbyteorder("<")))
    return base64.b64encode(array.tobytes()).decode("ascii")
