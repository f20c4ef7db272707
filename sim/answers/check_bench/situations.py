"""The scenario as it stood in the pool: other water, depth and pressure, legs strapped or stretched out."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Final

from meshes.body.pose import Limbs
from scenarios.by_key import told_otherwise
from scenarios.models import Scenario
from scenarios.suit import DrySuit
from scenarios.water import Water
from sim.answers.check_bench.bench_file import Worn
from sim.person.pose import POSES

LEG_JOINTS: Final = tuple(f.name for f in fields(Limbs) if f.name.split("_")[0] in ("hip", "knee", "ankle"))


@dataclass(frozen=True)
class Situation:
    """What was otherwise than in the scenario; None leaves it as it is.

    water : in which it was measured, its own depth not counting;  depth [m];  pressure : of the gauge [Pa]
    """

    worn: Worn = "as worn"
    depth: float | None = None
    pressure: float | None = None
    water: Water | None = None

    def of(self, scenario: Scenario) -> Scenario:
        """The scenario in this situation. Raises ValueError where it cannot be in it."""
        there = scenario
        if self.water is not None:
            there = told_otherwise(there, "water", self.water)
        if self.depth is not None:
            there = told_otherwise(there, "water.depth", self.depth)
        if self.pressure is not None:
            if scenario.cylinders is None:
                raise ValueError("a pressure is told, but the scenario wears no cylinders on the back")
            there = told_otherwise(there, "cylinders.pressure", self.pressure)
        if self.worn == "lower legs strapped":
            if not isinstance(scenario.suit, DrySuit):
                raise ValueError("only a drysuit's lower legs can be strapped; the scenario wears none")
            if scenario.suit.gaiters:
                raise ValueError('the scenario wears gaiters already: with them on it is worn = "as worn"')
            there = told_otherwise(there, "suit.gaiters", True)
        if self.worn == "legs straight":
            there = told_otherwise(there, "pose.joints", _straight(scenario))
        return there


AS_TOLD: Final = Situation()


def _straight(scenario: Scenario) -> dict[str, float]:
    """Joint angles [rad] of the pose with the legs stretched out as swimmers do, all else left as it is."""
    legs = POSES["flat, legs straight"].left
    kept = {k: v for k, v in scenario.pose.joints.items() if not _of_the_leg(k)}
    angles = {name.replace("_", " "): float(getattr(legs, name)) for name in LEG_JOINTS}
    return {**kept, **angles}


def _of_the_leg(joint: str) -> bool:
    return joint.removeprefix("left ").removeprefix("right ").replace(" ", "_") in LEG_JOINTS
