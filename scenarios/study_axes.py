"""The factors of a study with their numbers read, in the units their writer chose, ready for the scenario."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from meshes.mesh import Floats
from scenarios.believable import number
from scenarios.errors import shortened
from scenarios.quantities import Quantity, found
from scenarios.settings import Path, Setting, setting_of
from scenarios.study import Factor
from scenarios.unit_table import Unit
from scenarios.units import UnitError, parse, parse_measured, scaled, unit_in

TAIL: Final = 4.7534  # SDs: one case in a million lies further out, and none is drawn there


@dataclass(frozen=True)
class Scale:
    """How numbers of one factor are written. ``quantity`` and ``unit`` are None for a key that takes bare numbers."""

    quantity: Quantity | None = None
    unit: Unit | None = None

    @property
    def name(self) -> str:
        """The unit as shown, "" for bare numbers."""
        return "" if self.unit is None else self.unit.name

    def raw(self, value: float) -> str | float:
        """What would stand in the file."""
        return float(value) if self.unit is None else f"{float(value)!r} {self.unit.name}"

    def si(self, values: Floats) -> Floats:
        """Numbers in SI, as a file's would be read; bare numbers are SI already."""
        return values if self.unit is None else scaled(values, self.unit) + self.unit.offset


@dataclass(frozen=True)
class NumberAxis:
    """A number that is varied.

    way : values, range, uniform, normal, lognormal or triangular
    numbers : in the unit of ``scale``: the values; least and most; mean and SD; median and factor; least, likeliest
        and most
    least, most : ends of a normal or lognormal spread, infinite where none
    """

    title: str
    path: Path
    way: str
    scale: Scale
    numbers: tuple[float, ...]
    levels: int
    least: float
    most: float

    def setting(self, value: float) -> Setting:
        """What puts a value into the scenario."""
        raw = self.scale.raw(value)
        return Setting(self.path, raw, f"{'.'.join(map(str, self.path))}={raw}")

    def ends(self) -> tuple[float, float]:
        """Least and greatest value that is ever drawn."""
        if self.way == "normal":
            mean, sd = self.numbers
            return max(self.least, mean - TAIL * sd), min(self.most, mean + TAIL * sd)
        if self.way == "lognormal":
            median, factor = self.numbers
            return max(self.least, median / factor**TAIL), min(self.most, median * factor**TAIL)
        return min(self.numbers), max(self.numbers)


@dataclass(frozen=True)
class ChoiceAxis:
    """Ways to choose from: the name of each, and what it changes in the scenario."""

    title: str
    labels: tuple[str, ...]
    settings: tuple[tuple[Setting, ...], ...]


@dataclass(frozen=True)
class PeopleAxis:
    """A diver drawn from a population.

    sexes : those drawn;  women : share of women;  height : least and most [m]
    kept : keys of the scenario's own diver that hold for everybody, with their values
    """

    title: str
    sexes: tuple[str, ...]
    women: float
    height: tuple[float, float]
    kept: tuple[tuple[str, Any], ...]


Axis = NumberAxis | ChoiceAxis | PeopleAxis


class AxisError(ValueError):
    """A factor that cannot be read; ``below`` is the way from the factor to the key to blame."""

    def __init__(self, message: str, *below: str | int) -> None:
        self.below = below
        super().__init__(message)


HEIGHTS: Final = (1.40, 2.10)  # m, of the people whose bodies can be estimated
FOR_EVERYBODY: Final = (
    "age",
    "breathing_level",
    "lung_method",
    "tidal_volume",
)  # of a diver whom others stand in for


