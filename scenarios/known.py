"""What measurements have taught of one diver, as a file that a scenario names: ``known = "known.toml"``.

The file is written by ``hangflat calibrate``. It holds values of the scenario, as they are believed now, and the
belief behind them: a Gaussian in normal scores of each unknown (0 and 1 are middle and SD of what was believed before
anything was measured). Another rig on the same diver keeps what is the diver's and the suit's.
"""

from __future__ import annotations

import datetime
import hashlib
import json
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Final, Literal, Self

from pydantic import Field, model_validator

from scenarios.believable import is_correlation, within
from scenarios.by_key import quantity_at, stated_value
from scenarios.errors import shortened
from scenarios.measure_names import measures
from scenarios.quantities import Quantity
from scenarios.table import Table

if TYPE_CHECKING:
    from scenarios.models import Scenario

KNOWN_FORMAT: Final = "known/1"
Owner = Literal["diver", "suit", "rig", "reading"]  # what an unknown goes along with, from one rig to another
SAME: Final = 1e-6  # relative: two values as told are the same
SAME_HEIGHT: Final = 0.005  # m
MOST_SDS: Final = 10.0  # SDs of what was believed before; measurements teach of less, not of more (assumed)
MOST_EFFECT: Final = 5.0  # m, a factor of 150 in stiffness, or five times the gas: each beyond all that can be learnt
ROUNDING: Final = 1e-3  # of a correlation as it is written
SAME_MASS: Final = 2.0  # kg, what a person's mass does between two days (assumed)
# Keys of a suit that tell how it is worn today, not which suit it is
OF_THE_DAY: Final = frozenset(
    {"gaiters", "gaiter_pressure", "gas", "inflation", "comfort_squeeze", "vented_head_up", "vented_left_up",
     "vented_arm_lift", "valve_pressure", "gas_time",
     "hood_thickness", "hood_mass", "gloves_thickness", "gloves_mass"}
)  # fmt: skip
CYLINDERS_OF_THE_DAY: Final = frozenset({"pressure", "gas", "gas_temperature"})


class Whose(Table):
    """The diver it was learnt of."""

    sex: Annotated[Literal["female", "male"], Field(description="Sex")]
    height: Annotated[float, Quantity("length", "the diver's height", "166 cm", "1.40 m", "2.10 m")]
    mass: Annotated[float, Quantity("mass", "the diver's mass", "58 kg", "30 kg", "200 kg")]
    body_fat: Annotated[float | None, Quantity("fraction", "body fat as it was told then", "24 %", "3 %", "65 %")] = (
        None
    )


class Effect(Table):
    """What an unknown does to a rig where no key of a scenario says it.

    what : "cb" moves the body's CB headward [m], "cm" the CM and "moved" the whole of the parts ``of`` a name,
    "stiffness" adds to the logarithm of the suit's stiffness, "gas" is the share of gas that the suit has more
    of : names of parts, joined by "; "
    """

    what: Annotated[Literal["cb", "cm", "moved", "stiffness", "gas"], Field(description="What changes")]
    of: Annotated[str, Field(description="Of what")] = ""
    amount: Annotated[float, Field(description="By how much, SI", ge=-MOST_EFFECT, le=MOST_EFFECT)]

    def times(self, factor: float) -> Effect:
        """The same, so many times as much."""
        return self.model_copy(update={"amount": factor * self.amount})


class Unknown(Table):
    """One unknown: what is believed of it now, in normal scores of what was believed before."""

    name: Annotated[str, Field(description="What it is", min_length=1)]
    owner: Annotated[Owner, Field(description="What it goes along with")]
    mean: Annotated[float, Field(description="Middle, in SDs of what was believed before", ge=-MOST_SDS, le=MOST_SDS)]
    sd: Annotated[float, Field(description="SD, in SDs of what was believed before", gt=0.0, le=MOST_SDS)]
    keys: Annotated[tuple[str, ...], Field(description="Keys of a scenario that say it")] = ()
    now: Annotated[str | None, Field(description="The value, for people")] = None
    before: Annotated[str | None, Field(description="The value before, for people")] = None
    effect: Annotated[Effect | None, Field(description="What it does where no key says it")] = None


