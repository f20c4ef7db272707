"""What is drawn over the diver anew in each picture: forces, axis, pitch, what turns, and where the gas is."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

import numpy as np

from meshes.mesh import Floats
from sim.answers.film import words
from sim.answers.film.footage import Footage, Picture
from sim.answers.film.lettering import word
from sim.answers.film.stage import FOOT, PANEL, swing_of
from sim.drawing.canvas import Canvas, haloed, points
from sim.drawing.letters import set_width
from sim.drawing.palette import GAS_LINE, GAS_THICK, HEAD_DOWN, HEAD_UP, INK, PAPER, SOFT_INK

if TYPE_CHECKING:
    from matplotlib.artist import Artist

ARROW: Final = 190.0  # pixels of the greater force
NAME: Final = 25.0  # letters of a force's name
STEEP: Final = 3.0  # a diver who slopes by 10 degrees has the names of the forces wholly beside their arrows
SHORTEST: Final = 1e-3  # rad, below which there is no arc to draw
FELT: Final = 0.3  # N m, below which no arrow is drawn (assumed)
TAIL: Final = 0.75  # of the arc's radius, that the axis reaches to the feet
OUTSIDE: Final = 1.09  # of the arc's radius, that the arrow of the moment has
BARS: Final = 330.0  # pixels from the right to the bars of the gas
BAR: Final = (190.0, 20.0, 32.0)  # greatest length, height and distance of the bars


class ForceMarks:
    """Arrows of weight, filled, and buoyancy, hollow, from their centres: told apart without colour."""

    def __init__(self, canvas: Canvas) -> None:
        from matplotlib.patches import Polygon

        self._arrows: list[Any] = []
        self._names: list[Any] = []
        self._centres: list[Any] = []
        for face, edge in ((INK, PAPER), (PAPER, INK)):
            arrow = Polygon([(0, 0)] * 3, closed=True, facecolor=face, edgecolor=edge, linewidth=points(2.6),
                            zorder=28, animated=True)  # fmt: skip
            self._arrows.append(canvas.axes.add_artist(arrow))
            self._names.append(word(canvas, (0, 0), "", size=NAME, across="center", bold=True, moves=True))
            self._centres += canvas.axes.plot(
                [], [], marker="o", markersize=points(17.0), markerfacecolor=face, markeredgecolor=INK,
                markeredgewidth=points(4.0), zorder=30, animated=True,
            )  # fmt: skip
        self.artists: list[Artist] = [*self._arrows, *self._centres, *self._names]

    def set(self, at: Floats, ahead: float, picture: Picture) -> None:
        """at : (2, 2) pixels of CM and CB;  ahead : of the body's axis on the picture, from the right [rad]"""
        forces = picture.number("weight"), picture.number("push")
        said = words.weight(forces[0]), words.buoyancy(forces[1])
        aside = float(
            np.clip(STEEP * np.sin(2.0 * ahead), -1.0, 1.0)
        )  # over a diver who slopes, away from the high end
        for k, way in enumerate((-1.0, 1.0)):
            length = way * ARROW * forces[k] / max(*forces, 1e-9)
            self._arrows[k].set_xy(_upright(at[k], length))
            self._centres[k].set_data([at[k, 0]], [at[k, 1]])
            self._names[k].set_text(said[k])
            off = max(0.5 * set_width(said[k], NAME, bold=True) - 12.0, 0.0)
            self._names[k].set_position((at[k, 0] - way * aside * off, at[k, 1] + length + way * 18.0))


class TurnMarks:
    """The body's axis, its pitch as an arc from the horizon, and outside of it an arrow of what turns."""

    def __init__(self, canvas: Canvas, held: Floats, radius: float, most: float) -> None:
        """held : (2,) pixels of the point that stays;  radius : of the arc [pixels];  most : greatest moment [N m]"""
        from matplotlib.patches import Polygon

        self._held, self._radius, self._most = held, radius, most
        self._line = canvas.axes.plot([], [], color=INK, linewidth=points(2.2), dashes=(14, 3, 3, 3), zorder=26,
                                      path_effects=haloed(4.0, opacity=0.5), animated=True)[0]  # fmt: skip
        self._arc = canvas.axes.plot([], [], color=INK, linewidth=points(3.4), zorder=27, animated=True)[0]
        self._angle = word(canvas, (0, 0), "", size=27.0, across="center", bold=True, moves=True)
        self._turn: Any = canvas.axes.add_artist(
            Polygon([(0, 0)] * 3, closed=True, edgecolor=PAPER, linewidth=points(2.2), zorder=28, animated=True)
        )
        self.artists: list[Artist] = [self._line, self._arc, self._turn, self._angle]

    def set(self, ahead: float, moment: float, *, folded: bool, from_level: bool) -> None:
        """ahead : of the body's axis on the picture, from the right, anticlockwise [rad]

        moment : [N m], plus head-up;  folded : the diver is past the vertical, and the near horizon is on the left
        from_level : the moment is that of the diver held flat
        """
        held, radius = self._held, self._radius
        ray = np.array([np.cos(ahead), np.sin(ahead)])
        ends = np.stack([held - TAIL * radius * ray, held + 1.06 * radius * ray])
        self._line.set_data(ends[:, 0], ends[:, 1])
        level = np.copysign(np.pi, ahead) if folded else 0.0
        arc = _round(held, radius, np.linspace(level, ahead, max(int(abs(ahead - level) / 0.03), 2)))
        self._arc.set_data(arc[:, 0], arc[:, 1])
        size = abs(ahead - level)
        self._arc.set_visible(size > SHORTEST)
        self._angle.set_visible(size > np.radians(6.0))
        self._angle.set_text(f"{round(float(np.degrees(size)))}°")
        clear = (moment * (ahead - level) > 0.0) is not from_level  # of the moment's arrow
        beside = _round(held, radius + (38.0 if clear else -46.0), np.array([0.5 * (level + ahead)]))[0]
        self._angle.set_position((float(beside[0]), float(beside[1])))
        self._turn.set_visible(abs(moment) > FELT)
        if abs(moment) > FELT:
            # past the vertical, head-up is still the turn that brings the head back the way it came
            swing = swing_of(moment, self._most)
            self._turn.set_xy(_curved(held, OUTSIDE * radius, 0.0 if from_level else ahead, swing))
            self._turn.set_facecolor(HEAD_UP if moment > 0.0 else HEAD_DOWN)


