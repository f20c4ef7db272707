"""Marks on the diver held flat in one view: weight and buoyancy, what turns them, and names."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.settle.drawn.close_up import LENS, close_up_size, draw_close_up
from sim.answers.settle.drawn.placed_view import FlatPanel
from sim.answers.settle.drawn.story import Story, Turner
from sim.answers.settle.drawn.words import (
    BUOYANCY,
    HORIZON,
    WEIGHT,
    force_words,
    item_words,
    way_words,
)
from sim.drawing.canvas import Canvas, points
from sim.drawing.free_space import Box
from sim.drawing.label_places import Label, Place, placed, spaced
from sim.drawing.letters import parted, set_width, wrapped_to
from sim.drawing.marks import draw_barb, draw_centre, draw_force, draw_line, draw_word
from sim.drawing.sheet_options import Layer
from sim.drawing.views import projected
from sim.rig import STANDARD_GRAVITY
from sim.telling.language import told
from sim.telling.lead_words import NO_MOMENT

if TYPE_CHECKING:
    from sim.answers.settle.drawn.measures import Measure

FORCE: Final = 150.0  # pixels of the greater of weight and buoyancy
TURN: Final = 125.0  # pixels of the greatest of what turns the diver
SIZE: Final = 22.0  # of letters
WIDEST: Final = 275.0  # of a thing's name
STEP: Final = 1.25  # from line to line, of their size
APART: Final = 30.0  # pixels between arrows the same way, so that neither hides the other
ARC: Final = 14.0  # degrees that the arc at the head end turns for a moment as great as that of the longest arrow
ARC_SHARES: Final = (0.15, 1.3)  # of that, at least and at most
NAMED_IN_ROW: Final = 3  # things that turn one of several divers


@dataclass(frozen=True, eq=False)
class _Name:
    """Words that want a place: lines with their size, colour and weight."""

    label: Label
    lines: tuple[str, ...]
    bold: tuple[bool, ...]
    size: float


def draw_panel(canvas: Canvas, panel: FlatPanel, story: Story, layers: frozenset[Layer]) -> None:
    """Lines, arrows and names over the diver."""
    names: list[_Name] = []
    lines: list[Floats] = []
    level = float(panel.at(story.flat.cm)[0, 1])
    if "horizon" in layers and (panel.turning or panel.name == "front"):
        left, right = (panel.room.left, panel.room.right) if not panel.in_row else _about(panel.drawn)
        ends = np.array([[left, level], [right, level]])
        draw_line(canvas, ends, canvas.style.soft_ink, 2.0, 2.0, dashes=(7, 4), halo=False)
        lines.append(spaced(ends))
        if not panel.in_row:
            name = _name((left + 62.0, level), (told(HORIZON),), 20.0, 1, bold=False)
            names.append(replace(name, label=replace(name.label, near=True, needed=False)))
    if "arrows" in layers and (panel.name != "three-quarter" or panel.turning):
        if not panel.in_row:
            names += _forces(canvas, panel, story, lines)
        if panel.turning:
            names += _turners(canvas, panel, story.turners, lines)
        elif panel.name == "top":
            _seen_from_above(canvas, panel, story.turners)
    if "arc" in layers and panel.turning and abs(story.flat.trimming_moment) >= NO_MOMENT:
        full = panel.full or max((abs(t.moment) for t in story.turners), default=1.0)
        names.append(_arc(canvas, panel, story.flat.trimming_moment, full, lines))
    measures = [m for m in story.measures if not panel.small or m.view == panel.name]
    names += [_measured(canvas, panel, one, lines) for one in measures]
    if "arrows" in layers and not panel.small:
        names.append(_lens_wanted(panel, story))
    page = Box(panel.room.left + 4.0, panel.room.bottom + 4.0, panel.room.right - 4.0, panel.room.top - 4.0)
    along = np.concatenate(lines) if lines else np.zeros((0, 2))
    taken = []
    if panel.words:
        at = (panel.room.left + 8.0, panel.room.top - 14.0)
        draw_word(canvas, at, panel.words, size=20.0, across="left", colour=canvas.style.soft_ink)
        taken = [Box(at[0], at[1] - 14.0, at[0] + set_width(panel.words, 20.0), at[1] + 14.0)]
    places = placed([n.label for n in names], panel.drawn, along, taken, page)
    for name, place in zip(names, places, strict=True):
        if place is None:
            continue
        if name.lines:
            _write(canvas, name, place)
        else:
            draw_close_up(canvas, place, _apart(panel, story), panel.placement.scale)


def _about(drawn: Floats) -> tuple[float, float]:
    """Ends of a level line that is a little longer than the diver."""
    return float(drawn[:, 0].min()) - 50.0, float(drawn[:, 0].max()) + 20.0


def _apart(panel: FlatPanel, story: Story) -> Floats:
    """(2,) from CM to CB on the sheet, right and up [m]."""
    return np.asarray((projected(panel.view, story.flat.cb) - projected(panel.view, story.flat.cm))[0, :2])


def _lens_wanted(panel: FlatPanel, story: Story) -> _Name:
    """Room for the close-up of the two centres."""
    x, y = panel.at(story.flat.cm)[0].tolist()
    width, height = close_up_size(_apart(panel, story), panel.placement.scale)
    return _Name(Label((x, y), width, height, -1, hides=12.0, lens=LENS, needed=False), (), (), 0.0)


def _name(
    at: tuple[float, float], lines: Sequence[str], size: float, side: int, *, bold: bool = True,
    last_bold: bool | None = None,
) -> _Name:  # fmt: skip
    weights = tuple(bold if last_bold is None or k < len(lines) - 1 else last_bold for k in range(len(lines)))
    width = max(set_width(line, size, bold=b) for line, b in zip(lines, weights, strict=True)) + 8.0
    return _Name(Label(at, width, STEP * size * len(lines) + 4.0, side), tuple(lines), weights, size)


def _write(canvas: Canvas, name: _Name, place: Place) -> None:
    box, step = place.box, STEP * name.size
    middle = 0.5 * (box.left + box.right)
    for number, (line, bold) in enumerate(zip(name.lines, name.bold, strict=True)):
        draw_word(canvas, (middle, box.top - 2.0 - step * (number + 0.5)), line, size=name.size, bold=bold)
    if place.leader is not None:
        draw_line(canvas, place.leader, canvas.style.soft_ink, 1.6, 26.0)


def _arrow_points(start: Floats, tip: Floats, half: float) -> Floats:
    """Points (n, 2) over an upright arrow, to keep words off."""
    middle = spaced(np.stack([start, tip]))
    return np.concatenate([middle + [dx, 0.0] for dx in (-half, 0.0, half)])


def _forces(canvas: Canvas, panel: FlatPanel, story: Story, lines: list[Floats]) -> list[_Name]:
    """Weight at the CM and buoyancy at the CB, to one scale; from above, where they are."""
    scene, style = story.flat, canvas.style
    weight = scene.mass * STANDARD_GRAVITY
    buoyancy = (scene.mass + scene.net_buoyancy) * STANDARD_GRAVITY
    greater = max(weight, buoyancy, 1e-9)
    names = []
    for place, newtons, way, word, colour in (
        (scene.cm, weight, -1.0, WEIGHT, style.weight),
        (scene.cb, buoyancy, 1.0, BUOYANCY, style.buoyancy),
    ):
        start = panel.at(place)[0]
        if panel.name != "top":
            tip = draw_force(canvas, start, way * FORCE * newtons / greater, colour, 29.0)
            lines.append(_arrow_points(start, tip, 16.0))
            names.append(_name((float(tip[0]), float(tip[1])), (force_words(word, newtons),), SIZE, int(way)))
        draw_centre(canvas, start, colour, 10.0, 31.0)
    return names


def _turners(canvas: Canvas, panel: FlatPanel, turners: Sequence[Turner], lines: list[Floats]) -> list[_Name]:
    """An arrow at each thing, in proportion to how hard it turns the diver, the way it pushes its end of them."""
    if not turners:
        return []
    full = panel.full or max(abs(t.moment) for t in turners)
    turn, letters = TURN, SIZE
    if panel.in_row:
        turners, turn, letters = turners[:NAMED_IN_ROW], 0.36 * (panel.room.top - panel.room.bottom), 18.0
    centre = panel.at(np.zeros(3) + panel.view.centre)[0]
    starts = np.array([panel.at(t.at)[0] for t in turners])
    ways = np.array([_way(t, panel) for t in turners])
    starts[:, 0] = _spread(starts[:, 0], ways, float(centre[0]))
    names = []
    for turner, start, way in zip(turners, starts, ways.tolist(), strict=True):
        colour = canvas.style.head_up if turner.moment > 0.0 else canvas.style.head_down
        tip = draw_force(canvas, start, way * turn * abs(turner.moment) / full, colour, 30.0, slim=True)
        lines.append(_arrow_points(start, tip, 12.0))
        name, size = item_words(turner.name, turner.moment)
        words = (*wrapped_to(parted(name, WIDEST, letters), WIDEST, letters), size)
        names.append(_name((float(tip[0]), float(tip[1])), words, letters, int(way), bold=False, last_bold=True))
    return names


def _way(turner: Turner, panel: FlatPanel) -> float:
    """Up or down: a thing ahead of the CM that turns head-up pushes up."""
    ahead = float(turner.at[0] - panel.view.centre[0])
    return 1.0 if turner.moment * (ahead or 1.0) > 0.0 else -1.0


def _spread(x: Floats, ways: Floats, centre: float) -> Floats:
    """Places along the diver (n,) with arrows the same way at least APART, and off those of weight and buoyancy."""
    moved = x.copy()
    for way in (1.0, -1.0):
        own = np.flatnonzero(ways == way)
        own = own[np.argsort(x[own])]
        for _ in range(60):
            for k in own:
                off = moved[k] - centre
                if abs(off) < APART:
                    moved[k] = centre + np.copysign(APART, off)
            gaps = np.diff(moved[own])
            close = np.flatnonzero(gaps < APART - 0.5)
            if not len(close):
                break
            for k in close:
                push = 0.5 * (APART - (moved[own[k + 1]] - moved[own[k]]))
                moved[own[k]] -= push
                moved[own[k + 1]] += push
    return moved


def _measured(canvas: Canvas, panel: FlatPanel, measure: Measure, lines: list[Floats]) -> _Name:
    """Lines of what is measured, in the colour of how it is found."""
    from matplotlib.patches import Polygon

    style = canvas.style
    colour = style.ink if measure.passes is None else style.passes if measure.passes else style.fails
    if measure.area is not None:
        corners = panel.at(measure.area)
        canvas.axes.add_artist(Polygon(corners, facecolor=colour, edgecolor="none", alpha=0.30, zorder=24.0))
    for number, line in enumerate(measure.lines):
        seen = panel.at(line)
        draw_line(canvas, seen, colour, 2.4 if number else 4.5, 28.5, dashes=(4, 2) if number == 1 else None)
        lines.append(spaced(seen))
    at = panel.at(measure.at)[0]
    name = _name((float(at[0]), float(at[1])), measure.words, 19.0, 0, bold=False)
    return replace(name, label=replace(name.label, needed=False))


def _seen_from_above(canvas: Canvas, panel: FlatPanel, turners: Sequence[Turner]) -> None:
    """Discs instead of arrows, in proportion by their area, as an arrow's tip (dot) or its feathers (cross)."""
    from matplotlib.patches import Circle

    greatest = max((abs(t.moment) for t in turners), default=1.0)
    for turner in turners:
        x, y = panel.at(turner.at)[0].tolist()
        radius = 22.0 * float(np.sqrt(abs(turner.moment) / greatest))
        colour = canvas.style.head_up if turner.moment > 0.0 else canvas.style.head_down
        canvas.axes.add_artist(
            Circle((x, y), radius, facecolor=colour, edgecolor=canvas.style.halo, linewidth=points(2.2), zorder=29)
        )
        mark = "o" if _way(turner, panel) > 0.0 else "x"
        how: dict[str, Any] = {"markersize": points(0.8 * radius), "markeredgewidth": points(2.4), "zorder": 30}
        canvas.axes.plot([x], [y], mark, color="#ffffff", **how)


