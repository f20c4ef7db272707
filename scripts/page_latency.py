#!/usr/bin/env python3
"""How quickly the bench in the browser answers: 1,000 scripted changes of a set-up, each with every quick answer.

python3 scripts/page_latency.py [--changes 1000] [--seed 1] [--minutes 14] [--kept FILE]

Tells by class of change the median and the 95 % of CPU time, in L, the CPU time of importing the libraries, measured
here; the share of each answer; and the memory of the process that answers, fifth by fifth of the changes. Run in the
process and by the very functions that serve the page; CPU time, so that other work on the machine does not count.
When the minutes are over it tells what it has; with --kept the next run goes on from there, in a process of its own.
"""

from __future__ import annotations

import argparse
import json
import random
import resource
import subprocess
import sys
import time
import tomllib
from collections.abc import Callable, Collection, Iterator, Mapping
from copy import deepcopy
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from scenarios.catalogue import entries  # noqa: E402
from scenarios.demos import demo_path  # noqa: E402
from sim.commands.watching import watched  # noqa: E402
from sim.page.answers import answered  # noqa: E402
from sim.worker_pool import WorkerPool  # noqa: E402

LIBRARIES = "import numpy, scipy.integrate, scipy.optimize, trimesh, pydantic"
ASKED = ("flat", "view", "facts", "posture", "fit", "let go")  # as the page asks
# of CPU time to the gauge ("flat"), and to the fit, by class of change
WANTED = {"lead": 0.1, "gas": 0.1, "pressure": 0.1, "pose": 0.1, "gear": 0.25, "person": 0.5, "fit": 0.5}
DEMO = demo_path("small-woman-steel")
EACH = 0.6  # L that a change takes with all its answers, to foretell the time
FIFTHS = 5
Document = dict[str, Any]


def lead(draw: random.Random, now: Document) -> None:
    place = draw.choice(("belt", "tail", "ankles", "plate channel"))
    now["lead"] = [{"mass": f"{draw.uniform(0.5, 6):.1f} kg", "place": place}]


def gas(draw: random.Random, now: Document) -> None:
    now["suit"]["gas"] = f"{draw.uniform(3, 15):.1f} l"


def pressure(draw: random.Random, now: Document) -> None:
    now["cylinders"]["pressure"] = f"{draw.uniform(20, 230):.0f} bar"


def pose(draw: random.Random, now: Document) -> None:
    angle = {"knee flexion": f"{draw.uniform(0, 120):.0f} deg"}
    now["pose"] = {"name": "flat, knees bent", "joints": angle}


def gear(draw: random.Random, now: Document) -> None:
    now["gear"] = draw.sample(sorted(n for n, e in entries("gear").items() if e.values.get("kind") != "stage"), 3)


def person(draw: random.Random, now: Document) -> None:
    now["diver"]["height"], now["diver"]["mass"] = (
        f"{draw.uniform(158, 180):.0f} cm",
        f"{draw.uniform(52, 70):.0f} kg",
    )


CHANGES: Mapping[str, Callable[[random.Random, Document], None]] = {
    one.__name__: one for one in (lead, gas, pressure, pose, gear, person)
}


def timed(what: str, document: Document, known: Collection[str]) -> tuple[float, float, list[str]]:
    """In the process that answers: CPU time [s], memory [MB], and the digests of what was shown."""
    before = time.process_time()
    answer = answered(what, document, str(DEMO), known)
    took = time.process_time() - before
    if "problems" in answer:
        raise RuntimeError(str(answer["problems"]))
    shown = [s["digest"] for s in answer.get("surfaces", ())]
    if answer.get("suit"):
        shown.append(answer["suit"]["digest"])
    return took, memory(), shown


def memory() -> float:
    """Of this process now [MB]; the greatest so far where the system does not say."""
    try:
        return int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1]) * resource.getpagesize() / 1e6
    except OSError:
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3


def library_time(tries: int = 3) -> float:
    """CPU time of importing the libraries [s], the least of some tries."""
    words = f"import time; {LIBRARIES}; print(time.process_time())"
    runs = [subprocess.run([sys.executable, "-c", words], capture_output=True, check=True) for _ in range(tries)]
    return min(float(run.stdout) for run in runs)