class GasBars:
    """How much gas is where, as bars, with a tick at what there was at the beginning."""

    def __init__(self, canvas: Canvas, footage: Footage) -> None:
        from matplotlib.patches import Rectangle

        self._footage = footage
        every = np.array([_gas_in(footage, p) for p in footage.pictures])
        self._per_litre = BAR[0] / max(float(every.max(initial=0.0)), 1e-6)
        there = np.flatnonzero(every.max(axis=0) > 0.0)
        self._bars: list[tuple[int, Any, Any]] = []
        self.artists: list[Artist] = []
        if not len(there):
            return
        left, top = canvas.width - BARS, FOOT + 82.0
        word(canvas, (canvas.width - PANEL + 10.0, top), words.gas_where(), size=25, colour=SOFT_INK)
        for row, place in enumerate(there):
            middle = top - BAR[2] * row
            word(canvas, (left - 10.0, middle), words.places()[place], size=22, across="right")
            bar = Rectangle((left, middle - 0.5 * BAR[1]), 0.0, BAR[1], facecolor=GAS_THICK, edgecolor=GAS_LINE,
                            linewidth=points(1.5), zorder=21, animated=True)  # fmt: skip
            canvas.axes.add_artist(bar)
            tick = left + self._per_litre * float(every[0, place])
            canvas.axes.plot(
                [tick] * 2, [middle - 14.0, middle + 14.0], color=SOFT_INK, linewidth=points(3.0), zorder=20
            )
            value = word(canvas, (left + BAR[0] + 14.0, middle), "", size=22.0, moves=True)
            self._bars.append((int(place), bar, value))
            self.artists += [bar, value]

    def set(self, picture: Picture) -> None:
        volumes = _gas_in(self._footage, picture)
        for place, bar, value in self._bars:
            bar.set_width(self._per_litre * volumes[place])
            value.set_text(words.litres(volumes[place]))


def _gas_in(footage: Footage, picture: Picture) -> Floats:
    """Gas [m^3] in the suit below the hips and above them, and in the wing."""
    volumes = [np.zeros(3), np.zeros(3)]
    for number, pose in enumerate((picture.pose, picture.to)):
        if pose is None:
            continue
        pocket = footage.divers[pose.diver].rig.suit
        if pocket is not None and pose.suit is not None:
            below = pocket.cells[:, 0] < 0.0  # the origin is between the hips
            volumes[number][:2] = pose.suit[below].sum(), pose.suit[~below].sum()
        if pose.wing is not None:
            volumes[number][2] = pose.wing.sum()
    return volumes[0] if picture.to is None else picture.mixed(*volumes)


def _round(middle: Floats, radius: float, angles: Floats) -> Floats:
    """Points (n, 2) on a circle."""
    return np.asarray(middle + radius * np.stack([np.cos(angles), np.sin(angles)], axis=1))


def _upright(start: Floats, length: float) -> list[tuple[float, float]]:
    """Outline of an upright arrow of ``length`` pixels, plus up."""
    way, x, y = float(np.sign(length)) or 1.0, float(start[0]), float(start[1])
    head = min(34.0, 0.6 * abs(length))
    neck, tip = y + length - way * head, y + length
    half = [(5.0, y), (5.0, neck), (15.0, neck)]
    return [(x - dx, py) for dx, py in half] + [(x, tip)] + [(x + dx, py) for dx, py in reversed(half)]


def _curved(middle: Floats, radius: float, start: float, swing: float) -> Floats:
    """Outline (n, 2) of an arrow along a circle from the angle ``start`` by ``swing`` [rad]."""
    head = float(np.copysign(min(30.0 / radius, 0.6 * abs(swing)), swing))
    along = np.linspace(start, start + swing - head, 24)
    neck, tip = np.array([along[-1]]), np.array([start + swing])
    inner, outer = _round(middle, radius - 6.0, along), _round(middle, radius + 6.0, along)
    barb = [_round(middle, radius + 16.0, neck), _round(middle, radius, tip), _round(middle, radius - 16.0, neck)]
    return np.concatenate([outer, *barb, inner[::-1]])
