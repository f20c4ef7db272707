"""The one picture of a diver at rest, as a lecturer would show it."""

from __future__ import annotations

import os
import textwrap
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats
from sim.answers.settle.drawn.backdrop import HORIZON_SIZE, draw_grid, draw_horizon, draw_water
from sim.answers.settle.drawn.insets import (
    LENS_RADIUS,
    close_up_words_box,
    draw_close_up,
    draw_gas_scale,
    draw_roll_frame,
)
from sim.drawing.canvas import Canvas, SheetOnCanvas, blank, fitted
from sim.drawing.diver_painter import paint_flat, paint_rendered, sheet_for
from sim.drawing.flat_shapes import flat_shapes
from sim.drawing.free_space import Box, around, clearest, spread_over, word_box
from sim.drawing.letters import set_width, wrapped_to
from sim.drawing.marks import (
    ANGLE_SIZE,
    draw_bubbles,
    draw_centre,
    draw_force,
    draw_pitch,
    draw_word,
    moment_in_words,
    pitch_in_words,
    pitch_label_at,
    pitch_marks,
)
from sim.drawing.offscreen import Rendered, Sheet, rendered
from sim.drawing.palette import BUOYANCY, SOFT_INK, WEIGHT
from sim.drawing.saved import checked_path, save
from sim.drawing.scene import DrawnPicture, HangingScene, LooseGas
from sim.drawing.surfaces import DressedScene, dressed
from sim.drawing.views import View, head_view, projected, side_view
from sim.rig import STANDARD_GRAVITY

FORCE_FLAT_SHAPES: Final = "HANGFLAT_FLAT_PICTURES"  # environment variable; any text but "" and "0" counts as yes
ARROW: Final = 205.0  # pixels of the greater force
BIGGEST: Final = 640.0  # pixels a metre
FINENESS: Final = 0.8  # pixels, of the flat shapes
MARGIN: Final = 40.0
SMALL_PRINT: Final = 470.0  # pixels from the left, beside the gas scale
CAUTION_LETTERS: Final = 165  # in a line of small print
TOP_BAND: Final = 140.0  # pixels kept for the title
BOTTOM_BAND: Final = 180.0  # and for the small print


@dataclass(frozen=True, eq=False)
class Layout:
    """Where things are on the canvas, all in reference pixels.

    cm, cb : (2,) centres in the side view;  radius : of the pitch arc
    drawn : (n, 2) points spread over the diver in the side view;  roll_box : card of the roll view
    angle_box, horizon_box : room of the angle's label and of the horizon's name
    """

    side: View
    head: View
    placement: SheetOnCanvas
    roll_placement: SheetOnCanvas
    cm: Floats
    cb: Floats
    radius: float
    drawn: Floats
    roll_drawn: Floats
    roll_box: Box
    angle_box: Box
    horizon_box: Box


def draw_settled(scene: HangingScene, path: str | Path, *, size: tuple[int, int] = (1600, 1000)) -> DrawnPicture:
    """Draw the scene into a PNG, SVG or PDF file by the path's ending.

    PNG is shaded by VTK in a child process if a graphics library works there; SVG and PDF, and PNG where none
    works or HANGFLAT_FLAT_PICTURES is set, are drawn in flat shapes. ``size`` in pixels (SVG and PDF: its shape).
    Raises ValueError for another ending or a size out of bounds, OSError when the file cannot be written.
    """
    target = checked_path(path)
    canvas = blank(size)
    dress = dressed(scene)
    layout = laid_out(canvas, scene, dress)
    draw_water(canvas)
    draw_grid(
        canvas, SheetOnCanvas((float(layout.cm[0]), float(layout.cm[1])), layout.placement.scale), (820.0, 470.0)
    )
    renderer, note = _paint(canvas, dress, layout, target)
    annotate(canvas, scene, dress, layout)
    save(canvas, target)
    return DrawnPicture(target, renderer, note)


