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
from scenarios.by_key import with_values
from scenarios.errors import Problem, ScenarioError, shortened
from scenarios.people_file import ListedPerson
from sim.answers.plate import dimensions
from sim.answers.plate.bench import BenchPlate
from sim.answers.plate.dimensions import Dimensions
from sim.answers.plate.suits.known import Who
from sim.assembly.back_plate import plate_from
from sim.person.measures import Sex
from sim.person.population import many_drawn
from sim.said import note

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
# of a drawing: its bends by themselves, from the middle line outwards, in place of the depth that follows from them
OF_DRAWINGS: Final[Mapping[str, str]] = MappingProxyType(
    {key: name for key, name in SEARCHED.items() if name not in (dimensions.WIDTH, dimensions.DEPTH)}
    | {"width": dimensions.FLAT_WIDTH}
)
Group = Literal["women", "men", "both"]
SEXES_OF: Final[Mapping[Group, tuple[Sex, ...]]] = MappingProxyType({
    "women": ("female",), "men": ("male",), "both": ("female", "male"),
})  # fmt: skip
# how far each is searched to either side [m] or [rad]
SPANS: Final[Mapping[str, float]] = MappingProxyType({
    dimensions.LENGTH: 0.05,
    dimensions.WIDTH: 0.05,
    dimensions.FLAT_WIDTH: 0.05,
    dimensions.DEPTH: 0.012,
    dimensions.ANGLE: float(np.radians(10.0)),
    dimensions.THICKNESS: 0.0008,
})  # fmt: skip
SPAN: Final = 0.035  # m, of slots and bolts
BEND_SPAN: Final = 0.008  # m, of one bend of a drawing
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
        span = np.array([_span(name) for name in self.names])
        # a bend's angle is below 0 where it turns away from the diver
        least = np.where(now > 0.0, 1e-3, -np.inf)
        return np.maximum(now - span, least), now + span

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
        if self.dimensions.bench.table.file is not None:
            return self._along({**self.dimensions.now, **values}, values)
        now, there = self.dimensions.now, self._own_places({**self.dimensions.now, **values})
        places = {n: round(values.get(n, now[n]) + at - self._own_now[n], 4) for n, at in there.items()}
        return {**values, **places}

    def _along(self, new: Mapping[str, float], values: Mapping[str, float]) -> Mapping[str, float]:
        """The same of a drawing: waist slots by their share of the way from the bolts' middle to the lower edge, all
        slots outwards in proportion to the width."""
        now = self.dimensions.now
        below = now[dimensions.LENGTH] - now[dimensions.BOLTS_DOWN]
        longer = new[dimensions.LENGTH] - now[dimensions.LENGTH]
        wider = new[dimensions.FLAT_WIDTH] / now[dimensions.FLAT_WIDTH] - 1.0
        along = {
            name: now[name] * wider for name in (dimensions.SHOULDER_ACROSS, dimensions.WAIST_ACROSS) if name in now
        }
        if dimensions.WAIST_DOWN in now:
            share = (now[dimensions.WAIST_DOWN] - now[dimensions.BOLTS_DOWN]) / below
            along[dimensions.WAIST_DOWN] = longer * max(share, 0.0)
        return {**values, **{name: round(new[name] + by, 4) for name, by in along.items() if by != 0.0}}

    @cached_property
    def _own_now(self) -> Mapping[str, float]:
        return self._own_places(self.dimensions.now)

    def _own_places(self, sizes: Mapping[str, float]) -> Mapping[str, float]:
        """Where a plate of this shape and these sizes has slots and bolts, nothing stated."""
        keys = {key: sizes[name] for name, key in dimensions.BUILT.items()}
        unstated = {"bolts": (), "shoulder_slots": None, "waist_slots": None, "crotch_slot": None, "mass": None}
        angle = {"channel_angle": sizes[dimensions.ANGLE]}
        table = with_values(self.dimensions.bench.table, {**keys, **unstated, **angle})
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
    return Brief(Dimensions(bench), _names(bench, searched), people, drawn_words(group, count), most_mass)


def drawn_words(group: Group, count: int) -> str:
    """Who a group is that was drawn from the survey."""
    if group == "women":
        return note("{count} women drawn from a survey", count=count)
    if group == "men":
        return note("{count} men drawn from a survey", count=count)
    return note("{count} women and {count} men drawn from a survey", count=count)


def listed_brief(
    bench: BenchPlate, searched: Sequence[str], people: Sequence[ListedPerson], who: str, most_mass: float | None
) -> Brief:  # fmt: skip
    """The same for real people. who : they are, in words"""
    divers = tuple(one.diver for one in people)
    return Brief(Dimensions(bench), _names(bench, searched), divers, who, most_mass)


def searchable(bench: BenchPlate) -> Mapping[str, str]:
    """Dimensions of this plate that can be searched, by the names that are typed.

    Raises ScenarioError for a solid, whose shape is as it is.
    """
    if bench.table.file is None:
        return SEARCHED
    if bench.table.is_solid:
        message = (
            "a solid keeps its shape; write its flat pattern (hangflat plate FILE --export flat.dxf) and search "
            'that, or a plate by its dimensions, such as "standard aluminium"'
        )
        raise ScenarioError([Problem(str(bench.path), message, "plate.file")])
    now = Dimensions(bench).now
    bends = {
        f"bend-{name.split()[1].rstrip(',')}-{'angle' if name.endswith('angle') else 'place'}": name
        for name in now
        if name.startswith("bend ")
    }
    return {key: name for key, name in {**OF_DRAWINGS, **bends}.items() if name in now}


def _names(bench: BenchPlate, searched: Sequence[str]) -> tuple[str, ...]:
    """Raises ScenarioError for what this plate does not have, ``searchable`` for a solid.

    searched : short names; none for the usual ones
    """
    known = searchable(bench)
    asked = searched or [key for key in USUAL if key in known]
    for key in asked:
        if key not in known or asked.count(key) > 1:
            message = f"--search takes each of {', '.join(known)} once at most for this plate, got {shortened(key)}"
            raise ScenarioError([Problem(str(bench.path), message)])
    return tuple(known[key] for key in asked)


def _span(name: str) -> float:
    """How far a dimension is searched to either side [m] or [rad]."""
    if name.startswith("bend "):
        return SPANS[dimensions.ANGLE] if name.endswith("angle") else BEND_SPAN
    return SPANS.get(name, SPAN)


def _grained(name: str, value: float) -> float:
    how = dimensions.measure_of(name)
    stated = GRAINS[how.unit] * round(value * how.scale / GRAINS[how.unit])
    return math.radians(stated) if how.unit == "degrees" else round(stated / how.scale, 6)
