"""The picture of a diver at the surface: every way of lying that is told, on one sheet, each with its water line."""

from __future__ import annotations

import os
import textwrap
from collections.abc import Sequence
from pathlib import Path
from typing import Final

import numpy as np

from meshes.mesh import Floats, Mesh
from meshes.mesh import moved as moved_mesh
from sim.answers.settle.afloat.answer import Surface
from sim.answers.settle.afloat.panel import (
    ASKED,
    BODY,
    SMALLEST,
    Afloat,
    Panel,
    draw_marks,
    draw_water,
    draw_words,
    height_of,
    texts,
)  # fmt: skip
from sim.answers.settle.afloat.surface import SurfaceReport, pose_of
from sim.answers.settle.afloat.text import gas_words
from sim.answers.settle.afloat.words import Lie, lies_of
from sim.answers.settle.drawn.painting import FORCE_FLAT_SHAPES
from sim.answers.settle.drawn.picture import in_flat_shapes
from sim.answers.settle.drawn.settled import hands_of, worn_on
from sim.assembly.afloat import HANGING
from sim.assembly.assembled import Looks
from sim.assembly.limp_joints import angles_of
from sim.drawing.canvas import Canvas, SheetOnCanvas, blank
from sim.drawing.diver_painter import paint_flat, paint_rendered, sheet_for
from sim.drawing.flat_shapes import flat_shapes
from sim.drawing.free_space import Box
from sim.drawing.letters import size_for
from sim.drawing.marks import draw_word
from sim.drawing.offscreen import Rendered, rendered
from sim.drawing.saved import checked_path, save
from sim.drawing.scene import HangingScene, WingGas
from sim.drawing.style import LIGHT, Style
from sim.drawing.surfaces import dressed
from sim.drawing.views import View
from sim.floating.articulated import at_angles
from sim.floating.energy import gas_state
from sim.rig import Pocket
from sim.said import note
from sim.telling.caution import told_caution
from sim.telling.language import quantity, say, set_apart

CAUTION_LETTERS: Final = 165  # in a line of small print
BIGGEST: Final = 420.0  # pixels a metre
BELOW: Final = 0.06  # m, how far over a sunk diver the surface is drawn
TOP, BOTTOM, EDGE, GAP = 112.0, 96.0, 40.0, 14.0  # of the sheet: title, small print, margins, between panels
TALL: Final = 0.25  # of the breadth for a diver who stands
WATER_SHARE: Final = 0.57  # of the breadth of a lying diver's panel, the rest for words
PAD: Final = 0.07  # m of sky and sea about a diver
UPRIGHT_WORDS: Final = 300.0  # pixels of words below a diver who stands
BESIDE: Final = 1.7  # breadths of a diver that the water has where it is low, marks beside the diver included
LEAST_SHARE: Final = 0.36  # of the breadth, for water
KEPT: Final = 0.8  # of a diver's scale, at least, for larger letters


def draw_afloat(
    report: SurfaceReport, surface: Surface, path: Path, *, size: tuple[int, int] = (1600, 1000), look: Style = LIGHT
) -> str:  # fmt: skip
    """Draw every way of lying that is told to a PNG, SVG or PDF; says in a few words how it was drawn.

    Raises ValueError for another ending or a size out of bounds, OSError when the file cannot be written.
    """
    target = checked_path(path)
    canvas = blank(size, style=look)
    panels = panels_on(canvas, divers(report, surface), surface)
    for panel in panels:
        draw_water(canvas, panel)
    why = _paint(canvas, panels, target)
    for panel in panels:
        draw_marks(canvas, panel)
    draw_words(canvas, panels, surface)
    _write_texts(canvas, report.assembled.title, surface)
    save(canvas, target)
    if not why:
        return note("shaded")
    return in_flat_shapes("" if why == "-" else why)


def divers(report: SurfaceReport, surface: Surface) -> tuple[Afloat, ...]:
    """Each way of lying as it is told, with the diver in the pose that goes with it; else one who sank, upright."""
    joints, body = report.diver.body.joints, report.diver.body
    lies = lies_of(surface)
    if lies:
        return tuple(
            _afloat(report, lie, np.array([*lie.lying.joints.values()]), lie.lying.up, lie.lying.water_level)
            for lie in lies
        )
    angles, up = angles_of(joints, HANGING), np.array([1.0, 0.0, 0.0])
    top = max(float((h.mesh.vertices @ up).max()) for h in at_angles(body, angles).hulls)
    return (_afloat(report, None, angles, up, top + BELOW),)