def _arc(canvas: Canvas, panel: FlatPanel, moment: float, full: float, lines: list[Floats]) -> _Name:
    """An arc before the head end, as long as the moment is great, its barb the way the head goes, and words.

    full : moment [N m] for which it is as long as ARC
    """
    centre = panel.at(np.zeros(3) + panel.view.centre)[0]
    way = 1.0 if moment > 0.0 else -1.0
    radius = float(panel.drawn[:, 0].max() - centre[0]) + 34.0
    long = ARC * float(np.clip(abs(moment) / full, *ARC_SHARES))
    turns = np.radians(np.linspace(-0.4 * way * long, way * long, 40))
    arc = centre + radius * np.stack([np.cos(turns), np.sin(turns)], axis=1)
    colour = canvas.style.head_up if way > 0.0 else canvas.style.head_down
    draw_line(canvas, arc, colour, 7.0, 27.0)
    end = float(turns[-1])
    ahead = way * np.array([-np.sin(end), np.cos(end)])
    draw_barb(canvas, arc[-1] + 26.0 * ahead, ahead, colour, 36.0)
    lines += [spaced(arc), spaced(np.stack([arc[-1], arc[-1] + 30.0 * ahead]))]
    words = way_words(moment)
    name = _name((float(arc[-1][0]) + 14.0, float(arc[-1][1])), words, 20.0 if panel.in_row else 25.0, 0)
    return replace(name, label=replace(name.label, ahead=True, led=False))
