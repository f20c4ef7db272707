"""Records of one kind as a table (CSV): a row each, the columns from what their fields say."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable
from typing import Any, Final

from sim.telling.record import Told, as_json, told_of

SMALLEST: Final = 9  # decimals: what is less is rounding


def in_words(key: str, told: Told) -> str:
    """What stands over a column for people: meaning, sign and unit."""
    plus = f", plus {told.plus}" if told.plus else ""
    return told.meaning + plus + (f" [{told.unit}]" if told.unit else "")


def by_key(key: str, told: Told) -> str:
    """What stands over a column for programs: the key in JSON."""
    return key


def as_csv(
    kind: type, rows: Iterable[Any], heading: Callable[[str, Told], str] = in_words, number: str = ".6g"
) -> str:
    """One line a record, under its headings; ``number`` : how numbers are written. What there is none of is empty."""
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow([heading(key, told) for key, told in told_of(kind)])
    table.writerows([[_cell(value, number) for value in as_json(row).values()] for row in rows])
    return out.getvalue()


def _cell(value: Any, number: str) -> str:
    if isinstance(value, float):
        return f"{round(value, SMALLEST) + 0.0:{number}}"
    return "" if value is None else str(value)
