"""The pictures of a hand-out: the diver held flat with weight and buoyancy, and small the attitude let go into.

SVG of flat shapes, sized for print: a reference pixel is a tenth of a millimetre, so that letters of 44 are 12 pt.
"""

from __future__ import annotations

from pathlib import Path
from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.drawing.canvas import Canvas, SheetOnCanvas, blank, fitted, points
from sim.drawing.diver_painter import paint_flat
from sim.drawing.flat_shapes import flat_shapes
from sim.drawing.free_space import Box, clearest, spread_over
from sim.drawing.letters import set_width
from sim.drawing.marks import draw_bubbles, draw_centre, draw_force, draw_word
from sim.drawing.palette import BUOYANCY, HEAD_DOWN, HEAD_UP, PAPER, SOFT_INK, WEIGHT
from sim.drawing.saved import save
from sim.drawing.scene import HangingScene
from sim.drawing.surfaces import dressed
from sim.drawing.views import projected, side_view
from sim.rig import STANDARD_GRAVITY
from sim.telling.language import quantity, say
from sim.telling.lead_words import NO_MOMENT

FLAT: Final = (1240, 640)  # reference pixels
REST: Final = (500, 640)
WORDS: Final = 44.0  # of letters
ARROW: Final = 225.0  # of the greater force
TURN: Final = 15.0  # degrees of the arc that says which way the diver is turned
FINENESS: Final = 1.2  # reference pixels of the smallest detail kept
BIGGEST: Final = 640.0  # reference pixels a metre


def draw_flat(scene: HangingScene, path: Path) -> None:
    """The diver held flat, weight and buoyancy to one scale, and which way they turn: to an SVG."""
    canvas = _sheet(FLAT)
    room = (20.0, 110.0, FLAT[0] - 110.0, FLAT[1] - 110.0)
    placement, drawn = _diver(canvas, scene, room)
    centre = _on(scene, placement, scene.cm)
    page = Box(0.0, 0.0, *map(float, FLAT))
    taken = _forces(canvas, scene, placement, drawn, page)
    if abs(scene.trimming_moment) >= NO_MOMENT:
        _turn(canvas, scene.trimming_moment, centre, drawn, taken, page)
    save(canvas, path)


def draw_rest(scene: HangingScene, path: Path) -> None:
    """The diver where letting go leads, with the horizon: to an SVG."""
    canvas = _sheet(REST)
    placement, _ = _diver(canvas, scene, (20.0, 20.0, REST[0] - 20.0, REST[1] - 20.0))
    level = float(_on(scene, placement, scene.cm)[1])
    canvas.axes.plot(
        [10.0, REST[0] - 10.0], [level, level], color=SOFT_INK, linewidth=points(3.0), dashes=(6, 4), zorder=3
    )
    save(canvas, path)


def _sheet(size: tuple[int, int]) -> Canvas:
    canvas = blank(size, zoom=1.0)
    canvas.figure.set_facecolor(PAPER)
    return canvas


def _diver(
    canvas: Canvas, scene: HangingScene, room: tuple[float, float, float, float]
) -> tuple[SheetOnCanvas, Floats]:
    """Paint the diver from the side into ``room``; where it lies, and points (n, 2) spread over it."""
    view, surfaces = side_view(scene.up, scene.cm), dressed(scene).surfaces
    sheets = [projected(view, s.mesh.vertices)[:, :2] for s in surfaces]
    firsts = np.cumsum([0, *(len(s) for s in sheets)])
    faces = np.concatenate([s.mesh.faces + k for s, k in zip(surfaces, firsts, strict=False)])
    sheet = np.concatenate(sheets)
    placement = fitted(sheet.min(axis=0), sheet.max(axis=0), room, BIGGEST)
    paint_flat(canvas, flat_shapes(surfaces, view, FINENESS / placement.scale), placement, 10.0)
    if scene.loose_gas is not None:
        gas = scene.loose_gas
        radii = np.cbrt(0.75 * np.clip(gas.volume, 0.0, None) / np.pi) * placement.scale
        draw_bubbles(canvas, placement.on_canvas(projected(view, gas.centre)), radii, 12.0)
    return placement, spread_over(placement.on_canvas(sheet), faces, 12.0)


