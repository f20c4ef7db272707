"""``hangflat.later/1`` as a table: a row a moment, units in the header."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping
from typing import Any

from sim.answers.later.answer import LaterAnswer, LaterPoint
from sim.telling.record import as_json, fields_of


def later_csv(answer: LaterAnswer) -> str:
    """One row a moment; a column a field, and one of pressure a source."""
    units = {f.path: f"{f.meaning} [{f.unit}]" if f.unit else f.meaning for f in fields_of(LaterPoint)}
    rows = [dict(_flat(as_json(p))) for p in answer.points]
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow([_head(key, units) for key in rows[0]])
    table.writerows([[_cell(value) for value in row.values()] for row in rows])
    return out.getvalue()


def _flat(point: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    for key, value in point.items():
        if isinstance(value, Mapping):
            yield from ((f"{key}.{name}", inner) for name, inner in value.items())
        else:
            yield key, value


def _head(key: str, units: Mapping[str, str]) -> str:
    first, _, source = key.partition(".")
    return f"{source}: {units[f'{first}.<source>']}" if source else units[key]


def _cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, list):
        return "; ".join(value)
    return f"{round(value, 9) + 0.0:.6g}" if isinstance(value, float) else str(value)
