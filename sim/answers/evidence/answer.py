"""The evidence, as it is told: ``hangflat.evidence/1``."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final

from sim.answers.evidence.check import Kind, Row, Theme
from sim.answers.evidence.protocol import NOT_VALIDATED, PROTOCOL
from sim.telling.made_by import MadeBy
from sim.telling.record import Told

FORMAT: Final = "hangflat.evidence/1"
PRACTICE: Final = "The whole against practice"  # told apart: it has no source


@dataclass(frozen=True, kw_only=True)
class ToldCheck:
    """One check by its worst case, in its own unit."""

    theme: Annotated[Theme, Told("what it is about")]
    check: Annotated[str, Told("what is compared")]
    source: Annotated[str, Told("who says so")]
    kind: Annotated[Kind, Told("what sort of source that is")]
    unit: Annotated[str, Told("of the numbers")]
    decimals: Annotated[int, Told("how many are shown")]
    ours: Annotated[float | None, Told("the program's number", none="there is none")]
    theirs: Annotated[float | None, Told("the source's", none="it gives a range")]
    low: Annotated[float, Told("the least that passes")]
    high: Annotated[float, Told("the most that passes")]
    case: Annotated[str, Told("which entry of a table this is, the worst")]
    cases: Annotated[int, Told("entries that were compared")]
    passing: Annotated[int, Told("how many of them pass")]
    passes: Annotated[bool, Told("whether all do", key="pass")]
    doubt: Annotated[str, Told("what the comparison does not show")]


@dataclass(frozen=True)
class Count:
    """How many checks pass, and which do not."""

    passing: Annotated[int, Told("checks that pass")]
    failing: Annotated[tuple[str, ...], Told("those that do not")]


@dataclass(frozen=True, kw_only=True)
class EvidenceTold:
    """Every check, then what is not validated and how to measure it."""

    format: Annotated[str, Told(FORMAT)] = FORMAT
    made_by: Annotated[MadeBy | None, Told("by which program and from what", left_out=True)] = None
    checks: Annotated[tuple[ToldCheck, ...], Told("every check")]
    sourced: Annotated[Count, Told("checks against numbers from outside", beside=True)]
    practice: Annotated[Count, Told("checks against common practice")]
    not_validated: Annotated[tuple[str, ...], Told("what no number from outside vouches for")] = NOT_VALIDATED
    protocol: Annotated[tuple[str, ...], Told("how to check your own")] = PROTOCOL


def evidence_told(rows: Sequence[Row]) -> EvidenceTold:
    """Checks that were worked out, as they are told."""
    return EvidenceTold(
        checks=tuple(map(_check, rows)),
        sourced=_count([row for row in rows if row.check.theme != PRACTICE]),
        practice=_count([row for row in rows if row.check.theme == PRACTICE]),
    )


def _count(rows: Sequence[Row]) -> Count:
    return Count(sum(row.passes for row in rows), tuple(row.check.name for row in rows if not row.passes))


def _check(row: Row) -> ToldCheck:
    check, worst = row.check, row.worst
    return ToldCheck(
        theme=check.theme, check=check.name, source=check.source, kind=check.kind, unit=check.unit,
        decimals=check.decimals, ours=worst.ours if math.isfinite(worst.ours) else None, theirs=worst.theirs,
        low=worst.low, high=worst.high, case=worst.case, cases=row.cases, passing=row.passing, passes=row.passes,
        doubt=check.doubt,
    )  # fmt: skip
