"""Batch statics beside other ways to the same rest, and beside the limit of the machine's arithmetic, in one run."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Literal, NamedTuple

import numpy as np
from random_rigs import CELLS, DEMO_CELLS, single, usual_rigs

from sim.batch.blocks import cores
from sim.batch.flat import flat_answers
from sim.batch.held import held_pitches
from sim.batch.rest import rests_from_flat
from sim.batch.rig_arrays import LAWS, Law, RigArrays
from sim.batch.stable import stable_attitudes
from sim.rig import Rig
from sim.statics.energy import energy
from sim.statics.field import SoftRig, field, soft_rig

HERE = Path(__file__).resolve()
RIGS = 100_000
# Additions, multiplications and divisions counted by hand in sim/batch/gas.py and cell_laws.py, a cell and a sweep:
# pressure difference 7, exp 24, quotient 2, volume 2, slope 4, sums 14 (first moments) and 12 (second moments);
# the garment's two sides and cube root are 32 more
CELL_FLOPS = {("logistic", True): 65, ("logistic", False): 53, ("garment", True): 97, ("garment", False): 85}
STEPS = 16  # of multiply and add on each number of the machine's own benchmark
PRECISIONS = ("double", "single")
KINDS = ((False, False), (False, True), (True, False), (True, True))  # of sweeps: over a suit, with second moments
TURN_FLOPS = 450  # and between the sweeps of one attitude: shifts, Jacobian, step


Count = tuple[int, int]  # cells of suit and wing
Sweeps = list[tuple[str, dict[tuple[bool, bool], float]]]  # how many a rig, by precision and kind


class Way(NamedTuple):
    """A way to the rest of one rig: seconds a rig (median), rigs tried, and the worst distance from the batch's."""

    name: str
    seconds: float
    rigs: int
    apart: float


def lines() -> Iterator[str]:
    """The section of the benchmark, line by line as it is worked out."""
    rates: dict[tuple[Count, Law], tuple[float, float]] = {}
    for count in (CELLS, DEMO_CELLS):
        yield f"\nBatch statics: rests from flat, {count[0]} cells of suit and {count[1]} of wing, {cores()} threads"
        yield f"{'':<34}{'best':>14}{'median':>14}{'one core':>14}"
        for law in LAWS:
            for cells in ("shared", "own"):
                rates[count, law], told = _rate(law, cells, count)
                yield told
    yield from _others()
    own = 1.0 / rates[CELLS, "logistic"][0]
    yield f"\n{'The same rests one rig at a time':<46}{'a rig':>13}{'batch is faster by':>20}{'worst apart':>16}"
    for way in (minimized(), slid(), settled(), stepped()):
        name = f"{way.name} (n = {way.rigs})"
        yield f"{name:<46}{1e3 * way.seconds:>10.1f} ms{way.seconds / own:>18,.0f} x{way.apart:>12.0e} rad"
    yield from _limit({of: alone for of, (_, alone) in rates.items()})


def _rate(law: Law, cells: Literal["own", "shared"], count: Count) -> tuple[tuple[float, float], str]:
    """Rigs a second (best of whole runs) and seconds a rig on one core, and the line that tells them."""
    rigs = usual_rigs(RIGS, 1, cells=cells, law=law, count=count)
    walls = _timed(lambda: rests_from_flat(rigs), 7)
    best, median = RIGS / min(walls), RIGS / statistics.median(walls)
    alone = _one_core(rigs, rests_from_flat)
    return (best, alone), f"{f'{law} law, {cells} cells':<34}{_rates(best, median, alone)}"


def _rates(best: float, median: float, alone: float) -> str:
    return f"{best:>12,.0f}/s{median:>12,.0f}/s{1e6 * alone:>11.2f} us"


