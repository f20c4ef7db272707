"""One diver at the surface, as a panel of the picture: where it lies on the sheet, its water, its marks and words."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats
from meshes.mesh import moved as moved_mesh
from sim.answers.settle.afloat.answer import Surface as ToldSurface
from sim.answers.settle.afloat.words import Lie, asks, heading, mouth_height, trunk, verdict
from sim.drawing.canvas import Canvas, haloed, points
from sim.drawing.free_space import Box, spread_over
from sim.drawing.label_places import Label, placed, spaced
from sim.drawing.letters import set_width
from sim.drawing.marks import draw_line, draw_word
from sim.drawing.surfaces import Surface
from sim.drawing.views import View, projected, world_from_body
from sim.telling.language import quantity, say, set_apart
from sim.telling.words import unbroken

ASKED: Final = 0.12  # m of the mouth over the water, the LSA Code's for lifejackets
TRUNK: Final = 0.72  # m, how far the trunk's line reaches from the hips
ARC: Final = 0.36  # m, radius of the angle's arc
HEADING: Final = 25.0  # letters
BODY: Final = 18.0
WATER_LETTERS: Final = 17.0
LINE: Final = 23.0  # from line to line
SMALLEST: Final = 11.0
APART: Final = 0.22  # of a line, between texts
LETTER: Final = 0.545  # breadth of a letter, of its size, on the average


@dataclass(frozen=True, eq=False)
class Afloat:
    """A diver ready to be drawn.

    lie : as told, None for a diver who sank;  surfaces : in body axes [m];  mouth : (3,) [m]
    up : (3,) world-up in body axes;  level : of the water along it [m]
    """

    lie: Lie | None
    surfaces: tuple[Surface, ...]
    mouth: Floats
    up: Floats
    level: float

    @property
    def view(self) -> View:
        """Level with the water from the side, head to the right; nothing is slid, so that the water is a line."""
        x, y, z = world_from_body(self.up)
        # the body point, on the way up from the hips, that lies in the surface
        return View(np.stack([x, z, -y]), self.up * self.level)

    def extent(self) -> Floats:
        """(2, 2) least and greatest (right, up) [m], up from the water."""
        at = np.concatenate([projected(self.view, s.mesh.vertices)[:, :2] for s in self.surfaces])
        return np.stack([at.min(axis=0), at.max(axis=0)])


@dataclass(frozen=True, eq=False)
class Panel:
    """A diver on the sheet: ``scene`` its water [reference pixels], ``words`` the room beside or below it.

    at : (2,) where sheet point 0, 0 lies [pixels];  scale : [pixels a metre]
    """

    afloat: Afloat
    scene: Box
    words: Box
    at: tuple[float, float]
    scale: float

    def on_canvas(self, body_points: Floats) -> Floats:
        """Pixels (n, 2) of body points (n, 3)."""
        return np.asarray(projected(self.afloat.view, body_points)[:, :2] * self.scale + self.at)

    def drawn(self) -> Floats:
        """(n, 2) points spread over the diver [pixels]."""
        meshes = [s.mesh for s in self.afloat.surfaces]
        firsts = np.cumsum([0, *(len(m.vertices) for m in meshes)])
        faces = np.concatenate([m.faces + f for m, f in zip(meshes, firsts, strict=False)])
        return spread_over(self.on_canvas(np.concatenate([m.vertices for m in meshes])), faces, 6.0)

    def surfaces(self) -> tuple[Surface, ...]:
        """The diver's surfaces with the sheet's own axes for theirs, in metres from the sheet's corner."""
        view, shift = self.afloat.view, np.array([*self.at, 0.0]) / self.scale
        return tuple(
            replace(s, mesh=moved_mesh(s.mesh, view.axes, shift - view.axes @ view.centre))
            for s in self.afloat.surfaces
        )


@dataclass(frozen=True, eq=False)
class _Mark:
    """A line (n, 2) [pixels] that was drawn, and what it tells about the place ``at``, or nothing.

    of_water : whether it is the water's name, which may stand anywhere under its line, or nowhere
    """

    line: Floats
    words: str = ""
    at: tuple[float, float] = (0.0, 0.0)
    of_water: bool = False

    @property
    def size(self) -> float:
        """Of the letters."""
        return WATER_LETTERS if self.of_water else BODY

    @property
    def label(self) -> Label:
        """The place that the words want."""
        width, height = set_width(self.words, self.size, bold=not self.of_water) + 6.0, 1.2 * self.size
        if self.of_water:
            return Label(self.at, width, height, side=-1, led=False, needed=False)
        return Label(self.at, width, height)


