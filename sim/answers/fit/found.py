"""What is found on one diver in a rig, each part worked out when it is first asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from sim.answers.fit.look_ahead import LookAhead, look_ahead
from sim.answers.fit.on_back import OnBack, on_back, top_touched
from sim.answers.fit.reach import HandReach, usual_margins, valve_reach
from sim.answers.fit.slung_valves import slung_reach
from sim.assembly.assembled import Worn
from sim.rig import Rig


@dataclass(frozen=True, eq=False)
class Found:
    """The diver of ``worn`` in a rig."""

    worn: Worn
    rig: Rig

    @cached_property
    def sits(self) -> OnBack:
        """Where the rig sits, but for the hand on the plate, which fails nothing and takes as long as all else."""
        return on_back(self.worn, hand_on_plate=False)

    @cached_property
    def on_back(self) -> OnBack:
        """Where the rig sits."""
        return replace(self.sits, top_touched=top_touched(self.worn))

    @cached_property
    def reach(self) -> tuple[HandReach, ...]:
        """Hands at the valves, with all that is told of them."""
        return valve_reach(self.worn)

    @cached_property
    def hands(self) -> Mapping[str, float]:
        """Margin [m] of each valve for usual shoulders, quicker; empty without cylinders."""
        return usual_margins(self.worn)

    @cached_property
    def slung(self) -> tuple[HandReach, ...]:
        """Hands at the valves of cylinders that hang at the side or under the chest."""
        return slung_reach(self.worn, self.rig.parts)

    @cached_property
    def look_ahead(self) -> LookAhead:
        """What the eyes see, and what it costs."""
        return look_ahead(self.worn, self.rig)