def _one_core(rigs: RigArrays, job: Callable[..., Any]) -> float:
    """Seconds a rig in one thread: each short block at its quietest, so that others' work counts less."""
    size = min(500, len(rigs) // 10)
    blocks = [rigs.block(slice(a, a + size)) for a in range(0, 10 * size, size)]
    return sum(min(_timed(lambda block=block: job(block, threads=1), 20)) for block in blocks) / (10 * size)


def _timed(job: Callable[[], object], runs: int) -> list[float]:
    """Wall seconds of ``runs`` runs after one that does not count."""
    job()
    walls = []
    for _ in range(runs):
        started = time.perf_counter()
        job()
        walls.append(time.perf_counter() - started)
    return walls


def _others() -> Iterator[str]:
    rigs = usual_rigs(10_000, 2, cells="own")
    jobs: list[tuple[str, Callable[[RigArrays], Any]]] = [
        ("moment and stiffness when flat", flat_answers),
        ("all held pitches", held_pitches),
        ("stable attitudes from 43 starts", stable_attitudes),
    ]
    for name, job in jobs:
        walls = _timed(lambda job=job: job(rigs), 3)
        best, median = len(rigs) / min(walls), len(rigs) / statistics.median(walls)
        yield f"{name:<34}{_rates(best, median, _one_core(rigs.block(slice(0, 1000)), job))}"


def _each(name: str, rigs: RigArrays, job: Callable[[int], np.ndarray]) -> Way:
    ends = rests_from_flat(rigs).up
    times, apart = [], []
    for i in range(len(rigs)):
        started = time.perf_counter()
        up = job(i)
        times.append(time.perf_counter() - started)
        apart.append(float(np.linalg.norm(up - ends[i])))
    return Way(name, statistics.median(times), len(times), max(apart))


def _frozen(n: int) -> tuple[RigArrays, list[SoftRig]]:
    """Rigs whose wing keeps the volume that makes them neutral when flat: with an energy that one may minimise."""
    from dataclasses import replace

    free = usual_rigs(n, 3, cells="own")
    rigs = replace(free, wing=replace(free.wing, gas=flat_answers(free).wing_gas))
    return rigs, [soft_rig(single(rigs, i)) for i in range(n)]


def minimized() -> Way:
    """scipy.optimize.minimize (BFGS with the exact gradient) on the energy over directions, from just off flat."""
    from scipy.optimize import minimize

    rigs, soft = _frozen(10)

    def job(i: int) -> np.ndarray:
        def of(v: np.ndarray) -> tuple[float, np.ndarray]:
            length = np.linalg.norm(v)
            values = field(soft[i], (v / length)[None])
            d = values.d[0]
            return float(energy(soft[i], values)[0]), (d - (d @ v) * v / length**2) / length

        v = minimize(of, np.array([1e-3, 1e-3, 1.0]), jac=True, method="BFGS", options={"gtol": 1e-8}).x
        return v / np.linalg.norm(v)

    return _each("scipy.optimize.minimize, BFGS", rigs, job)


def slid() -> Way:
    """scipy.integrate.solve_ivp (LSODA) on the least equation that comes to rest: a damped spinning body."""
    from scipy.integrate import solve_ivp

    rigs, soft = _frozen(4)
    inertia, damping, still = np.array([4.0, 15.0, 15.0]), 25.0, 1e-6

    def job(i: int) -> np.ndarray:
        def rate(_t: float, y: np.ndarray) -> np.ndarray:
            up = y[:3] / np.linalg.norm(y[:3])
            torque = np.cross(up, field(soft[i], up[None]).d[0]) - damping * y[3:]
            return np.concatenate([np.cross(up, y[3:]), (torque - np.cross(y[3:], inertia * y[3:])) / inertia])

        def rests(t: float, y: np.ndarray) -> float:
            return float(np.linalg.norm(rate(t, y)) - still)

        rests.terminal, rests.direction = True, -1.0  # type: ignore[attr-defined]
        start = np.array([0.0, 0.0, 1.0, 0.0, 0.0, 0.0])
        end = solve_ivp(rate, (0.0, 5000.0), start, method="LSODA", rtol=1e-8, atol=1e-10, events=rests).y[:3, -1]
        return end / np.linalg.norm(end)

    return _each("solve_ivp to rest, LSODA, gas at rest", rigs, job)


def settled() -> Way:
    """The project's own settling: water, drag, and gas that takes its time."""
    from sim.settling.settle import settle

    rigs = usual_rigs(3, 3, cells="own")
    return _each("settling of hangflat, gas in motion", rigs, lambda i: settle(single(rigs, i), roll="free").up)


def stepped() -> Way:
    """mujoco stepping the same rigs without their gas, damped, until they are still."""
    from dataclasses import replace

    import mujoco

    rigs = usual_rigs(4, 3, cells="own")
    nothing = np.full(len(rigs), -1)
    rigs = replace(rigs, suit=replace(rigs.suit, which=nothing), wing=replace(rigs.wing, which=nothing))

    def job(i: int) -> np.ndarray:
        model, body, lift, arm = _free_body(single(rigs, i))
        data = mujoco.MjData(model)
        data.qvel[3:] = 1e-3  # off a poised start
        while data.time < 600.0:
            turn = data.xmat[body].reshape(3, 3)
            data.qfrc_applied[:] = 0.0
            mujoco.mj_applyFT(model, data, lift, np.zeros(3), data.xpos[body] + turn @ arm, body, data.qfrc_applied)
            mujoco.mj_step(model, data)
            if data.time > 1.0 and max(np.abs(data.qvel[3:]).max(), np.abs(data.qacc[3:]).max()) < 1e-6:
                break
        return np.array(data.xmat[body].reshape(3, 3)[2])

    return _each("mujoco to rest, without gas", rigs, job)


def _free_body(rig: Rig) -> tuple[Any, int, np.ndarray, np.ndarray]:
    """A free body in mujoco, its number, the water's lift (3,) [N] and where that acts from the CM (3,) [m]."""
    import mujoco

    whole, water = rig.whole, rig.water
    numbers = " ".join(repr(float(whole.inertia[i, i])) for i in range(3))
    # the joint sits at the CM, or its damping would turn a drifting body
    model = mujoco.MjModel.from_xml_string(
        f"""<mujoco><option timestep="0.02" gravity="0 0 {-water.gravity}" integrator="RK4"/>
        <worldbody><body name="rig"><freejoint/><inertial pos="0 0 0" mass="{whole.mass}" diaginertia="{numbers}"/>
        </body></worldbody></mujoco>"""
    )
    model.dof_damping[:] = 25.0
    body = mujoco.mj_name2id(model, mujoco.mjtObj.mjOBJ_BODY, "rig")
    lift = np.array([0.0, 0.0, water.density * water.gravity * whole.volume])
    return model, body, lift, whole.cb - whole.cm


def _limit(alone: dict[tuple[Count, Law], float]) -> Iterator[str]:
    """Share of the machine's arithmetic that is used, by the seconds a rig on ``alone`` one core, own cells."""
    peaks = {name: _peak(number) for name, number in (("double", np.float64), ("single", np.float32))}
    told = " and ".join(f"{peak / 1e9:.0f} Gflop/s in {name} precision" for name, peak in peaks.items())
    yield f"\nArithmetic limit of one core, multiply and add, measured: {told}"
    for (count, law), seconds in alone.items():
        turns, sweeps = _counted(law, count)
        flops = {
            name: sum(n * _flops(law, suit, full, count) for (suit, full), n in of.items()) for name, of in sweeps
        }
        flops["double"] += turns * TURN_FLOPS
        least = sum(flops[name] / peaks[name] for name in peaks)
        number = sum(sum(of.values()) for _, of in sweeps)
        work = f"{turns:.1f} attitudes, {number:.1f} sweeps, " + ", ".join(
            f"{f / 1e3:.1f} kflop in {name}" for name, f in flops.items()
        )
        name = f"{law}, {count[0]} + {count[1]} cells"
        yield f"{name:<26}{work} (hand count): {100 * least / seconds:.0f} % of the limit"
    yield "What limits it: arithmetic, not memory, but in short pieces. A sweep is a few vectors long, in which an"
    yield "exp waits for itself; it ends in 8 to 14 sums across a vector, and the code between the sweeps is scalar."


def _flops(law: Law, suit: bool, full: bool, count: Count) -> int:
    """Of one sweep over the cells of the suit, or of the wing, which is logistic."""
    return count[0] * CELL_FLOPS[law, full] if suit else count[1] * CELL_FLOPS["logistic", full]


def _peak(number: type[np.floating[Any]]) -> float:
    """Multiplications and additions a second of one core in the precision of ``number``, nothing to wait for."""
    import numba

    @numba.njit(fastmath={"contract"})  # a product and its sum may be one instruction; nothing may be left out
    def chains(x: np.ndarray, factor: float, term: float, times: int) -> None:
        for _ in range(times):
            for j in range(x.size):
                y = x[j]
                for _ in range(STEPS):
                    y = y * factor + term
                x[j] = y

    x = np.ones(512, number)
    walls = _timed(lambda: chains(x, number(0.999), number(1e-3), 2000), 25)
    return 2.0 * STEPS * x.size * 2000 / min(walls)


def _counted(law: Law, count: Count) -> tuple[float, Sweeps]:
    """Attitudes and sweeps a rig, counted in the same code run uncompiled."""
    done = subprocess.run(
        [sys.executable, __file__, law, *map(str, count)],
        env=os.environ | {"NUMBA_DISABLE_JIT": "1", "PYTHONPATH": os.pathsep.join(map(str, HERE.parents[:2]))},
        capture_output=True,
        text=True,
        check=True,
    )
    turns, *numbers = (float(word) for word in done.stdout.split())
    return turns, [(name, dict(zip(KINDS, numbers[4 * i :], strict=False))) for i, name in enumerate(PRECISIONS)]


def counted(law: Law, count: Count, rigs: int = 60) -> list[float]:
    """Attitudes, then sweeps of each of KINDS in double and in single precision; wants the compiler switched off."""
    from collections import Counter

    from sim.batch import gas, moment

    sweeps: Counter[tuple[str, bool, bool]] = Counter()
    sums_at = gas.sums_at

    def counting(rig: Any, pocket: Any, *others: Any) -> Any:
        single = pocket.cells.dtype == np.float32
        sweeps[PRECISIONS[single], pocket.compliance > 0.0, bool(others[-1])] += 1
        return sums_at(rig, pocket, *others)

    gas.sums_at = moment.sums_at = counting
    turns = rests_from_flat(usual_rigs(rigs, 1, cells="own", law=law, count=count), threads=1).turns
    return [float(turns.mean()), *(sweeps[name, *kind] / rigs for name in PRECISIONS for kind in KINDS)]


if __name__ == "__main__":
    print(*counted("garment" if sys.argv[1] == "garment" else "logistic", (int(sys.argv[2]), int(sys.argv[3]))))
