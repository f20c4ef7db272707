"""What one scenario says otherwise than another: key by key, as people wrote it."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, Final

from scenarios.models import Scenario
from scenarios.understood import understood_text
from sim.case import Case
from sim.telling.record import Told

NOT_COMPARED: Final = ("format", "title")
NONE: Final = "none"


@dataclass(frozen=True)
class Difference:
    """One key that does not say the same in all files."""

    key: Annotated[str, Told('the key, as "cylinders.pressure"; numbers count entries of a list from 0')]
    said: Annotated[tuple[str, ...], Told('what each file says, in the order of the files; "none" where it has none')]


@dataclass(frozen=True)
class Differences:
    """What scenarios say otherwise.

    tables : tables at the top that differ in anything, in the order of the file
    written : keys that somebody wrote and that differ
    following : how many further numbers differ, as a catalogue entry or a default fills them in
    """

    tables: Annotated[tuple[str, ...], Told("tables of the files that differ in anything")]
    written: Annotated[tuple[Difference, ...], Told("keys that differ and that at least one file states")]
    following: Annotated[int, Told("how many further values differ, as catalogue entries and defaults fill them in")]


def differences(cases: Sequence[Case]) -> Differences | None:
    """Of scenario files; None where one of them is a parts file, whose parts have no keys to compare."""
    if not all(isinstance(case.content, Scenario) for case in cases):
        return None
    understood = [dict(_flat(tomllib.loads(understood_text(c.content, c.path.parent)))) for c in cases]
    written = [dict(_flat(c.told.document)) for c in cases]
    keys = [k for k in dict.fromkeys(k for one in understood for k in one) if k.split(".")[0] not in NOT_COMPARED]
    differing = [k for k in keys if len({one.get(k, NONE) for one in understood}) > 1]
    stated = dict.fromkeys(k for one in written for k in one)
    named = [k for k in stated if k in differing or _differs(k, written, understood)]
    found = tuple(
        Difference(key, tuple(w.get(key, u.get(key, NONE)) for w, u in zip(written, understood, strict=True)))
        for key in named
        if key.split(".")[0] not in NOT_COMPARED
    )
    tables = dict.fromkeys(k.split(".")[0] for k in differing)
    order = {key: i for i, key in enumerate(Scenario.model_fields)}
    return Differences(
        tuple(sorted(tables, key=lambda t: order.get(t, len(order)))),
        tuple(sorted(found, key=lambda d: order.get(d.key.split(".")[0], len(order)))),
        sum(k not in named for k in differing),
    )


def _differs(key: str, written: Sequence[Mapping[str, str]], understood: Sequence[Mapping[str, str]]) -> bool:
    """Whether a key that stands for others, as a catalogue's entry does, is not the same in all files."""
    if any(key in one for one in understood):
        return False
    return len({one.get(key, NONE) for one in written}) > 1


def _flat(tables: Mapping[str, Any], at: str = "") -> Iterator[tuple[str, str]]:
    for key, value in tables.items():
        path = f"{at}.{key}" if at else key
        if isinstance(value, Mapping):
            yield from _flat(value, path)
        elif isinstance(value, list) and any(isinstance(one, Mapping) for one in value):
            for number, one in enumerate(value):
                yield from _flat(one, f"{path}.{number}")
        else:
            yield path, _words(value)


def _words(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return ", ".join(_words(one) for one in value) if isinstance(value, list) else str(value)
