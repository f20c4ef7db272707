"""Change one constant or sign at a time in a copy of the sources, and see whether the tests nearest to it notice:

    .venv/bin/python scripts/mutate.py --seed 1 --number 30 [sim/assembly sim/answers/fit sim/settling]

A constant becomes a quarter larger, a plus a minus, a minus a plus. Nearest are, in the folder that mirrors the
source's, the tests named after it or after a module that imports it, and all that import it themselves. Left alone
are numbers under 1e-5, which are limits of numerics, and the rooms' own drawing and wording. Exits with 1 when more
than a tenth goes unnoticed.
"""

from __future__ import annotations

import argparse
import ast
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[1]
ROOMS = ("sim/assembly", "sim/answers/fit", "sim/settling")
MIRRORS = ("meshes", "scenarios", "sim", "tests")
LARGER = 1.25
NUMERICS = 1e-5
SECONDS = 300.0  # for the nearest tests of one change
SWAPPED = {ast.Add: "-", ast.Sub: "+"}


@dataclass(frozen=True)
class Mutant:
    """One change: ``old`` at a line (from 1) and byte column of a file becomes ``new``."""

    file: str
    line: int
    column: int
    old: str
    new: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.old} -> {self.new}"

    def applied(self, text: str) -> str:
        """The source after the change."""
        lines = text.split("\n")
        raw = lines[self.line - 1].encode()
        old = self.old.encode()
        if raw[self.column : self.column + len(old)] != old:
            raise ValueError(f"{self}: the source says otherwise")
        lines[self.line - 1] = (raw[: self.column] + self.new.encode() + raw[self.column + len(old) :]).decode()
        return "\n".join(lines)


def mutants_of(file: str, text: str) -> Iterator[Mutant]:
    """Every change of one source file."""
    lines = text.split("\n")
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Constant) and type(node.value) is float and abs(node.value) >= NUMERICS:
            old = ast.get_source_segment(text, node) or ""
            yield Mutant(file, node.lineno, node.col_offset, old, repr(LARGER * node.value))
        if isinstance(node, ast.BinOp) and type(node.op) in SWAPPED and node.left.end_lineno == node.right.lineno:
            start, end = node.left.end_col_offset or 0, node.right.col_offset
            between = lines[node.right.lineno - 1].encode()[start:end].decode()
            old = "+" if isinstance(node.op, ast.Add) else "-"
            if between.count(old) == 1:
                yield Mutant(file, node.right.lineno, start + between.index(old), old, SWAPPED[type(node.op)])


def drawn(rooms: list[str], number: int, seed: int) -> list[Mutant]:
    """So many changes, as many in each room, drawn without replacement."""
    draw = random.Random(seed)
    chosen: list[Mutant] = []
    for i, room in enumerate(rooms):
        found = [
            mutant
            for path in sorted((ROOT / room).glob("*.py"))
            for mutant in mutants_of(str(path.relative_to(ROOT)), path.read_text(encoding="utf-8"))
        ]
        share = number // len(rooms) + (i < number % len(rooms))
        chosen += draw.sample(found, min(share, len(found)))
    return chosen


def nearest(file: str) -> list[str]:
    """Test files: in the mirroring folder those named after the module, or after one of its room that imports it, as
    what is worn is tested as worn; then those that import it, there and elsewhere."""
    folder, stem = ROOT / "tests" / Path(file).parent, Path(file).stem
    room = re.escape(".".join(Path(file).parent.parts))
    imported = re.compile(rf"from {room}\.{stem} import|from {room} import [^\n]*\b{stem}\b")
    above = [p.stem for p in (ROOT / file).parent.glob("*.py") if imported.search(p.read_text(encoding="utf-8"))]
    near = [folder / f"test_{name}.py" for name in (stem, *sorted(set(above) - {"stages"}))]
    tests = sorted((ROOT / "tests").rglob("test_*.py"), key=lambda t: (folder not in t.parents, t))
    near += [t for t in tests if t not in near and imported.search(t.read_text(encoding="utf-8"))]
    return [str(t.relative_to(ROOT)) for t in near if t.exists()]


def noticed_by(mutant: Mutant, copy: Path) -> str | None:
    """The first test that fails with a change in place, None where all pass."""
    place = copy / mutant.file
    before = place.read_text(encoding="utf-8")
    place.write_text(mutant.applied(before), encoding="utf-8")
    command = [sys.executable, "-m", "pytest", "-x", "-q", "--tb=no", "-p", "no:cacheprovider", *nearest(mutant.file)]
    try:
        run = subprocess.run(
            command, cwd=copy, env={**os.environ, "PYTHONPATH": str(copy)}, capture_output=True, text=True,
            timeout=SECONDS, check=False,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        return "no end"
    finally:
        place.write_text(before, encoding="utf-8")
    if run.returncode == 0:
        return None
    rows = (row for row in run.stdout.split("\n") if row.startswith(("FAILED", "ERROR")))
    return next(rows, f"ended with {run.returncode}")


def main() -> int:
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("rooms", nargs="*", default=list(ROOMS))
    reader.add_argument("--seed", type=int, default=1)
    reader.add_argument("--number", type=int, default=30)
    reader.add_argument("--list", action="store_true", help="name the changes and their tests, run nothing")
    asked = reader.parse_args()
    chosen = drawn(asked.rooms, asked.number, asked.seed)
    if asked.list:
        print("\n".join(f"{m}  [{' '.join(nearest(m.file)) or 'no test'}]" for m in chosen))
        return 0
    missed = 0
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder)
        for part in (*MIRRORS, "scripts", "pyproject.toml"):
            whole = ROOT / part
            if whole.is_dir():
                shutil.copytree(whole, copy / part, ignore=shutil.ignore_patterns("__pycache__"))
            else:
                shutil.copy(whole, copy / part)
        for mutant in chosen:
            seen = noticed_by(mutant, copy) if nearest(mutant.file) else None
            missed += seen is None
            print(f"{mutant}  {'UNNOTICED' if seen is None else seen.removeprefix('FAILED ')}", flush=True)
    print(f"{len(chosen) - missed} of {len(chosen)} noticed")
    return int(10 * missed > len(chosen))


if __name__ == "__main__":
    sys.exit(main())
