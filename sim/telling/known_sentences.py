"""Sentences that come as plain English text, told in the reader's language: errors, and doubts about a file.

They are made far below where anybody is told of them, many of them handed on by a library that keeps nothing but
their text. Here each is known again by what stands between its fields: the sentences come into the table under the
sense "error" (``scripts/messages.py``), with their fields numbered. What is not in the table stays English.
"""

from __future__ import annotations

import re
import string
from collections.abc import Iterator
from functools import cache
from typing import Final

from sim.said import Sentence, word
from sim.telling.language import SENSE, messages_of, reader, told

ERROR: Final = f"error{SENSE}"
NAMELESS: Final = "\0"  # in the place of a name
SURE: Final = 8  # letters between a sentence's fields, by which it is known for sure; a part of one by fewer
# what sentences are put together from, and what libraries say
PIECES: Final = (
    word('{0}; did you mean "{1}"?', sense="error"),
    word('{0}, like "{1}"', sense="error"),
    word('{0}: there is no such file; did you mean "{1}"?', sense="error"),
    word("{0}: there is no such file", sense="error"),
    word('there is no such file; did you mean "{0}"?', sense="error"),
    word("{0} or {1}", sense="error"),
    word("{0} and {1}", sense="error"),
    word("... and {0} more problems", sense="error"),
    word("Unknown option: {0}.", sense="error"),
    word('Unknown option: {0}. Did you mean "{1}"?', sense="error"),
    word("Unknown option: {0}. Did you mean {1}?", sense="error"),
    word('Unknown command "{0}". Did you mean "{1}"? Available commands: {2}', sense="error"),
    word('Unknown command "{0}". Available commands: {1}', sense="error"),
    word('Invalid value "{0}" for {1}. Choose from: {2}.', sense="error"),
    word('Invalid value "{0}" for {1}: unable to convert "{0}" into {2}.', sense="error"),
    word(
        "in hangflat's own folder, get it with: {0} -e \".[{1}]\"  ({2} scripts/check.py sets it up in .venv, too)",
        sense="error",
    ),
    word('Command "{0}" parameter {1} requires an argument.', sense="error"),
    word("Unused Tokens: {0}.", sense="error"),
    word("{0} ({1} with unit; {2} to {3})", sense="error"),
    word('between {0} and {1} ({2}), like "{3}"', sense="error"),
    word('between {0} and {1} ({2}); did you mean "{3}"?', sense="error"), word("a list", sense="error"),
    word("invalid value", sense="error"), word("invalid statement", sense="error"),
    word("unclosed array", sense="error"), word("unclosed inline table", sense="error"),
    word("expected newline or end of document after a statement", sense="error"),
    word("expected '=' after a key in a key/value pair", sense="error"),
    word("expected ']' at the end of a table declaration", sense="error"),
    word("expected ']]' at the end of an array declaration", sense="error"),
    word("{0} ({1} with unit)", sense="error"),
    word("{0}: [x, y, z] in metres, body axes", sense="error"),
    word("a table [{0}]", sense="error"), word("a table [[{0}]]", sense="error"),
    word("mass per area", sense="error"), word("mass per length", sense="error"), word("salinity", sense="error"),
    word("acceleration", sense="error"), word("flow", sense="error"), word("age", sense="error"),
    word("shoulder slot", sense="error"), word("waist slot", sense="error"), word("crotch slot", sense="error"),
    word("bolt hole", sense="error"), word("a length", sense="error"), word("a mass", sense="error"),
    word("a volume", sense="error"),
    word("a pressure", sense="error"), word("a density", sense="error"), word("a temperature", sense="error"),
    word("a time", sense="error"), word("an age", sense="error"), word("an angle", sense="error"),
    word("a fraction", sense="error"), word("a table", sense="error"), word("length", sense="error"),
    word("mass", sense="error"), word("volume", sense="error"), word("pressure", sense="error"),
    word("density", sense="error"), word("temperature", sense="error"), word("time", sense="error"),
    word("angle", sense="error"), word("fraction", sense="error"),
)  # fmt: skip


def in_words(message: str, *, part: bool = False) -> str:
    """A message, or part of one, in the reader's language, as far as the table has it."""
    if isinstance(message, Sentence):
        return told(message)
    language = reader().language
    messages = messages_of(language)
    exact = messages.get(ERROR + message) or (messages.get(message) if message.count(" ") > (not part) else None)
    if exact is not None:
        return exact[0].format()
    for letters, pattern, quoted, said in _patterns(language):
        if (part or letters >= SURE) and (found := pattern.fullmatch(message)):
            fields = (f if q else in_words(f, part=True) for f, q in zip(found.groups(), quoted, strict=True))
            return said.format(*fields)
    return message if part else _of_a_file(message)


def _of_a_file(message: str) -> str:
    """The rest of a sentence that begins with a file's name, where that stands before it already."""
    if message.startswith(NAMELESS):
        return message
    found = in_words(f"{NAMELESS}: {message}")
    return found.removeprefix(NAMELESS).lstrip(" :") if found.startswith(NAMELESS) else message


@cache
def _patterns(language: str) -> tuple[tuple[int, re.Pattern[str], tuple[bool, ...], str], ...]:
    """Each sentence with fields, the longest first: how many letters stand between them, how it is known, which
    fields are names or in quotes, and what is said.
    """
    found = sorted(_sentences(language), key=lambda one: -len(re.sub(r"{\d}", "", one[0])))
    made = []
    for text, said in found:
        letters = sum(map(str.isalpha, text))
        # what opens a bracket first as the last one before its end: a field before it may hold brackets of its own
        for bracketed in ("[^(]", ".") if "({" in text else (".",):
            pattern, quoted = _pattern(text, bracketed)
            made.append((letters, pattern, quoted, said))
    return tuple(made)


def _pattern(text: str, bracketed: str) -> tuple[re.Pattern[str], tuple[bool, ...]]:
    """How a sentence is known, fields after a "(" made of ``bracketed``; which fields are a name or in quotes."""
    parts = list(string.Formatter().parse(text))
    seen: set[str] = set()
    written, kept = "", []
    for at, (literal, name, _, _) in enumerate(parts):
        written += re.escape(literal)
        if name is None:
            continue
        of = bracketed if literal.endswith("(") else "."
        written += f"(?P=f{name})" if name in seen else f"(?P<f{name}>{of}{'*' if written else '+'}?)"
        if name not in seen:
            key = at + 1 < len(parts) and parts[at + 1][0].startswith(" = ")
            kept.append(key or literal.endswith(("'", '"')))
        seen.add(name)
    return re.compile(written, re.DOTALL), tuple(kept)


def _sentences(language: str) -> Iterator[tuple[str, str]]:
    for key, forms in messages_of(language).items():
        if key.startswith(ERROR) and "{0}" in key:
            yield key.removeprefix(ERROR), forms[0]
