"""A flat shape with holes: what a drawing is read into and a plate is bent from."""

from __future__ import annotations

from dataclasses import dataclass

from meshes.mesh import Floats


@dataclass(frozen=True, eq=False)
class Outline:
    """A flat pattern: the outer edge (n, 2) and the edges (k, 2) of its holes, not closed, in metres."""

    outer: Floats
    holes: tuple[Floats, ...] = ()
