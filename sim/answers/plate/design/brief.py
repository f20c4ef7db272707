"""What is wanted of a plate that is searched for."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import Final, Literal

import numpy as np

from meshes.mesh import Floats
from scenarios.errors import Problem, ScenarioError
from scenarios.people_file import ListedPerson
from sim.answers.plate import dimensions
from sim.answers.plate.bench import BenchPlate
from sim.answers.plate.dimensions import Dimensions
from sim.answers.plate.suits.known import Who
from sim.assembly.back_plate import plate_from
from sim.person.measures import Sex
from sim.person.population import many_drawn

# Short names of the dimensions that can be searched, as they are typed
SEARCHED: Final[Mapping[str, str]] = MappingProxyType({
    "length": dimensions.LENGTH,
    "width": dimensions.WIDTH,
    "shoulder-height": dimensions.SHOULDER_DOWN,
    "shoulder-spacing": dimensions.SHOULDER_ACROSS,
    "waist-height": dimensions.WAIST_DOWN,
    "waist-spacing": dimensions.WAIST_ACROSS,
    "bolt-row": dimensions.BOLTS_DOWN,
    "channel-depth": dimensions.DEPTH,
    "channel-bends": dimensions.ANGLE,
    "thickness": dimensions.THICKNESS,
})  # fmt: skip
# slots go along with the outline, in whose ears they lie; by themselves they can hardly be moved
USUAL: Final = ("length", "width", "bolt-row", "channel-depth", "channel-bends")
Group = Literal["women", "men", "both"]
SEXES_OF: Final[Mapping[Group, tuple[Sex, ...]]] = MappingProxyType({
    "women": ("female",), "men": ("male",), "both": ("female", "male"),
})  # fmt: skip
# how far each is searched to either side [m] or [rad]
SPANS: Final[Mapping[str, float]] = MappingProxyType({
    dimensions.LENGTH: 0.05,
    dimensions.WIDTH: 0.05,
    dimensions.DEPTH: 0.012,
    dimensions.ANGLE: float(np.radians(10.0)),
    dimensions.THICKNESS: 0.0008,
})  # fmt: skip
SPAN: Final = 0.035  # m, of slots and bolts
GRAINS: Final = {"cm": 0.05, "mm": 0.1, "degrees": 0.5}  # as finely as anybody states them


@dataclass(frozen=True, eq=False)
class Brief:
    """What is searched, for whom, within which limits.

    dimensions : of the plate that the search starts from;  names : of those searched
    people : of the group, and who they are in words
    most_mass : [kg], None for any
    stress, most_stress : greatest stress [Pa] in a plate, and what is allowed; None where nobody asks
    """

    dimensions: Dimensions
    names: tuple[str, ...]
    people: tuple[Who, ...]
    who: str
    most_mass: float | None = None
    stress: Callable[[BenchPlate], float] | None = None
    most_stress: float | None = None

    @property
    def ends(self) -> tuple[Floats, Floats]:
        """Least and greatest of each dimension searched (d,), SI."""
        now = np.array([self.dimensions.now[name] for name in self.names])
        span = np.array([SPANS.get(name, SPAN) for name in self.names])
        return np.maximum(now - span, 1e-3), now + span

    def values(self, share: Floats) -> Mapping[str, float]:
        """Dimensions at places (d,) between their ends, 0 to 1, as finely as they are stated."""
        low, high = self.ends
        found = low + share * (high - low)
        return {name: _grained(name, float(v)) for name, v in zip(self.names, found, strict=True)}

    def stated(self, values: Mapping[str, float]) -> Mapping[str, float]:
        """Dimensions of the plate with these values of those searched: slots and bolts go along with the outline.

        Where a longer or wider plate of this shape has its own, they lie as far off as they do now; what is searched
        of their places comes on top, to a tenth of a millimetre. Raises ValueError for sizes that make no plate.
        """
        now, there = self.dimensions.now, self._own_places({**self.dimensions.now, **values})
        places = {n: round(values.get(n, now[n]) + at - self._own_now[n], 4) for n, at in there.items()}
        return {**values, **places}

    @cached_property
    def _own_now(self) -> Mapping[str, float]:
        return self._own_places(self.dimensions.now)

    def _own_places(self, sizes: Mapping[str, float]) -> Mapping[str, float]:
        """Where a plate of this shape and these sizes has slots and bolts, nothing stated."""
        keys = {key: sizes[name] for name, key in dimensions.BUILT.items()}
        unstated = {"bolts": (), "shoulder_slots": None, "waist_slots": None, "crotch_slot": None, "mass": None}
        table = self.dimensions.bench.table.model_copy(
            update={**keys, **unstated, "channel_angle": sizes[dimensions.ANGLE]}
        )
        return dimensions.places_of(plate_from(table))

    def places(self, values: Mapping[str, float]) -> Floats:
        """The other way round."""
        low, high = self.ends
        return np.asarray((np.array([values[name] for name in self.names]) - low) / (high - low))


def group_brief(
    bench: BenchPlate, searched: Sequence[str], group: Group, count: int, most_mass: float | None = None
) -> Brief:  # fmt: skip
    """What is searched (short names), for so many of each sex drawn from the survey."""
    many = [many_drawn(sex, count) for sex in SEXES_OF[group]]
    people = tuple(of_sex.person(i) for i in range(count) for of_sex in many)
    words = {"women": f"{count} women", "men": f"{count} men", "both": f"{count} women and {count} men"}[group]
    return Brief(Dimensions(bench), _names(bench, searched), people, f"{words} drawn from a survey", most_mass)


def listed_brief(
    bench: BenchPlate, searched: Sequence[str], people: Sequence[ListedPerson], who: str, most_mass: float | None
) -> Brief:  # fmt: skip
    """The same for real people. who : they are, in words"""
    divers = tuple(one.diver for one in people)
    return Brief(Dimensions(bench), _names(bench, searched), divers, who, most_mass)


def _names(bench: BenchPlate, searched: Sequence[str]) -> tuple[str, ...]:
    """Raises ScenarioError for a drawing, which has an outline of its own."""
    if bench.table.file is not None:
        message = 'a drawing has its own outline; search a plate by its dimensions, such as "standard aluminium"'
        raise ScenarioError([Problem(str(bench.path), message, "plate.file")])
    return tuple(SEARCHED[name] for name in searched)


def _grained(name: str, value: float) -> float:
    how = dimensions.measure_of(name)
    stated = GRAINS[how.unit] * round(value * how.scale / GRAINS[how.unit])
    return math.radians(stated) if how.unit == "degrees" else round(stated / how.scale, 6)
