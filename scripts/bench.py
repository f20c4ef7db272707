"""Measure on this machine what the user waits for, against the aims.

python3 scripts/bench.py [--against REF] [demo file]

With --against REF the commands are run by turns in this tree and in a git worktree of the commit REF, and their
processor times also told in L, that of importing the libraries in use, since machines differ.
"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - an old Python must still be able to read this file
    sys.exit("hangflat needs Python 3.11 or newer; this is " + sys.version.split()[0] + " at " + sys.executable)

import os
import platform
import statistics
import subprocess
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import setup_env

UNIT = "import numpy, scipy.integrate, scipy.optimize, trimesh, pydantic"  # what L is the processor time of
TURNS = 3  # runs of each command; the least time counts


@dataclass(frozen=True)
class Measured:
    """Wall times [s] of several runs of one thing, and the aim [s]."""

    name: str
    aim: float
    times: tuple[float, ...]


def main(words: list[str]) -> int:
    """Print the table; nothing fails for being slow."""
    python = setup_env.ensure()
    if Path(sys.prefix).resolve() != (setup_env.ROOT / ".venv").resolve():
        return subprocess.run([python, __file__, *words], cwd=setup_env.ROOT).returncode
    reference = None
    if "--against" in words:
        at = words.index("--against")
        if at + 1 == len(words):
            sys.exit("--against needs a commit to compare with, e.g. --against HEAD~1")
        reference = words[at + 1]
        words = [*words[:at], *words[at + 2 :]]
    demo = Path(words[0]).resolve() if words else setup_env.ROOT / setup_env.DEMO
    print(f"{platform.system()} {platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}")
    print(f"demo: {demo.name}\n")
    if reference is not None:
        return side_by_side(python, demo, reference)
    print(f"{'':<34}{'best':>11}{'median':>11}{'aim':>11}{'runs':>6}")
    for measured in (*commands(demo), *statics(demo)):
        print(line(measured), flush=True)
    import bench_batch

    for told in bench_batch.lines():
        print(told, flush=True)
    return 0


def side_by_side(python: Path, demo: Path, reference: str) -> int:
    """Processor times of the commands here and at the commit ``reference``, run by turns: seconds and ratio to L."""
    with tempfile.TemporaryDirectory() as folder:
        other = Path(folder) / "other"
        git = ["git", "-C", str(setup_env.ROOT), "worktree"]
        made = subprocess.run([*git, "add", "--detach", str(other), reference], capture_output=True, text=True)
        if made.returncode:
            sys.exit(f"git has no commit {reference} to compare with: {made.stderr.strip()}")
        try:
            unit = min(processor([str(python), "-c", UNIT], setup_env.ROOT) for _ in range(TURNS))
            print(f"L = {unit:.2f} s of processor: python -c '{UNIT}'\n")
            print(f"{'':<34}{'aim':>8}{'here':>9}{'':>9}{reference[:16]:>17}{'':>9}")
            for name, aim, arguments in compared(demo, Path(folder)):
                theirs = [own_file(w, other) for w in arguments]
                told = "" if aim is None else f"{aim:.1f} L"
                print(f"{name:<34}{told:>8}{by_turns(python, arguments, other, theirs, unit)}", flush=True)
        finally:
            subprocess.run([*git, "remove", "--force", str(other)], capture_output=True)
    return 0


def own_file(word: str, tree: Path) -> str:
    """A demo as ``tree`` has it, since an older program cannot read a newer file; any other word as it is."""
    inside = Path(word).is_relative_to(setup_env.ROOT)
    return str(tree / Path(word).relative_to(setup_env.ROOT)) if inside else word


def by_turns(python: Path, words: list[str], other: Path, theirs: list[str], unit: float) -> str:
    """Least processor time [s] here and in the tree ``other``, which may not know the command."""
    command = [str(python), "-m", "sim.commands.main"]
    knows = knows_command(command, words[0], other)
    here, there = [], []
    for _ in range(TURNS):
        here.append(processor([*command, *words], setup_env.ROOT))
        if knows:
            there.append(processor([*command, *theirs], other))
    return "".join(f"{min(t):>9.2f} s{min(t) / unit:>7.2f} L" if t else f"{'no such':>20}" for t in (here, there))


def knows_command(command: list[str], name: str, tree: Path) -> bool:
    """Whether the program of ``tree`` has a command (or option) of that name."""
    own = {**os.environ, "PYTHONPATH": str(tree)}
    words = [*command, name] if name.startswith("-") else [*command, name, "--help"]
    return subprocess.run(words, capture_output=True, cwd=tree, env=own).returncode == 0


def compared(demo: Path, folder: Path) -> list[tuple[str, float | None, list[str]]]:
    """Name, the most that it should take in L where that is said, and words of each command that is compared."""
    picture, other = str(folder / "demo.png"), str(demo.with_name("small-woman-carbon.toml"))
    return [
        ("hangflat --help", 0.15, ["--help"]),
        ("hangflat settle --json", 1.5, ["settle", str(demo), "--json"]),
        ("hangflat why --json", None, ["why", str(demo), "--json"]),
        ("hangflat settle --picture", 3.0, ["settle", str(demo), "--picture", picture]),
        ("hangflat fit", 2.0, ["fit", str(demo)]),
        ("hangflat change", 4.0, ["change", str(demo)]),
        ("hangflat empty", None, ["empty", str(demo)]),
        ("hangflat weigh", 1.5, ["weigh", str(demo)]),
        ("hangflat later", 3.0, ["later", str(demo)]),
        ("hangflat posture", None, ["posture", str(demo)]),
        ("hangflat seen", 6.0, ["seen", str(demo), "--attitude", "20 deg head-up", "--while", "finning"]),
        ("hangflat plate --hold", None, ["plate", "standard steel", "--hold", "--beside", "small carbon"]),
        ("hangflat film, 10 s", 60.0, ["film", str(demo), str(folder / "demo.mp4"), "--seconds", "10"]),
        ("hangflat compare", 3.0, ["compare", str(demo), other]),
    ]


def processor(command: list[str], tree: Path) -> float:
    """Processor time [s] of a command run with the packages of ``tree``; a failure stops the measurement."""
    import resource

    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    own = {**os.environ, "PYTHONPATH": str(tree), "OPENBLAS_NUM_THREADS": "1"}
    own.pop("PYTHONDONTWRITEBYTECODE", None)  # else our modules, unlike the libraries, are compiled in every run
    done = subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, cwd=tree, env=own)
    if done.returncode:
        raise SystemExit(f"{' '.join(command)} failed with {done.returncode}:\n{done.stderr}")
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def line(measured: Measured) -> str:
    """One row of the table, in milliseconds; a median beyond the aim is marked."""
    median = statistics.median(measured.times)
    cells = "".join(f"{1e3 * t:>8.1f} ms" for t in (min(measured.times), median, measured.aim))
    return f"{measured.name:<34}{cells}{len(measured.times):>6}" + ("  over the aim" if median > measured.aim else "")


def commands(demo: Path) -> Iterator[Measured]:
    """Whole runs of the console command, start of Python included; the first run warms the disk and is left out."""
    hangflat = str(setup_env.venv_tool("hangflat"))
    with tempfile.TemporaryDirectory() as folder:
        picture = str(Path(folder) / "demo.png")
        cases: list[tuple[str, float, int, list[str]]] = [
            ("hangflat --help", 0.3, 10, ["--help"]),
            ("hangflat settle --json", 3.0, 5, ["settle", str(demo), "--json"]),
            ("hangflat why --json", 3.0, 5, ["why", str(demo), "--json"]),
            ("hangflat weigh --json", 3.0, 5, ["weigh", str(demo), "--json"]),
            ("hangflat later --json", 3.0, 5, ["later", str(demo), "--json"]),
            ("hangflat settle --picture", 8.0, 3, ["settle", str(demo), "--picture", picture]),
            ("hangflat plate --json", 2.0, 5, ["plate", "standard steel", "--json"]),
            ("hangflat plate --divers", 10.0, 3, ["plate", "standard steel", "--divers"]),
            ("hangflat plate --change", 20.0, 3, ["plate", "standard steel", "--change"]),
            (
                "hangflat plate --people, 20,000 and three plates",
                60.0,
                2,
                [
                    "plate",
                    "small steel",
                    "--people",
                    "10000",
                    "--beside",
                    "standard steel",
                    "--beside",
                    "small carbon",
                ],
            ),
            ("hangflat plate --design", 90.0, 1, ["plate", "small steel", "--design", str(Path(folder) / "p.toml")]),
            ("hangflat film, 10 s", 45.0, 1, ["film", str(demo), str(Path(folder) / "f.mp4"), "--seconds", "10"]),
            ("hangflat posture", 2.0, 5, ["posture", str(demo)]),
            ("hangflat seen", 5.0, 3, ["seen", str(demo), "--attitude", "20 deg head-up", "--while", "finning"]),
        ]
        for name, aim, runs, arguments in cases:
            yield Measured(name, aim, timed(lambda words=arguments: run([hangflat, *words]), runs))


def statics(demo: Path) -> Iterator[Measured]:
    """The statics of one rig, reading and assembly left out."""
    from sim.batch.equilibria import compiled_equilibria
    from sim.batch.rig_arrays import stacked
    from sim.case import Case
    from sim.statics.equilibria import equilibria
    from sim.statics.field import soft_rig
    from sim.statics.flat import flat_answer

    rig = Case.read(demo).assembled.rig
    soft = soft_rig(rig)
    cells = sum(len(p.cells) for p in (rig.suit, rig.wing) if p is not None)
    yield Measured(f"all equilibria, {cells} gas cells", 0.005, timed(lambda: equilibria(soft), 50))
    arrays = stacked([rig])
    yield Measured("the same, compiled", 0.001, timed(lambda: compiled_equilibria(soft, arrays), 50))
    yield Measured("moment and stiffness when flat", 0.005, timed(lambda: flat_answer(soft), 50))


def timed(job: Callable[[], object], runs: int) -> tuple[float, ...]:
    """Wall times [s] of ``runs`` runs after one that does not count."""
    job()
    times = []
    for _ in range(runs):
        started = time.perf_counter()
        job()
        times.append(time.perf_counter() - started)
    return tuple(times)


def run(command: list[str]) -> None:
    """Run to the end with the output thrown away; a failure stops the measurement."""
    done = subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, cwd=setup_env.ROOT)
    if done.returncode:
        raise SystemExit(f"{' '.join(command)} failed with {done.returncode}:\n{done.stderr}")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
