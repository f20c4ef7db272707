"""What a field of a model may hold: a text with unit, read to an SI float and checked against a plausible range."""

from __future__ import annotations

import math
import types
from dataclasses import dataclass
from functools import cache
from typing import Any, Union, get_args, get_origin

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from scenarios.believable import FARTHEST_POINT, number, spread_doubt, within
from scenarios.errors import shortened
from scenarios.unit_table import EXAMPLES, Dimension
from scenarios.units import exact_text, other_readings, parse, parse_measured


class SI(float):
    """A value in SI units put in by the program, where a file would hold a text with unit."""


@dataclass(frozen=True)
class Quantity:
    """Annotation of a float field: ``mass: Annotated[float, Quantity("mass", "Mass of the suit")]``.

    meaning : one plain phrase for people;  example : as a user would write it
    least, most : the range that is believed, as text with unit;  why : the reason for it, shown when it is left
    words : words that may stand instead of a number, e.g. "neutral"
    """

    dimension: Dimension
    meaning: str
    example: str = ""
    least: str = ""
    most: str = ""
    why: str = ""
    words: tuple[str, ...] = ()

    @property
    def shown(self) -> str:
        """The example, the dimension's own if none was given."""
        return self.example or EXAMPLES[self.dimension]

    def read(self, value: object) -> float | str:
        """SI value of what stood in the file. Raises ValueError that says what to write."""
        if isinstance(value, SI):
            if not self.believes(value):
                raise ValueError(self._out_of_range(exact_text(self.dimension, value)))
            return float(value)
        if isinstance(value, str) and value.strip().lower() in self.words:
            return value.strip().lower()
        if not isinstance(value, str):
            raise ValueError(self._not_text(value))
        if self.words and not any(letter.isdigit() for letter in value):
            raise ValueError(f"{shortened(value)!r} is not known here; write {self.choices()}")
        measured = parse_measured(self.dimension, value, self.shown)
        if not self.believes(measured.value):
            raise ValueError(self._out_of_range(value))
        if measured.sd is not None:
            self._check_spread(value, measured.value, measured.sd)
        return measured.value

    def spread(self, value: object) -> float | None:
        """Standard deviation in SI where the text gives one ("57 +- 0.5 kg"), else None."""
        if not isinstance(value, str) or value.strip().lower() in self.words:
            return None
        return parse_measured(self.dimension, value, self.shown).sd

    def choices(self) -> str:
        """What may be written, for messages: "neutral" or a volume like "12 l"."""
        words = [f'"{w}"' for w in self.words]
        return " or ".join([*words, f'a {self.dimension} like "{self.shown}"'])

    def believes(self, value: float) -> bool:
        """Whether an SI value is finite and within the range."""
        return within(value, *self._range())

    def _range(self) -> tuple[float, float]:
        return _range_in_si(self.dimension, self.least, self.most)

    def _check_spread(self, text: str, value: float, sd: float) -> None:
        doubt = spread_doubt(value, sd, *self._range(), ratio=self.dimension != "temperature")
        if doubt:
            raise ValueError(
                f'the spread of "{text}" is not believable: {doubt}; give the standard deviation, or none'
            )

    def _not_text(self, value: object) -> str:
        if isinstance(value, bool) or not isinstance(value, int | float):
            return f"expected {self.choices()}, found {found(value)}"
        if number(value) is None:
            if isinstance(value, int):
                return f"{found(value)} is too large a number; write {self.choices()}"
            return f"{found(value)} is no number; write {self.choices()}"
        return f'{value!r} has no unit; write it as text with one, like "{self.shown}"'

    def _out_of_range(self, text: str) -> str:
        if self.least and self.most:
            range_ = f"between {self.least} and {self.most}"
        else:
            range_ = f"at least {self.least}" if self.least else f"at most {self.most}"
        reason = f" ({self.why})" if self.why else ""
        top = self._range()[1]
        # only a slip that lands well inside the range is worth asking about: nobody meant 600 mbar in a cylinder
        meant = [t for t, v in other_readings(self.dimension, text) if self.believes(v) and v > 0.02 * top]
        hint = f'; did you mean "{meant[0]}"?' if meant else f', like "{self.shown}"'
        return f'"{text}" is not believable: {self.meaning} is expected {range_}{reason}{hint}'

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        optional = get_origin(source) in (Union, types.UnionType) and type(None) in get_args(source)

        def validate(value: object) -> float | str | None:
            return None if value is None and optional else self.read(value)

        def serialise(value: float | str | None) -> str | None:
            return value if value is None or isinstance(value, str) else exact_text(self.dimension, value)

        return core_schema.no_info_plain_validator_function(
            validate,
            serialization=core_schema.plain_serializer_function_ser_schema(serialise, when_used="json"),
        )

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        range_ = f"; {self.least or '...'} to {self.most or '...'}" if self.least or self.most else ""
        return {
            "type": "string",
            "description": f"{self.meaning} ({self.dimension} with unit{range_})",
            "examples": [*self.words, self.shown],
        }


@cache
def _range_in_si(dimension: Dimension, least: str, most: str) -> tuple[float, float]:
    """Ends of a range as SI values, infinite where one is left out."""
    low = parse(dimension, least) if least else -math.inf
    return low, parse(dimension, most) if most else math.inf


@dataclass(frozen=True)
class Point:
    """Annotation of a point (x, y, z) in body axes: three bare numbers in metres."""

    meaning: str

    def read(self, value: object) -> tuple[float, float, float]:
        """The three numbers as floats. Raises ValueError that says what to write."""
        hint = "write three bare numbers in metres [x, y, z]: x to the head, y to the diver's left, z to the back"
        if not isinstance(value, list | tuple) or len(value) != 3:
            raise ValueError(f"expected a point ({self.meaning}), found {found(value)}; {hint}")
        x, y, z = (self._coordinate(one, hint) for one in value)
        return x, y, z

    def _coordinate(self, value: object, hint: str) -> float:
        one = number(value)
        if one is None:
            raise ValueError(f"the point ({self.meaning}) holds {found(value)}; {hint}")
        if not abs(one) <= FARTHEST_POINT:
            raise ValueError(f"{one:g} is more than {FARTHEST_POINT:g} m from the hips; a point's numbers are metres")
        return one

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        optional = get_origin(source) in (Union, types.UnionType) and type(None) in get_args(source)

        def validate(value: object) -> tuple[float, float, float] | None:
            return None if value is None and optional else self.read(value)

        return core_schema.no_info_plain_validator_function(validate)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {
            "type": "array",
            "items": {"type": "number"},
            "minItems": 3,
            "maxItems": 3,
            "description": f"{self.meaning}: [x, y, z] in metres, body axes",
        }


def found(value: object) -> str:
    """What was found, in words a person who knows no programming understands."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'the text "{shortened(value)}"'
    if isinstance(value, list | tuple):
        return f"a list of {len(value)}"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, int) and value.bit_length() > 1024:  # Python may even refuse to write it out
        return f"a whole number of about {value.bit_length() * math.log10(2.0):.0f} digits"
    return shortened(repr(value))
