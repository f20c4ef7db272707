"""Settle a million rigs of every kind, spread far wider than life, and count what came out:

    .venv/bin/python scripts/million_rigs.py [how many] [first seed]

Every rest is worked out afresh from its attitude, and some of them are held against the statics of one rig. Exit
code 1 when a rig did not converge, is no minimum or disagrees.
"""

from __future__ import annotations

import sys
import time

import numpy as np
from random_rigs import single, wild_rigs

from sim.batch.field import fields
from sim.batch.rest import AT_REST, INDIFFERENT_RIG, RING, UNCONVERGED, rests_from_flat
from sim.batch.rig_arrays import RigArrays
from sim.statics.equilibria import equilibria
from sim.statics.field import soft_rig

BLOCK = 50_000
CHECKED = 10  # of each block, against one rig's equilibria
NAMES = {AT_REST: "at rest", INDIFFERENT_RIG: "indifferent", RING: "in a ring", UNCONVERGED: "UNCONVERGED"}


def main(words: list[str]) -> int:
    total = int(words[0]) if words else 1_000_000
    seed = int(words[1]) if len(words) > 1 else 0
    status, turns = np.zeros(4, dtype=int), np.zeros(0, dtype=int)
    worst, apart, unstable, spent, done, first_peak = 0.0, 0.0, 0, 0.0, 0, 0.0
    while done < total:
        rigs = wild_rigs(min(BLOCK, total - done), seed)
        started = time.perf_counter()
        rests = rests_from_flat(rigs)
        spent += time.perf_counter() - started
        status += np.bincount(rests.status, minlength=4)
        turns = _counts(turns, rests.turns)
        at_rest = rests.status == AT_REST
        unstable += int((rests.stiffness[at_rest, 0] <= 0.0).sum())
        left = np.linalg.norm(np.cross(rests.up, fields(rigs, rests.up).d), axis=1)[at_rest]
        worst = max(worst, float((left / rests.stiffness[at_rest, 0]).max(initial=0.0)))
        apart = max([apart, *(_apart(rigs, rests.up, i) for i in range(min(CHECKED, len(rigs))))])
        done, seed = done + len(rests.turns), seed + 1
        del rigs, rests  # the next block is drawn into the same memory
        first_peak = first_peak or peak_memory()
        print(f"\r{done:>10} rigs", end="", file=sys.stderr, flush=True)
    print(file=sys.stderr)
    for number, name in NAMES.items():
        print(f"{name:<14}{status[number]:>10}")
    print(f"not a minimum {unstable:>10}")
    print(f"attitudes tried: mean {(turns * np.arange(len(turns))).sum() / done:.2f}, most {len(turns) - 1}")
    print(f"worst moment left over least stiffness {worst:.1e} rad")
    print(f"worst of {CHECKED * -(-total // BLOCK)} against the equilibria of one rig {apart:.1e} rad")
    print(f"{done / spent / 1e3:.0f} thousand a second; peak memory {first_peak:.0f} MB after the first "
          f"{BLOCK}, {peak_memory():.0f} MB at the end")  # fmt: skip
    return int(status[UNCONVERGED] > 0 or unstable > 0 or apart > 1e-8)


def _counts(before: np.ndarray, turns: np.ndarray) -> np.ndarray:
    new = np.bincount(turns, minlength=len(before))
    new[: len(before)] += before
    return new


def _apart(rigs: RigArrays, up: np.ndarray, i: int) -> float:
    """Distance [rad] of rest ``i`` from the nearest stable equilibrium of the same rig alone."""
    found = equilibria(soft_rig(single(rigs, i))).found
    return min(float(np.linalg.norm(e.up - up[i])) for e in found if e.kind == "stable")


def peak_memory() -> float:
    """Most memory this process ever held [MB]; nan where the system does not tell."""
    try:
        import resource
    except ImportError:  # Windows
        return float("nan")
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return most / 1e6 if sys.platform == "darwin" else most / 1e3


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
