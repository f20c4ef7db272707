"""Which program and which file an answer comes from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sim.answers.check_bench.bench_file import BenchFile
    from sim.case import Case
    from sim.telling.made_by import MadeBy, MadeByMeasurements


def answer_made_by(cases: Mapping[str | None, Case] | Sequence[Case]) -> MadeBy:
    """cases : each by the plate put on in place of the file's"""
    from sim.telling.made_by import made_by, origin

    each = cases.items() if isinstance(cases, Mapping) else ((None, case) for case in cases)
    return made_by([origin(case.content, case.path, plate=plate) for plate, case in each])


def measurements_made_by(case: Case, bench: BenchFile) -> MadeByMeasurements:
    from sim.telling.made_by import made_by_measurements, origin

    return made_by_measurements([origin(case.content, case.path)], origin(bench.bench, bench.name))
