"""Where a body point lands on the sheet: attitude to world axes, then a parallel projection.

Sheet axes: right, up, and towards the viewer, in metres. The side view is *oblique*: the diver's own middle plane
is drawn true (angles can be measured off the sheet, metres are metres), and what lies nearer to the viewer is
slid a little down and aside, so that the far leg, fin and cylinder show behind the near ones.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from meshes.mesh import Floats

SLIDE_RIGHT = -0.10  # of the distance towards the viewer
SLIDE_UP = -0.22
ASIDE = np.radians(38.0)  # of the three-quarter view, from square on the diver's side towards the head
RAISED = np.radians(22.0)


@dataclass(frozen=True, eq=False)
class View:
    """A parallel projection of body axes.

    axes : (3, 3) rows right, up, towards the viewer, as unit vectors in body axes
    centre : (3,) body point [m] that lands on sheet point 0, 0, 0
    slide : how far right and up a point moves for each metre that it is nearer to the viewer
    """

    axes: Floats
    centre: Floats
    slide: tuple[float, float] = (0.0, 0.0)


def world_from_body(up: ArrayLike) -> Floats:
    """Rotation (3, 3) that takes body axes to world axes (z up), heading fixed.

    ``up`` : (3,) world-up in body axes, of any length > 0. The head points along world +x as far as it is level;
    on the verticals, where there is no heading, the back (head up) is turned to world -x, as when coming
    from flat by pitch alone. Raises ValueError when ``up`` has no direction.
    """
    u = np.asarray(up, dtype=float)
    length = float(np.linalg.norm(u))
    if u.shape != (3,) or not (np.isfinite(length) and length > 0.0):
        raise ValueError(f"up must be a direction (3 numbers, not all 0), got {up!r}")
    z = u / length
    ahead = np.array([1.0, 0.0, 0.0]) - z[0] * z
    if np.linalg.norm(ahead) < 1e-9:
        ahead = np.array([0.0, 0.0, -np.sign(z[0])])
        ahead -= (ahead @ z) * z
    x = ahead / np.linalg.norm(ahead)
    return np.stack([x, np.cross(z, x), z])


def side_view(up: ArrayLike, centre: ArrayLike) -> View:
    """The diver from the side, head to the right, world-up upwards (seen from the right side when face-down)."""
    x, y, z = world_from_body(up)
    return View(np.stack([x, z, -y]), np.asarray(centre, dtype=float), (SLIDE_RIGHT, SLIDE_UP))


def head_view(up: ArrayLike, centre: ArrayLike) -> View:
    """The diver from in front of the head, along the body, so that roll is seen true.

    Sheet-up is world-up as far as it lies across the body; a face-down diver's left is on the right.
    Upright or head-first, where roll has no meaning, the back is up.
    """
    u = np.asarray(up, dtype=float)
    across = np.array([0.0, u[1], u[2]]) / np.linalg.norm(u)
    if np.linalg.norm(across) < 1e-6:
        across = np.array([0.0, 0.0, 1.0])
    raised = across / np.linalg.norm(across)
    towards = np.array([1.0, 0.0, 0.0])
    return View(np.stack([np.cross(raised, towards), raised, towards]), np.asarray(centre, dtype=float))


def top_view(up: ArrayLike, centre: ArrayLike) -> View:
    """The diver from straight above, head to the right."""
    return View(world_from_body(up), np.asarray(centre, dtype=float))


def three_quarter_view(up: ArrayLike, centre: ArrayLike) -> View:
    """The diver from ahead, above and the right, head to the right; upright lines stay upright."""
    x, y, z = world_from_body(up)
    level = np.cos(ASIDE) * -y + np.sin(ASIDE) * x
    towards = np.cos(RAISED) * level + np.sin(RAISED) * z
    right = np.cos(ASIDE) * x + np.sin(ASIDE) * y
    return View(np.stack([right, np.cross(towards, right), towards]), np.asarray(centre, dtype=float))


def projected(view: View, points: ArrayLike) -> Floats:
    """Sheet positions (n, 3) [m] of body points (n, 3): right, up, towards the viewer."""
    sheet = (np.atleast_2d(np.asarray(points, dtype=float)) - view.centre) @ view.axes.T
    for column, slide in enumerate(view.slide):
        sheet[:, column] += sheet[:, 2] * slide
    return np.asarray(sheet)


def flatly(view: View, points: Floats) -> Floats:
    """The same of many (n, 3), right and up (n, 2) alone."""
    axes = view.axes[:2] + np.outer(view.slide, view.axes[2])
    return np.asarray(points @ axes.T - axes @ view.centre)


def directed(view: View, directions: ArrayLike) -> Floats:
    """Unslid sheet components (n, 3) of body directions (n, 3), for light and shade."""
    return np.asarray(np.atleast_2d(np.asarray(directions, dtype=float)) @ view.axes.T)
