"""The fit drawing: a diver wearing the rig, from behind and from the side, measured, with verdicts beside it."""

from __future__ import annotations

from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats
from sim.answers.fit.drawn.dimension_lines import draw_arrow_head, draw_dimension
from sim.answers.fit.drawn.layout import ABOVE, MARGIN, SIGHT, FitLayout, Level, laid_out
from sim.answers.fit.drawn.plate_inset import draw_inset, inset_view, inset_words
from sim.answers.fit.drawn.scene import DrawnHand, DrawnLift, FitScene
from sim.answers.fit.drawn.sheet import A4, PIXEL, OnPage, Word, area, sheet, stroke, write
from sim.answers.fit.drawn.verdict_list import draw_verdicts, laid_rows
from sim.answers.fit.drawn.views import outline, paint_back, paint_side
from sim.drawing.canvas import Canvas
from sim.drawing.free_space import Box
from sim.drawing.letters import size_for, wrapped_to
from sim.drawing.palette import FAILS, INK, PAPER, PASSES, SOFT_INK
from sim.drawing.saved import checked_path, save
from sim.telling.language import comma, in_unit, quantity, say, unit_name

TITLE_SIZE: Final = 21.0
CAUTION_SIZE: Final = 10.0
BAR: Final = 0.20  # m, of the scale


def draw_fit(scene: FitScene, path: str | Path) -> Path:
    """Draw the scene on an A4 page across, PNG, SVG or PDF by the path's ending.

    Raises ValueError for another ending, OSError when the file cannot be written.
    """
    target = checked_path(path)
    layout = laid_out(scene)
    canvas = sheet()
    page = Box(0.0, layout.back_box.bottom, float(A4[0]), float(A4[1]))
    paint_back(canvas, scene, layout.back, page)
    paint_side(canvas, scene, layout.side, page)
    for level in layout.levels:
        draw_level(canvas, level, layout)
    for dimension in layout.dimensions:
        draw_dimension(canvas, dimension)
    draw_marks(canvas, scene, layout)
    draw_inset(canvas, scene.plate, inset_view(scene.plate, layout.inset))
    for word in all_words(scene, layout):
        write(canvas, word)
    _draw_scale(canvas, layout)
    draw_verdicts(canvas, laid_rows(scene.verdicts, layout.column))
    save(canvas, target)
    return target


def all_words(scene: FitScene, layout: FitLayout) -> list[Word]:
    """Everything written but the verdicts."""
    words = [d.word for d in layout.dimensions] + [v.name for v in layout.levels] + list(layout.words)
    words += inset_words(scene.plate, inset_view(scene.plate, layout.inset), layout.inset)
    return words + page_words(scene, layout)


def page_words(scene: FitScene, layout: FitLayout) -> list[Word]:
    """Title, names of the views, straps to cut, caution."""
    top = float(A4[1])
    size = size_for(scene.title, A4[0] - 2.0 * MARGIN, TITLE_SIZE, bold=True)
    words = [
        Word(scene.title, (MARGIN, top - 38.0), size, bold=True),
        Word(scene.subtitle, (MARGIN, top - 62.0), 12.5, colour=SOFT_INK),
    ]
    for box, name in ((layout.back_box, say("from behind")), (layout.side_box, say("from the left side"))):
        middle = 0.5 * (box.left + box.right)
        words.append(Word(name, (middle, layout.back_box.top + ABOVE + 16.0), 12.5, "center", bold=True))
    for k, line in enumerate(_beneath(scene)):
        words.append(Word(line, (MARGIN + 226.0, 84.0 - 15.0 * k), 11.0))
    lines = wrapped_to(scene.caution, A4[0] - 2.0 * MARGIN, CAUTION_SIZE)
    words += [
        Word(line, (MARGIN, 38.0 - 13.0 * k), CAUTION_SIZE, colour=SOFT_INK) for k, line in enumerate(lines[:3])
    ]
    return words


