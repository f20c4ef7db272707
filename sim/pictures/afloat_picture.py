"""The picture of a diver at the surface: water line, height of the mouth, angle of the trunk."""

from __future__ import annotations

import os
import textwrap
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

import numpy as np

from meshes.mesh import Floats, Mesh
from meshes.mesh import moved as moved_mesh
from sim.assembly.assembled import Looks
from sim.floating.energy import gas_state
from sim.floating.equilibrium import sinks
from sim.pictures.canvas import Canvas, Placement, blank, fitted, haloed, points
from sim.pictures.diver_painter import paint_flat, paint_rendered, sheet_for
from sim.pictures.flat_shapes import flat_shapes
from sim.pictures.free_space import Box
from sim.pictures.marks import draw_word
from sim.pictures.offscreen import Rendered, rendered
from sim.pictures.palette import ANGLE, BUOYANCY, INK, PAPER, SOFT_INK, WATER_BOTTOM, WEIGHT
from sim.pictures.saved import checked_path, save
from sim.pictures.scene import HangingScene, WingGas
from sim.pictures.settled import worn_on
from sim.pictures.settled_picture import CAUTION_LETTERS, FORCE_FLAT_SHAPES
from sim.pictures.surfaces import DressedScene, dressed
from sim.pictures.views import View, projected, world_from_body
from sim.report.caution import CAUTION
from sim.report.surface import SurfaceAnswer, face
from sim.rig import Pocket

MOST_PANELS: Final = 2
BIGGEST: Final = 400.0  # pixels a metre
TRUNK: Final = 0.78  # m, how far the trunk's line reaches from the hips
UPRIGHT: Final = 0.62  # m, and the vertical beside it
ARC: Final = 0.46  # m, radius of the angle's arc
BELOW: Final = 0.06  # m, how far over a sunk diver the surface is drawn
ASKED: Final = 120.0  # mm of the mouth over the water, the LSA Code's for lifejackets
LABEL: Final = 26.0  # size of the figures
WORDS: Final = {"up": "Face up", "down": "Face down", "forward": "Upright", "to the side": "On the side"}


@dataclass(frozen=True, eq=False)
class Panel:
    """One rest as it is drawn: ``up`` (3,) world's up in body axes, ``level`` of the water along it [m]."""

    up: Floats
    level: float
    heading: str
    wing: Mesh | None
    sunk: bool


def draw_afloat(answer: SurfaceAnswer, path: Path, *, size: tuple[int, int] = (1600, 1000)) -> str:
    """Draw the rests at the surface, two at most, to a PNG, SVG or PDF; says in a few words how it was drawn.

    Raises ValueError for another ending or a size out of bounds, OSError when the file cannot be written.
    """
    target = checked_path(path)
    canvas = blank(size)
    panels = panels_of(answer)
    level = 0.55 * canvas.height
    _draw_sea(canvas, level)
    notes = []
    width = canvas.width / len(panels)
    for number, panel in enumerate(panels):
        notes.append(
            _draw_panel(canvas, answer, panel, Box(number * width, 0.0, (number + 1) * width, level), target)
        )
    _draw_waterline(canvas, level)
    _write_texts(canvas, answer)
    save(canvas, target)
    return "shaded" if not any(notes) else f"in flat shapes: {next(n for n in notes if n)}".removesuffix(": -")


def panels_of(answer: SurfaceAnswer) -> tuple[Panel, ...]:
    """The rests that would stay, lowest energy first, two at most; a diver who sinks stands under the surface."""
    body = answer.diver.body
    if not answer.rests:
        up = np.array([1.0, 0.0, 0.0])
        top = max(float((h.mesh.vertices @ up).max()) for h in body.hulls)
        heavy = f"Sinks: {sinks(body, up):.1f} kg too heavy to float"
        return (Panel(up, top + BELOW, heavy, _wing(answer, up, top + BELOW), True),)
    stay = [(r, starts) for r, starts in answer.rests if r.settled and r.stiffness[0] > 0.0] or list(answer.rests)
    found: list[Panel] = []
    for rest, starts in stay:
        twin = next((p for p in found if _mirrored(p.up, rest.up)), None)
        if twin is not None:
            found[found.index(twin)] = replace(twin, heading=f"{twin.heading}; or mirrored")
        elif len(found) < MOST_PANELS:
            heading = f"{WORDS[face(rest.up)]}; reached from {' and '.join(starts)}"
            found.append(Panel(rest.up, rest.level, heading, _wing(answer, rest.up, rest.level), False))
    return tuple(found)


def _mirrored(one: Floats, other: Floats) -> bool:
    """The same rest with left and right changed over, within 2 degrees."""
    return bool(one @ (other * [1.0, -1.0, 1.0]) > np.cos(np.radians(2.0)))