@dataclass(frozen=True)
class Change:
    """One change. run : which process it was in;  took : CPU time by answer [L];  memory : after all answers [MB]"""

    number: int
    run: int
    kind: str
    took: Mapping[str, float]
    memory: float


def changes(first: int, last: int, seed: int, run: int, unit: float) -> Iterator[Change]:
    """Every answer to each change from ``first`` on; those before are made, too, but nothing is asked of them."""
    draw, document, known = random.Random(seed), tomllib.loads(DEMO.read_text(encoding="utf-8")), []
    with WorkerPool(1) as pool:
        for number in range(-1, last):
            kind = "opened" if number < 0 else tuple(CHANGES)[number % len(CHANGES)]
            if number >= 0:
                document = deepcopy(document)
                CHANGES[kind](draw, document)
            if 0 <= number < first:
                continue
            took, held = {}, 0.0
            for what in ASKED:
                seconds, held, shown = pool.submit(timed, what, document, known).result()
                took[what] = seconds / unit
                known = [*known, *shown][-240:]
            yield Change(number, run, kind, took, held)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--changes", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--minutes", type=float, default=14.0, help="after which it tells what it has")
    parser.add_argument("--kept", type=Path, help="file of what was found before (same seed), gone on with")
    said = parser.parse_args()
    ends, unit = time.monotonic() + 60.0 * said.minutes, library_time()
    before = kept(said.kept)
    first, run = (before[-1].number + 1, before[-1].run + 1) if before else (0, 0)
    found, steps = list(before), max(said.changes - first, 0)
    work = changes(first, said.changes, said.seed, run, unit)
    for one in watched(work, steps + 1, EACH * unit * steps, 1, f"{steps} changes"):
        if one.number >= 0:
            found.append(one)
        if said.kept and one.number >= 0:
            with said.kept.open("a", encoding="utf-8") as file:
                print(json.dumps(asdict(one)), file=file)
        if time.monotonic() > ends:
            break
    if not found:
        raise SystemExit("There was no time for a single change.")
    told(found, unit)


def kept(file: Path | None) -> list[Change]:
    """What was found before."""
    if file is None or not file.exists():
        return []
    return [Change(**json.loads(line)) for line in file.read_text(encoding="utf-8").splitlines()]


def told(found: list[Change], unit: float) -> None:
    """The tables."""
    print(f"{len(found)} changes. L = {unit:.2f} s of CPU time; each in L: median / 95 %")
    print(f"{'change':10}" + "".join(f"{what:>15}" for what in ASKED) + f"{'wanted':>9}")
    for kind in CHANGES:
        rows = [one.took for one in found if one.kind == kind]
        if rows:
            print(
                f"{kind:10}" + "".join(_middle_and_most([r[w] for r in rows]) for w in ASKED) + f"{WANTED[kind]:9.2f}"
            )
    print(f"{'all':10}" + "".join(_middle_and_most([one.took[w] for one in found]) for w in ASKED))
    whole = sum(sum(one.took.values()) for one in found)
    print(f"{'share':10}" + "".join(f"{100 * sum(o.took[w] for o in found) / whole:12.0f} % " for w in ASKED))
    for run in sorted({one.run for one in found}):
        held = [one.memory for one in found if one.run == run]
        fifths = [held[max(len(held) * k // FIFTHS - 1, 0)] for k in range(1, FIFTHS + 1)]
        marks = ", ".join(f"{fifth:.0f}" for fifth in fifths)
        print(f"memory of one process over {len(held)} changes [MB]: {held[0]:.0f} after the first,")
        print(f"    {marks} after each fifth of them, {max(held):.0f} at most")


def _middle_and_most(values: list[float]) -> str:
    return f"{quantile(values, 0.5):8.3f}/{quantile(values, 0.95):5.3f} "


def quantile(values: list[float], share: float) -> float:
    return sorted(values)[min(int(share * len(values)), len(values) - 1)]


if __name__ == "__main__":
    main()
