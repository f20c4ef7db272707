"""A lens that shows the two centres, which lie a few millimetres apart."""

from __future__ import annotations

from typing import Final

import numpy as np

from meshes.mesh import Floats
from sim.drawing.canvas import Canvas, points
from sim.drawing.label_places import Place
from sim.drawing.letters import set_width
from sim.drawing.marks import MARK, draw_centre, draw_line, draw_word
from sim.telling.language import quantity, say

LENS: Final = 62.0  # pixels, radius
SIZE: Final = 20.0  # of letters
LINE: Final = 25.0
ENLARGEMENTS: Final = (2, 3, 5, 8, 10, 15, 20, 30, 50, 80, 100)


def enlargement_of(distance: float, scale: float) -> int:
    """How much to enlarge so that ``distance`` [m], at ``scale`` pixels a metre, fills half of the lens."""
    wanted = 1.1 * LENS / max(distance * scale, 1e-9)
    return max((e for e in ENLARGEMENTS if e <= wanted), default=ENLARGEMENTS[0])


def close_up_size(apart: Floats, scale: float) -> tuple[float, float]:
    """Breadth and height [pixels] of lens and words."""
    lines = close_up_words(apart, scale)
    return max(2.0 * LENS, *(set_width(w, SIZE) for w in lines)) + 12.0, 2.0 * LENS + LINE * len(lines) + 14.0


def close_up_words(apart: Floats, scale: float) -> list[str]:
    """Where the CB is as seen from the CM, and how much is enlarged; ``apart`` (2,) right and up [m]."""
    return [f"×{enlargement_of(float(np.hypot(*apart)), scale)}", *apart_in_words(apart)]


def apart_in_words(apart: Floats) -> list[str]:
    """As "CB 11 mm above CM"; ``apart`` (2,) right and up [m], head to the right."""
    right, up = 1000.0 * float(apart[0]), 1000.0 * float(apart[1])
    across, upward = quantity(abs(right), "mm", 0), quantity(abs(up), "mm", 0)
    if abs(right) < 0.5:
        return [say("CB {size} above CM", size=upward) if up >= 0 else say("CB {size} below CM", size=upward)]
    headward = right > 0
    aside = say("CB {size} headward of CM", size=across) if headward else say("CB {size} footward of CM", size=across)
    if abs(up) < 0.5:
        return [aside]
    return [aside, say("and {size} above it", size=upward) if up >= 0 else say("and {size} below it", size=upward)]


def draw_close_up(canvas: Canvas, place: Place, apart: Floats, scale: float) -> None:
    """The lens at the top of its place, its words below, and the line from it to the centres."""
    from matplotlib.patches import Circle

    style, box = canvas.style, place.box
    centre = np.array([0.5 * (box.left + box.right), box.top - LENS])
    spread = apart * scale * enlargement_of(float(np.hypot(*apart)), scale)
    spread *= min(1.0, 1.25 * LENS / max(float(np.hypot(*spread)), 1e-9))
    if place.leader is not None:
        draw_line(canvas, place.leader, style.soft_ink, 1.8, 26.5)
    canvas.axes.add_artist(
        Circle(
            (float(centre[0]), float(centre[1])), LENS, facecolor=style.paper, edgecolor=style.soft_ink,
            linewidth=points(2.6), alpha=0.96, zorder=33, gid=MARK + " lens",
        )
    )  # fmt: skip
    abreast = abs(spread[0]) > abs(spread[1])  # side by side: names go below, not between
    shift = np.array([0.0, 10.0]) if abreast else np.array([-20.0, 0.0])
    ends = np.stack([centre + shift - spread / 2, centre + shift + spread / 2])
    canvas.axes.plot(ends[:, 0], ends[:, 1], color=style.soft_ink, linewidth=points(1.8), zorder=34)
    for at, name, colour in zip(ends, (say("CM"), say("CB")), (style.weight, style.buoyancy), strict=True):
        draw_centre(canvas, at, colour, 12.0, 35.0)
        named = (at[0], at[1] - 27.0) if abreast else (at[0] + 20.0, at[1])
        draw_word(canvas, named, name, across="center" if abreast else "left", size=SIZE, bold=True)
    for number, line in enumerate(close_up_words(apart, scale)):
        draw_word(canvas, (float(centre[0]), box.top - 2.0 * LENS - 8.0 - LINE * (number + 0.5)), line, size=SIZE)
