"""In which language and units the reader is told: one table of messages, one place where numbers get their comma.

The English sentence in the source is the key, so that a room reads as what it says, and English is never looked up:
it comes out as it stands. Translations are gettext's PO files beside this module, ``po/de.po`` and so on, which every
translator's program edits; they are read as they are when their language is first asked for, so that there is no
compiled copy to go stale. PO rather than Fluent: sentences here need plural forms, which PO has, and no grammar of
their own. The three plural rules and the decimal comma are all that we would take of a library (babel), which is
therefore only what the tests hold these against. ``python3 scripts/messages.py`` lists what is not translated.

Records and machine formats (JSON, CSV, TOML) stay English with a decimal point: what they hold is made with
``sim.said`` and told by ``told``.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, Final, Literal, get_args

from sim.said import Amount, Sentence, amount, brief
from sim.telling.imperial import IMPERIAL

Language = Literal["en", "de", "pl", "fr"]
Units = Literal["metric", "imperial"]
LANGUAGES: Final[tuple[Language, ...]] = get_args(Language)
UNITS: Final[tuple[Units, ...]] = get_args(Units)
LONG: Final = 3  # spaces in a sentence: names and labels have fewer
SENSE: Final = "\4"  # between a sense and its message, as gettext has it

# Which of a message's forms goes with a number of things: CLDR's cardinal rules for whole numbers
PLURALS: Final[Mapping[str, Callable[[int], int]]] = {
    "en": lambda n: 0 if n == 1 else 1,
    "de": lambda n: 0 if n == 1 else 1,
    "fr": lambda n: 0 if n in (0, 1) else 1,
    "pl": lambda n: 0 if n == 1 else 1 if n % 10 in (2, 3, 4) and n % 100 not in (12, 13, 14) else 2,
}

# What stands between thousands: CLDR's
THOUSANDS: Final[Mapping[str, str]] = {
    "en": ",",
    "de": ".",
    "fr": "\N{NARROW NO-BREAK SPACE}",
    "pl": "\N{NO-BREAK SPACE}",
}

SEMICOLON: Final[Mapping[str, str]] = {"fr": " ; "}  # with the blanks around it, where they are not English's
JOINED: Final = re.compile(r"\{\w+\}(; \{\w+\})+")  # nothing but texts in a row, as ``sim.said.joined`` makes them

Messages = Mapping[str, tuple[str, ...]]


@dataclass(frozen=True)
class Reader:
    """Who is told: in which language, in which units, by which table."""

    language: str = "en"
    units: Units = "metric"
    messages: Messages = field(default_factory=dict, repr=False)

    @property
    def plain(self) -> bool:
        """English in metric units: everything is told as it was made."""
        return self.language == "en" and self.units == "metric"


_ENGLISH: Final = Reader()  # nothing in it can be changed
_READER: ContextVar[Reader] = ContextVar("reader", default=_ENGLISH)


@contextmanager
def spoken(language: str = "en", units: Units = "metric", messages: Messages | None = None) -> Iterator[Reader]:
    """All that is told inside is told so; ``messages`` : a table in place of the language's own."""
    reader = Reader(language, units, messages_of(language) if messages is None else messages)
    token = _READER.set(reader)
    try:
        yield reader
    finally:
        _READER.reset(token)


def reader() -> Reader:
    """Who is being told now."""
    return _READER.get()


def say(text: str, /, sense: str = "", **fields: Any) -> str:
    """A message in the reader's language, with its fields in their places as ``str.format`` puts them there.

    sense : tells apart what is one word in English and several elsewhere
    """
    now = _READER.get()
    if now.language != "en":
        found = now.messages.get(f"{sense}{SENSE}{text}" if sense else text)
        text = found[0] if found else text
    return _filled(text, fields, now)


def say_count(one: str, many: str, number: int, /, **fields: Any) -> str:
    """A message on ``number`` things, which also stands in it as ``{n}``."""
    now = _READER.get()
    text = one if number == 1 else many
    if now.language != "en" and (found := now.messages.get(one)):
        text = found[min(PLURALS.get(now.language, PLURALS["en"])(abs(number)), len(found) - 1)]
    return _filled(text, {"n": number, **fields}, now)


def set_apart(parts: Iterable[str]) -> str:
    """Texts in a row with a semicolon between, as the reader's language sets it."""
    return SEMICOLON.get(_READER.get().language, "; ").join(parts)


