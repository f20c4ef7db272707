"""Kill studies and drawings at random moments; see that nothing runs on, nothing stays, and no bit is lost.

Each study is killed several times over, its whole or one worker of it, gone on with after each, and what it has in
the end is held against an undisturbed run to the last bit; so are runs that compile anew and one by Dask. Linux only:
what still runs is found in /proc.
"""

from __future__ import annotations

import random
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from os import environ, getpid
from pathlib import Path

import polars as pl
import psutil
from attack_tally import End, Tally
from study_memory import write_study

ROOT = Path(__file__).parents[1]
KILLS = 200  # of studies, at share 1
DRAWN = 20  # pictures
COMPILED = 10  # times
IN_A_ROW = 5  # kills of one study before it is run to its end
ROWS = 60_000  # of the study: some seconds of work
GONE = 5.0  # s, within which all of a killed run must have ended
LONGEST = 600.0  # s, for a run that is left alone
MARK = "HANGFLAT_ATTACK"  # in the environment of a run, its workers and all that they start
WAYS = {
    "kill": signal.SIGKILL, "told to end": signal.SIGTERM, "Ctrl-C": signal.SIGINT, "terminal closed": signal.SIGHUP,
}  # fmt: skip
QUIET = {signal.SIGTERM: {143, -15}, signal.SIGINT: {130, -2}, signal.SIGHUP: {129, -1}, signal.SIGKILL: {-9}}


def run(seed: int, share: float) -> list[Tally]:
    """Kill so many studies and pictures; ``share`` of the full number."""
    drawn = random.Random(seed)
    names = ("kills of studies", "kills while a picture is drawn", "studies compiled anew, or by Dask")
    studies, pictures, bits = map(Tally, names)
    with tempfile.TemporaryDirectory() as name:
        there, told = Path(name), f"seed {seed}"
        study = write_study(there, ROWS)
        undisturbed, duration = _undisturbed(study, there / "undisturbed")
        _compile_anew(study, undisturbed, drawn, max(1, round(COMPILED * share)), bits, told)
        _by_dask(study, undisturbed, bits, told)
        _kill_studies(study, undisturbed, duration, drawn, max(1, round(KILLS * share)), studies, told)
        _kill_pictures(there, drawn, max(1, round(DRAWN * share)), pictures, told)
    return [studies, pictures, bits]


@dataclass
class Run:
    """A run of the program in a session of its own; ``words`` is what it said on stderr once it has ended."""

    task: subprocess.Popen[str]
    mark: str
    words: str = ""

    def processes(self) -> list[psutil.Process]:
        """All that still run of it."""
        found = []
        for one in psutil.process_iter():
            with suppress(psutil.Error):
                if one.environ().get(MARK) == self.mark and one.status() != psutil.STATUS_ZOMBIE:
                    found.append(one)
        return found

    def ended(self, seconds: float) -> int | None:
        """Exit code, or None when it still runs after so many seconds."""
        try:
            self.words = self.task.communicate(timeout=seconds)[1]
        except subprocess.TimeoutExpired:
            return None
        return self.task.returncode

    def left(self) -> list[psutil.Process]:
        """What still runs when it should have ended."""
        until = time.monotonic() + GONE
        while (found := self.processes()) and time.monotonic() < until:
            time.sleep(0.05)
        return found


@contextmanager
def begun(words: Sequence[str], mark: str, **more: str) -> Iterator[Run]:
    """``hangflat WORDS`` with ``more`` in its environment; whatever is left of it in the end is killed."""
    mark = f"{getpid()} {mark}"
    task = subprocess.Popen(
        [sys.executable, "-m", "sim.commands.main", *words], cwd=ROOT, env={**environ, **more, MARK: mark}, text=True,
        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, start_new_session=True,
    )  # fmt: skip
    one = Run(task, mark)
    try:
        yield one
    finally:
        for process in one.processes():
            with suppress(psutil.Error):
                process.kill()
        task.wait()


def _compile_anew(
    study: Path, undisturbed: pl.DataFrame, drawn: random.Random, times: int, tally: Tally, told: str
) -> None:
    """With an empty cache, one worker or two that compile at once, and another order of sets in the compiler."""
    for number in range(times):
        seed, workers = str(drawn.randrange(2**32)), drawn.choice("12")
        cache, folder = study.parent / f"cache-{number}", study.parent / f"anew-{number}"
        command = ["study", str(study), "-o", str(folder), "--workers", workers]
        with begun(command, f"{told} anew", NUMBA_CACHE_DIR=str(cache), PYTHONHASHSEED=seed) as one:
            code = one.ended(LONGEST)
        same = code == 0 and any(cache.rglob("*.nbc")) and _same(_table(folder), undisturbed)
        tally.add(End.ANSWERED if same else End.CRASHED, f"{told}: PYTHONHASHSEED={seed}, {code} {one.words[-1500:]}")


def _by_dask(study: Path, undisturbed: pl.DataFrame, tally: Tally, told: str) -> None:
    from distributed import LocalCluster

    folder = study.parent / "dask"
    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=":0", silence_logs=50) as cluster:
        with begun(
            ["study", str(study), "-o", str(folder), "--on", cluster.scheduler_address], f"{told} dask"
        ) as one:
            code = one.ended(LONGEST)
        same = code == 0 and _same(_table(folder), undisturbed)
    tally.add(End.ANSWERED if same else End.CRASHED, f"{told}: by Dask, {code} {one.words[-1500:]}")


