"""``hangflat weigh``: how much lead, and what it leaves."""

from __future__ import annotations

from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from sim.commands.console import UsageError, say
from sim.commands.traced import DIGEST_ALONE, Tracing, say_json, traced
from sim.commands.whole_file import PICTURE_ENDINGS, written_whole

if TYPE_CHECKING:
    from scenarios.table import Table
    from sim.answers.weigh.conditions import Conditions


def weigh(
    file: Path,
    /,
    *,
    as_json: Annotated[bool, Parameter(name="--json")] = False,
    chart: Path | None = None,
    depth: str = "4 m",
    pressure: str = "50 bar",
    breath: Literal["mid-breath", "relaxed", "breathed in", "full", "empty"] = "mid-breath",
    suit_gas: str | None = None,
    settings: Annotated[tuple[str, ...], Parameter(name="--set")] = (),
    tracing: Tracing = DIGEST_ALONE,
) -> None:
    """Say how much lead makes the diver neutral at the last stop, what that leaves at the start, and what if
    something fails.

    Parameters
    ----------
    file
        Scenario or parts file (TOML); a parts file is weighed as it stands.
    as_json
        Print one JSON object instead of text.
    chart
        Draw lead, wing and failures to this file (PNG, SVG or PDF).
    depth
        Of the last stop (default "4 m").
    pressure
        Left in every cylinder there, as the gauge shows (default "50 bar").
    breath
        How full the chest is there, in the words of diver.breathing_level (default mid-breath, quiet breathing).
    suit_gas
        Gas in a drysuit there: vented, comfortable, or a volume like "9 l". If left out, what the last venting left,
        unless the file states a volume.
    settings
        KEY=VALUE put in place of what the file says, e.g. --set water.kind=fresh. May be given again.
    """
    how = _conditions(depth, pressure, breath, suit_gas)
    with ExitStack() as stack:
        drawn = stack.enter_context(written_whole(chart, PICTURE_ENDINGS)) if chart else None
        tracing.check(as_json)
        from sim.answers.weigh.report import weigh_answer
        from sim.case import Case
        from sim.telling.written_file import written

        case = Case.read(file, settings)
        made = stack.enter_context(traced(tracing, as_json, case, pictures=chart is not None))
        answer = replace(weigh_answer(case, how), chart=written(chart))
        if drawn:
            from sim.answers.weigh.chart import draw_weigh_chart

            draw_weigh_chart(answer, drawn)
    if as_json:
        say_json(answer, made)
        return
    from sim.answers.weigh.text import weigh_text

    say(weigh_text(answer))


def _conditions(depth: str, pressure: str, breath: str, suit_gas: str | None) -> Conditions:
    from scenarios.cylinders import Cylinders
    from scenarios.suit import DrySuit
    from scenarios.water import Water
    from sim.answers.weigh.conditions import Conditions

    metres, left = _read("--depth", Water, "depth", depth), _read("--pressure", Cylinders, "pressure", pressure)
    gas = None if suit_gas is None else _read("--suit-gas", DrySuit, "gas", suit_gas)
    return Conditions(float(metres), float(left), breath, gas)


def _read(option: str, table: type[Table], key: str, text: str) -> float | str:
    """What a key of a scenario would take, in SI or a word."""
    from scenarios.table import quantity_of

    quantity = quantity_of(table.model_fields[key])
    if quantity is None:
        raise TypeError(f"{key} is no quantity")
    try:
        return quantity.read(text)
    except ValueError as wrong:
        raise UsageError(f"{option}: {wrong}") from None
