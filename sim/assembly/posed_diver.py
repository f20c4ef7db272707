"""A scenario's person in its pose, and those already built: a body takes longer to make than all its gear."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

from scenarios.diver import Diver
from scenarios.models import Scenario
from scenarios.pose import Pose
from sim.assembly.diver import person_from, pose_from
from sim.assembly.learnt import with_learnt_values
from sim.assembly.unbuildable import blaming
from sim.person.posed_body import PosedBody, posed_body

KEPT: Final = 16  # bodies; each takes about a megabyte


@dataclass(frozen=True, eq=False)
class PosedDiver:
    """A scenario's person in its pose, and the names of what was estimated of them."""

    body: PosedBody
    estimated: tuple[str, ...]


def posed_diver(scenario: Scenario, like: PosedDiver | None = None) -> PosedDiver:
    """The posed person of a scenario; ``like`` is the same person, made already, in another pose.

    Raises UnbuildableError, naming the key, for a body or pose that cannot be.
    """
    scenario = with_learnt_values(scenario)
    with blaming("diver"):
        person, estimated = person_from(scenario.diver) if like is None else (like.body.person, like.estimated)
    with blaming("pose"):
        return PosedDiver(posed_body(person, pose_from(scenario.pose)), estimated)


@dataclass(frozen=True, eq=False)
class KeptDivers:
    """The last few divers that were made, each with what was said of person and pose."""

    made: list[tuple[Diver, Pose, PosedDiver]] = field(default_factory=list)

    def of(self, scenario: Scenario) -> PosedDiver:
        """The posed person of a scenario, known again by value. Raises UnbuildableError."""
        told = with_learnt_values(scenario)
        same = [(pose, diver) for said, pose, diver in self.made if said == told.diver]
        for pose, diver in same:
            if pose == told.pose:
                return diver
        new = posed_diver(scenario, same[0][1] if same else None)
        self.made.append((told.diver, told.pose, new))
        del self.made[:-KEPT]
        return new
