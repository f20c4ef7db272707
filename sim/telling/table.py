"""Records of one kind as a table (CSV): a row each, the columns from what their fields say."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, Final

from sim.telling.record import Told, as_json, keys_of

ROUNDING: Final = 9  # decimals, behind which there is nothing but rounding
PARTING: Final = '",\r\n'


def in_words(key: str, told: Told) -> str:
    """What stands over a column for people: meaning, sign and unit."""
    plus = f", plus {told.plus}" if told.plus else ""
    return told.meaning + plus + (f" [{told.unit}]" if told.unit else "")


def by_key(key: str, told: Told) -> str:
    """What stands over a column for programs: the key in JSON."""
    return key


def six_digits(value: float) -> str:
    """Six that count; nil is 0."""
    return f"{round(value, ROUNDING) + 0.0:.6g}"


def six_decimals(value: float) -> str:
    """Six behind the point."""
    return f"{value:.6f}"


def as_csv(
    kind: type,
    rows: Iterable[Any],
    heading: Callable[[str, Told], str] = in_words,
    number: Callable[[float], str] = six_digits,
) -> str:
    """One line a record, under its headings. What there is none of is empty, an empty text is two quotes."""
    lines = [[_quoted(heading(key, told)) for key, told in keys_of(kind)]]
    lines += [[_cell(value, number) for value in as_json(row).values()] for row in rows]
    return "".join(f"{','.join(line)}\n" for line in lines)


def _cell(value: Any, number: Callable[[float], str]) -> str:
    if value is None:
        return ""
    return number(value) if isinstance(value, float) else _quoted(str(value))


def _quoted(text: str) -> str:
    if text and not any(letter in text for letter in PARTING):
        return text
    return '"' + text.replace('"', '""') + '"'
