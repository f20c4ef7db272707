"""``hangflat check-bench``: a user's own measurements against the model."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from sim.commands.console import UsageError, say
from sim.commands.whole_file import written_whole


def check_bench(
    file: Path | None = None,
    /,
    *,
    as_json: Annotated[bool, Parameter(name="--json")] = False,
    template: Path | None = None,
) -> None:
    """Hold your own weighings, balance points and freeze test against the model, and name what they contradict.

    Parameters
    ----------
    file
        Measurements (TOML); see --template.
    as_json
        Print one JSON object instead of text.
    template
        Write a file of measurements to fill in, instead of checking one.
    """
    if (file is None) == (template is None):
        raise UsageError("give a file of measurements, or --template OUT.toml to write one to fill in.")
    if template is not None:
        _write(template)
        return
    from sim.bench_check.bench_file import read_bench
    from sim.bench_check.compare import bench_answer
    from sim.bench_check.told import bench_json, bench_text

    told = bench_json(bench_answer(read_bench(file or "")))
    say(json.dumps(told, ensure_ascii=False, allow_nan=False, indent=2) if as_json else bench_text(told))


def _write(template: Path) -> None:
    if template.exists():
        raise UsageError(f"{template} is there already; give another name.")
    from sim.bench_check.template import TEMPLATE

    with written_whole(template, (".toml",)) as draft:
        draft.write_text(TEMPLATE, encoding="utf-8", newline="\n")
    say(f"{template} written. Fill it in, then: hangflat check-bench {template}")
