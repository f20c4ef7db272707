"""Small line drawings for a form: the diver from the side, held by a buddy's hands, seen as areas without shading."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from meshes.mesh import Floats, Mesh
from sim.answers.check_bench.paper_form import BLACK, WHITE, Block, Mark, Patch, Stroke, Text, moved
from sim.drawing.silhouettes import silhouette
from sim.drawing.views import side_view
from sim.rig import Kind, Part

# What is drawn, from the farthest layer to the nearest, and how it is filled; the rest is too small to be told apart
LAYERS: Final[tuple[tuple[tuple[Kind, ...], str], ...]] = (
    (("wing",), "#d9d9d9"),
    (("cylinder", "manifold", "valve"), "#bdbdbd"),
    (("fins",), "#8c8c8c"),
    (("stage",), "#d9d9d9"),
    (("mask", "lead"), "#404040"),
)
SIMPLIFIED: Final = 0.002  # m: what a line of a third of a millimetre hides at these sizes
STRAP_AT: Final = (0.30, 0.75)  # of the way from knee to ankle
STRAP_HALF, STRAP_TAPER = 0.075, 0.03  # m, half a strap's drawn length at the knee, and how much less at the ankle
PAD: Final = (7.0, 1.7)  # mm, length and thickness of a drawn hand
FOREARM: Final = np.array([-3.5, 4.5])  # mm, from the hand to where the arm leaves the drawing


@dataclass(frozen=True, eq=False)
class Figure:
    """A diver to draw from the side: (n, 2) headward and backward in body axes [m].

    layers : outlines from the farthest to the nearest, each with its fill
    shoulder, knee : (2,) where the buddy's hands hold;  shanks : pairs of knee and ankle (2,)
    """

    layers: tuple[tuple[tuple[Floats, ...], str], ...]
    shoulder: Floats
    knee: Floats
    shanks: tuple[tuple[Floats, Floats], ...] = ()

    @property
    def length(self) -> float:
        """From the tips of the fins to the fingers [m]."""
        along = np.concatenate([ring[:, 0] for rings, _ in self.layers for ring in rings])
        return float(np.ptp(along))


def figure_from(skin: Mesh, parts: Sequence[Part], joints: Mapping[str, Floats]) -> Figure:
    """The figure of a skin, what is worn on it and the body's joints, all in body axes [m]."""
    layers = [(_rings([skin]), WHITE)]
    for kinds, fill in LAYERS:
        meshes = [p.solid.mesh for p in parts if p.kind in kinds and p.solid.mesh is not None]
        if meshes:
            layers.append((_rings(meshes), fill))
    at = {name: joint[[0, 2]] for name, joint in joints.items()}
    shoulder, knee = (0.5 * (at[f"left {j}"] + at[f"right {j}"]) for j in ("shoulder", "knee"))
    shanks = tuple((at[f"{side} knee"], at[f"{side} ankle"]) for side in ("left", "right"))
    return Figure(tuple(layers), shoulder, knee, shanks)


def drawn(figure: Figure, width: float, *, hands: bool = False, straps: bool = False, turned: float = 0.0) -> Block:
    """The diver flat, ``width`` [mm] wide, perhaps held by hands, strapped, or as an outline ``turned`` [rad] over.

    turned : plus is head-up; the flat diver then is filled, the turned one dashed, and the angle stands between them
    """
    scale = width / figure.length
    layers: list[Mark] = [
        Patch(tuple(_down(ring, scale) for ring in rings), fill, width=0.35 if k == 0 else 0.25)
        for k, (rings, fill) in enumerate(figure.layers)
    ]
    if straps:
        layers += _straps(figure, scale)
    if turned:
        layers = [_turned_outline(figure, turned, scale), *layers, *_angle(turned, 0.47 * width)]
    if hands:
        for point in (figure.shoulder, figure.knee):
            under = scale * float(point[0])
            layers += _hand(np.array([under, _lowest(layers, under)]))
    return _framed(layers)


def _down(points: Floats, scale: float) -> Floats:
    """Paper [mm] of points headward and backward [m]; ``scale`` [mm a metre]."""
    return np.asarray(points * [scale, -scale])


def _rings(meshes: Sequence[Mesh]) -> tuple[Floats, ...]:
    """Outlines from the side [m]."""
    import shapely

    view = replace(side_view([0.0, 0.0, 1.0], np.zeros(3)), slide=(0.0, 0.0))
    lines = [shapely.simplify(shapely.linestrings(ring), SIMPLIFIED) for ring in silhouette(meshes, view)]
    return tuple(shapely.get_coordinates(line) for line in lines)


