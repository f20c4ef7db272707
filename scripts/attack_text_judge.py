"""Whether an input of text ended as it should: an answer that is finite and adds up, or a message that a person can
use."""

from __future__ import annotations

import contextlib
import io
import json
import math
import re
import sys
import warnings
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from attack_tally import End

from scenarios.errors import ScenarioError
from scenarios.known import read_known
from scenarios.people_file import people_file
from scenarios.plate_file import read_plate
from scenarios.reading import read_file
from scenarios.study_reading import read_study
from sim.answers.check_bench.bench_file import read_bench

LONGEST_LINE = 1000
# ten problems, each a line and the line of the file that it is about, and how many more there are
MOST_LINES = 21
UNFIT = re.compile(r"recursion|Traceback|NoneType|<class|object at 0x|Errno|pydantic|fault is in hangflat")


def kind_of(text: bytes) -> str:
    """scenario, parts, study, bench, known or plate, by the file's own word; a scenario may leave it out, a table of
    people has none."""
    if text.startswith(b"name,"):
        return "people"
    format_ = re.search(rb'^format = "(\w+)/1"', text, re.M)
    return "scenario" if format_ is None else format_[1].decode()


def read_as(kind: str, path: Path) -> tuple[End, str]:
    """Read a file as the kind it was made from; how that ended, and what is wrong with it if it is a fault."""
    readers = {
        "study": read_study, "bench": read_bench, "known": read_known, "plate": read_plate, "people": people_file,
    }  # fmt: skip
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            content: Any = readers.get(kind, read_file)(path)  # type: ignore[operator]
    except ScenarioError as error:
        trouble = unfit(str(error))
        return (End.CRASHED, trouble) if trouble else (End.REFUSED, "")
    except MemoryError:
        return End.LARGE, "more than 1 GiB"
    except Exception as error:
        return End.CRASHED, f"{type(error).__name__}: {str(error)[:300]}"
    people = [one.diver for one in content] if kind == "people" else []
    for one in (content, getattr(content, "content", None), getattr(content, "bench", None), *people):
        if one is not None and hasattr(one, "model_dump"):
            trouble = _not_finite(one.model_dump())
            if trouble:
                return End.CRASHED, f"accepted, but {trouble}"
    return End.ANSWERED, ""


def unfit(message: str) -> str:
    """What is wrong with a message for a user; empty if nothing."""
    lines = message.rstrip("\n").split("\n")
    if not message.strip():
        return "no message"
    if len(lines) > MOST_LINES:
        return f"a message of {len(lines)} lines"
    if max(map(len, lines)) > LONGEST_LINE:
        return f"a line of {max(map(len, lines))} characters"
    if any(not c.isprintable() for line in lines for c in line):
        return "a character that steers the terminal"
    bad = UNFIT.search(message)
    return f'"{bad[0]}" in: {message[:300]}' if bad else ""


def _not_finite(value: Any, path: str = "") -> str:
    """The first number of an answer that is none; empty if all are finite."""
    if isinstance(value, float) and not math.isfinite(value):
        return f"{path} is {value}"
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list | tuple) else ()
    return next((found for k, v in inner if (found := _not_finite(v, f"{path}.{k}"))), "")


@dataclass(frozen=True)
class Ran:
    """What one command line did: exit code and what it printed."""

    code: int
    out: str
    err: str


def ran(words: Sequence[str]) -> Ran:
    """Run the program's own entry in this process; warnings are printed, not swallowed."""
    from sim.commands.main import main

    out, err = io.StringIO(), io.StringIO()
    sys.warnoptions = ["default"]
    warnings.simplefilter("always")
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(list(words))
    return Ran(code, out.getvalue(), err.getvalue())


def judged(command: str, result: Ran) -> tuple[End, str]:
    """How a command ended by what it printed."""
    if result.code == 2:
        trouble = unfit(result.err)
        return (End.CRASHED, trouble) if trouble else (End.REFUSED, "")
    if result.code != 0:
        return End.CRASHED, f"exit {result.code}: {result.err[-400:]}"
    if result.err:
        return End.CRASHED, f"printed beside its answer: {result.err[:400]}"
    told = json.loads(result.out)
    trouble = _not_finite(told) or (_does_not_add_up(told) if command in ("settle", "why") else "")
    return (End.CRASHED, f"lies: {trouble}") if trouble else (End.ANSWERED, "")


def _does_not_add_up(told: dict[str, Any]) -> str:
    """Masses and moments of the items against those of the whole, to rounding."""
    items = told["items"]
    for name, key, whole in (
        ("masses", "mass_kg", told["whole"]["mass_kg"]),
        ("moments", "moment_nm", told["flat"]["pitch_moment_nm"]),
    ):
        total, size = (
            math.fsum(i[key] for i in items),
            math.fsum(abs(i[key]) + abs(i.get("couple_nm", 0)) for i in items),
        )
        if not abs(total - whole) <= 1e-9 * max(size, 1.0):
            return f"{name} of the items add up to {total!r}, the whole is {whole!r}"
    return ""
