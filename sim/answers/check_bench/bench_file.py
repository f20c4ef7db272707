"""The file of measurements: what was weighed, balanced, floated and timed, each with its unit and, where known, its
spread. ``check-bench`` and ``calibrate`` read the same file.

A template is given out with blanks (``lead = ""``); a file that still holds one is refused, so that nobody holds
numbers against the model that nobody measured.
"""

from __future__ import annotations

import datetime
import math
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Final, Literal, Self

from pydantic import Field, model_validator

from scenarios.checking import checked
from scenarios.errors import Problem, ScenarioError
from scenarios.file_names import place_named
from scenarios.loose_gear import LeadPlace, Where
from scenarios.quantities import Quantity
from scenarios.table import Table
from scenarios.toml_file import read_toml
from scenarios.toml_lines import key_lines, line_of
from scenarios.water import Water

BENCH_FORMAT = "bench/1"
End = Literal["foot end", "head end", "hips"]
Drift = Literal["head-up", "head-down", "none"]
Worn = Literal["as worn", "lower legs strapped", "legs straight"]
POOL_DEPTH: Final = 4.0  # m, the middle of the 3 to 5 m at which divers are weighed (common practice)
MOST_TIMES: Final = 5
FEWEST_REPEATS: Final = 3  # from which a spread is worked out
PoolDepth = Annotated[
    float, Quantity("length", "depth at which it was measured", "4 m", "0.5 m", "40 m", "confined water")
]
GaugePressure = Annotated[
    float | None, Quantity("pressure", "pressure in the cylinders, as the gauge shows", "50 bar", "0 bar", "320 bar")
]


class Item(Table):
    """One thing that was weighed or balanced, alone or as several parts of the model together."""

    name: Annotated[
        str, Field(description="What it is; the model's name for it, if parts are not given", min_length=1)
    ]
    parts: Annotated[
        tuple[str, ...], Field(description='The model\'s parts that it is made of, as "hangflat why" names them')
    ] = ()
    dry_mass: Annotated[float | None, Quantity("mass", "its mass in air", "2.62 +- 0.02 kg", "0 kg", "500 kg")] = None
    wet_mass: Annotated[
        float | None,
        Quantity("mass", "what it weighs in water, minus for what floats", "2.29 +- 0.05 kg", "-500 kg", "500 kg"),
    ] = None
    balance_point: Annotated[
        float | None,
        Quantity("length", "distance of its balance point along the body", "21 +- 0.5 cm", "-3 m", "3 m"),
    ] = None
    balance_from: Annotated[
        End, Field(description="From where: its own foot end or head end, or the middle of the diver's hip joints")
    ] = "foot end"

    @model_validator(mode="after")
    def _measured(self) -> Self:
        if self.dry_mass is None and self.wet_mass is None and self.balance_point is None:
            raise ValueError("nothing was measured: give dry_mass, wet_mass or balance_point")
        if len(set(self.parts)) < len(self.parts):
            raise ValueError("a part is named twice")
        return self

    @property
    def made_of(self) -> tuple[str, ...]:
        """Names of the model's parts."""
        return self.parts or (self.name,)


class Float(Table):
    """Hanging at a depth with an empty wing, breathing quietly: the lead with which the diver just sinks."""

    lead: Annotated[
        float,
        Quantity("mass", "all lead worn together, with which the diver just sinks", "6 +- 0.4 kg", "0 kg", "60 kg"),
    ]
    depth: PoolDepth = POOL_DEPTH
    pressure: GaugePressure = None


class Balance(Table):
    """Trimmed neutral with the wing, held flat, then still: the lead with which no drift shows in five seconds."""

    worn: Annotated[Worn, Field(description="How: as worn, lower legs strapped or gaitered, or legs straight")] = (
        "as worn"
    )
    lead: Annotated[
        float | None,
        Quantity("mass", "lead added there with which no drift shows in 5 s, 0 if none was needed", "1.5 kg", "0 kg",
                 "30 kg"),
    ] = None  # fmt: skip
    between: Annotated[
        tuple[Annotated[float, Quantity("mass", "one of two leads", "1 kg", "0 kg", "30 kg")], ...],
        Field(description="Instead: two leads added there, the diver turning one way with one, back with the other"),
    ] = ()
    place: Annotated[LeadPlace | None, Field(description="Where that lead was worn")] = None
    at: Where = None
    taken_from: Annotated[
        LeadPlace | None, Field(description="Where it had been worn before, if it was only moved; leave out if added")
    ] = None
    depth: PoolDepth = POOL_DEPTH
    pressure: GaugePressure = None

    @model_validator(mode="after")
    def _measured(self) -> Self:
        if (self.lead is None) == (not self.between):
            raise ValueError('give either lead = "1.5 kg" or between = ["1 kg", "2 kg"]')
        if self.between and not (len(self.between) == 2 and self.between[0] < self.between[1]):
            raise ValueError('between holds two leads, the lighter one first, like ["1 kg", "2 kg"]')
        if self.place is not None and self.at is not None:
            raise ValueError("place and at say the same thing; give one of them")
        if self.place is None and self.at is None and self.most_lead > 0.0:
            raise ValueError('say where that lead was worn: place = "ankles" (or "tail", "belt"), or at = [x, y, z]')
        if self.taken_from is not None and self.taken_from == self.place:
            raise ValueError("the lead was taken from where it is now; leave out taken_from")
        return self

    @property
    def most_lead(self) -> float:
        """The lead, or the heavier of the two [kg]."""
        return self.between[-1] if self.between else self.lead or 0.0