def _turned_outline(figure: Figure, pitch: float, scale: float) -> Patch:
    """All that is worn as one dashed outline, turned about the hip joints."""
    import shapely

    areas = [shapely.make_valid(shapely.polygons(ring)) for rings, _ in figure.layers for ring in rings[:1]]
    whole = shapely.union_all(areas)
    parts = whole.geoms if hasattr(whole, "geoms") else [whole]
    turn = np.array([[np.cos(pitch), -np.sin(pitch)], [np.sin(pitch), np.cos(pitch)]])
    rings = tuple(_down(shapely.get_coordinates(p.exterior) @ turn.T, scale) for p in parts if hasattr(p, "exterior"))
    return Patch(rings, WHITE, width=0.25, dashes=(1.2, 0.8))


def _straps(figure: Figure, scale: float) -> list[Mark]:
    """Bands about the shanks, square to them in the side view."""
    marks: list[Mark] = []
    for knee, ankle in figure.shanks:
        along = ankle - knee
        across = np.array([-along[1], along[0]]) / np.linalg.norm(along)
        for share in STRAP_AT:
            half = STRAP_HALF - STRAP_TAPER * share
            ends = knee + share * along + np.outer([-half, half], across)
            marks.append(Stroke(_down(ends, scale), width=1.1))
    return marks


def _angle(turned: float, radius: float) -> list[Mark]:
    """An arc on the head's side from level to the turned trunk, with its size."""
    turn = np.linspace(0.0, turned, 24)
    arc = radius * np.stack([np.cos(turn), -np.sin(turn)], axis=1)
    back = arc[-1] - arc[-3]
    back /= np.linalg.norm(back)
    side = np.array([-back[1], back[0]])
    barb = np.array([arc[-1] - 2.2 * back + 1.0 * side, arc[-1], arc[-1] - 2.2 * back - 1.0 * side])
    middle = 1.28 * radius * np.array([np.cos(0.85 * turned), -np.sin(0.85 * turned)])
    words = f"{abs(np.degrees(turned)):.0f}°"
    return [
        Stroke(np.array([[0.15 * radius, 0.0], [1.1 * radius, 0.0]]), 0.2, dashes=(0.6, 0.6)),
        Stroke(arc, 0.4),
        Stroke(barb, 0.4),
        Text(words, (float(middle[0]), float(middle[1]) + 1.2), 10.0, "center", bold=True),
    ]


def _lowest(marks: Iterable[Mark], x: float) -> float:
    """How far down the filled areas reach within a hand's breadth of ``x`` [mm]."""
    points = np.concatenate([r for m in marks if isinstance(m, Patch) and m.fill and not m.dashes for r in m.rings])
    near = np.abs(points[:, 0] - x) < 0.5 * PAD[0]
    return float(points[near if near.any() else slice(None), 1].max())


def _hand(under: Floats) -> list[Mark]:
    """A hand held flat from below: what it is matters more than how it looks."""
    length, thick = PAD
    pad = under + np.array([[-0.5 * length, 0.7 * thick], [0.5 * length, 0.7 * thick]])
    arm = np.array([pad[0] + [1.0, 0.3], pad[0] + FOREARM])
    marks: list[Mark] = []
    for colour, extra in ((BLACK, 0.6), (WHITE, 0.0)):
        marks += [Stroke(arm, 1.9 + extra, colour), Stroke(pad, thick + extra, colour)]
    return marks


def _framed(marks: Sequence[Mark]) -> Block:
    """The marks moved so that nothing is left of or above the corner."""
    points = np.concatenate([p for m in marks for p in _extent(m)])
    low, high = points.min(axis=0), points.max(axis=0)
    return Block(float(high[1] - low[1]), tuple(moved(m, -float(low[0]), -float(low[1])) for m in marks))


def _extent(mark: Mark) -> list[Floats]:
    if isinstance(mark, Patch):
        return list(mark.rings)
    if isinstance(mark, Stroke):
        return [mark.points - 0.5 * mark.width, mark.points + 0.5 * mark.width]
    if isinstance(mark, Text):
        return [np.array([[mark.at[0] - 3.5, mark.at[1] - 3.0], [mark.at[0] + 3.5, mark.at[1] + 0.5]])]
    return []
