"""Sentences and amounts made below where they are told: English, with what another language needs beside.

Records and JSON hold them as what they are, plain English text in SI units; ``sim.telling.language.told`` says them
in the reader's language and units.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, TypeVar

Text = TypeVar("Text", bound=str)


class Sentence(str):
    """English text, with the pattern that it was made from and what was put into it.

    sense : tells the pattern apart from one of the same words
    imperial : what readers of imperial units are told in its place, where their units alone don't do it
    """

    sense: str = ""
    imperial: Sentence | None = None
    pattern: str
    fields: Mapping[str, Any]
    capital: bool


class Amount(str):
    """A number with its unit in English text, "1.50 kg", with the number kept.

    bare : without the unit;  dash : with a minus sign as wide as a plus
    figures : how many it is told with in another unit; 0 for as many digits as in this
    """

    figures: int = 0
    value: float
    unit: str
    digits: int
    sign: bool
    bare: bool
    dash: bool


def note(pattern: str, /, **fields: Any) -> Sentence:
    """A sentence with its fields in their places, as ``str.format`` puts them there."""
    made = Sentence(pattern.format(**fields))
    made.pattern, made.fields, made.capital = pattern, fields, False
    return made


def by_units(metric: Sentence, imperial: Sentence) -> Sentence:
    """The first, which readers of imperial units are told as the second."""
    metric.imperial = imperial
    return metric


def capital(sentence: Sentence) -> Sentence:
    """The sentence with a capital letter at its beginning."""
    made = Sentence(sentence[:1].upper() + sentence[1:])
    made.pattern, made.fields, made.capital = sentence.pattern, sentence.fields, True
    made.imperial = None if sentence.imperial is None else capital(sentence.imperial)
    return made


def joined(parts: Sequence[str], by: str = ", ") -> Sentence:
    """Texts in a row with a sign between, each to be told as it was made."""
    fields = {f"part_{number}": part for number, part in enumerate(parts)}
    return note(by.join(f"{{{name}}}" for name in fields), **fields)


def known(text: str, sense: str = "") -> Sentence:
    """A word that is kept plain for programs, as the field of a sentence: told as the table has it.

    What is a sentence already is told as it was made.
    """
    if isinstance(text, Sentence) and not sense:
        return text
    made = Sentence(text)
    made.pattern, made.fields, made.capital, made.sense = text, {}, False, sense
    return made


def amount(
    value: float, unit: str, digits: int, *, sign: bool = False, bare: bool = False, dash: bool = False
) -> Amount:
    """``value`` in ``unit``, ``digits`` behind the point."""
    shown = f"{float(value):{'+' if sign else ''}z.{digits}f}"
    if dash:
        shown = shown.replace("-", "\N{MINUS SIGN}")
    made = Amount(shown if bare else f"{shown} {unit}")
    made.value, made.unit, made.digits, made.sign, made.bare, made.dash = float(value), unit, digits, sign, bare, dash
    return made


def brief(value: float, unit: str, figures: int = 6) -> Amount:
    """``value`` in ``unit`` with no more digits than say it, at most so many ``figures``: "1 kg", "2.5 cm"."""
    shown = f"{value:.{figures}g}"
    made = amount(value, unit, 0 if "e" in shown else len(shown.partition(".")[2]))
    made.figures = 2
    return made


def word(text: Text, sense: str = "") -> Text:
    """The text itself: marks it as one that is told, for the table, where it is kept as it is for programs."""
    return text
