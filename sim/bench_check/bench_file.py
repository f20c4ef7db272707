"""The file of measurements: what was weighed, balanced and timed, each with its unit and, where known, its spread."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from scenarios.checking import checked
from scenarios.errors import Problem, ScenarioError
from scenarios.quantities import Quantity
from scenarios.table import Table
from scenarios.toml_file import read_toml
from scenarios.toml_lines import key_lines, line_of
from scenarios.water import Water

BENCH_FORMAT = "bench/1"
End = Literal["foot end", "head end", "hips"]
Drift = Literal["head-up", "head-down", "none"]


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


class Freeze(Table):
    """Held flat, then still: what was seen."""

    drift: Annotated[Drift, Field(description="Which way the trunk turned")]
    time_to_30: Annotated[
        float | None,
        Quantity("time", "time until the trunk had turned by 30 degrees", "2.6 +- 0.4 s", "0.1 s", "10 min"),
    ] = None


class Bench(Table):
    """A file of measurements."""

    format: Annotated[Literal["bench/1"], Field(description="Which kind of file this is")]
    scenario: Annotated[
        str,
        Field(
            description="The scenario or parts file that the measurements belong to, beside this file", min_length=1
        ),
    ]
    water: Annotated[
        Water | None, Field(description="The water of the weighings; the freeze test is in the scenario's")
    ] = None
    item: Annotated[tuple[Item, ...], Field(description="What was weighed or balanced")] = ()
    freeze: Annotated[Freeze | None, Field(description="What was seen in the freeze test")] = None

    @model_validator(mode="after")
    def _whole(self) -> Self:
        if not self.item and self.freeze is None:
            raise ValueError("nothing was measured: give an [[item]] or a [freeze]")
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
    """Read a file of measurements. Raises ScenarioError with every problem found."""
    file = read_toml(path)
    bench = checked(Bench, file.data, name=file.name, text=file.text, folder=str(file.path.parent))
    return BenchFile(bench, file.name, file.path.parent / bench.scenario, file.text)
