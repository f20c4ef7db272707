"""Rendering in a child process, so that a machine without graphics costs an answer and not a crash."""

from __future__ import annotations

import os
import pickle
import re
import subprocess
import sys
import tempfile
from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats
from sim.drawing.ink import OVERSAMPLING
from sim.drawing.palette import INK, rgb
from sim.drawing.surfaces import Surface
from sim.drawing.views import View
from sim.said import note

RENDERER: Final = (sys.executable, "-P", "-m", "sim.drawing.render_child")  # -P: not what lies in this folder
PATIENCE: Final = 60.0  # seconds until a renderer counts as hung
WINDOW_VARIABLE: Final = "VTK_DEFAULT_OPENGL_WINDOW"


@dataclass(frozen=True, eq=False)
class Sheet:
    """A rectangle to render.

    middle : (right, up) sheet position of its middle [m];  pixels : (width, height);  scale : pixels a metre
    shows : numbers of the surfaces that are seen on it, None for all
    """

    view: View
    middle: tuple[float, float]
    pixels: tuple[int, int]
    scale: float
    shows: tuple[int, ...] | None = None


@dataclass(frozen=True, eq=False)
class Rendered:
    """RGBA pictures (h, w, 4) of the sheets, or none and the reason in words."""

    pictures: tuple[NDArray[np.uint8], ...]
    failure: str = ""


def windows_to_try() -> tuple[str | None, ...]:
    """Kinds of render window in the order to try; None leaves the choice to VTK.

    On Linux EGL comes first: it needs no display and is silent about not having one. An empty variable would
    crash VTK, so it counts as unset.
    """
    own = os.environ.get(WINDOW_VARIABLE) or None
    first: tuple[str | None, ...] = (own,) if own else ()
    return (*first, "vtkEGLRenderWindow", None) if sys.platform.startswith("linux") else (*first, None)


def rendered(surfaces: tuple[Surface, ...], sheets: tuple[Sheet, ...], line: str = INK) -> Rendered:
    """Render the sheets with the first kind of window that works; never raises for want of graphics.

    line : colour of the outlines
    """
    parcel = packed(surfaces, sheets, line)
    sizes = [(s.pixels[1], s.pixels[0], 4) for s in sheets]
    expected = sum(int(np.prod(size)) for size in sizes)
    reason = ""
    for window in windows_to_try():
        answer, reason = _asked(window, parcel)
        if len(answer) == expected:
            flat = np.frombuffer(answer, dtype=np.uint8)
            ends = np.cumsum([int(np.prod(size)) for size in sizes])
            return Rendered(
                tuple(part.reshape(size) for part, size in zip(np.split(flat, ends[:-1]), sizes, strict=True))
            )
    return Rendered((), reason)


def packed(surfaces: tuple[Surface, ...], sheets: tuple[Sheet, ...], line: str = INK) -> bytes:
    """What the child needs, pickled: points in body axes, faces and colours of each surface, the sheets."""
    told = {
        "line": [round(255.0 * c) for c in rgb(line)],
        "surfaces": [
            {
                "points": surface.mesh.vertices.astype(np.float32),
                "faces": surface.mesh.faces.astype(np.int32),
                "colours": surface.colours,
                "shine": surface.shine,
                "layer": surface.layer,
                "gear": surface.gear,
            }
            for surface in surfaces
        ],
        "sheets": [
            {
                "shows": list(range(len(surfaces)) if sheet.shows is None else sheet.shows),
                "pixels": [OVERSAMPLING * n for n in sheet.pixels],
                "middle": list(sheet.middle),
                "half_height": 0.5 * sheet.pixels[1] / sheet.scale,
                "depth": 1.0 + max((_reach(s.mesh.vertices - sheet.view.centre) for s in surfaces), default=0.0),
                "axes": sheet.view.axes.tolist(),
                "centre": sheet.view.centre.tolist(),
                "slide": list(sheet.view.slide),
            }
            for sheet in sheets
        ],
    }
    return pickle.dumps(told, protocol=pickle.HIGHEST_PROTOCOL)


def last_words(log: str) -> str:
    """What the last line of a log says, without terminal colours, time, thread and place in the source."""
    last = (log.strip().splitlines() or [""])[-1]
    return re.sub(r"\x1b\[[0-9;]*m", "", last).rpartition("|")[2].strip()


def _reach(points: Floats) -> float:
    """How far from the origin the farthest of (n, 3) points is."""
    return float(np.sqrt(np.einsum("ij,ij->i", points, points).max(initial=0.0)))


def _absolute(places: Iterable[str]) -> Iterator[str]:
    """Import places as seen from any folder, but for the current one where that is gone."""
    for place in places:
        with suppress(FileNotFoundError):
            yield os.path.abspath(place)


def child_environment(window: str | None) -> dict[str, str]:
    """Environment of a renderer that finds this program and takes a kind of window; None leaves that to VTK."""
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(_absolute(sys.path))}
    environment.pop(WINDOW_VARIABLE, None)
    if window:
        environment[WINDOW_VARIABLE] = window
    return environment


def _asked(window: str | None, parcel: bytes) -> tuple[bytes, str]:
    """The child's answer, and in words why it is short if it is."""
    try:
        with tempfile.TemporaryFile() as told:  # a pipe would be filled in thousands of small pieces
            told.write(parcel)
            told.seek(0)
            child = subprocess.run(
                RENDERER,
                stdin=told,
                capture_output=True,
                timeout=PATIENCE,
                env=child_environment(window),
                check=False,
            )
    except subprocess.TimeoutExpired:
        return b"", note("the renderer did not answer within {time:.0f} s", time=PATIENCE)
    except OSError as error:
        return b"", note("the renderer could not be started ({why})", why=error.strerror)
    if child.returncode != 0:
        said = last_words(child.stderr.decode(errors="replace")) or f"exit {child.returncode}"
        return b"", note("no OpenGL library works here (the renderer ended with: {words})", words=said)
    return child.stdout, note("the renderer's answer was cut short")