def draw_water(canvas: Canvas, panel: Panel) -> None:
    """Sky and sea behind the diver, see-through water before them, and the water line."""
    from matplotlib.patches import Rectangle

    box, level = panel.scene, panel.at[1]
    look = canvas.style
    sea = (box.bottom, level, look.sea)
    layers = ((level, box.top, look.sky, 1.0, 0.0), (*sea, 1.0, 0.0), (*sea, 0.38, 20.0))
    for bottom, top, colour, alpha, zorder in layers:
        canvas.axes.add_artist(
            Rectangle(
                (box.left, bottom), box.right - box.left, top - bottom, facecolor=colour, alpha=alpha,
                edgecolor="none", zorder=zorder,
            )
        )  # fmt: skip
    canvas.axes.plot([box.left, box.right], [level, level], color=look.soft_ink, linewidth=points(2.6), zorder=22)


def draw_marks(canvas: Canvas, panel: Panel) -> None:
    """The trunk's lean, the mouth's height, which way an upright diver is pushed; words where they hide nothing."""
    box, (_, level), lie = panel.scene, panel.at, panel.afloat.lie
    told = say("water")
    at = (box.left + 10.0 + 0.5 * set_width(told, WATER_LETTERS), level)
    marks = [_Mark(np.array([[box.left, level], [box.right, level]]), told, at, of_water=True)]
    if lie is not None:
        marks += _draw_trunk(canvas, panel, math.degrees(lie.lying.trunk_from_vertical))
        marks += _draw_mouth(canvas, panel)
        attitude = lie.attitude
        if attitude is not None and attitude.name == "upright" and abs(attitude.moment) >= 0.5:
            marks += _draw_push(canvas, panel, attitude.moment)
    _write_marks(canvas, panel, marks)


def _write_marks(canvas: Canvas, panel: Panel, marks: Sequence[_Mark]) -> None:
    """What marks tell, beside the diver and on no line."""
    lines = np.concatenate([spaced(m.line) for m in marks])
    box, told = panel.scene, [m for m in marks if m.words]
    page = Box(box.left + 4.0, box.bottom + 4.0, box.right - 4.0, box.top - 4.0)
    places = placed([m.label for m in told], panel.drawn(), lines, (), page)
    for mark, place in zip(told, places, strict=True):
        if place is None:
            continue
        middle = 0.5 * (place.box.left + place.box.right), 0.5 * (place.box.bottom + place.box.top)
        colour = canvas.style.soft_ink if mark.of_water else canvas.style.ink
        draw_word(canvas, middle, mark.words, size=mark.size, colour=colour, bold=not mark.of_water)
        if place.leader is not None:
            draw_line(canvas, place.leader, canvas.style.soft_ink, 1.6, 34.0)


def draw_words(canvas: Canvas, panels: Sequence[Panel], surface: ToldSurface) -> None:
    """What is told of each lie, beside or below it, all in letters of one size."""
    told = [(p, texts(p.afloat.lie, surface)) for p in panels if p.afloat.lie is not None]
    size = min((fitting_size(said, p.words) for p, said in told), default=BODY)
    for panel, (name, *said) in told:
        box, step = panel.words, LINE * size / BODY
        draw_word(canvas, (box.left, box.top - 16.0), name, size=HEADING, across="left", bold=True, halo=False)
        y = box.top - 16.0 - 1.3 * LINE
        for number, text in enumerate(said):
            for line in wrapped_to(text, box.right - box.left, size):
                bold = number == 0
                draw_word(canvas, (box.left, y), line, size=size, across="left", bold=bold, halo=False)
                y -= step
            y -= APART * step


def texts(lie: Lie, surface: ToldSurface) -> list[str]:
    """Name of a lie, the mouth's height, whether it stays, what it asks."""
    mouth, stays = mouth_height(lie.lying), set_apart((verdict(lie, surface), trunk(lie.lying))) + "."
    return [_sentence(t) for t in (heading(lie), mouth, stays, *asks(lie, surface))]


def fitting_size(said: Sequence[str], box: Box) -> float:
    """The largest letters, BODY at most, in which a name and what follows it fit into the box."""
    size = BODY
    while size > SMALLEST and height_of(said, box.right - box.left, size) > box.top - box.bottom:
        size -= 0.5
    return size


def height_of(said: Sequence[str], wide: float, size: float) -> float:
    """Pixels down that a name and what follows it take."""
    lines = sum(len(wrapped_to(text, wide, size)) + APART for text in said[1:])
    return 16.0 + 1.3 * LINE + lines * LINE * size / BODY


