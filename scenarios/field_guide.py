"""What may be written in a file, read off the models: for messages, and as a text for people."""

from __future__ import annotations

import types
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal, Union, get_args, get_origin

from pydantic.fields import FieldInfo
from pydantic_core import PydanticUndefined

from scenarios.quantities import Point, Quantity
from scenarios.table import Table, quantity_of
from scenarios.units import shown_in


@dataclass(frozen=True)
class FieldGuide:
    """One key: where it stands, what it means, an example, what is taken when it is left out."""

    path: str
    meaning: str
    example: str
    default: str | None
    required: bool


def tables_in(annotation: Any) -> tuple[type[Table], ...]:
    """The tables an annotation can hold: Plate of ``Plate | None``, both suits of a union, Lead of a tuple."""
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return (annotation,)
    found = (t for argument in get_args(annotation) for t in tables_in(argument))
    return tuple(dict.fromkeys(found))


def tables_at(model: type[Table], path: tuple[str | int, ...]) -> tuple[type[Table], ...]:
    """The tables that may stand at a path; indices and names of union members in it are passed over."""
    here: tuple[type[Table], ...] = (model,)
    for step in path:
        found = [t for table in here if step in table.model_fields for t in tables_in(_annotation(table, step))]
        if found:
            here = tuple(dict.fromkeys(found))
        elif isinstance(step, str) and any(step in kinds_of(t) for t in here):
            here = tuple(t for t in here if step in kinds_of(t))
        elif not isinstance(step, int):
            return ()
    return here


def kinds_of(table: type[Table]) -> tuple[str, ...]:
    """The values of a table's ``kind`` where that tells it from others, e.g. ("dry",)."""
    field = table.model_fields.get("kind")
    return get_args(field.annotation) if field is not None and len(get_args(field.annotation)) == 1 else ()


def is_kind_name(step: str | int) -> bool:
    """Whether a step of pydantic's error place names a member of a union, not a key: ("suit", "dry", "gas")."""
    return step in {"dry", "wet", "item", "stage", "[key]"}


def example_of(field: FieldInfo) -> str:
    """An example as it would stand in the file."""
    quantity = quantity_of(field)
    if quantity is not None:
        return f'"{quantity.words[0] if quantity.words else quantity.shown}"'
    if any(isinstance(mark, Point) for mark in field.metadata):
        return "[0.0, 0.1, 0.1]"
    words = _choices(field.annotation)
    if words:
        return f'"{words[0]}"'
    if tables_in(field.annotation):
        return "{ ... }"
    return "true" if field.annotation is bool else "1" if field.annotation is int else '"..."'


def examples_of(field: FieldInfo) -> str:
    """All that may stand there if it is one of a few words, else an example."""
    words = _choices(field.annotation)
    return " or ".join(f'"{w}"' for w in words) if words and quantity_of(field) is None else example_of(field)


def guides(model: type[Table], path: str = "") -> Iterator[FieldGuide]:
    """Every key of a model and of the tables inside it, in order."""
    for name, field in model.model_fields.items():
        key = f"{path}{name}"
        yield FieldGuide(key, _meaning(field), example_of(field), _default(field), field.is_required())
        for table in tables_in(field.annotation):
            kind = kinds_of(table)
            many = ".0" if get_origin(field.annotation) is tuple else ""
            yield from guides(table, f"{key}{many}({kind[0]})." if kind else f"{key}{many}.")


def describe(model: type[Table]) -> str:
    """All keys of a model as text: path, meaning, example, default."""
    lines = []
    for guide in guides(model):
        state = "required" if guide.required else f"default {guide.default}" if guide.default else "optional"
        lines.append(f"{guide.path}\n    {guide.meaning} ({state}; like {guide.example})")
    return "\n".join(lines)


def _annotation(table: type[Table], name: str | int) -> Any:
    return table.model_fields[str(name)].annotation


def _meaning(field: FieldInfo) -> str:
    """The description; for a quantity its meaning, dimension and believable range."""
    if field.description:
        return field.description
    quantity = quantity_of(field)
    if quantity is not None:
        range_ = f", {quantity.least} to {quantity.most}" if quantity.least and quantity.most else ""
        return f"{quantity.meaning}; {quantity.dimension}{range_}"
    for mark in field.metadata:
        if isinstance(mark, Point):
            return f"{mark.meaning}, [x, y, z] in metres"
    words = _choices(field.annotation)
    return "one of " + ", ".join(f'"{w}"' for w in words) if words else "a table of its own"


def _choices(annotation: Any) -> tuple[str, ...]:
    """The words of a Literal, optional or not."""
    if get_origin(annotation) is Literal:
        return tuple(str(a) for a in get_args(annotation))
    if get_origin(annotation) in (Union, types.UnionType):
        return tuple(w for a in get_args(annotation) for w in _choices(a))
    return ()


def _default(field: FieldInfo) -> str | None:
    value = field.get_default(call_default_factory=True, validated_data={})
    if value is PydanticUndefined or value is None or isinstance(value, Table | tuple | dict):
        return None
    quantity = quantity_of(field)
    if isinstance(value, float) and isinstance(quantity, Quantity):
        return f'"{shown_in(quantity.dimension, value)}"'
    return "true" if value is True else "false" if value is False else f'"{value}"'