def laid_out(canvas: Canvas, scene: HangingScene, dress: DressedScene) -> Layout:
    """Scale and place the side view, and put the roll view where it is least in the way."""
    side, head = side_view(scene.up, scene.cm), head_view(scene.up, scene.cm)
    sheet, faces = _seen(side, dress)
    way = np.array([np.cos(scene.pitch), np.sin(scene.pitch)])
    ahead = sheet[sheet @ way > 0.0]
    reach = float(np.hypot(*ahead.T).max(initial=0.5)) + 0.09
    hull = np.concatenate([sheet, [[reach, 0.0], (reach + 0.08) * way], _bubble_corners(scene, side)])
    room = (56.0, BOTTOM_BAND + 10.0, canvas.width - 270.0, canvas.height - TOP_BAND)
    placement = fitted(hull.min(axis=0), hull.max(axis=0), room, BIGGEST)
    placement = _with_room_for_arrows(placement, placement.on_canvas(hull)[:, 1], room)
    drawn = spread_over(placement.on_canvas(sheet), faces, 24.0)
    cm, cb = (placement.on_canvas(projected(side, p))[0] for p in (scene.cm, scene.cb))
    angle_at = pitch_label_at(cm, scene.pitch, reach * placement.scale)
    angle_box = word_box(angle_at, pitch_in_words(scene.pitch), ANGLE_SIZE, "left")
    horizon_box = _horizon_name(canvas, drawn, angle_box, float(cm[1]))
    marks = pitch_marks(cm, scene.pitch, reach * placement.scale)
    roll_box = _roll_card(canvas, np.concatenate([drawn, marks]), angle_box, horizon_box)
    roll_sheet, _ = _seen(head, dress)
    inner = (roll_box.left + 20, roll_box.bottom + 48, roll_box.right - 20, roll_box.top - 42)
    roll_placement = fitted(roll_sheet.min(axis=0), roll_sheet.max(axis=0), inner, 400.0)
    return Layout(
        side, head, placement, roll_placement, cm, cb, reach * placement.scale,
        drawn, roll_placement.on_canvas(roll_sheet), roll_box, angle_box, horizon_box,
    )  # fmt: skip


def _seen(view: View, dress: DressedScene) -> tuple[Floats, NDArray[np.int64]]:
    """All that is drawn as triangles: corners (n, 2) on the sheet [m], and their numbers (m, 3)."""
    meshes = [s.mesh for s in dress.surfaces]
    firsts = np.cumsum([0, *(len(m.vertices) for m in meshes)])
    points = projected(view, np.concatenate([m.vertices for m in meshes]))[:, :2]
    return points, np.concatenate([m.faces + first for m, first in zip(meshes, firsts, strict=False)])


def _bubble_corners(scene: HangingScene, view: View) -> Floats:
    """Sheet points (n, 2) that hold the bubbles of gas that has no bag to be drawn in."""
    if scene.loose_gas is None:
        return np.zeros((0, 2))
    middles = projected(view, scene.loose_gas.centre)[:, :2]
    radii = _bubble_radii(scene.loose_gas)[:, None]
    return np.concatenate([middles - radii, middles + radii])


def _bubble_radii(gas: LooseGas) -> Floats:
    """(n,) [m]"""
    return np.asarray(np.cbrt(0.75 * np.clip(gas.volume, 0.0, None) / np.pi))


def _with_room_for_arrows(
    placement: SheetOnCanvas, heights: Floats, room: tuple[float, float, float, float]
) -> SheetOnCanvas:
    """Moved up or down, as far as what is drawn at ``heights`` (n,) leaves room, so that the arrows' names fit."""
    centre, reach = placement.origin[1], ARROW + 44.0  # the sheet's origin is the CM
    wanted = float(np.clip(centre, room[1] + reach, room[3] - reach)) - centre
    least, most = min(room[1] - heights.min(), 0.0), max(room[3] - heights.max(), 0.0)
    return replace(placement, origin=(placement.origin[0], centre + min(max(wanted, least), most)))


def _horizon_name(canvas: Canvas, drawn: Floats, angle_box: Box, level: float) -> Box:
    """Room for the horizon's name at the end of the line where it hides least, the left one by preference."""
    width = set_width("horizon", HORIZON_SIZE) + 4.0
    ends = (MARGIN, canvas.width - MARGIN - width)
    choices = [Box(left, level, left + width, level + 34.0) for left in ends]
    return choices[clearest(choices, drawn, [angle_box], Box(0.0, 0.0, canvas.width, canvas.height))]


