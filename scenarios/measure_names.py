"""Body measures a user may give, by plain name: "waist girth" is ``waistcircumference`` of the survey ANSUR II.

The believable ranges are the survey's 5th to 95th percentiles (Gordon et al. 2014, NATICK/TR-15/007) widened by
about a third of the measure, so that only slips of unit or of the tape are refused.
"""

from __future__ import annotations

import csv
import difflib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from scenarios.errors import InnerError, shortened
from scenarios.units import UnitError, other_readings, parse, shown_in


@dataclass(frozen=True)
class Measure:
    """One body measure: the survey's variable, the plain name, others accepted, believable range [m]."""

    measure: str
    name: str
    other_names: tuple[str, ...]
    least: float
    most: float


@cache
def measures() -> tuple[Measure, ...]:
    """All measures, as in the shipped table."""
    text = files("scenarios").joinpath("measure_names.csv").read_text(encoding="utf-8")
    return tuple(
        Measure(
            row["measure"], row["name"], tuple(n for n in row["other_names"].split(";") if n),
            float(row["least_m"]), float(row["most_m"]),
        )
        for row in csv.DictReader(text.splitlines())
    )  # fmt: skip


def standard_measures(given: Mapping[str, Any]) -> dict[str, Any]:
    """The same measures under the survey's names. Raises InnerError for a name or a size that is not believed."""
    found: dict[str, Any] = {}
    for key, value in given.items():
        try:
            measure = _named(key)
            _believed(measure, value)
        except ValueError as error:
            raise InnerError(str(error), "measures", key) from None
        if measure.measure in found:
            raise InnerError(f'"{measure.name}" is given twice, under two of its names', "measures", key)
        found[measure.measure] = value
    return found


@cache
def _by_name() -> Mapping[str, Measure]:
    return {name: m for m in measures() for name in (m.measure, m.name, *m.other_names)}


def _named(key: str) -> Measure:
    name = " ".join(key.lower().replace("_", " ").replace("-", " ").split())
    if name in _by_name():
        return _by_name()[name]
    near = difflib.get_close_matches(name, _by_name(), n=2)
    if near:
        raise ValueError(f'"{shortened(key)}" is no body measure known here; did you mean "{" or ".join(near)}"?')
    listed = ", ".join(m.name for m in measures())
    raise ValueError(f'"{shortened(key)}" is no body measure known here; known: {listed}')


def _believed(measure: Measure, value: Any) -> None:
    """Only texts that are lengths are looked at; the rest is refused where the quantity is read."""
    if not isinstance(value, str):
        return
    try:
        length = parse("length", value)
    except UnitError:
        return
    if not measure.least <= length <= measure.most:
        meant = [t for t, v in other_readings("length", value) if measure.least <= v <= measure.most]
        hint = f'; did you mean "{meant[0]}"?' if meant else ""
        raise ValueError(
            f'{measure.name} "{value}" is not believable: expected between {shown_in("length", measure.least)} and '
            f"{shown_in('length', measure.most)}{hint}"
        )
