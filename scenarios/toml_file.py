"""A TOML file as text and data. Every way in which a file can fail to be one ends in a ScenarioError."""

from __future__ import annotations

import difflib
import os
import re
import stat
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from scenarios.errors import Problem, ScenarioError
from scenarios.toml_lines import depth_fault

LARGEST = 500_000  # bytes; a demo scenario has 3 thousand, a parts file with 48 cells 5 thousand
LONGEST_GUESSED = 200  # characters of a line; to guess what was meant takes the square of that
DEEPEST = 64  # brackets inside each other
NO_WAITING = getattr(os, "O_NONBLOCK", 0)
_AT_LINE = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)")
_BARE_VALUE = re.compile(r"""^\s*([\w."' -]+?)\s*=\s*([-+.\d][^"'\[\]{}#]*?[A-Za-z°%'"][^\[\]{}#]*?)\s*(?:#.*)?$""")
_BARE_WORD = re.compile(r"^\s*([\w.-]+)\s*=\s*([A-Za-z][^\"'\[\]{}#=]*?)\s*(?:#.*)?$")
_CURLY = re.compile(r"^\s*([\w.-]+)\s*=\s*[„“”«»‘’‚]([^\"„“”«»‘’‚]*)[\"„“”«»‘’‚]\s*(?:#.*)?$")
_HALF_QUOTED = re.compile(r"""^\s*([\w.-]+)\s*=\s*"([^"'#\[\]{}]+)$""")


@dataclass(frozen=True)
class TomlFile:
    """A file that is sound TOML: where it is, its text and its data."""

    path: Path
    text: str
    data: dict[str, Any]

    @property
    def name(self) -> str:
        """The path as the user gave it."""
        return str(self.path)


def read_toml(path: str | os.PathLike[str]) -> TomlFile:
    """Read and parse a file. Raises ScenarioError when it is missing, no text, too large, empty or not TOML."""
    place = Path(path)
    text = _text(place, _content(place))
    if not any(line.strip() and not line.lstrip().startswith("#") for line in text.split("\n")):
        raise _wrong(place, 'the file is empty; "hangflat new" writes one to start from')
    return TomlFile(place, text, parse_toml(text, str(place)))


def parse_toml(text: str, name: str) -> dict[str, Any]:
    """Data of a TOML text; ``name`` is shown in messages. Raises ScenarioError with the line."""
    if (fault := depth_fault(text, DEEPEST)) is not None:
        raise ScenarioError([Problem(name, fault[0], line=fault[1])])
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise ScenarioError([_syntax_problem(str(error), text, name)]) from None
    except (RecursionError, ValueError, OverflowError):  # tomllib leaves these to int() and datetime()
        message = "the file cannot be read as TOML: it holds a number of thousands of digits, or a date that is none"
        raise ScenarioError([Problem(name, message)]) from None
    if unfit := _data_fault(data):
        raise ScenarioError([Problem(name, unfit)])
    return data


def _data_fault(data: dict[str, Any]) -> str:
    """What sound TOML may hold and no file here: more levels than are followed, a zero character; "" if neither.

    Keys of many parts and brackets make levels together; a zero character ends a file's name for the system.
    """
    level: list[Any] = [data]
    for _ in range(DEEPEST + 1):
        if not level:
            return ""
        members = [m for node in level for m in (node.values() if isinstance(node, dict) else node)]
        keys = (key for node in level if isinstance(node, dict) for key in node)
        if any(isinstance(text, str) and "\0" in text for text in (*keys, *members)):
            return 'a text holds the character of number zero ("\\u0000"); take it out'
        level = [m for m in members if isinstance(m, dict | list)]
    return f"more than {DEEPEST} tables and lists stand inside each other"


def _content(path: Path) -> bytes:
    try:
        mode = path.stat().st_mode
        content = b""
        if stat.S_ISREG(mode):  # a pipe or a device might never end; one put in its place since is not waited for
            with open(path, "rb", opener=lambda name, flags: os.open(name, flags | NO_WAITING)) as file:
                content = file.read(LARGEST + 1) or b""
    except FileNotFoundError:
        raise _wrong(path, f"there is no such file{_near_file(path)}") from None
    except PermissionError:
        raise _wrong(path, "the file may not be read: its permissions forbid it") from None
    except (OSError, ValueError) as error:  # ValueError: a NUL in the path
        raise _wrong(path, f"the file cannot be read: {getattr(error, 'strerror', None) or error}") from None
    if not stat.S_ISREG(mode):
        if stat.S_ISDIR(mode):
            raise _wrong(path, "this is a folder; give the file inside it")
        raise _wrong(path, "this is not an ordinary file")
    if len(content) > LARGEST:
        raise _wrong(path, f"the file is larger than {LARGEST / 1e6:g} MB; a scenario has a few thousand letters")
    return content


def _text(path: Path, content: bytes) -> str:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise _wrong(path, "the file is saved as UTF-16; save it as UTF-8")
    if b"\0" in content:
        line = content[: content.index(b"\0")].count(b"\n") + 1
        raise _wrong(path, "there are zero bytes in it: this is no text file but a binary one", line)
    try:
        return content.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        raise _wrong(
            path, f"the byte 0x{content[error.start]:02x} is not UTF-8; save the file as UTF-8 (not latin-1)", line
        ) from None


def _syntax_problem(message: str, text: str, name: str) -> Problem:
    """The parser's complaint in plain words, with what to write where that can be guessed."""
    lines = text.split("\n")
    match = _AT_LINE.search(message)
    number = int(match[1]) if match and match[1] else len(lines)
    source = lines[number - 1] if 0 < number <= len(lines) else ""
    plain = _AT_LINE.sub("", message)
    guessed = source if len(source) <= LONGEST_GUESSED else ""
    if value := _BARE_VALUE.match(guessed):
        text_ = value[2].replace('"', "").strip()
        hint = f'a value with a unit stands in quotes: {value[1].strip()} = "{text_}"'
    elif word := _BARE_WORD.match(guessed):
        hint = f'text stands in quotes: {word[1]} = "{word[2].strip()}"'
    elif value := _CURLY.match(guessed):
        hint = f'these are not the quotes of a plain text file; write {value[1]} = "{value[2].strip()}"'
    elif value := _HALF_QUOTED.match(guessed):
        hint = f'a quote is missing; write {value[1]} = "{value[2].strip()}"'
    elif "overwrite" in plain or "twice" in plain:
        hint = "this key or table stands in the file twice; keep one of them"
    elif "declare" in plain or "namespace" in plain:
        hint = f"this table stands in the file twice ({plain[0].lower()}{plain[1:]}); keep one of them"
    elif "\r" in source:
        hint = "a line ends in a carriage return alone; save the file with ordinary line ends"
    else:
        hint = f'this is not TOML ({plain[:1].lower()}{plain[1:]}); lines look like [diver] or height = "166 cm"'
    return Problem(name, hint, line=number or None, source=source)


def _near_file(path: Path) -> str:
    try:
        names = [p.name for p in path.parent.iterdir()] if path.parent.is_dir() else []
    except OSError:
        names = []
    near = difflib.get_close_matches(path.name, names[:1000], n=1)
    return f'; did you mean "{path.with_name(near[0])}"?' if near else ""


def _wrong(path: Path, message: str, line: int | None = None) -> ScenarioError:
    return ScenarioError([Problem(str(path), message, line=line)])