def _roll_card(canvas: Canvas, drawn: Floats, angle_box: Box, horizon_name: Box) -> Box:
    """The corner for the roll view that hides least of the diver."""
    low, high = BOTTOM_BAND, canvas.height - TOP_BAND
    left, right, width, height = MARGIN, canvas.width - MARGIN, 310.0, 304.0
    corners = [
        Box(right - width, 76.0, right, 76.0 + height),
        Box(right - width, high - height, right, high),
        Box(left, low, left + width, low + height),
        Box(left, high - height, left + width, high),
    ]
    page = Box(0.0, 0.0, canvas.width, canvas.height)
    return corners[clearest(corners, drawn, [angle_box, horizon_name], page)]


def _paint(canvas: Canvas, dress: DressedScene, layout: Layout, target: Path) -> tuple[str, str]:
    """The diver twice, in the large and the small view; which renderer was used and why not the other."""
    places = (
        (layout.side, layout.placement, layout.drawn, 10.0),
        (layout.head, layout.roll_placement, layout.roll_drawn, 6.0),
    )
    sheets = [sheet_for(canvas, view, placement, _hull_box(drawn)) for view, placement, drawn, _ in places]
    answer = Rendered((), "") if target.suffix.lower() != ".png" else _shaded(dress, [s for s, _ in sheets])
    if answer.pictures:
        for picture, (_, box), (*_, zorder) in zip(answer.pictures, sheets, places, strict=True):
            paint_rendered(canvas, picture, box, zorder)
        return "shaded", ""
    for view, placement, _, zorder in places:
        paint_flat(canvas, flat_shapes(dress.surfaces, view, FINENESS / placement.scale), placement, zorder)
    return "vector", answer.failure


def _shaded(dress: DressedScene, sheets: list[Sheet]) -> Rendered:
    if os.environ.get(FORCE_FLAT_SHAPES, "0") not in ("", "0"):
        return Rendered((), f"asked for by {FORCE_FLAT_SHAPES}")
    return rendered(dress.surfaces, tuple(sheets))


def _hull_box(drawn: Floats, margin: float = 8.0) -> Box:
    low, high = drawn.min(axis=0) - margin, drawn.max(axis=0) + margin
    return Box(*(float(v) for v in (*low, *high)))


def annotate(canvas: Canvas, scene: HangingScene, dress: DressedScene, layout: Layout) -> None:
    """All lines and words, each where it hides nothing else."""
    page = Box(24.0, BOTTOM_BAND - 10.0, canvas.width - 24.0, canvas.height - TOP_BAND + 8.0)
    draw_horizon(canvas, MARGIN, canvas.width - MARGIN, layout.horizon_box)
    pierced = layout.roll_placement.on_canvas(projected(layout.head, scene.cm))[0]
    draw_roll_frame(canvas, layout.roll_box, scene.roll, pierced, abs(scene.pitch) < np.radians(80.0))
    if scene.loose_gas is not None:
        radii = _bubble_radii(scene.loose_gas)
        for view, place, zorder in ((layout.side, layout.placement, 12.0), (layout.head, layout.roll_placement, 7.0)):
            seen = place.on_canvas(projected(view, scene.loose_gas.centre))
            draw_bubbles(canvas, seen, radii * place.scale, zorder)
    tail = float(((layout.cm - layout.drawn) @ [np.cos(scene.pitch), np.sin(scene.pitch)]).max()) - 10.0
    line = draw_pitch(canvas, layout.cm, scene.pitch, layout.radius, tail, page)
    taken = [layout.roll_box, layout.angle_box, layout.horizon_box]
    taken += _draw_forces(canvas, scene, layout, taken, page)
    if dress.deepest > 0.0:
        taken.append(draw_gas_scale(canvas, (48.0, 112.0), dress.deepest, scene.gas_scale))
    _place_close_up(canvas, scene, layout, np.concatenate([layout.drawn, line]), taken, page)
    _write_texts(canvas, scene, layout.roll_box)


