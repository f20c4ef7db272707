"""What a mutant may hold: texts at and beyond the ends of every believable range, words, entries, odd types."""

from __future__ import annotations

import math
import random
from functools import cache
from typing import Any, get_args

from scenarios.catalogue import entries, sections
from scenarios.field_guide import tables_in
from scenarios.known import Known
from scenarios.models import Scenario
from scenarios.parts_file import PartsFile
from scenarios.quantities import Point, Quantity
from scenarios.study import Study
from scenarios.table import Table, quantity_of
from scenarios.unit_table import units_of
from scenarios.units import exact_text, parse
from sim.answers.check_bench.bench_file import Bench

ODD = (
    True, False, 0, -1, 7, 10**18, 10**308, 10**400, 0.0, -0.0, 1e308, 5e-324, math.nan, math.inf, -math.inf, "", " ",
    "none", "neutral", "nan kg", "inf m", "1e999 kg", "1e-320 kg", "9" * 79 + " kg", "9" * 5000 + " m", "x" * 90_000,
    "é\u202e\x1b[31m", "1/0 m", "5 ft 5 in", "58 +- 30 kg", "1 +- 1e300 kg", [], [[]], [1], ["x"], [{}], {},
    [0, 0, 0], [10.0, 10.0, 10.0], [1e308, 1e308, 1e308], [10**400, 0, 0], {"catalogue": "x"}, {"kind": "dry"},
    "../" * 50, "/dev/zero", "a\0b", "n" * 300, "-0 kg", "100 %", "0 %",
)  # fmt: skip


@cache
def fields_by_key() -> dict[str, tuple[Any, ...]]:
    """Every field of every kind of file, by its plain name."""
    found: dict[str, list[Any]] = {}
    todo: list[type[Table]] = [Scenario, PartsFile, Study, Bench, Known]
    seen: set[type[Table]] = set()
    while todo:
        table = todo.pop()
        if table in seen:
            continue
        seen.add(table)
        for name, field in table.model_fields.items():
            found.setdefault(name, []).append(field)
            todo += tables_in(field.annotation)
    return {name: tuple(fields) for name, fields in found.items()}


def believable(key: str, rng: random.Random) -> Any:
    """A value that a key of this name may well hold; something odd where nothing is known of it."""
    if key == "catalogue":
        return rng.choice([name for s in sections() for name in entries(s)])
    fields = fields_by_key().get(key)
    if not fields:
        return rng.choice(ODD)
    field = rng.choice(fields)
    quantity = quantity_of(field)
    if quantity is not None:
        return text_in(quantity, rng)
    if any(isinstance(mark, Point) for mark in field.metadata):
        return [round(rng.uniform(-1.0, 1.0), 2) for _ in range(3)]
    words = _words(field.annotation)
    if words:
        return rng.choice(words)
    if field.annotation is bool:
        return rng.random() < 0.5
    return rng.choice([1, 2, 0.5, "none", rng.choice(ODD)])


def text_in(quantity: Quantity, rng: random.Random) -> str:
    """A quantity within its range, at an end of it, just outside, far outside, or with a spread."""
    if quantity.words and rng.random() < 0.2:
        return rng.choice(quantity.words)
    example = parse(quantity.dimension, quantity.shown)
    low = parse(quantity.dimension, quantity.least) if quantity.least else 0.1 * example
    high = parse(quantity.dimension, quantity.most) if quantity.most else 10.0 * example
    if rng.random() < 0.15:
        unit = rng.choice(units_of(quantity.dimension))
        return f"{rng.choice([0, 1, -1, 37, 1e-9, 1e9, 0.5])} {unit.name}"
    value = rng.choice(
        [low, high, example, low + (high - low) * rng.random(), example * 10 ** rng.uniform(-0.5, 0.5), 1.001 * high,
         low - 0.001 * (high - low)]
    )  # fmt: skip
    text = exact_text(quantity.dimension, value)
    if rng.random() < 0.05:
        text = f"{text.split(' ')[0]} +- {abs(value) * rng.choice([0.01, 0.3, 1, 5])!r} {text.partition(' ')[2]}"
    return text


def _words(annotation: Any) -> list[str]:
    found = [a for a in get_args(annotation) if isinstance(a, str)]
    return found + [w for a in get_args(annotation) for w in _words(a)]
