"""A user's own measurements held against the model, as it is told: ``hangflat.check-bench/1``; numbers are SI."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

from sim.answers.check_bench.compare import Assumption, BenchAnswer, Line, Unit, Verdict
from sim.telling.caution import CAUTION
from sim.telling.made_by import MadeByMeasurements
from sim.telling.record import Told

FORMAT: Final = "hangflat.check-bench/1"


@dataclass(frozen=True, kw_only=True)
class ToldLine:
    """One comparison, in the unit that it names."""

    item: Annotated[str, Told('what was measured, or "freeze"')]
    quantity: Annotated[str, Told("what of it")]
    unit: Annotated[Unit, Told("of the numbers, SI")]
    measured: Annotated[float | str | None, Told("what the file says, a number or words")]
    model: Annotated[float | str | None, Told("what the model says", none="it does not come to that")]
    difference: Annotated[float | None, Told("measured less model", none="one of them is no number")]
    spread: Annotated[float | None, Told("of the measurement, a standard deviation", none="words have none")]
    assumed_spread: Annotated[bool, Told("whether the file does not state it", key="spread_assumed")]
    verdict: Annotated[Verdict, Told("whether the two agree")]
    assumptions: Annotated[tuple[Assumption, ...], Told("what a contradiction points to, most likely first")]
    remark: Annotated[str, Told("why, as a sentence")]


@dataclass(frozen=True, kw_only=True)
class BenchTold:
    """All lines."""

    format: Annotated[str, Told(FORMAT)] = FORMAT
    made_by: Annotated[MadeByMeasurements | None, Told("by which program and from what", left_out=True)] = None
    scenario: Annotated[str, Told("that the measurements name")]
    title: Annotated[str, Told("the scenario's own")]
    water_density: Annotated[
        float | None, Told("of the water of the weighings", "kg/m^3", none="nothing was weighed in water")
    ]
    lines: Annotated[tuple[ToldLine, ...], Told("each comparison")]
    agrees: Annotated[bool, Told("whether no line contradicts the model")]
    notes: Annotated[tuple[str, ...], Told("sentences on the scenario")]
    caution: Annotated[str, Told("what this is not")] = CAUTION

    @property
    def contradicted(self) -> list[ToldLine]:
        """The lines that the model does not meet."""
        return [line for line in self.lines if line.verdict == "contradicts"]


def bench_told(answer: BenchAnswer) -> BenchTold:
    """An answer as it is told."""
    return BenchTold(
        scenario=answer.scenario,
        title=answer.title,
        water_density=answer.density,
        lines=tuple(map(_line, answer.lines)),
        agrees=all(line.verdict != "contradicts" for line in answer.lines),
        notes=tuple(answer.notes),
    )


def _line(line: Line) -> ToldLine:
    measured, model = line.words or (line.measured, line.model)
    numbers = line.measured is not None and line.model is not None
    return ToldLine(
        item=line.item, quantity=line.quantity, unit=line.unit, measured=measured, model=model,
        difference=line.measured - line.model if numbers else None,  # type: ignore[operator]
        spread=line.spread, assumed_spread=line.assumed_spread, verdict=line.verdict, assumptions=line.assumptions,
        remark=line.remark,
    )  # fmt: skip
