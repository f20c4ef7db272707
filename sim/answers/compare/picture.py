"""Divers side by side as a picture: for each further file, the diver held flat over the first, and what changed.

The first diver is a grey area, the other a line; gear of the other that turns the diver otherwise than the first's is
filled with the colour of the way in which it does. Beside it, group by group, the moment then and now.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats, Mesh
from sim.answers.compare.compared import Comparison, Diver, named
from sim.assembly.assembled import Assembled
from sim.drawing.canvas import Canvas, SheetOnCanvas, blank, fitted, haloed, points
from sim.drawing.letters import set_width, size_for, wrapped_to
from sim.drawing.saved import checked_path, save
from sim.drawing.silhouettes import silhouette
from sim.drawing.style import LIGHT, Style
from sim.drawing.views import View
from sim.telling.caution import told_caution
from sim.telling.groups import GROUPS
from sim.telling.language import quantity, say, told, unit_name
from sim.telling.words import moment_words

WIDE: Final = 1600
HEAD: Final = 150.0  # reference pixels, as all that follow
FOOT: Final = 110.0
PANEL: Final = 470.0
MARGIN: Final = 50.0
DIVER: Final = 900.0  # right edge of the divers
NAMES: Final = 285.0  # for the name of a group, in one line
CHANGED: Final = 0.3  # N m by which a group has to differ to be marked (assumed: a fifth of what is felt)
APART: Final = 14.0  # pixels from a disc's middle to its number
NUMBER: Final = 50.0  # kept free for a number at either end
LINE_APART: Final = 5.0  # and from a number to the line of no moment
MOST_BARS: Final = 9
FROM_THE_SIDE: Final = View(np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, -1.0, 0.0]]), np.zeros(3))
NO_SHAPE: Final = ("body", "suit", "gas in suit", "gas in wing", "gas in the cylinders")  # or that of the skin


def draw_comparison(
    answer: Comparison, assembled: Sequence[Assembled], path: str | Path, look: Style = LIGHT
) -> Path:
    """PNG, SVG or PDF by the path's ending; a panel for each file against the first.

    Raises ValueError for another ending, FileNotFoundError for a folder that is not there.
    """
    target = checked_path(path)
    panels = len(answer.divers) - 1
    canvas = blank((WIDE, int(HEAD + FOOT + PANEL * panels)), zoom=1.0, style=look)
    names = named([Path(d.file) for d in answer.divers])
    _headed(canvas, answer.divers[0], names[0])
    for number in range(panels):
        top = canvas.height - HEAD - PANEL * number
        pair = (answer.divers[0], answer.divers[number + 1])
        _divers(canvas, pair, (assembled[0], assembled[number + 1]), top)
        _groups(canvas, pair, top)
        letter = "ABCDE"[number + 1]
        words = f"{letter}  {names[number + 1]}: {moment_words(pair[1].pitch_moment)}"
        _words(canvas, words, (MARGIN, top - 34.0), 25.0, bold=True, room=DIVER - MARGIN)
        if _adds(pair[1].title, names[number + 1], pair[0].title):
            soft = canvas.style.soft_ink
            _words(canvas, pair[1].title, (MARGIN, top - 66.0), 20.0, room=DIVER - MARGIN, colour=soft)
    _small_print(canvas, answer.caution)
    save(canvas, target)
    return target


def _headed(canvas: Canvas, first: Diver, name: str) -> None:
    top = canvas.height
    _words(canvas, f"A  {name}: {moment_words(first.pitch_moment)}", (MARGIN, top - 52.0), 30.0, bold=True)
    if _adds(first.title, name):
        _words(canvas, first.title, (MARGIN, top - 86.0), 21.0, colour=canvas.style.soft_ink)
    reading = say(
        "Held flat and motionless. Grey area: A. Line: the other diver, its hips on A's. "
        "Filled: what turns the other otherwise than A."
    )
    _words(canvas, reading, (MARGIN, top - 122.0), 19.0)


def _adds(title: str, *said: str) -> bool:
    """Whether a title tells more than what stands over it."""
    return _letters(title) not in map(_letters, said)


def _letters(words: str) -> str:
    return "".join(c for c in words.casefold() if c.isalnum())


def _divers(canvas: Canvas, pair: tuple[Diver, Diver], both: tuple[Assembled, Assembled], top: float) -> None:
    """The two from the side, headward to the right."""
    shapes = [_outlines(a) for a in both]
    corners = [ring for one in shapes for rings in one.values() for ring in rings]
    if not corners:
        _words(canvas, say("A rig told by numbers has no shape to draw."), (MARGIN, top - 0.5 * PANEL), 20.0)
        return
    all_points = np.concatenate(corners)
    room = (MARGIN, top - PANEL + 24.0, DIVER, top - 92.0)
    placement = fitted(all_points.min(axis=0), all_points.max(axis=0), room, 420.0)
    for rings in shapes[0].values():
        _area(canvas, placement, rings, canvas.style.area, 10.0)
    for rings in shapes[0].values():
        _area(canvas, placement, rings, None, 12.0, edge=canvas.style.area_line, width=1.0)
    for group, rings in shapes[1].items():
        change = _change(pair, group)
        fill = (
            None
            if abs(change) < CHANGED or group == "body"
            else (canvas.style.head_up if change > 0 else canvas.style.head_down)
        )
        _area(canvas, placement, rings, fill, 20.0, opacity=0.45)
        _area(canvas, placement, rings, None, 22.0, edge=canvas.style.ink, width=1.5)


def _outlines(assembled: Assembled) -> dict[str, tuple[Floats, ...]]:
    """Rings of each group that has a shape, the body first."""
    found: dict[str, tuple[Floats, ...]] = {}
    if assembled.looks is not None:
        found["body"] = silhouette([assembled.looks.skin], FROM_THE_SIDE)
    for group in GROUPS:
        if group in NO_SHAPE:
            continue
        meshes: list[Mesh] = [p.solid.mesh for p in assembled.rig.parts if p.kind in GROUPS[group] and p.solid.mesh]
        if meshes:
            found[group] = silhouette(meshes, FROM_THE_SIDE)
    return found


def _change(pair: tuple[Diver, Diver], group: str) -> float:
    """By how much the other's group turns otherwise [N m], plus head-up."""
    one, two = (d.groups.get(group) for d in pair)
    return (two.moment if two else 0.0) - (one.moment if one else 0.0)