def people_axis(factor: Factor, diver: Mapping[str, Any] | None) -> PeopleAxis:
    """Axis of a factor that draws people in place of a scenario's ``diver``. Raises AxisError."""
    people = factor.people
    assert people is not None  # the caller saw to it
    if diver is None:
        raise AxisError("a parts file has no diver in whose place people could be drawn", "people")
    if factor.key is not None:
        raise AxisError("people take the place of the whole diver; leave the key out", "key")
    height = HEIGHTS if people.height is None else tuple(_height(text, i) for i, text in enumerate(people.height))
    if not height[0] < height[1]:
        raise AxisError("the first height must be less than the second", "people", "height")
    sexes = ("female", "male") if people.sex == "both" else (people.sex,)
    kept = tuple((key, diver[key]) for key in FOR_EVERYBODY if key in diver)
    return PeopleAxis(factor.title, sexes, people.women, (height[0], height[1]), kept)


def _height(text: Any, i: int) -> float:
    try:
        value = parse("length", text) if isinstance(text, str) else float("nan")
    except UnitError as error:
        raise AxisError(str(error), "people", "height", i) from None
    if not HEIGHTS[0] <= value <= HEIGHTS[1]:
        raise AxisError(
            f'"{shortened(str(text))}" is no height between 140 and 210 cm, like "150 cm"', "people", "height", i
        )
    return value


def settings_in(table: dict[str, Any]) -> tuple[Setting, ...]:
    """The changes of a ``set`` table."""
    return tuple(Setting(setting_of(f"{key}=").path, value, f"{key}={value}") for key, value in table.items())


def choice_axis(factor: Factor) -> ChoiceAxis:
    """Axis of a factor with choices. Raises AxisError."""
    labels, settings = [], []
    for i, choice in enumerate(factor.choices or ()):
        name, changes = _choice(factor, choice, i)
        if name in labels:
            raise AxisError(f'"{name}" stands twice among the choices', "choices", i)
        labels.append(name)
        settings.append(changes)
    return ChoiceAxis(factor.title, tuple(labels), tuple(settings))


def _choice(factor: Factor, choice: Any, i: int) -> tuple[str, tuple[Setting, ...]]:
    if isinstance(choice, dict) and "set" in choice:
        name, table = choice.get("name"), choice["set"]
        if not isinstance(name, str) or not name or not isinstance(table, dict) or len(choice) != 2:
            raise AxisError('a choice that sets keys is written { name = "...", set = { ... } }', "choices", i)
        return name, settings_in(table)
    if factor.key is None:
        raise AxisError('without a key a choice is a table { name = "...", set = { ... } }', "choices", i)
    name = choice if isinstance(choice, str) else str(choice).lower() if isinstance(choice, bool) else None
    if name is None and (bare := number(choice)) is not None:
        name = f"{bare:g}"
    if name is None:
        raise AxisError(
            f'give {found(choice)} a name: {{ name = "...", set = {{ "{factor.key}" = ... }} }}', "choices", i
        )
    return name, (Setting(setting_of(f"{factor.key}=").path, choice, f"{factor.key}={name}"),)


def number_axis(factor: Factor, quantity: Quantity | None) -> NumberAxis:
    """Axis of a factor whose key takes a ``quantity``, or bare numbers. Raises AxisError."""
    assert factor.key is not None  # Factor saw to it
    way = factor.way
    scale = _scale(factor, quantity)
    numbers = _numbers(factor, scale)
    least, most = (
        -float("inf") if factor.least is None else _read(scale, factor.least, "least"),
        float("inf") if factor.most is None else _read(scale, factor.most, "most"),
    )
    if not least < most:
        raise AxisError("least must be less than most", "least")
    if way in ("range", "uniform") and not numbers[0] < numbers[1]:
        raise AxisError(f"the first of {way} must be less than the second", way)
    if way == "triangular" and not (numbers[0] <= numbers[1] <= numbers[2] and numbers[0] < numbers[2]):
        raise AxisError("triangular takes least, likeliest and most, in that order", way)
    if way == "normal" and not numbers[1] > 0.0:
        raise AxisError("the standard deviation must be more than nothing", way)
    if way == "lognormal" and not numbers[0] > 0.0:
        raise AxisError("the median of a lognormal spread must be more than nothing", way, "median")
    axis = NumberAxis(
        factor.title, setting_of(f"{factor.key}=").path, way, scale, numbers, factor.levels or 5, least, most
    )
    _check_ends(axis, factor)
    return axis