def _wing(answer: SurfaceAnswer, up: Floats, level: float) -> Mesh | None:
    """The wing's bag as it is filled there."""
    looks, pocket = answer.assembled.looks, answer.assembled.rig.wing
    if looks is None or looks.wing is None or pocket is None:
        return None
    fill = np.ones(len(pocket.cells))
    if not answer.diver.wing_full:
        soft = [g for g in answer.diver.body.gas if len(g.cells) == len(pocket.cells) and g.total is not None]
        held = gas_state(soft[0], up, level)[0].volume[0] if soft else np.zeros(len(pocket.cells))
        fill = np.clip(held / np.maximum(pocket.law.most, 1e-12), 0.0, 1.0)
    where = looks.wing.where
    return moved_mesh(looks.wing.bag.bag_mesh(fill), where.rotation, where.origin)


def view_of(up: Floats, centre: Floats) -> View:
    """Level with the water from the side, head to the right; nothing is slid, so that the water line is a line."""
    x, y, z = world_from_body(up)
    return View(np.stack([x, z, -y]), centre)


def _scene(answer: SurfaceAnswer, panel: Panel, looks: Looks, pocket: Pocket | None) -> HangingScene:
    rig, body = answer.assembled.rig, answer.diver.body
    wing = None
    if panel.wing is not None and pocket is not None:
        wing = WingGas(panel.wing, pocket.cells, pocket.law.most)
    return HangingScene(
        parts=rig.parts, skin=looks.skin, worn=worn_on(looks.skin, rig.parts), up=panel.up,
        pitch=0.0, roll=0.0, cm=body.cm, cb=body.cm, mass=body.mass, net_buoyancy=0.0, trimming_moment=0.0,
        title=answer.assembled.title, rest_text="", wing=wing,
    )  # fmt: skip


def _draw_panel(canvas: Canvas, answer: SurfaceAnswer, panel: Panel, box: Box, target: Path) -> str:
    """One diver with water line, mouth and trunk; why it was not shaded, empty where it was."""
    looks = answer.assembled.looks
    assert looks is not None  # a SurfaceAnswer has shapes
    dress = dressed(_scene(answer, panel, looks, answer.assembled.rig.wing))
    middle = panel.up * panel.level  # the body point, on the way up from the hips, that lies in the surface
    view = view_of(panel.up, middle)
    sheet = np.concatenate([projected(view, s.mesh.vertices)[:, :2] for s in dress.surfaces])
    reach = projected(view, np.array([[TRUNK, 0.0, 0.0]]))[:, :2]
    placement = _placed(np.concatenate([sheet, reach]), box, canvas.height - 200.0)
    drawn = placement.on_canvas(sheet)
    note = _paint(canvas, dress, view, placement, drawn, target)
    _draw_over(canvas, box)
    draw_word(canvas, (0.5 * (box.left + box.right), canvas.height - 150.0), panel.heading, size=25.0, bold=True)
    if panel.sunk:
        return note
    _draw_trunk(canvas, panel, view, placement, drawn)
    _draw_mouth(canvas, answer, panel, view, placement, box, drawn)
    return note


def _placed(sheet: Floats, box: Box, top: float) -> Placement:
    """Scale at which the diver fits above and below the surface, middle in the panel's breadth."""
    low, high = sheet.min(axis=0), sheet.max(axis=0)
    inside = (box.left + 60.0, 120.0, box.right - 60.0, top)
    scale = min(
        BIGGEST, fitted(low, high, inside, BIGGEST).scale, (top - box.top) / max(high[1], 0.05),
        (box.top - 120.0) / max(-low[1], 0.05),
    )  # fmt: skip
    centre = 0.5 * (box.left + box.right) - scale * 0.5 * float(low[0] + high[0])
    return Placement((centre, box.top), float(scale))


def _paint(canvas: Canvas, dress: DressedScene, view: View, placement: Placement, drawn: Floats, target: Path) -> str:
    low, high = drawn.min(axis=0) - 8.0, drawn.max(axis=0) + 8.0
    sheet, box = sheet_for(canvas, view, placement, Box(*(float(v) for v in (*low, *high))))
    answer = Rendered((), "-")
    if target.suffix.lower() == ".png":
        forced = os.environ.get(FORCE_FLAT_SHAPES, "0") not in ("", "0")
        answer = Rendered((), f"asked for by {FORCE_FLAT_SHAPES}") if forced else rendered(dress.surfaces, (sheet,))
    if answer.pictures:
        paint_rendered(canvas, answer.pictures[0], box, 10.0)
        return ""
    paint_flat(canvas, flat_shapes(dress.surfaces, view, 0.8 / placement.scale), placement, 10.0)
    return answer.failure


def _draw_sea(canvas: Canvas, level: float) -> None:
    """Sky above, water below, behind the diver."""
    from matplotlib.patches import Rectangle

    for bottom, top, colour in ((level, canvas.height, PAPER), (0.0, level, WATER_BOTTOM)):
        canvas.axes.add_artist(
            Rectangle((0.0, bottom), canvas.width, top - bottom, facecolor=colour, edgecolor="none", zorder=0)
        )


def _draw_over(canvas: Canvas, box: Box) -> None:
    """The water in front of the diver, see-through."""
    from matplotlib.patches import Rectangle

    canvas.axes.add_artist(
        Rectangle(
            (box.left, 0.0), box.right - box.left, box.top, facecolor=WATER_BOTTOM, alpha=0.38, edgecolor="none",
            zorder=20,
        )
    )  # fmt: skip