def _groups(canvas: Canvas, pair: tuple[Diver, Diver], top: float) -> None:
    """Each group's moment of A (ring) and of the other (disc), the greatest changes first."""
    groups = sorted(dict.fromkeys([*pair[0].groups, *pair[1].groups]), key=lambda g: -abs(_change(pair, g)))
    shown = [g for g in groups if abs(_change(pair, g)) >= CHANGED][:MOST_BARS]
    left, right = DIVER + 340.0, WIDE - MARGIN - 20.0
    rows = [(told(g), _moment(pair[0], g), _moment(pair[1], g)) for g in shown]
    rows.append((say("together"), pair[0].pitch_moment, pair[1].pitch_moment))
    reach = max(max(abs(one), abs(two)) for _, one, two in rows) or 1.0
    middle, scale = 0.5 * (left + right), (0.5 * (right - left) - NUMBER) / reach
    step = min((PANEL - 120.0) / len(rows), 40.0)
    high = top - 40.0
    low = high - step * len(rows)
    canvas.axes.plot([middle, middle], [low, high], color=canvas.style.soft_ink, linewidth=points(1.4), zorder=5)
    for number, (group, one, two) in enumerate(rows):
        level = high - step * (number + 0.5)
        last = number == len(rows) - 1
        if last:
            canvas.axes.plot(
                [DIVER + 40.0, right], [level + 0.5 * step] * 2, color=canvas.style.ink, linewidth=points(1.4)
            )
        _pair(canvas, (middle + scale * one, middle + scale * two), middle, level, two - one, last)
        _words(canvas, group, (left - 30.0, level - 6.0), 18.0, bold=last, across="right", room=NAMES)
    _name_the_ways(canvas, middle, low - 26.0)
    scale_words = say("ring: A; disc: the other; numbers: the change [{unit}]", unit=unit_name("N m"))
    _words(canvas, scale_words, (WIDE - MARGIN, low - 52.0), 16.0, across="right", colour=canvas.style.soft_ink)