class Freeze(Table):
    """Held flat, then still: what was seen."""

    drift: Annotated[Drift, Field(description="Which way the trunk turned")]
    time_to_30: Annotated[
        float | None,
        Quantity("time", "time until the trunk had turned by 30 degrees", "2.6 +- 0.4 s", "0.1 s", "10 min"),
    ] = None
    times_to_30: Annotated[
        tuple[Annotated[float, Quantity("time", "one of the times", "2.6 s", "0.1 s", "10 min")], ...],
        Field(description="Instead: the times of up to five tries", max_length=MOST_TIMES),
    ] = ()
    depth: Annotated[
        float | None, Quantity("length", "depth at which it was tried, if not the scenario's", "4 m", "0.5 m", "40 m")
    ] = None
    pressure: GaugePressure = None

    @model_validator(mode="after")
    def _once(self) -> Self:
        if self.time_to_30 is not None and self.times_to_30:
            raise ValueError("time_to_30 and times_to_30 say the same thing; give one of them")
        if self.drift == "none" and (self.time_to_30 is not None or self.times_to_30):
            raise ValueError("no drift was seen, yet a time to 30 degrees is given; leave out one of them")
        return self

    @property
    def tries(self) -> tuple[float, ...]:
        """All times that were taken [s]."""
        return self.times_to_30 if self.time_to_30 is None else (self.time_to_30,)

    @property
    def time(self) -> float | None:
        """Their mean [s], None where no time was taken."""
        return sum(self.tries) / len(self.tries) if self.tries else None

    def time_spread(self, reading: float) -> tuple[float, bool]:
        """SD [s] of that mean, and whether it rests on ``reading``, the SD of a single try that tells none itself."""
        stated = self.spreads.get("time_to_30")
        n = len(self.tries)
        if stated is None and n >= FEWEST_REPEATS:
            middle = sum(self.tries) / n
            return math.sqrt(sum((t - middle) ** 2 for t in self.tries) / (n - 1) / n), False
        return (reading / math.sqrt(n), True) if stated is None else (stated, False)


class Bench(Table):
    """A file of measurements."""

    format: Annotated[Literal["bench/1"], Field(description="Which kind of file this is")]
    scenario: Annotated[
        str,
        Field(
            description="The scenario or parts file that the measurements belong to, beside this file", min_length=1
        ),
    ]
    measured_on: Annotated[
        datetime.date | None, Field(description="The day, like 2025-05-31; nobody's name is wanted here")
    ] = None
    water: Annotated[
        Water | None,
        Field(description="The water of weighings, float, balance, and of a freeze test whose depth is told"),
    ] = None
    item: Annotated[tuple[Item, ...], Field(description="What was weighed or balanced")] = ()
    float: Annotated[tuple[Float, ...], Field(description="Neutral float", max_length=10)] = ()
    balance: Annotated[tuple[Balance, ...], Field(description="Balancing lead", max_length=10)] = ()
    freeze: Annotated[Freeze | None, Field(description="What was seen in the freeze test")] = None

    @model_validator(mode="after")
    def _whole(self) -> Self:
        if not (self.item or self.float or self.balance) and self.freeze is None:
            raise ValueError("nothing was measured: give a [[float]], a [[balance]], a [freeze] or an [[item]]")
        if self.water is None and any(i.wet_mass is not None for i in self.item):
            raise ValueError('the water of the wet weighing is missing: add [water] with kind = "fresh" or "sea"')
        return self


@dataclass(frozen=True)
class BenchFile:
    """A file of measurements that could be read, with its text to point into."""

    bench: Bench
    name: str
    scenario: Path
    text: str

    def fault(self, message: str, *key: str | int) -> ScenarioError:
        """The error that points at ``key`` of this file."""
        line = line_of(key_lines(self.text), key)
        source = self.text.split("\n")[line - 1] if line else None
        return ScenarioError([Problem(self.name, message, ".".join(map(str, key)), line, source)])


def read_bench(path: str | os.PathLike[str]) -> BenchFile:
    """Read a file of measurements. Raises ScenarioError with every problem found, or with every blank left in it."""
    file = read_toml(path)
    blanks = list(_blanks(file.data))
    if blanks:
        lines, source = key_lines(file.text), file.text.split("\n")
        found = [(key, line_of(lines, key)) for key in blanks]
        message = "still blank: write what was measured, or delete the line (or its whole table)"
        raise ScenarioError(
            [
                Problem(file.name, message, ".".join(map(str, key)), line, source[line - 1] if line else None)
                for key, line in found
            ]
        )
    bench = checked(Bench, file.data, name=file.name, text=file.text, folder=str(file.path.parent))
    return BenchFile(bench, file.name, file.path.parent / place_named(bench.scenario), file.text)


def _blanks(data: Mapping[str, Any], above: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Keys whose text is empty, in the order of the file."""
    for key, value in data.items():
        for index, one in enumerate(value) if isinstance(value, list) else [(None, value)]:
            path = (*above, key) if index is None else (*above, key, index)
            if isinstance(one, dict):
                yield from _blanks(one, path)
            elif isinstance(one, str) and not one.strip():
                yield path