def _beneath(scene: FitScene) -> list[str]:
    """What the marks mean, and the webbing."""
    lines = []
    if scene.hands:
        told = say("Hatched: where a hand gets, in the plane of its knob; bold: its limit.")
        met = scene.lift is not None and scene.lift.contact is not None
        lines.append(told + (" " + say("Cross: where the lifted head meets gear.") if met else ""))
    if scene.straps_to_cut:
        lines.append(
            say(
                "Webbing to cut, tails and loops included: {straps}",
                straps=", ".join(f"{name} {quantity(100.0 * cut, 'cm', 0)}" for name, cut in scene.straps_to_cut),
            )
        )
    return [*lines, scene.carried] if scene.carried else lines


def draw_level(canvas: Canvas, level: Level, layout: FitLayout) -> None:
    """A thin line across both views, broken by its name."""
    box, y = level.name.box, level.y
    knee = 8.0
    for ends in (
        [[layout.back_box.left, y], [layout.back_box.right + knee, y], [box.left - 3.0, level.name.at[1]]],
        [[layout.side_box.right, y], [layout.side_box.left - knee, y], [box.right + 3.0, level.name.at[1]]],
    ):
        stroke(canvas, ends, colour=level.colour, width=0.8, dashes=level.dashes, zorder=30.0)


def draw_marks(canvas: Canvas, scene: FitScene, layout: FitLayout) -> None:
    """Landmarks, hands and the lifted head on both views."""
    marks = scene.body.landmarks
    for mark in (marks["c7"], marks["left acromion"], marks["right acromion"]):
        _draw_point(canvas, layout.back.at(mark)[0])
    for mark in (marks["c7"], marks["left acromion"]):
        _draw_point(canvas, layout.side.at(mark)[0])
    for hand in scene.hands:
        _draw_hand(canvas, hand, layout.back, hand.behind)
        if hand.side == "left":  # the nearer one; both would lie over each other
            _draw_hand(canvas, hand, layout.side, hand.beside)
    if scene.lift is not None:
        _draw_lift(canvas, scene.lift, layout.side)


def _draw_point(canvas: Canvas, at: Floats, colour: str = INK) -> None:
    """A landmark: a small open triangle, point down on it."""
    shape = at + np.array([[0.0, 0.0], [3.6, 6.2], [-3.6, 6.2], [0.0, 0.0]])
    area(canvas, [shape], fill=PAPER, edge=colour, width=1.0, zorder=47.0)


def _draw_hand(canvas: Canvas, hand: DrawnHand, page: OnPage, rings: tuple[Floats, ...]) -> None:
    """Where the hand gets, hatched, its limit drawn bold; the arm as a chain; the knob."""
    colour = PASSES if hand.margin >= 0.0 else FAILS
    placed = [page.at(ring) for ring in rings]
    area(canvas, placed, fill=colour, opacity=0.08, zorder=32.0)
    area(canvas, placed, hatch="////", hatch_colour=colour, zorder=32.1)
    for ring, at in zip(rings, placed, strict=True):
        limit = np.linalg.norm(ring - hand.knob, axis=1) < 0.96 * hand.radius
        for piece in _runs(at, limit):
            stroke(canvas, piece, colour=colour, width=2.0, zorder=33.0, halo=0.8)
    chain = page.at(hand.chain)
    stroke(canvas, chain, colour=colour, width=2.2, zorder=34.0, halo=1.2)
    for at in chain[:3]:
        area(canvas, [at + 3.0 * _circle()], fill=PAPER, edge=colour, width=1.2, zorder=35.0)
    knob = page.at(hand.knob)[0]
    stroke(canvas, [chain[3], knob], colour=INK, width=0.9, dashes=(2.0, 2.0), zorder=36.0)
    area(canvas, [knob + 5.0 * _circle()], edge=INK, width=1.3, zorder=36.0)


