"""Mutants of a TOML file: of its data, key by key, and of its bytes. All drawn from one ``random.Random``."""

from __future__ import annotations

import copy
import csv
import datetime
import io
import json
import math
import random
import tomllib
from typing import Any

from attack_text_values import ODD, believable, fields_by_key

TOKENS = (
    b"[", b"]", b"[[", b"{", b"}", b"=", b".", b",", b"'", b'"', b'"""', b"'''", b"#", b"\n", b"\r", b"\r\n", b"\0",
    b"\xef\xbb\xbf", b"\xff\xfe", b"\xc3", b"\xe2\x80\xae", b"\\", b"\\u0000", b"\\UFFFFFFFF", b"nan", b"inf", b"-",
    b"1e999", b"0x" + b"f" * 6000, b"1" * 400, b"1" * 5000, b"a." * 300, b"[" * 2000, b"{a=" * 2000, b"[[a]]\n" * 300,
    b"2024-02-31", b"x" * 100_000, b'["]",' * 500, b"+-", "±".encode(), b" ",
)  # fmt: skip
HEADS = ("waist girth", "waist girth [mm]", "height [stone]", "mass", "[", "] [", "", "x" * 300, "é\u202e", "1e999")
Place = tuple[Any, Any]  # a table or list, and a key or index in it


def mutant(rng: random.Random, seeds: list[bytes]) -> bytes:
    """One mutant of the first of ``seeds``; the others are what it may be crossed with."""
    if rng.random() < 0.3:
        return _of_bytes(rng, seeds)
    data = tomllib.loads(seeds[0].decode())
    for _ in range(rng.choice([1, 1, 1, 2, 3, 6])):
        _change(rng, data)
    text = written(data).encode("utf-8", "surrogatepass")
    return _of_bytes(rng, [text, *seeds[1:]]) if rng.random() < 0.05 else text


def mutant_table(rng: random.Random, seeds: list[bytes]) -> bytes:
    """The same of a table of people: cells and heads exchanged, rows and columns doubled or dropped."""
    if rng.random() < 0.3:
        return _of_bytes(rng, seeds)
    rows = [list(row) for row in csv.reader(io.StringIO(seeds[0].decode()))]
    for _ in range(rng.choice([1, 1, 2, 4])):
        row = rng.choice(rows)
        draw = rng.random()
        if draw < 0.5:
            row[rng.randrange(len(row))] = str(believable(rng.choice(["mass", "height", "age", "sex", "x"]), rng))
        elif draw < 0.65:
            rows[0][rng.randrange(len(rows[0]))] = rng.choice([*rows[0], *HEADS])
        elif draw < 0.75:
            rows.insert(rng.randrange(len(rows) + 1), list(row) * rng.choice([1, 1, 2, 40]))
        elif draw < 0.85:
            rows += [list(row) for _ in range(rng.choice([1, 30, 6000]))]
        else:
            del row[rng.randrange(len(row)) :]
            row.append("")
    text = io.StringIO()
    csv.writer(text, delimiter=rng.choice(",,,;\t")).writerows(rows)
    return text.getvalue().encode("utf-8", "surrogatepass")


def _change(rng: random.Random, data: dict[str, Any]) -> None:
    """One change of the data, in place: mostly to what may be believed, so that the engine gets to see it."""
    places = list(_places(data))
    if not places:
        return
    node, key = rng.choice(places)
    name = key if isinstance(key, str) else "at"
    draw = rng.random()
    if draw < 0.40:
        node[key] = copy.deepcopy(believable(name, rng))
    elif draw < 0.50:
        node[key] = _scaled(rng, node[key])
    elif draw < 0.60:
        _add_key(rng, node)
    elif draw < 0.70:
        del node[key]
    elif draw < 0.77:
        other, place = rng.choice(places)
        node[key], other[place] = copy.deepcopy(other[place]), copy.deepcopy(node[key])
    elif draw < 0.85:
        _more_of_it(rng, node, key)
    elif draw < 0.90 and isinstance(node, dict):
        node[rng.choice(list(fields_by_key()))] = node.pop(key)
    else:
        node[key] = copy.deepcopy(rng.choice(ODD))


