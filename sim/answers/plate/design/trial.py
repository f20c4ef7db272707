"""Plates worked out in full: what each weighs, whom of a group it suits, what turns the diver who wears it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from meshes.mesh import Floats
from scenarios.errors import ScenarioError
from sim.answers.fit.demands.demand import Demand, Flags
from sim.answers.fit.demands.every import asked_of
from sim.answers.fit.dressed_person import dress_of
from sim.answers.fit.hung_rig import HungRig, hung_rig
from sim.answers.plate.bench import BenchPlate
from sim.answers.plate.checks import PlateCheck, plate_checks
from sim.answers.plate.design.brief import Brief
from sim.answers.plate.divers.worn import turning
from sim.answers.plate.laid import laid, worn_plate
from sim.answers.plate.suits.known import Batch
from sim.answers.plate.suits.run import in_full, targets_of
from sim.answers.plate.suits.ways import met_somewhere
from sim.case import Case

Slacks = Mapping[tuple[str, str], float]
GRAIN = 5e-4  # m, to which the search states dimensions: a check that fails at the start may fail by so much more
ROUNDING = 1e-7  # m or kg


@dataclass(frozen=True, eq=False)
class Built:
    """A plate that can be built, not yet worn.

    values : of the dimensions searched;  slacks : what is left before each check fails [m]
    stressed : works out the greatest stress [Pa] in a plate, None where nobody asks
    """

    bench: BenchPlate
    values: Mapping[str, float]
    slacks: Slacks
    stressed: Callable[[BenchPlate], float] | None = None

    @cached_property
    def stress(self) -> float:
        """Greatest [Pa], worked out when first asked for; NaN where nobody asks or nothing can be carried on it."""
        if self.stressed is None:
            return np.nan
        try:
            return self.stressed(self.bench)
        except ScenarioError:
            return np.nan

    @property
    def mass(self) -> float:
        """[kg]"""
        return self.bench.plate.solid.mass


@dataclass(frozen=True, eq=False)
class Trial:
    """A plate worked out in full.

    moments : what turns the diver held flat at start and end [N m]
    targets : (p, 3 d + 1) of each person of the group: see ``suits.run.targets_of``
    """

    built: Built
    moments: tuple[float, float]
    demands: tuple[Demand, ...]
    targets: Floats

    @cached_property
    def suited(self) -> Flags:
        """Whom of the group it suits (p,), with the bands set for those who need it."""
        return suits(self.demands, self.targets)

    @property
    def share(self) -> float:
        """Of the group."""
        return float(self.suited.mean())

    @property
    def moment(self) -> float:
        """The greater of the two, whichever way it turns [N m]."""
        return max(map(abs, self.moments))

    @property
    def objectives(self) -> Floats:
        """(3,), the less the better: mass [kg], share not suited, moment [N m]."""
        return np.array([self.built.mass, 1.0 - self.share, self.moment])


def suits(demands: Sequence[Demand], targets: Floats) -> Flags:
    """Whom (n,) a plate suits as banded or with bands set, from what was found or guessed of them (n, 3 d + 1)."""
    margins = targets[:, :-1].reshape(len(targets), len(demands), -1)
    others = [i for i, demand in enumerate(demands) if not demand.by_bands]  # which no bands mend
    return met_somewhere(margins) | ((targets[:, -1] > 0.0) & met_somewhere(margins[:, others]))


def built(brief: Brief, values: Mapping[str, float]) -> Built | None:
    """The plate with these dimensions; None where they make none."""
    try:
        bench = brief.dimensions.with_values(brief.stated(values))
    except (ScenarioError, ValueError):
        return None
    return Built(bench, values, slacks_of(plate_checks(bench)), brief.stress)


def slacks_of(checks: Iterable[PlateCheck]) -> Slacks:
    """What is left before each check fails, below 0 what is missing [m]; of those that measure anything."""
    found: dict[tuple[str, str], float] = {}
    for check in checks:
        if check.measured is not None:
            low = np.inf if check.least is None else check.measured - check.least
            high = np.inf if check.most is None else check.most - check.measured
            # a bend is named by its place, which the search moves
            of = "bend" if " bend " in check.of else check.of
            key = (of, check.what)
            found[key] = min(found.get(key, np.inf), float(min(low, high)))
    return found


def keeps_limits(brief: Brief, one: Built, start: Built) -> bool:
    """Whether mass, checks and stress are within limits; stress, which takes longest, is looked at last."""
    if failing(one, start) > 0.0 or (brief.most_mass is not None and one.mass > brief.most_mass + ROUNDING):
        return False
    return brief.most_stress is None or one.stress <= brief.most_stress


def failing(one: Built, start: Built) -> float:
    """By how much checks fail [cm]: those that the plate at the start meets, and others that fail by more there."""
    over = 0.0
    for key, wanted in wanted_of(start).items():
        missing = wanted - one.slacks.get(key, -np.inf)
        over += max(0.0, 100.0 * (missing - ROUNDING)) if np.isfinite(missing) else 1.0
    return over


def wanted_of(start: Built) -> Slacks:
    """What each check must have left: 0, or what it lacks at the start."""
    return {key: 0.0 if slack >= 0.0 else slack - GRAIN for key, slack in start.slacks.items()}


def trials(
    brief: Brief, case: Case, plates: Sequence[Built],
    watched: Callable[[Iterable[Batch], int, float, int], Iterable[Batch]] | None = None,
    laying: AbstractContextManager[None] | None = None,
) -> list[Trial]:  # fmt: skip
    """Each plate in full, on everybody of the group. Raises ScenarioError for what cannot be worn.

    watched : sees the people go by;  laying : is entered while the plates are laid on a diver
    """
    rigs: list[HungRig] = []
    moments = []
    with laying or nullcontext():
        for number, one in enumerate(plates):
            worn = laid(case, one.bench)
            rigs.append(hung_rig(str(number), worn_plate(worn)))
            moments.append(turning(worn.case))
    everybody = in_full(rigs, dress_of(worn_plate(worn)), brief.people, watched)
    targets = np.array([targets_of(known) for known in everybody if known is not None])
    return [
        Trial(one, moments[i], asked_of(rigs[i]), targets[:, i]) for i, one in enumerate(plates)
    ]  # fmt: skip