def _name_the_ways(canvas: Canvas, middle: float, level: float) -> None:
    """Which side of the line at ``middle`` is which, both in letters of one size, short of the margin."""
    down, up, look = say("← head-down"), say("head-up →"), canvas.style
    room = WIDE - MARGIN - middle - 16.0
    size = min(size_for(words, room, 19.0, bold=True) for words in (down, up))
    _words(canvas, down, (middle - 16.0, level), size, across="right", colour=look.head_down, bold=True)
    _words(canvas, up, (middle + 16.0, level), size, colour=look.head_up, bold=True)


def _moment(diver: Diver, group: str) -> float:
    return diver.groups[group].moment if group in diver.groups else 0.0


def _pair(
    canvas: Canvas, ends: tuple[float, float], zero: float, level: float, change: float, bold: bool
) -> None:  # fmt: skip
    look = canvas.style
    colour = look.head_up if change > 0 else look.head_down
    draw: Any = canvas.axes.plot
    draw(ends, [level] * 2, color=colour, linewidth=points(5.0 if bold else 3.5), zorder=8, solid_capstyle="butt")
    draw(
        [ends[0]],
        [level],
        "o",
        markersize=points(13),
        markerfacecolor=canvas.style.paper,
        markeredgecolor=canvas.style.ink,
        zorder=9,
    )
    draw([ends[1]], [level], "o", markersize=points(13), color=colour, zorder=10)
    words = quantity(round(change, 1) + 0.0, "N m", 1, sign=True, bare=True, dash=True)
    left = _beside(ends, zero, set_width(words, 17.0, bold=bold), 1.0 if change > 0 else -1.0)
    _words(canvas, words, (left, level - 6.0), 17.0, bold=bold, halo=True)


def _beside(ends: tuple[float, float], zero: float, wide: float, way: float) -> float:
    """Left edge of a number beside a pair, where the change goes (``way``): right by it, or beyond the line."""
    low, high = min(ends) - APART - wide, max(ends) + APART
    if way > 0.0:
        return zero + LINE_APART if high - LINE_APART < zero < high + wide + LINE_APART else high
    return zero - LINE_APART - wide if low - LINE_APART < zero < low + wide + LINE_APART else low


def _area(
    canvas: Canvas, placement: SheetOnCanvas, rings: Sequence[Floats], fill: str | None, zorder: float, *,
    edge: str | None = None, width: float = 1.0, opacity: float = 1.0,
) -> None:  # fmt: skip
    from matplotlib.colors import to_rgba
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path as Outline

    if not rings or not (fill or edge):
        return
    outline = Outline.make_compound_path(*(Outline(placement.on_canvas(ring), closed=True) for ring in rings))
    canvas.axes.add_artist(
        PathPatch(
            outline, facecolor=to_rgba(fill, opacity) if fill else "none", edgecolor=edge or "none",
            linewidth=points(width) if edge else 0.0, zorder=zorder, joinstyle="round",
        )
    )  # fmt: skip


def _words(
    canvas: Canvas, words: str, at: tuple[float, float], size: float, *, bold: bool = False, across: str = "left",
    colour: str = "", room: float = WIDE - 2.0 * MARGIN, halo: bool = False,
) -> None:  # fmt: skip
    size = size_for(words, room, size, bold=bold, least=0.6 * size)
    canvas.axes.text(
        *at, words, fontsize=points(size), fontweight="bold" if bold else "normal", ha=across,
        color=colour or canvas.style.ink, zorder=40,
        path_effects=haloed(5.0, canvas.style.halo, 1.0) if halo else None,
    )  # fmt: skip


def _small_print(canvas: Canvas, caution: str) -> None:
    canvas.axes.plot([MARGIN, WIDE - MARGIN], [FOOT - 16.0] * 2, color=canvas.style.area_line, linewidth=points(1.0))
    for number, line in enumerate(wrapped_to(told_caution(caution), WIDE - 2.0 * MARGIN, 17.0)):
        canvas.axes.text(
            MARGIN, FOOT - 44.0 - 23.0 * number, line, fontsize=points(17.0), color=canvas.style.soft_ink
        )
