"""People already built: a body takes longer to make than all its gear, and many rigs are laid on one."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

from scenarios.diver import Diver
from scenarios.models import Scenario
from scenarios.pose import Pose
from sim.assembly.learnt import with_learnt_values
from sim.assembly.scenario_rig import Wearer, wearer_of

KEPT: Final = 16  # bodies; each takes about a megabyte


@dataclass(frozen=True, eq=False)
class People:
    """The last few bodies that were made, each with what was said of person and pose."""

    made: list[tuple[Diver, Pose, Wearer]] = field(default_factory=list)

    def wearer(self, scenario: Scenario) -> Wearer:
        """The posed person of a scenario, known again by value. Raises UnbuildableError."""
        told = with_learnt_values(scenario)
        same = [(pose, wearer) for diver, pose, wearer in self.made if diver == told.diver]
        for pose, wearer in same:
            if pose == told.pose:
                return wearer
        new = wearer_of(scenario, same[0][1] if same else None)
        self.made.append((told.diver, told.pose, new))
        del self.made[:-KEPT]
        return new
