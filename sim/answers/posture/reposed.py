"""The rig of a diver in other poses of the same dive: limbs moved, the gas in the suit as much as it was.

What hangs on the trunk stays where it is, so that only the diver's body, suit, fins, lead on the ankles and what is
carried are laid out anew, alone, and the change of their masses, volumes and gas cells is added to the whole rig: a
sixth of the work. Left out are the hoses to the mouth, which weigh some tens of grams in water: against rigs
assembled whole the moment is off by less than 0.1 N m.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Final

import numpy as np

from meshes.body.pose import Pose
from meshes.mesh import Floats
from meshes.solid import Solid
from scenarios.by_key import told_otherwise, with_values
from scenarios.loose_gear import GearItem
from scenarios.models import Scenario
from scenarios.suit import DrySuit
from sim.assembly.diver import pose_from
from sim.assembly.learnt import with_learnt_values
from sim.assembly.posed_diver import PosedDiver
from sim.assembly.scenario_rig import scenario_rig
from sim.case import Case
from sim.person.lung_gas import lung_solid, organ_moment
from sim.person.lungs import TIDAL_VOLUME
from sim.person.person import Person
from sim.person.posed_body import PosedBody, posed_body
from sim.rig import Part, Rig, rig_of

KEPT: Final = 24  # two set-ups, each in some ten poses
POSES: Final = 12  # bodies, which take room: those of one person


@dataclass(frozen=True, eq=False)
class Laid:
    """What counts of a diver with nothing on the trunk: all that is rigid, as a sum, and the suit's cells."""

    whole: Solid
    cells: Floats | None


@dataclass(frozen=True, eq=False)
class Reposed:
    """A rig made ready for other poses.

    bare : the diver with nothing on the trunk but the suit;  told : how that lies in the pose of ``rig``
    """

    rig: Rig
    pose: Pose
    body: PosedBody
    bare: Scenario
    told: Laid
    estimated: tuple[str, ...]

    def posed(self, pose: Pose) -> Rig:
        """The rig with the diver in another pose; everything rigid is one part. Raises ValueError for a joint."""
        return _changed(self.rig, self.told, _ALONE.of(self.bare, self.body.person, pose, self.estimated))

    def breathed(self, gas: float) -> Rig:
        """The rig with so much more gas in the chest [m^3]: lungs swell, walls move, organs are pushed."""
        person = self.body.person
        trunk, frc, now = person.shape.trunk, person.frc, person.lung_gas
        before, after = (lung_solid(trunk, v, frc) for v in (now, now + gas))
        middle = dict(self.body.segments)["middle trunk"]
        density = middle.mass / middle.volume
        pushed = density * (organ_moment(trunk, now + gas, frc) - organ_moment(trunk, now, frc))
        displaced = after.volume * after.cb - before.volume * before.cb
        for part in self.rig.parts:
            if part.kind == "counterlungs":  # a breath is taken out of them
                return _rigid(self.rig, (0.0, pushed), (0.0, displaced - gas * part.solid.cb))
        return _rigid(self.rig, (0.0, pushed), (gas, displaced))

    @property
    def tidal(self) -> float:
        """Gas of one quiet breath [m^3]."""
        told = self.bare.diver.tidal_volume
        return TIDAL_VOLUME if told is None else float(told)


def reposed(case: Case) -> Reposed:
    """Of a scenario file's case. Raises ScenarioError for a parts file, whose diver has no joints."""
    told = case.scenario("a parts file has no knees, hips or arms to trim with: give a scenario file")
    wearer = case.wearer
    if wearer is None:  # never: that of a scenario is built or refused
        raise TypeError("a scenario without a person")
    scenario = with_learnt_values(told)
    suit = scenario.suit
    if isinstance(suit, DrySuit):
        suit = told_otherwise(suit, "gas", 1e-3)  # any amount: the rig's own stays in it
    ankles = tuple(lead for lead in scenario.lead if lead.place == "ankles")
    carried = tuple(item for item in scenario.gear if isinstance(item, GearItem))
    bare = with_values(
        scenario,
        {
            "suit": suit, "plate": None, "harness": None, "cylinders": None, "rebreather": None, "wing": None,
            "gear": carried, "lead": ankles,
        }
    )  # fmt: skip
    pose = pose_from(scenario.pose)
    return Reposed(case.rig, pose, wearer.body, bare, _alone(bare, wearer), wearer.estimated)


@dataclass(frozen=True, eq=False)
class KeptAlone:
    """The last divers with nothing on the trunk: the same whatever plate, cylinders and lead they wear."""

    made: list[tuple[Scenario, Person, Pose, Laid]] = field(default_factory=list)

    def of(self, bare: Scenario, person: Person, pose: Pose, estimated: tuple[str, ...]) -> Laid:
        """Known again by the very person, and by value of all else. Raises ValueError for a joint."""
        for said, whose, lie, laid in self.made:
            if whose is person and lie == pose and said == bare:
                return laid
        laid = _alone(bare, PosedDiver(_posed(person, pose), estimated))
        self.made.append((bare, person, pose, laid))
        del self.made[:-KEPT]
        return laid


_ALONE: Final = KeptAlone()  # of this process: a slider is moved often, and each time ten poses are asked for


@lru_cache(POSES)  # other gear is looked at on the same body in the same poses
def _posed(person: Person, pose: Pose) -> PosedBody:
    return posed_body(person, pose)


def _alone(bare: Scenario, wearer: PosedDiver) -> Laid:
    rig = scenario_rig(bare, wearer)
    return Laid(rig.whole, None if rig.suit is None else rig.suit.cells)


def _changed(rig: Rig, before: Laid, after: Laid) -> Rig:
    """``rig`` with what changed from ``before`` to ``after``: rigid parts, and the places of the suit's cells."""
    a, b = after.whole, before.whole
    mass = (a.mass - b.mass, a.mass * a.cm - b.mass * b.cm)
    volume = (a.volume - b.volume, a.volume * a.cb - b.volume * b.cb)
    found = _rigid(rig, mass, volume)
    if rig.suit is None or before.cells is None or after.cells is None:
        return found
    return replace(found, suit=replace(rig.suit, cells=rig.suit.cells + after.cells - before.cells))


def _rigid(rig: Rig, mass: tuple[float, Floats], volume: tuple[float, Floats]) -> Rig:
    """``rig`` with mass [kg] and volume [m^3] added, each with its first moment (3,), as one part."""
    whole = rig.whole
    heavy, displaced = whole.mass + mass[0], whole.volume + volume[0]
    cm = (whole.mass * whole.cm + mass[1]) / heavy
    cb = (whole.volume * whole.cb + volume[1]) / displaced
    solid = Solid(heavy, np.asarray(cm), whole.inertia, displaced, np.asarray(cb))
    return rig_of([Part("everything rigid", "other", solid)], rig.water, suit=rig.suit, wing=rig.wing)
