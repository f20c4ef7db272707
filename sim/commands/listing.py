"""What ``hangflat catalogue`` lists, as records: ``hangflat.catalogue/1``."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, Final

from sim.telling.record import Told

FORMAT: Final = "hangflat.catalogue/1"


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One line of a list; what its list does not tell is None."""

    format: Annotated[str | None, Told("of the answer that a field is of", left_out=True)] = None
    name: Annotated[str, Told("as it is written in a scenario, or printed")]
    summary: Annotated[str | None, Told("what it is", left_out=True)] = None
    unit: Annotated[str | None, Told("in which a field is told", left_out=True)] = None
    value: Annotated[Any, Told("of one key of a catalogue entry, as written there", left_out=True)] = None
    source: Annotated[str | None, Told("where the catalogue has the value from", left_out=True)] = None
    choices: Annotated[tuple[str, ...] | None, Told("values that a key allows", left_out=True)] = None
    example: Annotated[str | None, Told("of a key's value", left_out=True)] = None
    needed: Annotated[bool | None, Told("whether a key's table must have it", left_out=True)] = None
    survey_name: Annotated[str | None, Told("of a measure, in the survey", left_out=True)] = None


@dataclass(frozen=True, kw_only=True)
class Listing:
    """What the words asked for."""

    format: Annotated[str, Told(FORMAT)] = FORMAT
    of: Annotated[str, Told("what is listed")]
    entries: Annotated[tuple[Entry, ...], Told("each of it")]
