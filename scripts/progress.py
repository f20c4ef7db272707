"""Run a long command while showing that it moves: one changing line on a terminal, a line now and then elsewhere."""

from __future__ import annotations

import itertools
import queue
import re
import shutil
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

QUIET_SECONDS = 15.0  # without a terminal: at most one line in this time
_PIP = (
    (re.compile(r"^Collecting ([\w.\-]+)"), "looking up {}"),
    (re.compile(r"^\s*Downloading ([A-Za-z0-9_.]+?)-\d\S* ?(\(.*\))?"), "fetching {} {}"),
    (re.compile(r"^\s*Using cached ([A-Za-z0-9_.]+?)-\d"), "fetching {} (kept from before)"),
    (re.compile(r"^Installing collected packages: (.+)"), "installing {}"),
    (re.compile(r"^(?:Building|Preparing) (.+?)(?: \(|:|$)"), "preparing {}"),
)


def condensed(line: str) -> str | None:
    """What a line of an installer's output means to someone waiting; None when it means nothing to them."""
    for pattern, words in _PIP:
        found = pattern.match(line)
        if not found:
            continue
        if "installing" in words:
            return f"installing {found[1].count(',') + 1} package(s)"
        return words.format(*(g or "" for g in found.groups())).strip()
    return None


def run_shown(title: str, command: Sequence[str], *, cwd: Path, env: Mapping[str, str], log: Path) -> tuple[int, str]:
    """Run ``command``, show its progress under ``title``, append its output to ``log``; give exit code and output."""
    started, doing, kept = time.monotonic(), "", []
    lines: queue.Queue[str | None] = queue.Queue()
    with (
        log.open("a", encoding="utf-8", errors="backslashreplace") as record,
        subprocess.Popen(
            command, cwd=cwd, env=env, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
            text=True, encoding="utf-8", errors="replace",
        ) as process,
    ):  # fmt: skip
        record.write(f"$ {' '.join(command)}\n")
        threading.Thread(target=_pump, args=(process, lines), daemon=True).start()
        show = _line_shower(title, started)
        while True:
            try:
                line = lines.get(timeout=0.15)
            except queue.Empty:
                show(doing)
                continue
            if line is None:
                break
            record.write(line)
            kept.append(line)
            doing = condensed(line) or doing
            show(doing)
        code = process.wait()
    _close_line(title, time.monotonic() - started, "done" if code == 0 else "FAILED")
    return code, "".join(kept)


def _pump(process: subprocess.Popen[str], lines: queue.Queue[str | None]) -> None:
    for line in process.stdout or ():
        lines.put(line)
    lines.put(None)


def _line_shower(title: str, started: float) -> Callable[[str], None]:
    """A function that shows what is being done: at once on a terminal, every QUIET_SECONDS elsewhere."""
    wheel = itertools.cycle("|/-\\")
    last = [started]

    def show(doing: str) -> None:
        now = time.monotonic()
        if sys.stdout.isatty():
            width = shutil.get_terminal_size().columns - 1
            print(
                "\r" + f"{next(wheel)} {title} {now - started:4.0f} s  {doing}"[:width].ljust(width),
                end="",
                flush=True,
            )
        elif now - last[0] >= QUIET_SECONDS:
            last[0] = now
            print(f"  {title}: {now - started:.0f} s, {doing or 'working'}", flush=True)

    if not sys.stdout.isatty():
        print(f"  {title} ...", flush=True)
    return show


def _close_line(title: str, seconds: float, word: str) -> None:
    line = f"  {title}: {word} in {seconds:.0f} s"
    if sys.stdout.isatty():
        width = shutil.get_terminal_size().columns - 1
        line = "\r" + line.ljust(width)
    print(line, flush=True)
