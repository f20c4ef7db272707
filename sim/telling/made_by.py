"""By which program and from what an answer was made: enough to trace it, and on request to work it out again.

Every object that ``--json`` prints holds it as ``made_by``; pictures carry it without what is only told on request.
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

from scenarios.file_names import name_of
from sim.telling.record import Told

if TYPE_CHECKING:
    from scenarios.table import Table


@dataclass(frozen=True)
class CatalogueNumber:
    """A number of a scenario that stands as the catalogue has it; ``value`` as written there."""

    key: Annotated[str, Told("a number that stands as the catalogue has it")]
    entry: Annotated[str, Told("the catalogue's entry")]
    value: Annotated[Any, Told("the number")]
    source: Annotated[str, Told("where the catalogue has it from")]


@dataclass(frozen=True, kw_only=True)
class Origin:
    """A file that an answer was made from."""

    file: Annotated[str, Told("name of the file, without its folder")]
    plate: Annotated[str | None, Told("the plate put on in place of the file's", left_out=True)] = None
    sha256: Annotated[str, Told("digest of what was understood: all values, --set and defaults too, however written")]
    scenario: Annotated[
        str | None,
        Told("what was understood, as a file that can be run again; only with --with-scenario", left_out=True),
    ] = None
    sources: Annotated[
        tuple[CatalogueNumber, ...] | None,
        Told("catalogue numbers in it; only with --with-sources", left_out=True),
    ] = None


@dataclass(frozen=True, kw_only=True)
class MadeBy:
    """The program's version, and the scenarios or parts files."""

    program: Annotated[str, Told("hangflat")] = "hangflat"
    version: Annotated[str, Told("its version")]
    scenarios: Annotated[tuple[Origin, ...], Told("scenario and parts files")] = ()


@dataclass(frozen=True, kw_only=True)
class MadeByMeasurements(MadeBy):
    """Where a file of measurements was held against the scenario."""

    measurements: Annotated[Origin, Told("the file of measurements")]


@dataclass(frozen=True, kw_only=True)
class MadeByStudy(MadeBy):
    """Where a study varied the scenario."""

    study: Annotated[Origin | None, Told("the study file", left_out=True)] = None


def made_by_study(scenarios: Sequence[Origin], study: Origin | None) -> MadeByStudy:
    """By this version of the program, from a study file and the scenario that it varies."""
    return MadeByStudy(version=metadata.version("hangflat"), scenarios=tuple(scenarios), study=study)


def made_by(scenarios: Sequence[Origin] = ()) -> MadeBy:
    """By this version of the program, from these files."""
    return MadeBy(version=metadata.version("hangflat"), scenarios=tuple(scenarios))


def made_by_measurements(scenarios: Sequence[Origin], measurements: Origin) -> MadeByMeasurements:
    """By this version of the program, from measurements held against these scenarios."""
    return MadeByMeasurements(
        version=metadata.version("hangflat"), scenarios=tuple(scenarios), measurements=measurements
    )


def origin(
    content: Table, path: str | os.PathLike[str], *, plate: str | None = None, whole: bool = False,
    sources: bool = False,
) -> Origin:  # fmt: skip
    """Of what was read from ``path``, to whose folder the files named in it belong."""
    from scenarios.catalogue.used import used_of_catalogue
    from scenarios.understood import digest, understood_text

    place = Path(path)
    return Origin(
        file=name_of(place),
        plate=plate,
        sha256=digest(content),
        scenario=understood_text(content, place.parent) if whole else None,
        sources=tuple(CatalogueNumber(u.key, u.entry, u.value, u.source) for u in used_of_catalogue(content))
        if sources
        else None,
    )


def recorded(told: Mapping[str, Any]) -> MadeByStudy:
    """What a study's record has of it, as far as it is always told; of nothing, no files."""
    files = tuple(Origin(file=one["file"], sha256=one["sha256"]) for one in told.get("scenarios", ()))
    study = told.get("study")
    return MadeByStudy(
        version=told.get("version", ""),
        scenarios=files,
        study=None if study is None else Origin(file=study["file"], sha256=study["sha256"]),
    )