def _afloat(report: SurfaceReport, lie: Lie | None, angles: Floats, up: Floats, level: float) -> Afloat:
    rig, looks = (there := report.dressed(pose_of(report.diver, angles)).assembled).rig, there.looks
    if looks is None:
        raise ValueError("a rig known by numbers only has no shape to draw")
    pocket, bag = rig.wing, _bag(report, looks, rig.wing, angles, up, level)
    scene = HangingScene(
        parts=rig.parts, skin=looks.skin, worn=worn_on(looks, rig.parts), hands=hands_of(looks, rig.parts),
        up=up, pitch=0.0, roll=0.0,
        cm=rig.whole.cm, cb=rig.whole.cb, mass=rig.whole.mass, net_buoyancy=0.0, trimming_moment=0.0,
        title=there.title,
        wing=None if bag is None or pocket is None else WingGas(bag, pocket.cells, pocket.law.most),
    )  # fmt: skip
    return Afloat(lie, dressed(scene).surfaces, looks.mouth, up, level)


def _bag(
    report: SurfaceReport, looks: Looks, pocket: Pocket | None, angles: Floats, up: Floats, level: float
) -> Mesh | None:
    """The wing's bag as it is filled there."""
    if looks.wing is None or pocket is None:
        return None
    fill = np.ones(len(pocket.cells))
    if not report.diver.wing_full:
        soft = [g for g in at_angles(report.diver.body, angles).gas if g.total is not None]
        held = gas_state(soft[0], up, level)[0].volume[0] if soft else np.zeros(len(pocket.cells))
        fill = np.clip(held / np.maximum(pocket.law.most, 1e-12), 0.0, 1.0)
    where = looks.wing.where
    return moved_mesh(looks.wing.bag.bag_mesh(fill), where.rotation, where.origin)


def panels_on(canvas: Canvas, every: Sequence[Afloat], surface: Surface) -> tuple[Panel, ...]:
    """Where each diver lies on the sheet: who stands, in a tall panel at the left; all others one below another.

    All are drawn to one scale. A diver alone has the whole sheet.
    """
    page = Box(EDGE, BOTTOM, canvas.width - EDGE, canvas.height - TOP)
    standing = [a for a in every if a.up[0] > 0.7]
    lying = [a for a in every if a not in standing]
    split = page.left + (TALL * (page.right - page.left) if lying and standing else 0.0)
    right = split if lying else page.right
    rooms = [(a, _tall_room(page, right, (number, len(standing)), a)) for number, a in enumerate(standing)]
    left = split + (GAP if standing else 0.0)
    rooms += zip(lying, _wide_rooms(Box(left, page.bottom, page.right, page.top), lying, surface), strict=True)
    scale = min([BIGGEST, *(_largest(a, scene) for a, (scene, _) in rooms)])
    return tuple(Panel(a, scene, words, _at(a, scene, scale), scale) for a, (scene, words) in rooms)


def _tall_room(page: Box, right: float, place: tuple[int, int], diver: Afloat) -> tuple[Box, Box]:
    """Water and words of a diver who stands, the words below; ``place`` is (number, of how many)."""
    breadth = (right - page.left + GAP) / place[1]
    left = page.left + place[0] * breadth
    low = page.bottom + (12.0 if diver.lie is None else UPRIGHT_WORDS)
    return Box(left, low, left + breadth - GAP, page.top), Box(left, page.bottom, left + breadth - GAP, low - 12.0)


def _wide_rooms(page: Box, lying: Sequence[Afloat], surface: Surface) -> list[tuple[Box, Box]]:
    """Water and words of divers who lie, the words at the right; as high as each needs to be drawn to one scale.

    The more there are, the narrower the water, which then is low as well.
    """
    if not lying:
        return []
    room, breadth = page.top - page.bottom - GAP * (len(lying) - 1), page.right - page.left
    spans = np.array([_span(a) for a in lying])
    wanted = BESIDE * float(spans[:, 0].max()) * room / float(spans[:, 1].sum())
    middle = page.left + float(np.clip(wanted, LEAST_SHARE * breadth, WATER_SHARE * breadth))
    left = middle + 1.4 * GAP
    heights = _heights(room, spans[:, 1], [texts(a.lie, surface) for a in lying if a.lie], page.right - left)
    tops = page.top - np.concatenate([[0.0], np.cumsum(heights + GAP)[:-1]])
    return [
        (Box(page.left, t - h, middle, t), Box(left, t - h, page.right, t))
        for t, h in zip(tops.tolist(), heights.tolist(), strict=True)
    ]