def _places(node: Any) -> list[Place]:
    found: list[Place] = []
    for key, value in list(node.items() if isinstance(node, dict) else enumerate(node)):
        found += [(node, key), *(_places(value) if isinstance(value, dict | list) else ())]
    return found


def _scaled(rng: random.Random, value: Any) -> Any:
    """A number, or the first number of a text, times a power of ten or with its sign turned."""
    factor = rng.choice([-1.0, 10.0, 0.1, 1e3, 1e-3, 1e-12, 1e12, 1.1, 0.9, 0.5, 2.0])
    if isinstance(value, bool):
        return not value
    if isinstance(value, int | float):
        return value * factor if isinstance(value, float) or abs(value) < 10**300 else -value
    if isinstance(value, str):
        head, _, rest = value.partition(" ")
        try:
            return f"{float(head) * factor:.6g} {rest}"
        except ValueError:
            return value.upper()
    return [_scaled(rng, v) for v in value] if isinstance(value, list) else value


def _add_key(rng: random.Random, node: Any) -> None:
    if isinstance(node, list):
        node.append(copy.deepcopy(rng.choice(ODD)))
        return
    name = rng.choice(list(fields_by_key()))
    node[name] = copy.deepcopy(believable(name, rng))


def _more_of_it(rng: random.Random, node: Any, key: Any) -> None:
    """An entry of a list again and again, or a key a second time under another name."""
    if isinstance(node, list):
        node += [copy.deepcopy(node[key]) for _ in range(rng.choice([1, 1, 2, 20, 101]))]
    else:
        value = copy.deepcopy(node[key])
        node[rng.choice([key + "s", key.upper(), key.replace("_", " "), key + "\n", "k" * 3000])] = value


def _of_bytes(rng: random.Random, seeds: list[bytes]) -> bytes:
    text = bytearray(seeds[0])
    for _ in range(rng.choice([1, 1, 2, 4])):
        at, length = rng.randrange(len(text) + 1), rng.choice([1, 1, 4, 30, 400])
        draw = rng.random()
        if draw < 0.35:
            text[at : at + rng.choice([0, 1, length])] = rng.choice(TOKENS)
        elif draw < 0.5:
            del text[at : at + length]
        elif draw < 0.65 and text:
            text[at % len(text)] ^= 1 << rng.randrange(8)
        elif draw < 0.75:
            text[at:at] = text[at : at + length] * rng.choice([1, 3, 200])
        elif draw < 0.85:
            lines = bytes(text).split(b"\n")
            rng.shuffle(lines)
            text = bytearray(b"\n".join(lines))
        elif draw < 0.95 and len(seeds) > 1:
            other = rng.choice(seeds[1:])
            cut = rng.randrange(len(other) + 1)
            text[at:] = other[cut:]
        else:
            encoding = rng.choice(["utf-16", "utf-8-sig", "cp037", "latin-1"])
            text = bytearray(bytes(text).decode("utf-8", "replace").encode(encoding, "replace"))
    return bytes(text)


def written(table: dict[str, Any]) -> str:
    """A table as TOML: plain values first, tables inside one another as inline tables below the first level."""
    heads = [f"{_key(k)} = {_value(v)}" for k, v in table.items() if not _is_own(v)]
    for key, value in table.items():
        if _is_own(value):
            for one in value if isinstance(value, list) else [value]:
                heads.append(("[[{}]]" if isinstance(value, list) else "[{}]").format(_key(key)))
                heads += [f"{_key(k)} = {_value(v)}" for k, v in one.items()]
    return "\n".join(heads) + "\n"


def _is_own(value: Any) -> bool:
    """Whether a value is written under a header of its own."""
    return isinstance(value, dict) or (
        isinstance(value, list) and bool(value) and all(isinstance(v, dict) for v in value)
    )


def _key(key: str) -> str:
    return key if key.replace("_", "").isascii() and key.replace("_", "").isalnum() else _text(key)


def _text(text: str) -> str:
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return "nan" if math.isnan(value) else ("-inf" if value < 0 else "inf") if math.isinf(value) else repr(value)
    if isinstance(value, int):
        return str(value)
    if isinstance(value, list):
        return "[" + ", ".join(_value(v) for v in value) + "]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{_key(k)} = {_value(v)}" for k, v in value.items()) + " }"
    if isinstance(value, datetime.date | datetime.time):
        return value.isoformat()
    return _text(str(value))