def _draw_waterline(canvas: Canvas, level: float) -> None:
    canvas.axes.plot([0.0, canvas.width], [level, level], color=BUOYANCY, linewidth=points(3.0), zorder=22)
    draw_word(canvas, (24.0, level - 20.0), "water", size=21.0, colour=BUOYANCY, across="left")


def _line(canvas: Canvas, at: Floats, colour: str, width: float, dashes: tuple[float, float] | None = None) -> None:
    style: dict[str, Any] = {} if dashes is None else {"dashes": dashes}
    canvas.axes.plot(
        at[:, 0], at[:, 1], color=colour, linewidth=points(width), zorder=30, path_effects=haloed(3.0), **style
    )


def _draw_trunk(canvas: Canvas, panel: Panel, view: View, placement: Placement, drawn: Floats) -> None:
    """The trunk's line from the hips, the vertical, and the angle between them."""
    hips = placement.on_canvas(projected(view, np.zeros((1, 3))))[0]
    along = view.axes[:2] @ np.array([1.0, 0.0, 0.0])  # (right, up) of the body's long axis, which lies in the sheet
    lean = float(np.arctan2(along[0], along[1]))  # from the vertical, to the right plus
    scale = placement.scale
    _line(canvas, np.stack([hips, hips + TRUNK * scale * along]), ANGLE, 3.0)
    _line(canvas, np.stack([hips, hips + [0.0, UPRIGHT * scale]]), SOFT_INK, 2.2, (6.0, 4.0))
    swept = np.linspace(0.0, lean, 40)
    arc = hips + ARC * scale * np.stack([np.sin(swept), np.cos(swept)], axis=1)
    _line(canvas, arc, ANGLE, 2.2)
    angle = np.degrees(np.arccos(np.clip(panel.up[0], -1.0, 1.0)))
    way = {"up": "leaning back", "down": "leaning forward"}.get(face(panel.up), "")
    text = f"trunk {angle:.0f}° from the vertical" + (f",\n{way}" if way and angle >= 1.0 else "")
    below = float(drawn[:, 1].min()) - 44.0
    draw_word(canvas, (float(hips[0]), max(below, 96.0)), text, size=LABEL, colour=ANGLE, bold=True)


def _draw_mouth(
    canvas: Canvas, answer: SurfaceAnswer, panel: Panel, view: View, placement: Placement, box: Box, drawn: Floats
) -> None:
    """The mouth, its height over the water, and beside it that which lifejackets are asked for."""
    mouth = placement.on_canvas(projected(view, answer.diver.mouth[None]))[0]
    height = 1e3 * (float(panel.up @ answer.diver.mouth) - panel.level)
    canvas.axes.plot(
        [mouth[0]], [mouth[1]], marker="o", markersize=points(13.0), color=WEIGHT, markeredgecolor=PAPER, zorder=32
    )
    side = min(float(mouth[0]) + 78.0, box.right - 70.0)
    _line(canvas, np.array([[mouth[0], mouth[1]], [side + 12.0, mouth[1]]]), WEIGHT, 1.8)
    _line(canvas, np.array([[side, box.top], [side, mouth[1]]]), WEIGHT, 3.0)
    level = box.top + 1e-3 * ASKED * placement.scale
    _line(canvas, np.array([[side - 40.0, level], [side + 40.0, level]]), INK, 2.6, (3.0, 3.0))
    under = height < 0.0
    text = f"mouth {abs(height):.0f} mm\n{'UNDER water' if under else 'above the water'}"
    over = max(float(drawn[:, 1].max()), level) + 74.0
    draw_word(canvas, (box.right - 24.0, over), text, size=LABEL, colour=WEIGHT, across="right", bold=True)


def _write_texts(canvas: Canvas, answer: SurfaceAnswer) -> None:
    """Title above, small print below."""
    diver, left = answer.diver, 48.0
    title = answer.assembled.title
    draw_word(
        canvas, (left, canvas.height - 54.0), f"{title[:1].upper()}{title[1:]}: at the surface", size=34.0,
        across="left", bold=True,
    )  # fmt: skip
    gas = [] if diver.wing_gas is None else [f"wing {1e3 * diver.wing_gas:.1f} l" + (", full" * diver.wing_full)]
    gas += [] if diver.suit_gas is None else [f"suit {1e3 * diver.suit_gas:.1f} l"]
    said = "; ".join([f"{diver.body.mass:.1f} kg", *gas, "motionless and limp on flat water; limbs as in the file"])
    draw_word(canvas, (left, canvas.height - 100.0), said, size=21.0, across="left", colour=SOFT_INK)
    small = [
        f"Dashed at the mouth: {ASKED:.0f} mm, what the LSA Code asks of lifejackets, for reference "
        "only. A wing is not a lifejacket; a rest that is drawn here may not hold in water.",
        CAUTION,
    ]
    lines = [line for text in small for line in textwrap.wrap(text, CAUTION_LETTERS)]
    for number, line in enumerate(reversed(lines)):
        draw_word(canvas, (left, 22.0 + 22.0 * number), line, size=17.0, across="left", colour=INK)
