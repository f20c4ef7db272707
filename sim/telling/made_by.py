"""By which program and from what an answer was made: enough to trace it, and on request to work it out again.

Every object that ``--json`` prints holds it as ``made_by``; pictures carry it without what is only told on request.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path
from typing import Any, Final

from scenarios.catalogue.used import Used, used_of_catalogue
from scenarios.table import Table
from scenarios.understood import digest, understood_text

FIELDS: Final[Mapping[str, str]] = {
    "program": "hangflat",
    "version": "its version",
    "scenarios[].file": "name of the scenario or parts file, without its folder",
    "scenarios[].plate": "the plate put on in place of the file's; only where --plate was given",
    "scenarios[].sha256": "digest of what was understood: all values, --set and defaults too, however written",
    "scenarios[].scenario": "what was understood, as a file that can be run again; only with --with-scenario",
    "scenarios[].sources[].key": "a number that stands as the catalogue has it; only with --with-sources",
    "scenarios[].sources[].entry": "the catalogue's entry",
    "scenarios[].sources[].value": "the number",
    "scenarios[].sources[].source": "where the catalogue has it from",
}


@dataclass(frozen=True)
class Origin:
    """A file that an answer was made from.

    file : its name;  sha256 : of what was understood;  plate : put on in place of the file's, if any
    scenario : what was understood, as a file; None unless asked for;  sources : of the catalogue's numbers in it;
    None unless asked for
    """

    file: str
    sha256: str
    plate: str | None = None
    scenario: str | None = None
    sources: tuple[Used, ...] | None = None


@dataclass(frozen=True)
class MadeBy:
    """The program's version, and the files: scenarios or parts files, and measurements or a study where there are."""

    version: str
    scenarios: tuple[Origin, ...] = ()
    measurements: Origin | None = None
    study: Origin | None = None


def made_by(
    scenarios: Sequence[Origin] = (), *, measurements: Origin | None = None, study: Origin | None = None
) -> MadeBy:
    """By this version of the program, from these files."""
    return MadeBy(metadata.version("hangflat"), tuple(scenarios), measurements, study)


def origin(
    content: Table, path: str | os.PathLike[str], *, plate: str | None = None, whole: bool = False,
    sources: bool = False,
) -> Origin:  # fmt: skip
    """Of what was read from ``path``, to whose folder the files named in it belong."""
    place = Path(path)
    return Origin(
        "".join(c if c.isprintable() else "?" for c in place.name),
        digest(content),
        plate,
        understood_text(content, place.parent) if whole else None,
        tuple(used_of_catalogue(content)) if sources else None,
    )


def recorded(told: Mapping[str, Any]) -> MadeBy:
    """What ``made_by_json`` told once, as far as it is always told; of nothing, no files."""
    files = [Origin(one["file"], one["sha256"]) for one in told.get("scenarios", ())]
    study = told.get("study")
    return MadeBy(
        told.get("version", ""), tuple(files), None, None if study is None else Origin(study["file"], study["sha256"])
    )


def made_by_json(made: MadeBy) -> dict[str, Any]:
    """As it stands in every object; what was not asked for is not there."""
    told: dict[str, Any] = {
        "program": "hangflat",
        "version": made.version,
        "scenarios": [dict(_told(one)) for one in made.scenarios],
    }
    for name in ("measurements", "study"):
        file: Origin | None = getattr(made, name)
        if file is not None:
            told[name] = dict(_told(file))
    return told


def _told(one: Origin) -> Iterator[tuple[str, Any]]:
    yield "file", one.file
    if one.plate is not None:
        yield "plate", one.plate
    yield "sha256", one.sha256
    if one.scenario is not None:
        yield "scenario", one.scenario
    if one.sources is not None:
        yield "sources", [vars(used) for used in one.sources]