def _heights(room: float, spans: Floats, said: Sequence[Sequence[str]], wide: float) -> Floats:
    """(n,) heights of panels that fill the room: as ``spans``, but each at least what its words ``said`` take.

    The words in the largest letters for which the divers need not be drawn more than a little smaller.
    """
    heights = room * spans / spans.sum()
    for size in np.arange(BODY, SMALLEST, -0.5).tolist():
        least = np.array([height_of(words, wide, size) for words in said])
        if len(least) != len(spans) or least.sum() > room:
            continue
        over = spans.copy()
        for _ in spans:  # lower the water of those who need less until no panel is too low for its words
            found = room * over / over.sum()
            over = np.where(found < least, over * least / found, over)
        found = room * over / over.sum()
        if (found / spans).min() >= KEPT * room / spans.sum():
            return np.asarray(found)
    return np.asarray(heights)


def _span(diver: Afloat) -> Floats:
    """(2,) breadth and height [m] that a diver needs, PAD and the mark at the mouth included."""
    low, high = diver.extent()
    return np.array([high[0] - low[0], max(high[1], ASKED) - low[1]]) + 2.0 * PAD


def _largest(diver: Afloat, scene: Box) -> float:
    """The greatest scale [pixels a metre] at which a diver fits into the water with PAD about."""
    span = _span(diver)
    return float(min((scene.right - scene.left) / span[0], (scene.top - scene.bottom) / span[1]))


def _at(diver: Afloat, scene: Box, scale: float) -> tuple[float, float]:
    """Where the sheet's origin goes, the diver in the middle."""
    low, high = diver.extent()
    high = np.array([high[0], max(high[1], ASKED)])
    x = 0.5 * (scene.left + scene.right) - 0.5 * scale * (low[0] + high[0])
    return float(x), float(0.5 * (scene.bottom + scene.top) - 0.5 * scale * (low[1] + high[1]))


def _paint(canvas: Canvas, panels: Sequence[Panel], target: Path) -> str:
    """All divers at once; why they were not shaded, empty where they were."""
    surfaces = tuple(s for panel in panels for s in panel.surfaces())
    view, placement = View(np.eye(3), np.zeros(3)), SheetOnCanvas((0.0, 0.0), panels[0].scale)
    answer = Rendered((), "-")
    if target.suffix.lower() == ".png":
        sheet, box = sheet_for(canvas, view, placement, Box(0.0, 0.0, canvas.width, canvas.height))
        forced = os.environ.get(FORCE_FLAT_SHAPES, "0") not in ("", "0")
        answer = (
            Rendered((), note("asked for by {name}", name=FORCE_FLAT_SHAPES))
            if forced
            else rendered(surfaces, (sheet,), canvas.style.outline)
        )
        if answer.pictures:
            paint_rendered(canvas, answer.pictures[0], box, 10.0)
            return ""
    paint_flat(canvas, flat_shapes(surfaces, view, 0.8 / placement.scale, line=canvas.style.outline), placement, 10.0)
    return answer.failure


def _write_texts(canvas: Canvas, title: str, surface: Surface) -> None:
    """Title above, small print below."""
    headed = say("{title}: at the surface", title=title[:1].upper() + title[1:])
    size = size_for(headed, canvas.width - 2.0 * EDGE, 34.0, bold=True, zoom=canvas.zoom)
    draw_word(canvas, (EDGE, canvas.height - 46.0), headed, size=size, across="left", bold=True, halo=False)
    said = set_apart((quantity(surface.mass, "kg", 1), gas_words(surface)))
    if surface.heavy_by is not None:
        heavy_by = quantity(surface.heavy_by, "kg", 1)
        said = say("Sinks: {heavy_by} too heavy to float; {said}", heavy_by=heavy_by, said=said)
    draw_word(
        canvas, (EDGE, canvas.height - 88.0), said, size=21.0, across="left", colour=canvas.style.soft_ink, halo=False
    )
    limp = say(
        "Motionless on flat water, limbs relaxed, head tipped so that the mouth is as clear as it gets. Dashed at "
        "the mouth: {asked}, what the LSA Code asks of lifejackets, for reference only. A wing is "
        "not a lifejacket, and somebody who does not move need not stay as drawn.",
        asked=quantity(1e3 * ASKED, "mm", 0),
    )
    small = [told_caution()] if surface.heavy_by is not None else [limp, told_caution()]
    lines = [line for text in small for line in textwrap.wrap(text, CAUTION_LETTERS)]
    low, step, size = (16.0, 20.0, 16.0) if len(lines) <= 4 else (14.0, 16.5, 14.0)  # a translation is longer
    for number, line in enumerate(reversed(lines)):
        draw_word(canvas, (EDGE, low + step * number), line, size=size, across="left", halo=False)
