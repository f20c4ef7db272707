"""A body's points as its breadths and depths swell, heights and the places of its centre lines being kept."""

from __future__ import annotations

from dataclasses import dataclass

from meshes.mesh import Floats


@dataclass(frozen=True, eq=False)
class Swelling:
    """Points on straight ways [m]: ``axis`` (..., 3) without any breadth, ``out`` (..., 3) added by a factor of 1."""

    axis: Floats
    out: Floats

    def at(self, swell: float) -> Floats:
        """The points (..., 3) [m] with breadths and depths scaled by ``swell``."""
        return self.axis + swell * self.out
