#!/usr/bin/env python3
"""How quickly the bench in the browser answers: 1,000 scripted changes of a set-up, each with every quick answer.

python3 scripts/page_latency.py [--changes 1000] [--seed 1]

Tells by class of change the median and the 95 % of CPU time, in L, the CPU time of importing the libraries, measured
here; the share of each answer; and the memory of the process that answers, at the start and at the end. Run in the
process and by the very functions that serve the page; CPU time, so that other work on the machine does not count.
"""

from __future__ import annotations

import argparse
import random
import resource
import subprocess
import sys
import time
import tomllib
from collections import defaultdict
from collections.abc import Callable, Collection, Iterator, Mapping
from copy import deepcopy
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from scenarios.catalogue import entries  # noqa: E402
from scenarios.demos import demo_path  # noqa: E402
from sim.page.answers import answered  # noqa: E402
from sim.worker_pool import WorkerPool  # noqa: E402

LIBRARIES = "import numpy, scipy.integrate, scipy.optimize, trimesh, pydantic"
ASKED = ("flat", "view", "facts", "posture", "fit", "let go")  # as the page asks
# of CPU time to the gauge ("flat"), and to the fit, by class of change
WANTED = {"lead": 0.1, "gas": 0.1, "pressure": 0.1, "pose": 0.1, "gear": 0.25, "person": 0.5, "fit": 0.5}
DEMO = demo_path("small-woman-steel")
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


def asked(changes: int, seed: int) -> Iterator[tuple[str, str, float, float]]:
    """Each answer to each change: class, answer, CPU time [s], memory [MB]."""
    draw, document, known = random.Random(seed), tomllib.loads(DEMO.read_text(encoding="utf-8")), []
    with WorkerPool(1) as pool:
        for what in ASKED:  # the page is open
            _, _, shown = pool.submit(timed, what, document, known).result()
            known += shown
        for number in range(changes):
            kind = tuple(CHANGES)[number % len(CHANGES)]
            document = deepcopy(document)
            CHANGES[kind](draw, document)
            for what in ASKED:
                took, held, shown = pool.submit(timed, what, document, known).result()
                known = [*known, *shown][-240:]
                yield kind, what, took, held


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--changes", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    said = parser.parse_args()
    unit = library_time()
    found: dict[tuple[str, str], list[float]] = defaultdict(list)
    held: list[float] = []
    for kind, what, took, size in asked(said.changes, said.seed):
        found[kind, what].append(took / unit)
        held.append(size)
    print(f"L = {unit:.2f} s of CPU time; each in L: median / 95 %")
    print(f"{'change':10}" + "".join(f"{what:>15}" for what in ASKED) + f"{'wanted':>9}")
    for kind in CHANGES:
        row = "".join(
            f"{quantile(found[kind, what], 0.5):8.3f}/{quantile(found[kind, what], 0.95):5.3f} " for what in ASKED
        )
        print(f"{kind:10}{row}{WANTED[kind]:9.2f}")
    first, last = f"{held[0]:.0f} MB after the first change", f"{held[-1]:.0f} MB after {said.changes}"
    print(f"memory {first}, {last}, {max(held):.0f} MB at most")


def quantile(values: list[float], share: float) -> float:
    return sorted(values)[min(int(share * len(values)), len(values) - 1)]


if __name__ == "__main__":
    main()
