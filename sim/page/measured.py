"""What two frames of a film measure: a freeze test, as the file of measurements that ``hangflat calibrate`` reads."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any, Final

from scenarios.checking import checked
from scenarios.toml_file import parse_toml
from sim.answers.check_bench.bench_file import Bench, BenchFile
from sim.case import Case

FLAT: Final = 10.0  # degrees off the level that still count as beginning flat (assumed)
TURNED: Final = 30.0  # degrees whose time is asked for
NEAR: Final = 5.0  # degrees off that which a frame may be

Frame = Mapping[str, Any]


def freeze_of(frames: Sequence[Frame]) -> tuple[str, float] | None:
    """Which way and in what time [s] a diver who began flat turned by 30 degrees; None where the frames do not say.

    frames : each with its ``time`` in the film [s] and the trunk's ``pitch`` [deg], plus head-up
    """
    if len(frames) < 2:
        return None
    first, last = sorted(frames[-2:], key=lambda one: float(one["time"]))
    start, gone = float(first["pitch"]), float(last["pitch"]) - float(first["pitch"])
    seconds = float(last["time"]) - float(first["time"])
    if not (abs(start) <= FLAT and abs(abs(gone) - TURNED) <= NEAR and seconds > 0.0):
        return None
    return ("head-up" if gone > 0.0 else "head-down"), seconds


def measured_text(scenario: str, drift: str, seconds: float) -> str:
    """The file of measurements with that one freeze test in it."""
    return (
        f'format = "bench/1"\nscenario = {json.dumps(scenario, ensure_ascii=False)}\n\n'
        f'[freeze]\ndrift = "{drift}"\ntime_to_30 = "{seconds:.1f} s"\n'
    )


def bench_of(case: Case, drift: str, seconds: float) -> BenchFile:
    """The same, read as any file of measurements is. Raises ScenarioError."""
    text = measured_text(case.path.name, drift, seconds)
    name = f"{case.path.stem}-measured.toml"
    bench = checked(Bench, parse_toml(text, name), name=name, text=text, folder=str(case.path.parent))
    return BenchFile(bench, name, case.path, text)
