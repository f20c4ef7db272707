"""On which line of a TOML text each key stands: tomllib reads values without keeping their places.

``key_lines`` is given sound TOML (tomllib has read it) and need not check anything. ``depth_fault`` sees a text
before anything else does: texts that never end are taken to the end. Both use a stack,
not recursion, and look at each character once.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

Path = tuple[str | int, ...]

_TOKEN = re.compile(
    r'(?P<long>"""(?:[^"\\]|\\[\s\S]|"(?!""))*+(?:"{3,5})?'
    r"|'''(?:[^']|'(?!''))*+(?:'{3,5})?)"
    r'|(?P<text>"(?:[^"\\\n]|\\.)*+"?'
    r"|'[^'\n]*+'?)"
    r"|(?P<comment>\#[^\n]*)"
    r"|(?P<newline>\n)"
    r"|(?P<mark>[\[\]{}=,.])"
    r"|(?P<bare>[^\s\[\]{}=,.\#\"']+)"
)


@dataclass
class _Frame:
    """An open bracket: an inline table, or an array with the index of the element being read."""

    path: Path
    index: int | None = None


@dataclass
class _Scan:
    """State of one pass over the tokens."""

    lines: dict[Path, int] = field(default_factory=dict)
    counts: dict[Path, int] = field(default_factory=dict)  # arrays of tables: entries so far
    table: Path = ()
    keys: list[str] = field(default_factory=list)
    stack: list[_Frame] = field(default_factory=list)
    in_value: bool = False
    brackets: int = 0  # of a header being read


def key_lines(text: str) -> Mapping[Path, int]:
    """Line (from 1) of every table, key and element of an array, by path such as ("lead", 0, "mass")."""
    scan = _Scan()
    for kind, token, line in _tokens(text):
        if kind == "newline":
            if not scan.stack:
                scan.in_value, scan.brackets = False, 0
                scan.keys.clear()
        elif scan.in_value:
            _in_value(scan, token if kind == "mark" else "", line)
        else:
            _in_key(scan, kind, token, line)
    return scan.lines


def depth_fault(text: str, most: int) -> tuple[str, int] | None:
    """What would exhaust a parser's stack (brackets inside each other) or its time (parts of a key), and its line."""
    if text.count(".") < most and text.count("[") + text.count("{") <= most:
        return None
    depth = parts = 0
    for kind, token, line in _tokens(text):
        if kind == "mark" and token == ".":
            parts += 1
            if parts >= most:
                return f"a key has more than {most} parts", line
        elif kind in ("mark", "newline"):
            parts = 0
            depth = max(depth + (token in ("[", "{")) - (token in ("]", "}")), 0)
            if depth > most:
                return f"more than {most} brackets stand inside each other", line
    return None


def line_of(lines: Mapping[Path, int], path: Path) -> int | None:
    """Line of a path, or of the nearest thing that encloses it."""
    for length in range(len(path), 0, -1):
        if path[:length] in lines:
            return lines[path[:length]]
    return None


def _tokens(text: str) -> Iterator[tuple[str, str, int]]:
    line = 1
    for match in _TOKEN.finditer(text):
        kind, token = match.lastgroup or "", match.group()
        if kind != "comment":
            yield kind, token, line
        if kind == "newline":
            line += 1
        elif kind == "long":
            line += token.count("\n")


def _in_key(scan: _Scan, kind: str, token: str, line: int) -> None:
    """Before the '=' of a statement or inside an inline table, or in a [header]."""
    if kind == "mark" and token == "[":
        scan.brackets += 1
    elif kind == "mark" and token == "]":
        if scan.keys:
            _open_table(scan, line)
    elif kind == "mark" and token == "=":
        base = scan.stack[-1].path if scan.stack else scan.table
        for length in range(1, len(scan.keys) + 1):
            scan.lines.setdefault((*base, *scan.keys[:length]), line)
        scan.in_value = True
    elif kind == "mark" and token == "}":
        _close(scan)
    elif kind == "text":
        scan.keys.append(_unquoted(token))
    elif kind == "bare":
        scan.keys.append(token)


def _open_table(scan: _Scan, line: int) -> None:
    path: Path = ()
    for key in scan.keys[:-1]:
        path = (*path, key)
        if path in scan.counts:
            path = (*path, scan.counts[path] - 1)
    path = (*path, scan.keys[-1])
    if scan.brackets >= 2:
        scan.lines.setdefault(path, line)
        scan.counts[path] = scan.counts.get(path, 0) + 1
        path = (*path, scan.counts[path] - 1)
    for length in range(1, len(path) + 1):
        scan.lines.setdefault(path[:length], line)
    scan.table = path
    scan.keys.clear()
    scan.brackets = 0


def _in_value(scan: _Scan, mark: str, line: int) -> None:
    """After the '=', or inside an array."""
    top = scan.stack[-1] if scan.stack else None
    if top is not None and top.index is not None and mark not in ("]", ","):
        scan.lines.setdefault((*top.path, top.index), line)
    if mark in ("[", "{"):
        scan.stack.append(_Frame(_value_path(scan), 0 if mark == "[" else None))
        if mark == "{":
            scan.keys.clear()
            scan.in_value = False
    elif mark in ("]", "}"):
        _close(scan)
    elif mark == "," and top is not None:
        if top.index is None:
            scan.keys.clear()
            scan.in_value = False
        else:
            top.index += 1


def _value_path(scan: _Scan) -> Path:
    """Path of the value that starts here."""
    if not scan.stack:
        return (*scan.table, *scan.keys)
    top = scan.stack[-1]
    return (*top.path, *scan.keys) if top.index is None else (*top.path, top.index)


def _close(scan: _Scan) -> None:
    if scan.stack:
        scan.stack.pop()
    scan.keys.clear()
    scan.in_value = True  # what encloses it is still being read, to its ',' or the end of the line


def _unquoted(token: str) -> str:
    if token.startswith("'"):
        return token[1:-1]
    import tomllib

    value: str = tomllib.loads(f"key = {token}")["key"]
    return value
