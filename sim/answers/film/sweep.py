"""Which choice a film goes along: a length that ``fit --sweep`` knows by name, or any key that holds a number."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

import numpy as np

from scenarios.errors import ScenarioError, shortened
from scenarios.settings import Setting
from scenarios.study import Factor
from scenarios.study_axes import AxisError, NumberAxis, number_axis
from scenarios.study_reading import quantity_at
from sim.answers.fit.sweep_kinds import KINDS
from sim.case import Case
from sim.telling.language import told

STEPS: Final = 25  # values that are worked out unless asked otherwise; between them, shapes go straight
FEWEST, MOST = 2, 101
EXAMPLE: Final = '"cylinders.pressure; from=200 bar; to=50 bar"'


@dataclass(frozen=True)
class Swept:
    """A key along its values, in ``unit``;  words : what the reader calls it."""

    axis: NumberAxis
    words: str
    values: tuple[float, ...]

    @property
    def unit(self) -> str:
        return self.axis.scale.name

    def setting(self, value: float) -> Setting:
        return self.axis.setting(value)


def swept(case: Case, text: str) -> Swept:
    """Read "drop", or "cylinders.pressure; from=200 bar; to=50 bar; steps=25", for a case.

    Raises ValueError, which says what is allowed, for what is no such text, key or number.
    """
    name, *rest = (part.strip() for part in text.split(";"))
    kind = next((k for k in KINDS if k.name == name.lower()), None)
    given = dict[str, str]()
    for word in filter(None, rest):
        key, equals, value = (part.strip() for part in word.partition("="))
        if key not in ("from", "to", "steps") or not equals:
            raise ValueError(f'--sweep: "{shortened(word)}" is not understood; write {EXAMPLE}.')
        given[key] = value
    if kind is not None:
        given = {"from": f"{100.0 * kind.low:g} cm", "to": f"{100.0 * kind.high:g} cm"} | given
    if not given.get("from"):
        raise ValueError(f'--sweep: say where "{shortened(name)}" goes from, as in {EXAMPLE}.')
    if not given.get("to"):
        raise ValueError(f'--sweep: say where "{shortened(name)}" goes to, as in {EXAMPLE}.')
    key, ends = name if kind is None else kind.key, (given["from"], given["to"])
    axis, meaning = _axis(case, key, ends)
    first, last = axis.numbers
    if first == last:
        raise ValueError("--sweep: from and to are the same, and nothing would move; give two values.")
    values = np.linspace(first, last, _steps(given.get("steps", str(STEPS))))
    said = meaning if kind is None else kind.words
    return Swept(axis, re.split("[,;]", told(said))[0], tuple(values.tolist()))


def _axis(case: Case, key: str, ends: tuple[str, str]) -> tuple[NumberAxis, str]:
    """The axis, and what is told of the key; where that is nothing the key itself."""
    try:
        quantity = quantity_at(type(case.content), key)
        texts = ends if quantity is not None else tuple(_bare(end) for end in ends)
        meaning = key.replace("_", " ") if quantity is None else quantity.meaning
        return number_axis(Factor(key=key, values=texts), quantity), meaning
    except AxisError as wrong:
        raise ValueError(f"--sweep: {wrong}.") from None
    except ScenarioError as wrong:
        raise ValueError(f"--sweep: {wrong.problems[0].message}.") from None


def _bare(text: str) -> float:
    try:
        found = float(text)
    except ValueError:
        found = float("nan")
    if not np.isfinite(found):
        raise ValueError(f'--sweep: this key takes bare numbers, found "{shortened(text)}".')
    return found


def _steps(text: str) -> int:
    if not (text.isdecimal() and FEWEST <= int(text[:9]) <= MOST):
        raise ValueError(f'--sweep: steps is a whole number from {FEWEST} to {MOST}, got "{shortened(text)}".')
    return int(text)