def wrapped_to(text: str, wide: float, size: float) -> list[str]:
    """Lines of a text no broader than ``wide``, a number kept with its unit."""
    return textwrap.wrap(unbroken(text), int(wide / (LETTER * size)))


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


def _line(canvas: Canvas, at: Floats, colour: str, width: float, dashes: tuple[float, float] | None = None) -> None:
    style: dict[str, Any] = {} if dashes is None else {"dashes": dashes}
    canvas.axes.plot(
        at[:, 0],
        at[:, 1],
        color=colour,
        linewidth=points(width),
        zorder=30,
        path_effects=haloed(3.0, canvas.style.halo),
        **style,
    )


def _draw_trunk(canvas: Canvas, panel: Panel, angle: float) -> list[_Mark]:
    """The trunk's line from the hips, the vertical, the ``angle`` [degrees] between them; nothing of one upright."""
    if angle < 1.0:
        return []
    hips = panel.on_canvas(np.zeros((1, 3)))[0]
    along = panel.afloat.view.axes[:2] @ np.array([1.0, 0.0, 0.0])  # the body's long axis, which lies in the sheet
    lean = float(np.arctan2(along[0], along[1]))
    radius = min(ARC * panel.scale, (panel.scene.top - float(hips[1]) - 6.0) / 1.15)
    trunk_line = np.stack([hips, hips + TRUNK * panel.scale * along])
    vertical = np.stack([hips, hips + [0.0, 1.15 * radius]])
    _line(canvas, trunk_line, canvas.style.ink, 2.4)
    _line(canvas, vertical, canvas.style.soft_ink, 1.8, (5.0, 3.0))
    swept = np.linspace(0.0, lean, 40)
    arc = hips + radius * np.stack([np.sin(swept), np.cos(swept)], axis=1)
    _line(canvas, arc, canvas.style.ink, 2.0)
    x, y = arc[0].tolist()  # by the vertical, which mostly stands out over the diver
    return [_Mark(trunk_line), _Mark(vertical), _Mark(arc, f"{angle:.0f}°", (x, y))]


def _draw_mouth(canvas: Canvas, panel: Panel) -> list[_Mark]:
    """The mouth, its height over the water, and beside it that which lifejackets are asked for."""
    mouth, level, box = panel.on_canvas(panel.afloat.mouth[None])[0], panel.at[1], panel.scene
    canvas.axes.plot(
        [mouth[0]],
        [mouth[1]],
        marker="o",
        markersize=points(11.0),
        color=canvas.style.ink,
        markeredgecolor=canvas.style.paper,
        zorder=32,
    )
    colour = canvas.style.passes if mouth[1] >= level + ASKED * panel.scale else canvas.style.fails
    side = min(float(mouth[0]) + 0.24 * panel.scale, box.right - 40.0)
    out = np.array([[mouth[0], mouth[1]], [side + 8.0, mouth[1]]])
    height = np.array([[side, level], [side, mouth[1]]])
    dashed = np.array([side, level + ASKED * panel.scale]) + np.array([[-26.0, 0.0], [26.0, 0.0]])
    _line(canvas, out, colour, 1.6)
    _line(canvas, height, colour, 2.8)
    _line(canvas, dashed, canvas.style.ink, 2.2, (3.0, 3.0))
    return [_Mark(out), _Mark(height), _Mark(dashed)]


def _draw_push(canvas: Canvas, panel: Panel, moment: float) -> list[_Mark]:
    """A bent arrow about the hips, the way the diver's head is pushed: forward is to the right."""
    from matplotlib.patches import FancyArrowPatch

    hips = panel.on_canvas(np.zeros((1, 3)))[0]
    way, radius = 1.0 if moment > 0.0 else -1.0, float(panel.afloat.extent()[1, 1]) * panel.scale
    radius += panel.at[1] - float(hips[1]) + 0.05 * panel.scale  # over the head
    start, end = (hips + radius * np.array([way * np.sin(a), np.cos(a)]) for a in np.radians([4.0, 26.0]))
    arrow = FancyArrowPatch(
        (float(start[0]), float(start[1])), (float(end[0]), float(end[1])), connectionstyle=f"arc3,rad={-0.18 * way}",
        arrowstyle="-|>,head_length=9,head_width=5", linewidth=points(5.0), color=canvas.style.ink, zorder=33,
    )  # fmt: skip
    canvas.axes.add_artist(arrow)
    shown = quantity(abs(moment), "N m", 0 if abs(moment) >= 9.95 else 1)
    return [_Mark(np.stack([start, end]), shown, (float(end[0]), float(end[1])))]
