"""The finished pictures of a footage, in order: rendered by another process while this one paints and encodes."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager
from typing import Final

import numpy as np
from numpy.typing import NDArray

from meshes.mesh import Floats
from sim.answers.film.filmed_diver import Cast
from sim.answers.film.footage import Footage, Picture
from sim.answers.film.painter import Painter
from sim.drawing.film_renderer import FilmRenderer, film_renderer

Bytes = NDArray[np.uint8]
AHEAD: Final = 3  # pictures that are asked for before they are painted
HULL_OF: Final = 12  # poses whose shapes say how far the diver reaches
GAS_SCALE: Final = 4.0  # times that suit gas is drawn thicker than it is, as in the still picture


class Shots:
    """Pictures (h, w, 3) of a footage, each by its number, or several in turn."""

    def __init__(self, footage: Footage, size: tuple[int, int], renderer: FilmRenderer, *, burnt: bool) -> None:
        self.footage = footage
        self._cast = Cast(footage)
        self._renderer = renderer
        held = footage.divers[footage.pictures[0].pose.diver].rig.held
        deepest = self._cast.scales.deepest
        self._painter = Painter(footage, size, self._hull(), held, burnt=burnt, deepest=deepest, enlarged=GAS_SCALE)

    def _hull(self) -> Floats:
        """Points (n, 3) [m] that hold what is drawn in some poses of the film."""
        from scipy.spatial import ConvexHull

        pictures = self.footage.pictures
        found = []
        for i in np.unique(np.linspace(0, len(pictures) - 1, HULL_OF).astype(int)):
            points = np.concatenate([s.mesh.vertices for s in self._cast.surfaces(pictures[i])])
            found.append(points[ConvexHull(points, qhull_options="QJ").vertices])
        return np.concatenate(found)

    def one(self, number: int) -> Bytes:
        """A picture by itself."""
        return next(self.some([number]))

    def all(self) -> Iterator[Bytes]:
        """Every picture in turn."""
        return self.some(range(len(self.footage.pictures)))

    def some(self, numbers: Iterable[int]) -> Iterator[Bytes]:
        """Pictures of the given numbers in turn. What is asked for no longer is not rendered any more."""
        coming = deque[tuple[int, Future[Bytes]]]()
        shown: Picture | None = None
        with ThreadPoolExecutor(1) as waiting:
            try:
                for number in numbers:
                    picture = self.footage.pictures[number]
                    if shown is None or not picture.looks_like(shown):
                        surfaces, sheet = self._cast.surfaces(picture), self._painter.sheet(number)
                        render = waiting.submit(self._renderer.rendered, surfaces, sheet)
                    shown = picture
                    coming.append((number, render))
                    if len(coming) > AHEAD:
                        yield self._painted(*coming.popleft())
                while coming:
                    yield self._painted(*coming.popleft())
            finally:
                for _, future in coming:
                    future.cancel()

    def _painted(self, number: int, rendered: Future[Bytes]) -> Bytes:
        return self._painter.painted(number, rendered.result())


@contextmanager
def shots_of(footage: Footage, size: tuple[int, int], *, burnt: bool) -> Iterator[Shots]:
    """Pictures of a footage, as long as the block lasts. Raises NoRendererError where nothing can render them.

    size : (width, height) in pixels;  burnt : whether captions stand in the pictures
    """
    with film_renderer() as renderer:
        yield Shots(footage, size, renderer, burnt=burnt)