def _runs(ring: Floats, kept: NDArray[np.bool_]) -> list[Floats]:
    """The pieces of a closed ring (n, 2), first corner repeated, whose corners are kept."""
    if kept.all():
        return [ring]
    start = int(np.flatnonzero(~kept)[0])
    order = (np.arange(len(ring) - 1) + start) % (len(ring) - 1)
    pieces, open_piece = [], []
    for k in order:
        if kept[k]:
            open_piece.append(ring[k])
        elif open_piece:
            pieces.append(np.array(open_piece))
            open_piece = []
    pieces += [np.array(open_piece)] if open_piece else []
    return [p for p in pieces if len(p) > 1]


def _draw_lift(canvas: Canvas, lift: DrawnLift, page: OnPage) -> None:
    """The lifted head's outline, the arc of the eyes, straight ahead and the line of sight."""
    outline(canvas, [lift.head], page, dashes=(4.0, 2.4), width=1.2, zorder=28.0)
    before = lift.eyes_before - lift.pivot
    angles = np.linspace(0.0, lift.lift, 40)
    turned = np.stack([
        before[0] * np.cos(angles) - before[2] * np.sin(angles),
        np.zeros(40),
        before[0] * np.sin(angles) + before[2] * np.cos(angles),
    ], axis=1)  # fmt: skip
    arc = page.at(lift.pivot + turned)
    stroke(canvas, arc, colour=INK, width=1.0, zorder=37.0)
    if lift.lift > 0.05:
        draw_arrow_head(canvas, arc[-1], (arc[-1] - arc[-3]) / np.linalg.norm(arc[-1] - arc[-3]), 37.0, 0.8)
    eyes = page.at(lift.eyes)[0]
    for way, dashes, width in (([1.0, 0.0, 0.0], (6.0, 3.0), 0.9), (lift.sight, (), 1.4)):
        tip = page.at(lift.eyes + SIGHT * np.asarray(way))[0]
        stroke(canvas, [eyes, tip], colour=INK, width=width, dashes=dashes, zorder=37.0)
        draw_arrow_head(canvas, tip, (tip - eyes) / np.linalg.norm(tip - eyes), 37.0)
    if lift.contact is not None:
        at = page.at(lift.contact)[0]
        for turn in (1.0, -1.0):
            stroke(
                canvas,
                [at - [4.5, 4.5 * turn], at + [4.5, 4.5 * turn]],
                colour=FAILS,
                width=2.0,
                zorder=38.0,
                halo=1.0,
            )


def _draw_scale(canvas: Canvas, layout: FitLayout) -> None:
    """A bar of BAR in fifths, and the scale in words."""
    length = BAR / (layout.one_to * PIXEL)
    left, y = MARGIN, 62.0
    for k in range(4):
        part = Box(left + 0.25 * k * length, y, left + 0.25 * (k + 1) * length, y + 6.0)
        ring = np.array(
            [
                [part.left, part.bottom],
                [part.right, part.bottom],
                [part.right, part.top],
                [part.left, part.top],
                [part.left, part.bottom],
            ]
        )
        area(canvas, [ring], fill=INK if k % 2 == 0 else PAPER, edge=INK, width=0.8, zorder=50.0)
    for share, text in (
        (0.0, "0"),
        (0.5, comma(f"{in_unit(50.0 * BAR, 'cm'):.3g}")),
        (1.0, comma(f"{in_unit(100.0 * BAR, 'cm'):.3g} {unit_name('cm')}")),
    ):
        write(canvas, Word(text, (left + share * length, y + 9.0), 10.5, "center", "bottom"))
    write(canvas, Word(say("1 : {one_to} on A4", one_to=layout.one_to), (left + length + 20.0, y + 3.0), 11.5))


def _circle(count: int = 24) -> Floats:
    turn = np.linspace(0.0, 2.0 * np.pi, count)
    return np.stack([np.cos(turn), np.sin(turn)], axis=1)
