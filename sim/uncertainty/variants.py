"""The same file with one value changed, assembled anew, and the line through the two results."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import Executor
from dataclasses import dataclass
from typing import Final, TypeVar

from meshes.mesh import Floats
from scenarios.models import Scenario
from scenarios.parts_file import PartsFile
from scenarios.table import Table
from sim.assembly.parts_rig import assembled_parts
from sim.assembly.scenario_rig import Wearer, assembled_scenario, wearer_of
from sim.uncertainty.done import Done, unheard
from sim.uncertainty.rig_numbers import numbers_of
from sim.uncertainty.variates import Shape

AnyTable = TypeVar("AnyTable", bound=Table)
Told = Scenario | PartsFile
LAID_ON_ONE: Final = 4  # variants of one body in one job: enough to save most bodies, few enough to share out


class UnvariedError(ValueError):
    """A spread so wide that a variant cannot be built; ``key`` is what was to be varied."""

    def __init__(self, key: str, message: str) -> None:
        self.key = key
        super().__init__(message)


@dataclass(frozen=True, eq=False)
class Pair:
    """Two variants of a file that lie ``span`` spreads apart, on either side of it; ``shape`` of the spread."""

    name: str
    basis: str
    plus: Told
    minus: Told
    span: float = 2.0
    shape: Shape = "normal"


def told_otherwise(table: AnyTable, key: str, value: float | str) -> AnyTable:
    """The table with the value under a dotted key, such as "lead.0.mass", changed to ``value`` (SI, unchecked)."""
    first, _, rest = key.partition(".")
    now = getattr(table, first)
    if not rest:
        return table.model_copy(update={first: value})
    if isinstance(now, tuple):
        index, _, inner = rest.partition(".")
        i = int(index)
        return table.model_copy(update={first: (*now[:i], told_otherwise(now[i], inner, value), *now[i + 1 :])})
    if isinstance(now, dict):
        return table.model_copy(update={first: {**now, rest: value}})
    return table.model_copy(update={first: told_otherwise(now, rest, value)})


def told_value(table: Table, key: str) -> float:
    """The number (SI) under a dotted key."""
    now: object = table
    for step in key.split("."):
        if isinstance(now, tuple):
            now = now[int(step)]
        elif isinstance(now, dict):
            now = now[step]
        else:
            now = getattr(now, step)
    if not isinstance(now, int | float):
        raise TypeError(f"'{key}' holds no number")
    return float(now)


def lines_through(pairs: Sequence[Pair], pool: Executor | None = None, done: Done = unheard) -> list[Floats]:
    """Change (n,) of the rig's numbers for one spread of each pair. Raises UnvariedError where one cannot be.

    done : told the share of the work that is done, 0 to 1
    """
    jobs = _jobs([t for p in pairs for t in (p.plus, p.minus)])
    rows: list[Floats | str] = []
    for found in map(_rows, jobs) if pool is None else pool.map(_rows, jobs):
        rows += found
        done(len(rows) / (2 * len(pairs)))
    lines = []
    for pair, plus, minus in zip(pairs, rows[::2], rows[1::2], strict=True):
        if isinstance(plus, str) or isinstance(minus, str) or plus.shape != minus.shape:
            why = plus if isinstance(plus, str) else minus if isinstance(minus, str) else "the gas cells change"
            raise UnvariedError(pair.name, f"cannot be varied ({pair.basis}): {why}; state a smaller spread")
        lines.append((plus - minus) / pair.span)
    return lines


def _jobs(told: Sequence[Told]) -> list[list[Told]]:
    """Variants in their order, those that follow one another on the same body together: it is built once."""
    jobs: list[list[Told]] = []
    for variant in told:
        if jobs and len(jobs[-1]) < LAID_ON_ONE and _same_body(jobs[-1][0], variant):
            jobs[-1].append(variant)
        else:
            jobs.append([variant])
    return jobs


def _same_body(a: Told, b: Told) -> bool:
    return isinstance(a, Scenario) and isinstance(b, Scenario) and a.diver == b.diver and a.pose == b.pose


def _rows(job: Sequence[Told]) -> list[Floats | str]:
    """Numbers of each assembled variant of one body, or why there is none."""
    first = job[0]
    try:
        wearer = wearer_of(first) if isinstance(first, Scenario) else None
    except ValueError as error:
        return [str(error)] * len(job)
    return [_row(told, wearer) for told in job]


def _row(told: Told, wearer: Wearer | None) -> Floats | str:
    try:
        made = assembled_parts(told, "") if isinstance(told, PartsFile) else assembled_scenario(told, "", (), wearer)
    except ValueError as error:
        return str(error)
    return numbers_of(made.rig)