class Value(Table):
    """One value of a scenario, SI: believed now, and as the scenario told it then (left out if estimated).

    before : as it was told or estimated before the measurements
    """

    now: Annotated[float, Field(description="Value, SI")]
    before: Annotated[float, Field(description="Told or estimated before, SI")]
    told: Annotated[float | None, Field(description="As it was told, SI")] = None
    owner: Annotated[Owner, Field(description="What it goes along with")]


class Known(Table):
    """A file of what was learnt."""

    format: Annotated[Literal["known/1"], Field(description="Kind of file")]
    version: Annotated[str, Field(description="Of the program that wrote it")]
    scenario: Annotated[str, Field(description="The scenario it was learnt with")]
    measurements: Annotated[str, Field(description="The measurements it was learnt from")]
    measured_on: Annotated[datetime.date | None, Field(description="The day")] = None
    diver: Annotated[Whose, Field(description="Whose")]
    suit_kind: Annotated[Literal["dry", "wet", "none"], Field(description="Kind of suit")]
    suit_mark: Annotated[str, Field(description="Mark of that suit")]
    rig_mark: Annotated[str, Field(description="Mark of that rig: plate, harness, cylinders, wing")]
    unknown: Annotated[tuple[Unknown, ...], Field(description="What is believed", min_length=1)]
    correlation: Annotated[tuple[tuple[float, ...], ...], Field(description="Of the unknowns, row by row")]
    values: Annotated[dict[str, Value], Field(description="Values of the scenario, by key")] = {}  # noqa: RUF012
    _file: str = ""

    @model_validator(mode="after")
    def _square(self) -> Self:
        d = len(self.unknown)
        if len(self.correlation) != d or any(len(row) != d for row in self.correlation):
            raise ValueError(f"correlation needs {d} rows of {d} numbers, one for each unknown")
        if any(not abs(r) <= 1.0 + 1e-9 for row in self.correlation for r in row):
            raise ValueError("a correlation lies between -1 and 1")
        if len({u.name for u in self.unknown}) < d:
            raise ValueError("an unknown is named twice")
        if not is_correlation(self.correlation, ROUNDING):
            raise ValueError(
                "correlation is that of no quantities: it must be symmetric, 1 on its diagonal, definite"
            )
        return self

    @property
    def file(self) -> str:
        """The name it was read by."""
        return self._file

    def owners_on(self, scenario: Scenario) -> tuple[Owner, ...]:
        """Whose unknowns a scenario keeps: the same diver's, the same suit's, the same rig's."""
        held: list[Owner] = ["diver"] if self._is_of(scenario) else []
        if suit_mark(scenario) == self.suit_mark:
            held.append("suit")
        if rig_mark(scenario) == self.rig_mark:
            held.append("rig")
        return tuple(held)

    def kept_on(self, scenario: Scenario) -> tuple[int, ...]:
        """Which unknowns a scenario keeps: none of another suit or rig, none that it tells otherwise."""
        owners = self.owners_on(scenario)
        return tuple(
            i
            for i, u in enumerate(self.unknown)
            if u.owner in owners and all(self._as_then(scenario, key) for key in u.keys)
        )

    def values_on(self, scenario: Scenario) -> dict[str, float]:
        """Values (SI) by key that take the place of those of a scenario."""
        owners = self.owners_on(scenario)
        return {
            key: value.now
            for key, value in self.values.items()
            if value.owner in owners and self._as_then(scenario, key)
        }

    def _as_then(self, scenario: Scenario, key: str) -> bool:
        """The scenario tells this value, or leaves it open, as it did when this was learnt."""
        value = self.values.get(key)
        if value is None:
            return True
        if key == "diver.body_density" and scenario.diver.body_fat != self.diver.body_fat:
            return False  # fat and density say the same thing
        now = stated_value(scenario, key)
        if now is None or value.told is None:
            return now is value.told
        return abs(now - value.told) <= SAME * max(abs(now), abs(value.told), 1e-3)

    def _is_of(self, scenario: Scenario) -> bool:
        diver, then = scenario.diver, self.diver
        near = abs(diver.height - then.height) <= SAME_HEIGHT and abs(diver.mass - then.mass) <= SAME_MASS
        return diver.sex == then.sex and near

    def check(self, scenario: Scenario) -> None:
        """Raises ValueError where the scenario is of somebody else, or of another kind of suit."""
        diver, suit = scenario.diver, scenario.suit
        here = f"{diver.sex}, {100.0 * diver.height:.0f} cm, {diver.mass:.0f} kg"
        there = f"{self.diver.sex}, {100.0 * self.diver.height:.0f} cm, {self.diver.mass:.0f} kg"
        if not self._is_of(scenario):
            raise ValueError(
                f'"{self.file}" was learnt of another diver ({there}; here {here}): take "known" out, or measure '
                'this diver and write it anew with "hangflat calibrate"'
            )
        kind = "none" if suit is None else suit.kind
        if kind != self.suit_kind:
            raise ValueError(
                f'"{self.file}" was learnt in {_SUITS[self.suit_kind]}, and here the diver wears {_SUITS[kind]}: '
                'take "known" out, or measure again and write it anew with "hangflat calibrate"'
            )
        for key, value in self.values_on(scenario).items():
            if not _may_hold(scenario, key, value):
                raise ValueError(
                    f'"{self.file}" says {shortened(key)} = {value:g} (SI), and this is no value that it may have: '
                    'write the file anew with "hangflat calibrate"'
                )