def told(text: str) -> str:
    """What was made by ``sim.said``, or a word kept as programs know it, as the reader has it."""
    now = _READER.get()
    if now.plain:
        return text
    if isinstance(text, Amount):
        if text.figures and unit_name(text.unit) != text.unit:
            value = in_unit(text.value, text.unit)
            return comma(f"{brief(value, unit_name(text.unit), text.figures)}")
        return quantity(text.value, text.unit, text.digits, sign=text.sign, bare=text.bare, dash=text.dash)
    if isinstance(text, Sentence):
        if now.units == "imperial" and text.imperial is not None:
            text = text.imperial
        pattern = set_apart(text.pattern.split("; ")) if JOINED.fullmatch(text.pattern) else text.pattern
        words = say(pattern, text.sense, **text.fields)
        return words[:1].upper() + words[1:] if text.capital else words
    found = now.messages.get(text)
    if found:
        return found[0]
    if now.language == "en" or text.count(" ") < LONG:
        return text
    from sim.telling.known_sentences import in_words  # what was made as plain text far below

    return in_words(text)


def number(value: float, digits: int, *, sign: bool = False) -> str:
    """A number with ``digits`` behind the point or comma; ``sign`` : a plus before it as well."""
    return comma(f"{float(value):{'+' if sign else ''}z.{digits}f}")


def quantity(
    value: float, unit: str, digits: int, *, sign: bool = False, bare: bool = False, dash: bool = False
) -> str:
    """A number in metric ``unit`` with its unit, in the reader's.

    bare : the number alone, in the same unit;  dash : with a minus sign as wide as a plus
    """
    if _READER.get().units == "imperial" and unit in IMPERIAL:
        other = IMPERIAL[unit]
        value, unit, digits = value / other.size, other.name, max(0, digits + other.digits)
    return comma(amount(value, unit, digits, sign=sign, bare=bare, dash=dash))


def whole(count: int) -> str:
    """A whole number with the reader's sign between thousands."""
    return f"{count:,}".replace(",", THOUSANDS[_READER.get().language])


def unit_name(unit: str) -> str:
    """What the reader measures in, in place of a metric unit: for the axis of a chart, the head of a column."""
    return IMPERIAL[unit].name if _READER.get().units == "imperial" and unit in IMPERIAL else unit


def in_unit(value: Any, unit: str) -> Any:
    """A number or an array in metric ``unit``, in the reader's."""
    return value / IMPERIAL[unit].size if _READER.get().units == "imperial" and unit in IMPERIAL else value


def comma(digits: str) -> str:
    """A number's text with the reader's decimal sign."""
    return str(digits) if _READER.get().language == "en" else digits.replace(".", ",")


class _Comma(float):
    """A number that is formatted with a decimal comma."""

    def __format__(self, spec: str) -> str:
        return super().__format__(spec).replace(".", ",")


def _filled(text: str, fields: Mapping[str, Any], now: Reader) -> str:
    if not fields:
        return text
    if now.plain:
        return text.format(**fields)
    return text.format(**{name: _as_told(value, now) for name, value in fields.items()})


def _as_told(value: Any, now: Reader) -> Any:
    if isinstance(value, Amount | Sentence):
        return told(value)
    if isinstance(value, float) and now.language != "en" and math.isfinite(value):
        return _Comma(value)
    return value


@cache
def messages_of(language: str) -> Messages:
    """The table of a language; English needs none. Read once."""
    if language == "en":
        return {}
    return read_po((Path(__file__).parent / "po" / f"{language}.po").read_text(encoding="utf-8"))


def read_po(text: str) -> dict[str, tuple[str, ...]]:
    """Messages of a PO file, each with its forms, under the English singular; what is not translated is left out."""
    found: dict[str, tuple[str, ...]] = {}
    for entry in text.split("\n\n"):
        parts: dict[str, str] = {}
        key = ""
        for line in entry.split("\n"):
            if line.startswith("#") or not line:
                continue
            if not line.startswith('"'):
                key, _, line = line.partition(" ")
                parts[key] = ""
            parts[key] += json.loads(line)
        forms = tuple(value for key, value in parts.items() if key.startswith("msgstr"))
        if parts.get("msgid") and all(forms):
            sense = parts.get("msgctxt", "")
            found[f"{sense}{SENSE}{parts['msgid']}" if sense else parts["msgid"]] = forms
    return found