def _scale(factor: Factor, quantity: Quantity | None) -> Scale:
    """The unit of the first text among the factor's numbers."""
    if quantity is None:
        return Scale()
    first = _texts(factor)[0]
    if not isinstance(first, str):
        raise AxisError(f'{first!r} has no unit; write it as text with one, like "{quantity.shown}"', factor.way)
    try:
        return Scale(quantity, unit_in(quantity.dimension, first, quantity.shown))
    except ValueError as error:
        raise AxisError(str(error), factor.way) from None


def _texts(factor: Factor) -> tuple[Any, ...]:
    if factor.normal is not None:
        return (factor.normal,)
    if factor.lognormal is not None:
        return (factor.lognormal.median,)
    return tuple(getattr(factor, factor.way))


def _numbers(factor: Factor, scale: Scale) -> tuple[float, ...]:
    if factor.normal is not None:
        return _mean_and_sd(factor.normal, scale)
    if factor.lognormal is not None:
        return (_read(scale, factor.lognormal.median, "lognormal", "median"), factor.lognormal.factor)
    return tuple(_read(scale, text, factor.way, i) for i, text in enumerate(_texts(factor)))


def _mean_and_sd(text: str, scale: Scale) -> tuple[float, float]:
    hint = 'write mean and standard deviation, like "150 +- 30 bar"'
    if scale.quantity is None or scale.unit is None:
        mean, mark, sd = text.partition("+-")
        try:
            read = float(mean), float(sd if mark else "")
        except ValueError:
            read = math.nan, math.nan
        if not all(map(math.isfinite, read)):
            raise AxisError(f'"{shortened(text)}" is not understood; write "0.05 +- 0.01"', "normal")
        return read
    try:
        measured = parse_measured(scale.quantity.dimension, text, scale.quantity.shown)
    except ValueError as error:
        raise AxisError(str(error), "normal") from None
    if measured.sd is None:
        raise AxisError(f'"{text}" has no spread; {hint}', "normal")
    return (measured.value - scale.unit.offset) / scale.unit.factor, measured.sd / scale.unit.factor


def _read(scale: Scale, text: Any, *below: str | int) -> float:
    """A number in the scale's unit. Raises AxisError for one that is not believed there."""
    if scale.quantity is None or scale.unit is None:
        if isinstance(text, str):
            raise AxisError(f"this key takes bare numbers, found {found(text)}", *below)
        bare = number(text)
        if bare is None:
            raise AxisError(f"{found(text)} is no number that can be worked with", *below)
        return bare
    try:
        value = scale.quantity.read(text)
    except ValueError as error:
        raise AxisError(str(error), *below) from None
    if isinstance(value, str):
        raise AxisError(f'"{value}" is a word, not a number; list it among choices', *below)
    unit = scale.unit
    own = isinstance(text, str) and unit_in(scale.quantity.dimension, text) == unit and _plain(text)
    return own if isinstance(own, float) else (value - unit.offset) / unit.factor


def _plain(text: str) -> float | bool:
    """The number at the head of a text, exactly as written; False where it is no plain decimal number."""
    try:
        return float(text.split()[0])
    except (ValueError, IndexError):
        return False


def _check_ends(axis: NumberAxis, factor: Factor) -> None:
    """Both ends must be believed, or the study would be full of rows that cannot be."""
    quantity = axis.scale.quantity
    if quantity is None:
        return
    for end in axis.ends():
        try:
            quantity.read(axis.scale.raw(end))
        except ValueError as error:
            tail = "the spread reaches beyond what is believed; give least and most to cut it off: "
            raise AxisError((tail if axis.way in ("normal", "lognormal") else "") + str(error), factor.way) from None
