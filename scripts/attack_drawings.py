"""Drawings and solids spoilt at random or built to grow: read, made a plate of, drawn and exported, some carried
ashore and redrawn by other dimensions; each in a child of its own.

A plain mutator rather than a fuzzer that follows the code's branches: what is read is nearly all in libraries, some
of them compiled, in seven formats with lengths and structure that a blind branch seeker rarely keeps; and what has
hurt was never a rare branch but a small file that grows, which generators make better than any mutation.
"""

from __future__ import annotations

import logging
import subprocess
import sys
import tempfile
from collections.abc import Callable
from contextlib import suppress
from functools import partial
from pathlib import Path
from resource import RUSAGE_CHILDREN, getrusage
from typing import Any

import numpy as np
from attack_child import Outcome, in_child
from attack_tally import End, Tally
from drawing_bombs import BOMBS
from drawing_seeds import seeds

FULL = 20_000
BOMB_SHARE = 0.1  # of all inputs; the others are mutations
LOADS = "import numpy, scipy.integrate, scipy.optimize, trimesh, pydantic"
MOST_LOADS = 8  # L of processor time for one file
CARRIED_LOADS = 40  # more of one that is carried in every way, as much as a mesh of the most points takes
CARRIED_SHARE = 0.15  # of all inputs
MOST_MEMORY = 1 << 30  # bytes
MOST_LETTERS = 1_000
SETTINGS = ('plate.material="aluminium"', 'plate.unit="mm"', 'plate.thickness="3 mm"')
SETTINGS_OF_SOLID = (*SETTINGS[:2], 'plate.head_axis="+x"')
WORDS = b"nan inf -1 0 1e300 -1e-300 99999999999999999999 2147483648 1e5 % \xff".split()


def run(seed: int, share: float) -> list[Tally]:
    """Read ``share`` of 20,000 spoilt files, drawn from ``seed``; a tally each for mutations and built-up files."""
    _preload()
    most = MOST_LOADS * _load_time()
    count = max(20, round(share * FULL))
    tallies = {False: Tally("drawings, mutated"), True: Tally("drawings, built up")}
    with tempfile.TemporaryDirectory() as folder:
        good = seeds()
        for number in range(count):
            rng = np.random.default_rng([seed, number])
            bomb = bool(rng.random() < BOMB_SHARE)
            make = partial(BOMBS[rng.integers(len(BOMBS))] if bomb else partial(_mutated, good), rng)
            # made in a child, too, so that what it takes is not counted for each that comes after
            file = (
                Path(folder)
                / in_child(partial(_written, make, folder), processor=600, memory=1 << 33, wall=600).value
            )
            carried = bool(rng.random() < CARRIED_SHARE)
            limit = most * (1.0 + CARRIED_LOADS / MOST_LOADS * carried)
            outcome = in_child(
                partial(tried, file, carried), processor=limit, memory=2 * MOST_MEMORY, wall=60 * limit
            )
            end, words = judged(outcome, limit)
            if sorted(Path(folder).iterdir()) != [file]:
                end, words = End.LEFT_BEHIND, "a file beside the drawing"
            file.unlink()
            tallies[bomb].add(end, f"seed {seed}, number {number}, {file.suffix}: {words}")
            if sys.stdout.isatty():
                print(f"\r{number + 1} of {count} drawings", end="", flush=True)
    return list(tallies.values())


def tried(file: Path, carried: bool = False) -> tuple[str, str, str]:
    """Put a file on the bench, draw and export it: "answered" or "refused", the message, other files opened.

    carried : whether it is carried ashore, too, and drawn anew longer, wider and bent further
    """
    from scenarios.errors import ScenarioError
    from sim.answers.plate.answer import plate_answer
    from sim.answers.plate.bench import bench_plate
    from sim.answers.plate.drawn.sheet import plate_drawing
    from sim.answers.plate.export import export_plate

    opened: list[str] = []
    sys.addaudithook(lambda event, args: opened.append(str(args[0])) if event in ("open", "socket.connect") else None)
    try:
        flat = file.suffix in (".dxf", ".svg")
        bench = bench_plate(file, SETTINGS if flat else SETTINGS_OF_SOLID)
        answer = plate_answer(bench)
        marks = plate_drawing(bench.plate, answer).views
        with tempfile.TemporaryDirectory() as folder:
            for ending in (".stl", ".glb", *([".dxf"] if bench.plate.thickness else [])):
                export_plate(bench, Path(folder) / f"out{ending}", ending)
            if carried:
                _carried(bench)
    except ValueError as refusal:
        words = str(refusal)
        how = "refused" if isinstance(refusal, ScenarioError) or "too large to be drawn" in words else "unsound"
    else:
        solid, reading = bench.plate.solid, bench.plate.reading
        numbers = [solid.mass, *solid.cm, *solid.inertia.ravel(), answer.area, answer.length, answer.width]
        sound = np.isfinite(numbers).all() and solid.volume > 0.0 and bool(marks)
        how = "answered" if sound and reading is not None else "unsound"
        words = "; ".join((*reading.doubts, *reading.notes)) if reading else "nothing was read"
    library = (sys.prefix, sys.base_prefix, str(Path(__file__).parents[1]), "/proc", tempfile.gettempdir() + "/tmp")
    others = [name for name in opened if name != str(file) and not name.startswith(library)]
    return how, words, " ".join(others)


