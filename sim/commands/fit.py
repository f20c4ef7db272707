"""``hangflat fit``: whether the gear fits the diver of a file."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from sim.commands.console import say


def fit(
    file: Path,
    /,
    *,
    plate: tuple[str, ...] = (),
    as_json: Annotated[bool, Parameter(name="--json")] = False,
    settings: Annotated[tuple[str, ...], Parameter(name="--set")] = (),
) -> None:
    """Say where the rig sits on the diver of a file, and what hands and eyes reach.

    Parameters
    ----------
    file
        Scenario file (TOML).
    plate
        Another plate in place of the file's: a catalogue entry ("small steel") or a drawing ("mine.dxf; unit=mm").
        May be given again, to lay plates side by side.
    as_json
        Print one JSON object instead of text.
    settings
        KEY=VALUE put in place of what the file says, e.g. --set harness.drop="4 cm". May be given again.
    """
    from sim.report.fit_json import fit_json
    from sim.report.fit_report import fit_report
    from sim.report.fit_text import fit_text

    told = fit_json(fit_report(file, settings, plate))
    say(json.dumps(told, ensure_ascii=False, allow_nan=False, indent=2) if as_json else fit_text(told))
