"""``hangflat posture``: what posture can hold."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from sim.commands.console import say
from sim.commands.traced import DIGEST_ALONE, Tracing, say_json, traced


def posture(
    file: Path,
    /,
    *,
    as_json: Annotated[bool, Parameter(name="--json")] = False,
    settings: Annotated[tuple[str, ...], Parameter(name="--set")] = (),
    tracing: Tracing = DIGEST_ALONE,
) -> None:
    """Say what a relaxed diver trims out by knees, hips, arms, head and breath, and what is left to be held.

    Parameters
    ----------
    file
        Scenario file (TOML).
    as_json
        Print one JSON object instead of text.
    settings
        KEY=VALUE put in place of what the file says, e.g. --set cylinders.pressure="60 bar". May be given again.
    """
    tracing.check(as_json)
    from sim.answers.posture.told import posture_answer, posture_text
    from sim.case import Case

    case = Case.read(file, settings)
    with traced(tracing, as_json, case) as made:
        told = posture_answer(case)
    if as_json:
        say_json(told, made)
    else:
        say(posture_text(told))
