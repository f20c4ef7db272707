"""``hangflat evidence``: the package's numbers against numbers from outside it."""

from __future__ import annotations

import sys
from typing import Annotated

from cyclopts import Parameter

from sim.commands.console import say
from sim.commands.traced import say_json
from sim.said import word
from sim.telling.language import told


def evidence(*, as_json: Annotated[bool, Parameter(name="--json")] = False) -> None:
    """Hold the numbers that matter against published ones, now, and say which agree and what is not validated.

    Parameters
    ----------
    as_json
        Print one JSON object instead of text.
    """
    from rich.console import Console
    from rich.progress import track

    from sim.answers.evidence.answer import evidence_told
    from sim.answers.evidence.check import worked_out
    from sim.answers.evidence.registry import all_checks
    from sim.answers.evidence.text import evidence_text

    shown = Console(stderr=True)
    steps = track(
        all_checks(), told(word("Computing")), console=shown, transient=True, disable=not sys.stderr.isatty()
    )
    answer = evidence_told([worked_out(check) for check in steps])
    if as_json:
        say_json(answer)
    else:
        say(evidence_text(answer))
