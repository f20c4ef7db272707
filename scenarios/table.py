"""What every table of a file has in common: frozen, unknown keys refused, spreads of measured values kept."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, ClassVar, Self, get_args

from pydantic import BaseModel, ConfigDict, ModelWrapValidatorHandler, PrivateAttr, model_validator
from pydantic.fields import FieldInfo

from scenarios.quantities import Quantity


class Table(BaseModel):
    """One table of a scenario or parts file; every value in it is SI. Abstract: subclass once, not twice."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False, defer_build=True)
    # Keys whose being written, even at their default, says something: written out, they stay left out where they were
    saying: ClassVar[frozenset[str]] = frozenset()
    _spreads: dict[str, float] = PrivateAttr(default_factory=dict)

    @property
    def spreads(self) -> Mapping[str, float]:
        """Standard deviations (SI) of the keys whose text gave one, e.g. {"mass": 0.5} for "57 +- 0.5 kg".

        A key inside a table of plain names is joined by a point: "measures.waistcircumference".
        """
        return self._spreads

    @model_validator(mode="wrap")
    @classmethod
    def _keep_spreads(cls, data: Any, handler: ModelWrapValidatorHandler[Self]) -> Self:
        if not isinstance(data, dict):
            return handler(data)
        standard = cls._standard(data)
        table = handler(standard)
        table._spreads.update(_spreads_in(cls.model_fields, standard))
        return table

    @classmethod
    def _standard(cls, data: dict[str, Any]) -> dict[str, Any]:
        """The raw table with plain names put into standard ones; tables that have such names override this."""
        return data


def quantity_of(field: FieldInfo) -> Quantity | None:
    """The quantity a field holds, whether annotated outright or as the value type of a dict."""
    for mark in field.metadata:
        if isinstance(mark, Quantity):
            return mark
    for argument in get_args(field.annotation):
        for mark in getattr(argument, "__metadata__", ()):
            if isinstance(mark, Quantity):
                return mark
    return None


def _spreads_in(fields: Mapping[str, FieldInfo], data: Mapping[str, Any]) -> Iterator[tuple[str, float]]:
    for name, field in fields.items():
        quantity, value = quantity_of(field), data.get(name)
        if quantity is None:
            continue
        inner = value.items() if isinstance(value, dict) else [("", value)]
        for key, text in inner:
            if isinstance(text, str) and (sd := quantity.spread(text)) is not None:
                yield (f"{name}.{key}" if key else name), sd


def all_spreads(table: Table, path: str = "") -> dict[str, float]:
    """Standard deviations (SI) of a table and everything inside it, by dotted path such as "lead.0.mass"."""
    found = {f"{path}{key}": sd for key, sd in table.spreads.items()}
    for name in type(table).model_fields:
        value = getattr(table, name)
        members = enumerate(value) if isinstance(value, tuple) else [(None, value)]
        for index, member in members:
            if isinstance(member, Table):
                found |= all_spreads(member, f"{path}{name}." if index is None else f"{path}{name}.{index}.")
    return found
