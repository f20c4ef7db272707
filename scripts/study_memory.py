"""Show that a study's memory does not grow with its rows: 10 thousand and 1 million rows of a parts file.

    .venv/bin/python scripts/study_memory.py

Prints the wall clock and the most memory that any one process of the study held.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from pathlib import Path

SIZES = (10_000, 1_000_000)
CELL = '{{ at = [{x}, {y}, 0.1], {least}most = "{most} l" }}'
BASE = """format = "parts/1"
[water]
density = "1025 kg/m^3"
gravity = "9.81 m/s^2"
[depth]
pressure = "2.5 bar"
held = "cm"
[[part]]
name = "diver"
mass = "98 kg"
cm = [0.20, 0.0, 0.0]
volume = "90 l"
cb = [0.21, 0.0, 0.005]
[suit]
gas = "5 l"
softness = "600 Pa"
cells = [{suit}]
[wing]
gas = "neutral"
softness = "300 Pa"
cells = [{wing}]
"""
STUDY = """format = "study/1"
base = "rig.toml"
outputs = ["trimming moment", "pitch stiffness", "held pitch", "rest pitch", "rest roll", "wing gas"]
[design]
kind = "latin hypercube"
number = {number}
seed = 1
[[factor]]
key = "part.0.mass"
uniform = ["95 kg", "100 kg"]
[[factor]]
key = "suit.gas"
uniform = ["2 l", "8 l"]
"""


def write_study(folder: Path, number: int) -> Path:
    """Write a parts file and a study of it with so many rows; the study's file."""
    suit = [CELL.format(x=x, y=y, least='least = "0 l", ', most=2) for x in (0.4, 0.1, -0.5) for y in (0.1, -0.1)]
    wing = [CELL.format(x=x, y=y, least="", most=4) for x in (0.3, 0.0) for y in (0.15, -0.15)]
    base = BASE.format(suit=", ".join(suit), wing=", ".join(wing))
    (folder / "rig.toml").write_text(base, encoding="utf-8")
    file = folder / f"study-{number}.toml"
    file.write_text(STUDY.format(number=number), encoding="utf-8")
    return file


def main() -> None:
    try:
        import resource
    except ImportError:
        sys.exit("This system does not tell how much memory a process held.")
    with tempfile.TemporaryDirectory() as there:
        for number in SIZES:  # smallest first: what is printed is the most of all so far
            file = write_study(Path(there), number)
            started = time.perf_counter()
            command = ["-m", "sim.commands.main", "study", str(file), "-o", f"{there}/{number}"]
            subprocess.run([sys.executable, *command], check=True, stdout=subprocess.DEVNULL)
            most = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss
            megabytes = most / 1e6 if sys.platform == "darwin" else most / 1e3
            print(f"{number:>9,} rows: {time.perf_counter() - started:6.1f} s, {megabytes:.0f} MB", flush=True)


if __name__ == "__main__":
    main()
