"""What every command does so that its answer can be traced: options, ``made_by`` in JSON, marks in pictures."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any, Final, Protocol

from cyclopts import Parameter

from sim.commands.console import UsageError, say

if TYPE_CHECKING:
    from pathlib import Path

    from scenarios.table import Table
    from sim.answers.check_bench.bench_file import BenchFile
    from sim.telling.made_by import MadeBy


class Understood(Protocol):
    """What was read from a file: a case, or a plate on the bench."""

    @property
    def content(self) -> Table: ...

    @property
    def path(self) -> Path: ...


@Parameter(name="*")
@dataclass(frozen=True)
class Tracing:
    """What is told with ``--json`` beyond version, file and digest."""

    with_scenario: Annotated[
        bool,
        Parameter(
            help="With --json: tell also the whole scenario as it was understood, defaults filled in, as a file that "
            "can be run again. It holds the diver's measures."
        ),
    ] = False
    with_sources: Annotated[
        bool, Parameter(help="With --json: tell also where the catalogue's numbers in the scenario come from.")
    ] = False

    def check(self, as_json: bool) -> None:
        """Raises UsageError where it is asked for and there is no JSON to hold it."""
        for asked, name in ((self.with_scenario, "--with-scenario"), (self.with_sources, "--with-sources")):
            if asked and not as_json:
                raise UsageError(f"{name} tells more in the JSON: give --json with it.")


DIGEST_ALONE: Final = Tracing()


@contextmanager
def traced(
    tracing: Tracing, as_json: bool, cases: Understood | Mapping[str | None, Understood] | Sequence[Understood], *,
    measured: BenchFile | None = None, pictures: bool = False,
) -> Iterator[MadeBy | None]:  # fmt: skip
    """What an answer is made by; pictures drawn meanwhile carry it. None where neither JSON nor ``pictures`` want it.

    cases : one, several, or each by the plate put on in place of the file's;  measured : beside the scenario
    Raises UsageError for ``tracing`` without JSON.
    """
    tracing.check(as_json)
    if not (as_json or pictures):
        yield None
        return
    from sim.drawing.stamp import stamped
    from sim.telling.made_by import made_by, made_by_measurements, origin

    each = cases.items() if isinstance(cases, Mapping) else ((None, c) for c in _listed(cases))
    whole, sources = tracing.with_scenario, tracing.with_sources
    files = [origin(c.content, c.path, plate=plate, whole=whole, sources=sources) for plate, c in each]
    made = made_by(files) if measured is None else made_by_measurements(files, origin(measured.bench, measured.name))
    with stamped(made):
        yield made


def _listed(cases: Understood | Sequence[Understood]) -> Sequence[Understood]:
    return cases if isinstance(cases, Sequence) else (cases,)


def say_json(answer: Any, made: MadeBy | None = None) -> None:
    """Print an answer's record as one object that says what it was made by."""
    from sim.telling.made_by import made_by
    from sim.telling.record import as_json

    told = as_json(answer)
    first = {"format": told["format"], "made_by": as_json(made or made_by())}
    say(json.dumps(first | told, ensure_ascii=False, allow_nan=False, indent=2))
