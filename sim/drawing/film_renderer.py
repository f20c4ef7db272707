"""A child process that renders the pictures of a film, so that a machine without graphics costs no crash.

Measured on two cores with a software driver (EGL), for a diver of 152,000 triangles on 455 x 469 pixels, in processor
time a picture: a still's renders, four then, with inking 0.20 s, this one render with its inking 0.07 s (0.14 s on
800 x 560), triangles filled by compiled code of our own 0.04 s, which is not worth 360 lines.
"""

from __future__ import annotations

import pickle
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from typing import IO, Any, Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import mesh_of
from sim.drawing.ink import OVERSAMPLING
from sim.drawing.offscreen import Sheet, child_environment, last_words, windows_to_try
from sim.drawing.surfaces import Surface
from sim.drawing.views import View

Bytes = NDArray[np.uint8]
RENDERER: Final = (sys.executable, "-P", "-m", "sim.drawing.film_child")  # -P: not what lies in this folder
DEEP: Final = 8.0  # m before and behind the middle that are rendered


class NoRendererError(Exception):
    """No graphics library works here; the message says why."""


@contextmanager
def film_renderer() -> Iterator[FilmRenderer]:
    """The renderer with the first kind of window that works; its process ends with the block.

    Raises NoRendererError where none does.
    """
    reason = ""
    for window in windows_to_try():
        with _child(window) as (child, log):
            renderer = FilmRenderer(child, log)
            try:
                renderer.rendered(*_probe())
            except NoRendererError as why:
                reason = str(why)
                continue
            yield renderer
            return
    raise NoRendererError(reason)


@contextmanager
def _child(window: str | None) -> Iterator[tuple[subprocess.Popen[bytes], IO[bytes]]]:
    with tempfile.TemporaryFile() as log:
        try:
            child = subprocess.Popen(
                RENDERER, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=log, env=child_environment(window)
            )
        except OSError as error:
            raise NoRendererError(f"the renderer could not be started ({error.strerror})") from None
        try:
            yield child, log
        finally:
            child.kill()
            child.wait()
            for pipe in (child.stdin, child.stdout):
                with suppress(OSError):
                    if pipe is not None:
                        pipe.close()


class FilmRenderer:
    """Hands over what moved since the picture before."""

    def __init__(self, child: subprocess.Popen[bytes], log: IO[bytes]) -> None:
        self._child, self._log = child, log
        self._there: list[Surface] = []

    def rendered(self, surfaces: Sequence[Surface], sheet: Sheet) -> Bytes:
        """RGBA (h, w, 4), colours multiplied by opacity already. Raises NoRendererError when the process ended."""
        told = {"things": [self._news(k, s) for k, s in enumerate(surfaces)], "sheet": _told(sheet)}
        self._there = list(surfaces)
        width, height = sheet.pixels
        stdin, stdout = self._child.stdin, self._child.stdout
        if stdin is None or stdout is None:
            raise ValueError("a renderer is started with pipes")
        answer = b""
        with suppress(OSError):  # it has ended
            pickle.dump(told, stdin, protocol=pickle.HIGHEST_PROTOCOL)
            stdin.flush()
            answer = stdout.read(4 * width * height)
        if len(answer) < 4 * width * height:
            raise NoRendererError(self._why())
        return np.frombuffer(answer, dtype=np.uint8).reshape(height, width, 4)

    def _news(self, number: int, surface: Surface) -> dict[str, Any]:
        """What the child does not have of a surface: arrays that are not the very ones sent before."""
        before = self._there[number] if number < len(self._there) else None
        look = (surface.shine, surface.layer)
        if before is None or (before.shine, before.layer) != look:
            before = None
        news: dict[str, Any] = {} if before is not None else {"look": {"shine": look[0], "layer": look[1]}}
        if before is None or before.mesh.vertices is not surface.mesh.vertices:
            news["points"] = surface.mesh.vertices.astype(np.float32)
        if before is None or before.mesh.faces is not surface.mesh.faces:
            news["faces"] = surface.mesh.faces
        if before is None or before.colours is not surface.colours:
            news["colours"] = surface.colours if surface.layer else np.ascontiguousarray(surface.colours[:, :3])
        return news

    def _why(self) -> str:
        code = self._child.wait()
        self._log.seek(0)
        said = last_words(self._log.read().decode(errors="replace")) or f"exit {code}"
        return f"no OpenGL library works here (the renderer ended with: {said})"


def _told(sheet: Sheet) -> dict[str, Any]:
    """A sheet as the child takes it."""
    return {
        "pixels": [OVERSAMPLING * n for n in sheet.pixels],
        "middle": list(sheet.middle),
        "half_height": 0.5 * sheet.pixels[1] / sheet.scale,
        "depth": DEEP,
        "axes": sheet.view.axes.tolist(),
        "centre": sheet.view.centre.tolist(),
        "slide": list(sheet.view.slide),
    }


def _probe() -> tuple[tuple[Surface, ...], Sheet]:
    """Something small, which a renderer that works can render."""
    mesh = mesh_of([[0.0, 0.0, 0.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]], [[0, 1, 2]])
    surface = Surface("probe", mesh, np.full((3, 4), 255, dtype=np.uint8), 0.0)
    return (surface,), Sheet(View(np.eye(3), np.zeros(3)), (0.0, 0.0), (8, 8), 4.0)