def _draw_forces(canvas: Canvas, scene: HangingScene, layout: Layout, taken: list[Box], page: Box) -> list[Box]:
    """Arrows of weight and buoyancy to one scale, each named at its tip."""
    weight = scene.mass * STANDARD_GRAVITY
    buoyancy = (scene.mass + scene.net_buoyancy) * STANDARD_GRAVITY
    greater = max(weight, buoyancy, 1e-9)
    cb = layout.cb
    boxes: list[Box] = []
    for at, newtons, way, name, colour in (
        (layout.cm, weight, -1.0, "weight", WEIGHT),
        (cb, buoyancy, 1.0, "buoyancy", BUOYANCY),
    ):
        tip = draw_force(canvas, at, way * ARROW * newtons / greater, colour)
        text, text_size = f"{name} {newtons:.0f} N", 24.0
        spots = [((float(tip[0]), float(tip[1]) + way * 22.0), "center")]
        spots += [
            ((float(tip[0]) + s * 26.0, float(tip[1]) - way * 10.0), a) for s, a in ((1, "left"), (-1, "right"))
        ]
        choices = [word_box(spot, text, text_size, across) for spot, across in spots]
        best = clearest(choices, layout.drawn, [*taken, *boxes], page)
        draw_word(canvas, spots[best][0], text, colour=colour, size=text_size, across=spots[best][1], bold=True)
        boxes += [choices[best], Box(tip[0] - 18, min(at[1], tip[1]), tip[0] + 18, max(at[1], tip[1]))]
    draw_centre(canvas, layout.cm, WEIGHT, 11.0)
    draw_centre(canvas, cb, BUOYANCY, 11.0)
    return boxes


def _place_close_up(
    canvas: Canvas, scene: HangingScene, layout: Layout, drawn: Floats, taken: list[Box], page: Box
) -> None:
    """The lens, as near to the centres as it finds room free of the points ``drawn`` (n, 2)."""
    apart = (projected(layout.side, scene.cb) - projected(layout.side, scene.cm))[0, :2]
    side = 2.0 * LENS_RADIUS + 12.0
    across = np.arange(page.left + side / 2, page.right - side / 2, 40.0)
    upward = np.arange(page.bottom + side / 2, page.top - side / 2, 40.0)
    spots = np.stack(np.meshgrid(across, upward), axis=-1).reshape(-1, 2)
    away = np.hypot(*(spots - layout.cm).T)
    beside = np.abs(spots[:, 0] - layout.cm[0]) > LENS_RADIUS + 24.0  # not in line with the arrows
    spots, away = spots[beside], away[beside]
    spots = spots[np.argsort(away + 0.4 * np.abs(spots[:, 0] - layout.cm[0]), kind="stable")]
    scale = layout.placement.scale
    places = [(float(x), float(y)) for x, y in spots]
    boxes = [around(spot, side, side).joined(close_up_words_box(spot, layout.cm, apart, scale)) for spot in places]
    best = clearest(boxes, drawn, taken, page)
    draw_close_up(canvas, places[best], layout.cm, apart, scale)


def _write_texts(canvas: Canvas, scene: HangingScene, card: Box) -> None:
    """Title and the two answers above, on one line however long; the small print below, off the roll view's card."""
    top, left, room = canvas.height, 48.0, canvas.width - 96.0
    size = min(36.0, 36.0 * room / set_width(scene.title, 36.0, bold=True))
    draw_word(canvas, (left, top - 66), scene.title, size=size, across="left", along="baseline", bold=True)
    moment = f"Held flat: {moment_in_words(scene.trimming_moment)}"
    widths = [set_width(text, 28.0, bold=True) for text in (moment, scene.rest_text)]
    size = min(28.0, 28.0 * (room - 60.0) / sum(widths))
    second = left + max(widths[0] * size / 28.0 + 60.0, min(620.0, left + room - widths[1] * size / 28.0))
    for x, text in ((left, moment), (second, scene.rest_text)):
        draw_word(canvas, (x, top - 116), text, size=size, across="left", along="baseline", bold=True)
    beside = card.left if card.left > SMALL_PRINT and card.bottom < BOTTOM_BAND else canvas.width - 28.0
    lines = [line for told in scene.caption for line in wrapped_to(told, beside - 20.0 - SMALL_PRINT, 20.0)]
    for number, line in enumerate(lines):
        at = (SMALL_PRINT, 160.0 - min(30.0, 80.0 / max(len(lines) - 1, 1)) * number)
        draw_word(canvas, at, line, size=20, across="left", colour=SOFT_INK)
    for number, line in enumerate(reversed(textwrap.wrap(scene.caution, CAUTION_LETTERS)[:2])):
        draw_word(canvas, (left, 26.0 + 25.0 * number), line, size=18, across="left", colour=SOFT_INK)
