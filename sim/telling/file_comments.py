"""Comments of a TOML file that is written for people, told in the reader's language; its keys and values stay.

The file's English text is made as programs know it. Here its comments are known again, as errors are: sentence by
sentence where they stand alone on their lines, phrase by phrase behind a value. A title is words, too.
"""

from __future__ import annotations

import json
import re
import textwrap
from collections.abc import Callable, Iterator
from typing import Final, NamedTuple

from sim.telling.language import reader, say

WIDTH: Final = 120
STRING: Final = r'"(?:[^"\\]|\\.)*"'
COMMENTED: Final = re.compile(rf"((?:{STRING}|[^\"#])*)# ?(.*)")  # what stands before a comment, and the comment
CODE: Final = re.compile(r"\[+\w[\w.]*\]+|[\w.]+ = \S|[\w.]+ = $")  # where a comment holds a line to be used
TITLE: Final = re.compile(rf"title = ({STRING})")
LISTED: Final = re.compile(rf"(or|like) ({STRING}(?:, {STRING})*(?: \.\.\.)?)")
SENTENCE: Final = re.compile(r"(?<=[.?]) +(?=[\"A-Z])|(?<=:) +(?=[A-Z])")  # between two of them
ENDED: Final = re.compile(r"[.:?]$")
NAMES: Final = {
    "or": lambda names: say("or {names}", names=names),
    "like": lambda names: say("like {names}", names=names),
}
Told = Callable[[str], str]


class _Line(NamedTuple):
    """A line of the file: what programs read of it, with how its comment begins, and the comment.

    alone : the comment is of sentences, which may go on in the next line
    """

    code: str
    comment: str
    alone: bool


def told_file(text: str) -> str:
    """The file's text for the reader."""
    return text if reader().language == "en" else "\n".join(_lines(text, say))


def messages_in(text: str) -> Iterator[str]:
    """What is said in the comments of a file, and in its title, message by message."""
    found: list[str] = []

    def kept(message: str) -> str:
        found.append(message)
        return message

    for _ in _lines(text, kept):
        pass
    for one in found:
        if re.search(r"[A-Za-z]{2}", re.sub(STRING, "", one)) and not one.startswith("hangflat "):
            yield one


def _lines(text: str, told: Told) -> Iterator[str]:
    begun = ""
    for line in map(_line, text.split("\n")):
        if line.alone:
            begun = f"{begun} {line.comment}".strip()
            if not ENDED.search(begun):
                continue
        if begun:
            yield from _paragraph(begun, told)
            begun = ""
        if not line.alone:
            yield _titled(line.code, told) + _phrases(line.comment, told)
    if begun:
        yield from _paragraph(begun, told)


def _paragraph(sentences: str, told: Told) -> list[str]:
    said = " ".join(told(one) for one in SENTENCE.split(sentences))
    return textwrap.wrap(said, WIDTH, initial_indent="# ", subsequent_indent="# ", break_long_words=False,
                         break_on_hyphens=False)  # fmt: skip


def _line(line: str) -> _Line:
    found = COMMENTED.fullmatch(line)
    if found is None:
        return _Line(line, "", False)
    code, comment = found.groups()
    begun = line[: len(line) - len(comment)]
    if code.strip():
        return _Line(begun, comment, False)
    if CODE.match(comment):
        inner = _line(comment)
        return _Line(begun + inner.code, inner.comment, False)
    if not comment.strip() or comment.startswith("  "):
        return _Line(begun, comment, False)
    return _Line(begun, comment, True)


def _phrases(comment: str, told: Told) -> str:
    """Of a comment behind a value, or of a line with a command and what it does: each by itself."""
    return "".join(part if part in ("; ", "") or part.isspace() else _phrase(part, told)
                   for part in re.split(r"(; | {2,})", comment))  # fmt: skip


def _phrase(phrase: str, told: Told) -> str:
    listed = LISTED.fullmatch(phrase)
    return NAMES[listed[1]](listed[2]) if listed else told(phrase)


def _titled(code: str, told: Told) -> str:
    """The line of a title with its words told."""
    if (found := TITLE.match(code)) is None:
        return code
    title = json.loads(found[1])
    return f"title = {json.dumps(told(title), ensure_ascii=False)}{code[found.end() :]}"