def _kill_studies(
    study: Path, undisturbed: pl.DataFrame, duration: float, drawn: random.Random, kills: int, tally: Tally, told: str
) -> None:
    number = 0
    while number < kills:
        folder = study.parent / f"study-{number}"
        count = min(drawn.randint(1, IN_A_ROW), kills - number)
        words, fault = "", None
        for _ in range(count):
            number += 1
            workers = drawn.choice((1, 2))
            way = drawn.choice((*WAYS, "a worker"))
            moment = drawn.uniform(0.0, duration)
            words = f"{told}, kill {number}: {way} after {moment:.3f} s with {workers} worker(s)"
            command = ["study", str(study), "-o", str(folder), "--workers", str(workers)]
            with begun(command, f"{told} {number}") as one:
                time.sleep(moment)
                fault = _after_worker(one, drawn) if way == "a worker" else _after(one, WAYS[way], folder)
            if fault:
                break
            tally.add(End.ANSWERED)
        if fault is None:
            fault = _gone_on_with(study, folder, undisturbed, f"{told} last {number}")
        if fault:
            tally.add(fault[0], f"{words}: {fault[1]}")


def _kill_pictures(there: Path, drawn: random.Random, kills: int, tally: Tally, told: str) -> None:
    place = there / "pictures"
    place.mkdir()
    demo = str(ROOT / "scenarios" / "demos" / "small-woman-steel.toml")
    command = ["settle", demo, "--picture", str(place / "a picture.png")]
    started = time.monotonic()
    with begun(command, f"{told} picture") as one:
        one.ended(LONGEST)
    duration = time.monotonic() - started
    for number in range(kills):
        way, moment = drawn.choice(list(WAYS)), drawn.uniform(0.0, duration)
        with begun(command, f"{told} picture {number}") as one:
            time.sleep(moment)
            fault = _after(one, WAYS[way], place)
        words = f"{told}, picture {number}: {way} after {moment:.3f} s"
        tally.add(*((End.ANSWERED,) if fault is None else (fault[0], f"{words}: {fault[1]}")))
    with begun(command, f"{told} last picture") as one:
        code = one.ended(LONGEST)
    there_now = [p.name for p in place.iterdir()]
    if code != 0 or there_now != ["a picture.png"]:
        tally.add(End.LEFT_BEHIND, f"{told}: {there_now} after one drawn to its end, code {code} {one.words}")


def _undisturbed(study: Path, folder: Path) -> tuple[pl.DataFrame, float]:
    """What comes of the study, and how long it takes [s] with one worker, compiled code at hand."""
    for workers in (2, 1):
        started = time.monotonic()
        with begun(
            ["study", str(study), "-o", f"{folder}-{workers}", "--workers", str(workers)], "undisturbed"
        ) as one:
            if one.ended(LONGEST) != 0:
                raise RuntimeError(f"an undisturbed study fails: {one.words}")
    return _table(Path(f"{folder}-1")), time.monotonic() - started


def _table(folder: Path) -> pl.DataFrame:
    return pl.read_parquet(folder / "rows" / "*.parquet").sort("row")


Fault = tuple[End, str] | None


def _after(one: Run, number: signal.Signals, folder: Path) -> Fault:
    """What is wrong after the run was sent a signal: Ctrl-C and a closed terminal go to all of it, as they do."""
    hit = one.processes() if number in (signal.SIGINT, signal.SIGHUP) else [psutil.Process(one.task.pid)]
    over = one.task.poll() is not None
    for process in hit:
        with suppress(psutil.Error):
            process.send_signal(number)
    code = one.ended(GONE)
    if code is None:
        return End.SLOW, f"runs on for {GONE} s"
    if left := one.left():
        return End.LEFT_BEHIND, f"still runs: {[p.cmdline()[-1][:60] for p in left]}"
    if "Traceback" in one.words or "hangflat failed" in one.words or code not in QUIET[number] | {0}:
        return End.CRASHED, f"exit code {code}: {one.words[-1500:]}"
    if not over and number != signal.SIGKILL and (stays := _drafts(folder)):
        return End.LEFT_BEHIND, f"drafts {stays}"
    return None


def _after_worker(one: Run, drawn: random.Random) -> Fault:
    """What is wrong with a run, one process of which was killed: it must come to its end all the same."""
    others = [p for p in one.processes() if p.pid != one.task.pid]
    if others:
        with suppress(psutil.Error):
            drawn.choice(others).kill()
    code = one.ended(LONGEST)
    if code is None:
        return End.SLOW, f"runs on for {LONGEST} s"
    if left := one.left():
        return End.LEFT_BEHIND, f"still runs: {[p.cmdline()[-1][:60] for p in left]}"
    return None if code == 0 else (End.CRASHED, f"exit code {code}: {one.words[-1500:]}")


def _gone_on_with(study: Path, folder: Path, undisturbed: pl.DataFrame, mark: str) -> Fault:
    """What is wrong with the study run to its end."""
    with begun(["study", str(study), "-o", str(folder)], mark) as one:
        code = one.ended(LONGEST)
        left = one.left()
    if code != 0:
        return End.CRASHED, f"exit code {code} when it was gone on with: {one.words[-1500:]}"
    if left or (stays := _drafts(folder)):
        return End.LEFT_BEHIND, f"in the end: {left or stays}"
    return None if _same(_table(folder), undisturbed) else (End.CRASHED, "other numbers than undisturbed")


def _same(table: pl.DataFrame, other: pl.DataFrame) -> bool:
    """To the last bit."""
    return table.columns == other.columns and all(
        table[c].to_numpy().tobytes() == other[c].to_numpy().tobytes()
        if table[c].dtype.is_numeric()
        else table[c].to_list() == other[c].to_list()
        for c in table.columns
    )


def _drafts(folder: Path) -> list[str]:
    """Hidden files, but for the lock."""
    return [str(p) for p in folder.rglob(".*") if p.name != ".lock"]