def _on(scene: HangingScene, placement: SheetOnCanvas, place: Floats) -> Floats:
    """Reference pixels (2,) of a body point (3,)."""
    return np.asarray(placement.on_canvas(projected(side_view(scene.up, scene.cm), place))[0])


def _forces(canvas: Canvas, scene: HangingScene, placement: SheetOnCanvas, drawn: Floats, page: Box) -> list[Box]:
    """Arrows of weight and buoyancy, each named beside its tip; the room they take."""
    weight, net = scene.mass * STANDARD_GRAVITY, scene.net_buoyancy * STANDARD_GRAVITY
    greater = max(weight, weight + net, 1e-9)
    taken: list[Box] = []
    for place, newtons, way, name, colour in (
        (scene.cm, weight, -1.0, say("weight"), WEIGHT),
        (scene.cb, weight + net, 1.0, say("buoyancy"), BUOYANCY),
    ):
        start = _on(scene, placement, place)
        tip = draw_force(canvas, start, way * ARROW * newtons / greater, colour)
        draw_centre(canvas, start, colour, 13.0)
        words = f"{name} {quantity(newtons, 'N', 0)}"
        wide = set_width(words, WORDS, bold=True)
        spots = [(tip[0] + 28.0, "left"), (tip[0] - 28.0, "right")]
        boxes = [_room(x, tip[1] - way * 22.0, wide, across) for x, across in spots]
        best = clearest(boxes, drawn, taken, page)
        at = (float(spots[best][0]), float(tip[1] - way * 22.0))
        draw_word(canvas, at, words, size=WORDS, across=spots[best][1], bold=True)
        taken += [boxes[best], Box(tip[0] - 18.0, min(start[1], tip[1]), tip[0] + 18.0, max(start[1], tip[1]))]
    return taken


def _room(x: float, y: float, wide: float, across: str) -> Box:
    left = x - {"left": 0.0, "right": wide}[across]
    return Box(left, y - 0.6 * WORDS, left + wide, y + 0.6 * WORDS)


def _turn(canvas: Canvas, moment: float, centre: Floats, drawn: Floats, taken: list[Box], page: Box) -> None:
    """An arc at the head end, its barb the way the head goes, and the moment in words."""
    from matplotlib.patches import Arc, Polygon

    way, colour = (1.0, HEAD_UP) if moment > 0.0 else (-1.0, HEAD_DOWN)
    radius = float(drawn[:, 0].max() - centre[0]) + 46.0
    end = np.radians(way * TURN)
    low, high = sorted((-0.6 * way * TURN, way * TURN))
    canvas.axes.add_artist(
        Arc(
            (float(centre[0]), float(centre[1])), 2.0 * radius, 2.0 * radius, theta1=low, theta2=high,
            edgecolor=colour, linewidth=points(6.0), zorder=27,
        )
    )  # fmt: skip
    ray, ahead = np.array([np.cos(end), np.sin(end)]), way * np.array([-np.sin(end), np.cos(end)])
    foot = centre + radius * ray
    barb = [foot + 36.0 * ahead, foot + 17.0 * ray, foot - 17.0 * ray]
    canvas.axes.add_artist(Polygon(barb, closed=True, facecolor=colour, edgecolor="none", zorder=27))
    size = quantity(abs(moment), "N m", 1)
    words = say("turned head-up: {size}", size=size) if way > 0.0 else say("turned head-down: {size}", size=size)
    right, wide = page.right - 8.0, set_width(words, WORDS, bold=True)
    ends = (page.bottom + 28.0, page.top - 28.0)
    edge, other = ends if way < 0.0 else ends[::-1]
    tail = float(centre[1]) - way * radius * np.sin(np.radians(0.6 * TURN))
    heights = [
        *np.linspace(float(foot[1]) + way * 76.0, edge, 8).tolist(),
        *np.linspace(tail - way * 40.0, other, 8).tolist(),  # where another's words stand before the barb
    ]
    boxes = [_room(right, y, wide, "right") for y in heights]
    best = clearest(boxes, drawn, taken, page)
    draw_word(canvas, (right, heights[best]), words, size=WORDS, across="right", bold=True)
