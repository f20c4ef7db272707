"""The curves beside the diver: moment above, pitch below, traced as the film goes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final, Literal

import numpy as np

from meshes.mesh import Floats
from sim.answers.film import words
from sim.answers.film.footage import Curve, Footage, Picture
from sim.answers.film.graph_names import Name, named
from sim.answers.film.lettering import word
from sim.drawing.canvas import Canvas, haloed, points
from sim.drawing.chart_sheet import with_commas
from sim.drawing.letters import set_width, size_for
from sim.drawing.palette import GRID, HEAD_DOWN, HEAD_UP, INK, PAPER, SOFT_INK
from sim.telling.language import in_unit

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes

LEAST: Final = {"moment": 2.0, "pitch": 10.0}  # N m, degrees either way that are shown at least: less is not felt
LETTERS, SMALLEST = 22.0, 19.0  # reference pixels: of names in the graph, and of the axis's own where it is long
NOTHING: Final = {"moment": 0.05, "pitch": 0.5}  # below which a number turns neither way
LINES: Final[tuple[tuple[str, Any], ...]] = (
    (SOFT_INK, (0, (3.0, 1.6))),
    (INK, "-"),
)  # of two curves, the first and the last
Quantity = Literal["moment", "pitch"]


class Graphs:
    """Two pairs of axes with what is traced in them; ``set`` moves it to a picture."""

    def __init__(self, canvas: Canvas, footage: Footage, width: float, head: float, foot: float) -> None:
        left, right = canvas.width - width + 90.0, canvas.width - 48.0
        low, high = foot + 200.0, canvas.height - head - 60.0
        middle = 0.5 * (low + high)
        boxes = ((left, middle + 46.0, right, high), (left, low, right, middle - 46.0))
        names: tuple[tuple[Quantity, str], ...] = (("moment", footage.moment_words), ("pitch", footage.pitch_words))
        self._graphs = [_Graph(canvas, footage, b, n, key) for b, (key, n) in zip(boxes, names, strict=True)]
        unit = footage.axis.unit
        label = f"{footage.axis.words} [{unit}]" if unit and unit != "s" else footage.axis.words
        size = size_for(label, right - left, 25.0, least=SMALLEST, zoom=canvas.zoom)  # as broad as the axis
        size = size_for(label, right - left + 80.0, size, zoom=canvas.zoom)  # or as what stands over it
        # from its left, since a halo's letters are set a little wider than the box that "right" goes by
        word(canvas, (right - set_width(label, size), low - 58.0), label, size=size, colour=SOFT_INK)
        self.artists: list[Artist] = [a for graph in self._graphs for a in graph.artists]

    def set(self, picture: Picture) -> None:
        for graph in self._graphs:
            graph.set(picture)


class _Graph:
    """One quantity along the axis."""

    def __init__(self, canvas: Canvas, footage: Footage, box: tuple[float, ...], name: str, key: Quantity) -> None:
        self._key, self._axis, self._curves = key, footage.axis, footage.curves
        left, low, right, high = box
        place = (
            left / canvas.width,
            low / canvas.height,
            (right - left) / canvas.width,
            (high - low) / canvas.height,
        )
        self._axes = canvas.figure.add_axes(place)
        _plain(self._axes)
        every = np.concatenate([_shown(c, key) for c in self._curves])
        bottom, top = min(float(every.min()), -LEAST[key]), max(float(every.max()), LEAST[key])
        ends = bottom - 0.08 * (top - bottom), top + 0.08 * (top - bottom)
        places = np.concatenate([c.at for c in self._curves]) * self._axis.factor
        first = float(self._curves[0].at[0] * self._axis.factor)
        last = float(places[np.abs(places - first).argmax()])
        self._axes.set_xlim(first, last if last != first else first + 1.0)
        self._axes.axhline(0.0, color=SOFT_INK, linewidth=points(2.0))
        self._name_the_ways(ends, (right - left, high - low))
        if key == "moment":
            self._axes.tick_params(labelbottom=False)  # the one below says the same
        word(canvas, (left - 80.0, high + 62.0), name, size=25, colour=SOFT_INK)
        for curve in self._curves[:-1] if len(self._curves) > 1 else self._curves:
            self._axes.plot(curve.at * self._axis.factor, _shown(curve, key), color=GRID, linewidth=points(4.0))
        self._traces = [
            self._axes.plot([], [], color=shade, linestyle=dashes, linewidth=points(5.0), animated=True)[0]
            for shade, dashes in LINES[-len(self._curves) :]
        ]
        if len(self._curves) > 1 and key == "moment":
            self._name_the_curves()
        self._dot = self._axes.plot(
            [], [], marker="o", markersize=points(19.0), markeredgecolor=PAPER, markeredgewidth=points(2.5),
            animated=True, zorder=9, clip_on=False,
        )[0]  # fmt: skip
        self._value = canvas.axes.text(
            left - 80.0, high + 26.0, "", fontsize=points(31.0), fontweight="bold", ha="left", va="center",
            animated=True, path_effects=haloed(5.0),
        )  # fmt: skip
        self.artists: list[Artist] = [*self._traces, self._dot, self._value]

    def _name_the_curves(self) -> None:
        """Which is which, over the graph beside its value."""
        from matplotlib.lines import Line2D

        shown = [Line2D([], [], color=c, linestyle=d, linewidth=points(5.0)) for c, d in LINES]
        self._axes.legend(
            shown, words.before_and_after(), fontsize=points(22.0), frameon=False, loc="lower right",
            bbox_to_anchor=(1.0, 1.0), borderaxespad=0.1, handlelength=1.7, handletextpad=0.4, labelspacing=0.2,
        )  # fmt: skip

    def _name_the_ways(self, ends: tuple[float, float], size: tuple[float, float]) -> None:
        """Which way is up and down, and where the vertical is."""
        axes, (bottom, top) = self._axes, ends
        wanted = [
            (Name(said, side), colour)
            for end, said, colour, side in (
                (top, words.head_up(), HEAD_UP, -1), (bottom, words.head_down(), HEAD_DOWN, 1),
            )
            if abs(end) > 0.2 * (top - bottom)
        ]  # fmt: skip
        for angle in (-90.0, 90.0) if self._key == "pitch" else ():
            if bottom < angle < top:
                axes.axhline(angle, color=SOFT_INK, linewidth=points(2.0), dashes=(4, 3))
                wanted.append((Name(words.at_the_vertical(angle), 1, angle), SOFT_INK))
        first, last = axes.get_xlim()
        curves = [
            np.stack([(c.at * self._axis.factor - first) / (last - first), _shown(c, self._key)], axis=1)
            for c in self._curves
        ]
        names = named([name for name, _ in wanted], curves, ends, size, LETTERS)
        axes.set_ylim(*names.limits)
        for (name, colour), box in zip(wanted, names.boxes, strict=True):
            if box is not None:
                axes.text(
                    0.5 * (box.left + box.right) / size[0], 0.5 * (box.bottom + box.top) / size[1], name.words,
                    color=colour, va="center_baseline", ha="center", fontsize=points(LETTERS), zorder=6,
                    transform=axes.transAxes, path_effects=haloed(5.0),
                )  # fmt: skip

    def set(self, picture: Picture) -> None:
        at, value = picture.number("at") * self._axis.factor, picture.number(self._key)
        if self._key == "moment":
            said = words.moment(value, past=abs(picture.number("pitch")) > 0.5 * np.pi)
            value = float(in_unit(value, "N m"))
        else:
            said, value = words.short_attitude(value), float(np.degrees(value))
        for number, trace in enumerate(self._traces):
            trace.set_data(*self._traced(number, picture, at, value))
        colour = HEAD_UP if value > 0.0 else HEAD_DOWN
        turns = abs(value) >= NOTHING[self._key]
        self._dot.set_data([at], [value])
        self._dot.set_markerfacecolor(colour if turns else SOFT_INK)
        self._value.set_text(said)
        self._value.set_color(colour if turns else INK)

    def _traced(self, number: int, picture: Picture, at: float, value: float) -> tuple[Floats, Floats]:
        """What is drawn of a curve by now: all of one that is done, of the present one up to the picture."""
        along, values = self._curves[number].at * self._axis.factor, _shown(self._curves[number], self._key)
        if number < picture.curve:
            return along, values
        if number > picture.curve or (picture.to is not None and len(self._curves) > 1):
            return along[:0], values[:0]
        done = np.abs(along - along[0]) <= abs(at - along[0]) + 1e-9
        return np.append(along[done], at), np.append(values[done], value)


def _shown(curve: Curve, key: Quantity) -> Floats:
    """In the unit of the axis."""
    return np.asarray(in_unit(curve.moment, "N m")) if key == "moment" else np.degrees(curve.pitch)


def _plain(axes: Axes) -> None:
    axes.set_facecolor(PAPER)
    axes.patch.set_alpha(0.75)
    axes.spines[["top", "right"]].set_visible(False)
    axes.spines[["left", "bottom"]].set_color(SOFT_INK)
    axes.tick_params(colors=INK, labelsize=points(23.0), width=points(2.0), length=points(6.0))
    axes.grid(visible=True, color=GRID, alpha=0.45, linewidth=points(1.3))
    axes.locator_params(nbins=4)
    axes.set_axisbelow(True)
    with_commas(axes)