def _may_hold(scenario: Scenario, key: str, value: float) -> bool:
    """Whether a dotted key of a scenario takes a number, and this one is believed there."""
    quantity = quantity_at(scenario, key)
    named = key.removeprefix("diver.measures")
    if named == key:
        return quantity is not None and quantity.believes(value)
    return any(named == f".{m.measure}" and within(value, m.least, m.most) for m in measures())


_SUITS: Final = {"dry": "a drysuit", "wet": "a wetsuit", "none": "no suit"}


def suit_mark(scenario: Scenario) -> str:
    """Mark of the suit that is worn, however it is worn today."""
    return "none" if scenario.suit is None else _mark(_dump(scenario.suit, OF_THE_DAY))


def rig_mark(scenario: Scenario) -> str:
    """Mark of the rig: plate, harness, cylinders and wing, however full."""
    cylinders = None if scenario.cylinders is None else _dump(scenario.cylinders, CYLINDERS_OF_THE_DAY)
    rest = [None if t is None else _dump(t, frozenset()) for t in (scenario.plate, scenario.harness, scenario.wing)]
    return _mark([cylinders, *rest])


def _dump(table: Table, without: frozenset[str]) -> dict[str, Any]:
    return table.model_dump(mode="json", exclude=set(without))


def _mark(data: object) -> str:
    return hashlib.sha256(json.dumps(data, sort_keys=True).encode()).hexdigest()[:12]


def read_known(path: Path) -> Known:
    """Read a file of what was learnt. Raises ScenarioError with every problem found."""
    try:
        stamp = path.stat().st_mtime_ns
    except (OSError, ValueError):  # ValueError: a NUL in the path; the reader says what is wrong
        stamp = 0
    return _read(str(path), stamp)


@lru_cache(maxsize=8)
def _read(path: str, stamp: int) -> Known:
    # these know all tables, this one among them
    from scenarios.checking import checked
    from scenarios.toml_file import read_toml

    file = read_toml(path)
    known = checked(Known, file.data, name=file.name, text=file.text, folder=str(file.path.parent))
    known._file = Path(path).name
    return known
