"""``hangflat seen``: which cause is behind what is seen."""

from __future__ import annotations

from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from sim.commands.console import UsageError, say
from sim.commands.traced import DIGEST_ALONE, Tracing, say_json, traced
from sim.commands.whole_file import PICTURE_ENDINGS, written_whole
from sim.telling.file_line import file_line

if TYPE_CHECKING:
    from sim.answers.seen.typed import Outcome, Sight


def seen(
    file: Path,
    /,
    *,
    attitude: str,
    while_: Annotated[Literal["still", "finning"], Parameter(name="--while")],
    fins: Literal["up", "even", "down"] | None = None,
    also: Annotated[tuple[str, ...], Parameter(name="--also")] = (),
    test: Annotated[tuple[str, ...], Parameter(name="--test")] = (),
    as_json: Annotated[bool, Parameter(name="--json")] = False,
    chart: Path | None = None,
    settings: Annotated[tuple[str, ...], Parameter(name="--set")] = (),
    tracing: Tracing = DIGEST_ALONE,
) -> None:
    """Say which causes fit how a diver is seen to hang, how likely each is, and which test tells them apart.

    Parameters
    ----------
    file
        Scenario file (TOML) of the diver, as they say they are rigged.
    attitude
        How the trunk lies: "20 deg head-up", "10 deg head-down" or "flat".
    while_
        What the diver does: hangs still, or fins.
    fins
        Where the fins are in the water: higher than the hips, about level with them, or lower.
    also
        Another sight of the same diver: "10 deg head-down; still; fins up", and after further semicolons what was
        otherwise then: pressure=60 bar, depth=5 m, gaiters=yes or no. May be given again.
    test
        What came of a test: "freeze: head-down in 5 s" (or head-up, or stays), and so "legs straight", "gas out" and
        "kilogram"; "look down: 5 deg head-up", and so "fin on"; "feel: full" or slack; "rig down: came down" or
        sits right; "count: as told" or otherwise. May be given again.
    as_json
        Print one JSON object instead of text.
    chart
        Draw the causes with their probabilities to this file (PNG, SVG or PDF).
    settings
        KEY=VALUE put in place of what the file says, e.g. --set plate=none. May be given again.
    """
    with ExitStack() as stack:
        drawn = stack.enter_context(written_whole(chart, PICTURE_ENDINGS)) if chart else None
        tracing.check(as_json)
        sights, outcomes = _typed(attitude, while_, fins, also, test)
        from sim.answers.seen.answer import seen_answer
        from sim.answers.seen.text import seen_text
        from sim.case import Case
        from sim.telling.written_file import written

        case = Case.read(file, settings)
        made = stack.enter_context(traced(tracing, as_json, case, pictures=chart is not None))
        told = replace(seen_answer(case, sights, outcomes), chart=written(chart))
        if drawn:
            from sim.answers.seen.chart import draw_seen_chart

            draw_seen_chart(told, case.assembled, drawn)
    if as_json:
        say_json(told, made)
    else:
        say(seen_text(told) + (f"\n\n{file_line('Chart', chart)}" if chart else ""))


def _typed(
    attitude: str, doing: Literal["still", "finning"], fins: Literal["up", "even", "down"] | None,
    also: tuple[str, ...], test: tuple[str, ...],
) -> tuple[list[Sight], list[Outcome]]:  # fmt: skip
    """Sights and outcomes as typed. Raises UsageError that names the option."""
    from sim.answers.seen.typed import Sight, TypedError, attitude_of, outcome_of, sight_of

    option = "--attitude"
    try:
        first = Sight(attitude_of(attitude), doing, fins)
        option = "--also"
        more = [sight_of(text) for text in also]
        option = "--test"
        came = [outcome_of(text) for text in test]
    except TypedError as wrong:
        raise UsageError(f"{option}: {wrong}.") from None
    twice = {o.test for o in came if sum(o.test == p.test for p in came) > 1}
    if twice:
        raise UsageError(f"--test: {', '.join(sorted(twice))} is told twice; tell what came of it once.")
    return [first, *more], came
