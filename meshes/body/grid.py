"""How finely a body's skin is sampled."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Grid:
    """Counts of rows and columns at fineness ``q`` >= 1, all proportional to it.

    Half a trunk ring has 12 q intervals, an armhole 3 q by 3 q, an arm ring 12 q points, a leg ring 16 q.
    """

    q: int

    @property
    def half(self) -> int:
        """Intervals of half a trunk ring, front midline to back midline."""
        return 12 * self.q

    @property
    def crotch(self) -> int:
        """Points under the groin, between the front and back midline."""
        return 4 * self.q - 1

    @property
    def trunk_rows(self) -> tuple[int, ...]:
        """Intervals from groin to navel, xiphoid, axilla, acromion, neck base, throat, ear and vertex (a point)."""
        return tuple(n * self.q for n in (4, 3, 1, 3, 2, 2, 6, 5))

    @property
    def rows(self) -> int:
        """Rings of the trunk, the vertex not counted."""
        return sum(self.trunk_rows)

    @property
    def hole_rows(self) -> tuple[int, int]:
        """First and last trunk ring of the armhole."""
        first = sum(self.trunk_rows[:3])
        return first, first + self.trunk_rows[3]

    @property
    def hole_columns(self) -> tuple[int, int]:
        """First and last column of the armhole."""
        first = (self.half - 3 * self.q) // 2
        return first, first + 3 * self.q

    @property
    def arm_rows(self) -> tuple[int, int, int]:
        """Intervals from armhole to elbow, wrist and last ring."""
        return 6 * self.q, 4 * self.q, 5 * self.q

    @property
    def leg_rows(self) -> tuple[int, int, int]:
        """Intervals from groin to knee, ankle and last ring."""
        return 9 * self.q, 6 * self.q, 8 * self.q