def _carried(bench: Any) -> None:
    """Carried in every way, and each dimension changed. Raises ScenarioError for what cannot be."""
    from scenarios.errors import ScenarioError
    from sim.answers.plate.dimensions import Dimensions, measure_of
    from sim.answers.plate.hold.run import greatest_stress

    dimensions = Dimensions(bench)
    for name, value in dimensions.now.items():
        with suppress(ScenarioError):
            made = dimensions.with_values({name: value + measure_of(name).step}).plate
            if not np.isfinite(made.solid.mass):
                raise FloatingPointError(name)
    if not np.isfinite(greatest_stress(bench)):
        raise FloatingPointError("the greatest stress is no number")


def judged(outcome: Outcome, most: float) -> tuple[End, str]:
    """How one file ended, and in words what was wrong."""
    if outcome.processor > most or "signal" in outcome.error[:20]:
        return End.SLOW, f"{outcome.processor:.1f} s of processor time, {outcome.error}"
    if outcome.peak > MOST_MEMORY:
        return End.LARGE, f"{outcome.peak / 1e6:.0f} MB"
    if outcome.error:
        return End.CRASHED, outcome.error[-600:]
    how, words, others = outcome.value
    if "too much memory" in words and "nested" in words:
        return End.LARGE, words
    if how == "unsound" or others or "\n" in words or (how == "refused" and len(words) > MOST_LETTERS):
        return End.CRASHED, f"{how}, others opened: {others or 'none'}, {len(words)} letters: {words[:300]}"
    return (End.ANSWERED if how == "answered" else End.REFUSED), words


def _written(make: Callable[[], tuple[str, bytes]], folder: str) -> str:
    kind, data = make()
    (Path(folder) / f"drawing{kind}").write_bytes(data)
    return f"drawing{kind}"


def _mutated(good: list[tuple[str, bytes]], rng: np.random.Generator) -> tuple[str, bytes]:
    kind, data = good[rng.integers(len(good))]
    for _ in range(int(rng.geometric(0.6))):
        data = CHANGES[rng.choice(len(CHANGES), p=OFTEN)](data, good, rng) or data
    return kind, data


def _flipped(data: bytes, _: list[tuple[str, bytes]], rng: np.random.Generator) -> bytes:
    spoilt = np.frombuffer(data, dtype=np.uint8).copy()
    where = rng.integers(len(spoilt), size=int(2.0 ** rng.uniform(0, 4)))
    spoilt[where] ^= (1 << rng.integers(8, size=len(where))).astype(np.uint8)
    return spoilt.tobytes()


def _cut(data: bytes, _: list[tuple[str, bytes]], rng: np.random.Generator) -> bytes:
    a, b = np.sort(rng.integers(len(data) + 1, size=2))
    return data[:b] if rng.random() < 0.5 else data[:a] + data[b:]


def _renumbered(data: bytes, _: list[tuple[str, bytes]], rng: np.random.Generator) -> bytes:
    """A number in letters exchanged for another, or four bytes for a count that a header may hold."""
    import re

    numbers = list(re.finditer(rb"-?\d+(?:\.\d+)?", data[:200_000]))
    if numbers and rng.random() < 0.8:
        match = numbers[rng.integers(len(numbers))]
        word = WORDS[rng.integers(len(WORDS))] if rng.random() < 0.7 else numbers[rng.integers(len(numbers))].group()
        return data[: match.start()] + word + data[match.end() :]
    at = int(rng.integers(min(len(data), 200)))
    return data[:at] + int(2.0 ** rng.uniform(0, 32)).to_bytes(4, "little") + data[at + 4 :]


def _spliced(data: bytes, good: list[tuple[str, bytes]], rng: np.random.Generator) -> bytes:
    other = good[rng.integers(len(good))][1]
    return data[: rng.integers(len(data) + 1)] + other[rng.integers(len(other)) :]


def _repeated(data: bytes, _: list[tuple[str, bytes]], rng: np.random.Generator) -> bytes:
    a, b = np.sort(rng.integers(len(data) + 1, size=2))
    times = min(int(2.0 ** rng.uniform(1, 12)), 2_000_000 // max(1, b - a))
    return data[:b] + data[a:b] * times + data[b:]


def _lines_moved(data: bytes, _: list[tuple[str, bytes]], rng: np.random.Generator) -> bytes:
    lines = data.splitlines(keepends=True)
    a, b, to = rng.integers(len(lines) + 1, size=3)
    return b"".join([*lines[:to], *lines[min(a, b) : max(a, b)], *lines[to:]])


# gentle ones more often, so that what is spoilt still gets past the first look
CHANGES = (_flipped, _renumbered, _lines_moved, _repeated, _cut, _spliced)
OFTEN = (0.2, 0.5, 0.1, 0.1, 0.05, 0.05)


def _preload() -> None:
    """Import here what children would otherwise import thousands of times."""
    logging.getLogger("ezdxf").setLevel(logging.ERROR)  # of what writes the seeds
    import ezdxf.path
    import lxml.etree
    import manifold3d
    import scipy.sparse.csgraph
    import scipy.sparse.linalg
    import scipy.spatial
    import shapely
    import skfem
    import svgelements
    import trimesh

    import sim.answers.plate.drawn.sheet
    import sim.answers.plate.export
    import sim.answers.plate.hold.run
    from sim.drawing.letters import set_width

    set_width("0", 1.0, bold=True)
    set_width("0", 1.0)  # the fonts are read once
    for kind, data in seeds():
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / f"good{kind}"
            file.write_bytes(data)
            tried_in = in_child(partial(tried, file), processor=60, memory=4 * MOST_MEMORY, wall=600)
            if tried_in.value is None or tried_in.value[0] != "answered":
                sys.exit(f"the sound seed {kind} is not answered: {tried_in}")
    del ezdxf, lxml, manifold3d, scipy, shapely, skfem, svgelements, trimesh, sim


def _load_time() -> float:
    before = getrusage(RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-c", LOADS], check=True)
    after = getrusage(RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
