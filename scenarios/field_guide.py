"""What may be written at a place of a file, read off the models, for messages."""

from __future__ import annotations

import types
from typing import Any, Literal, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from scenarios.quantities import Point
from scenarios.table import Table, quantity_of


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
    if field.examples:
        return f'"{field.examples[0]}"'
    if tables_in(field.annotation):
        return "{ ... }"
    return "true" if field.annotation is bool else "1" if field.annotation is int else '"..."'


def examples_of(field: FieldInfo) -> str:
    """All that may stand there if it is one of a few words, else an example."""
    words = _choices(field.annotation)
    return " or ".join(f'"{w}"' for w in words) if words and quantity_of(field) is None else example_of(field)


def _annotation(table: type[Table], name: str | int) -> Any:
    return table.model_fields[str(name)].annotation


def _choices(annotation: Any) -> tuple[str, ...]:
    """The words of a Literal, optional or not."""
    if get_origin(annotation) is Literal:
        return tuple(str(a) for a in get_args(annotation))
    if get_origin(annotation) in (Union, types.UnionType):
        return tuple(w for a in get_args(annotation) for w in _choices(a))
    return ()
