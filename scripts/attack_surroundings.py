"""Run hangflat where something is missing, full, shut or odd, and hold what comes out against undisturbed runs.

Share 1 runs every job in every kind of surroundings; less, that share of them, drawn from the seed. A fault is: an
exit code but 0 and 2, a traceback, more than one line for a failure, a line nobody asked for beside an answer, an
answer that differs, or anything left in the folder of the answers, the current one or the temporary one.
"""

from __future__ import annotations

import json
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
from typing import Final

from attack_places import ROOT, Place, Sandbox, places
from attack_tally import End, Tally

WALL: Final = 300.0  # s, until a run counts as hung
NAME: Final = "tauchér.toml"  # a name that is not ASCII
SCENARIO: Final = ROOT / "scenarios" / "demos" / "tall-man-steel.toml"
STUDY: Final = """
format = "study/1"
title = "tiny"
base = "tauchér.toml"
outputs = ["trimming moment", "held pitch"]
[design]
kind = "grid"
[[factor]]
key = "harness.drop"
values = ["0 cm", "1 cm", "2 cm"]
"""
JOBS: Final = {
    "settle": ("settle", "{work}/tauchér.toml"),
    "settle --json": ("settle", "{work}/tauchér.toml", "--json"),
    "settle --picture png": ("settle", "{work}/tauchér.toml", "--picture", "{out}/a.png"),
    "settle --picture pdf": ("settle", "{work}/tauchér.toml", "--json", "--picture", "{out}/a.pdf"),
    "fit --picture": ("fit", "{work}/tauchér.toml", "--picture", "{out}/a.svg"),
    "study": ("study", "{work}/tiny.toml", "-o", "{out}/study", "--workers", "2"),
    "demo": ("demo",),
    "demo --write": ("demo", "--write", "{out}/demos"),
    "--help": ("--help",),
    "settle --help": ("settle", "--help"),
    "wrong value": ("settle", "{work}/tauchér.toml", "--set", "diver.mass=6 kg"),
    "wrong word": ("settle",),
}


BLOCKS: Final = "study/rows/"


@dataclass(frozen=True)
class Ran:
    """What one run left: exit code (None: hung), its two streams, and its files (name: bytes)."""

    code: int | None
    out: str
    err: str
    files: dict[str, bytes]
    strewn: tuple[str, ...]


def run(seed: int, share: float) -> list[Tally]:
    """Every job, or the share drawn of them, in every kind of surroundings."""
    tallies, drawn = [], random.Random(seed)
    with tempfile.TemporaryDirectory(prefix="hangflat-attack-") as folder:
        base = Path(folder)
        base.chmod(0o755)
        plain = Place("plain")
        warm, undisturbed = base / "warm", {}
        warm.mkdir()
        for job, words in JOBS.items():
            (undisturbed[job],) = ran(plain, words, base, warm, keep=True)
        for place in places():
            tally = Tally(place.name)
            if why := place.why_not():
                print(f"{place.name}: not tried: {why}", file=sys.stderr)
                continue
            jobs = [job for job in JOBS if drawn.random() < share] or [drawn.choice(list(JOBS))]
            for job in jobs:
                for one in ran(place, JOBS[job], base, warm):
                    end, words = judged(place, undisturbed[job], one)
                    tally.add(end, f"{job}: {words}")
            tallies.append(tally)
    return tallies


def ran(place: Place, words: tuple[str, ...], base: Path, warm: Path, *, keep: bool = False) -> list[Ran]:
    """Run one job there: once, or twice at the same time."""
    box = _boxed(base / "run", warm, cold=place.cold)
    if place.prepare:
        place.prepare(box)
    if place.user is not None:
        for path in (box.base, *box.base.rglob("*")):
            os.chown(path, place.user, place.user)
    (box.base / "shut").mkdir(mode=0)
    began = _listed(box)
    runs = [_outs(box, copy) for copy in ((1, 2) if place.twice else (1,))]
    started = [subprocess.Popen(place.command(box, [w.format(work=box.work, out=out) for w in words]), cwd=box.work,
                                env=_environment(place, box), stdin=subprocess.DEVNULL,
                                stdout=subprocess.PIPE, stderr=subprocess.PIPE, start_new_session=True)
               for out in runs]  # fmt: skip
    answers = []
    for process, out in zip(started, runs, strict=True):
        try:
            told, complained = process.communicate(timeout=WALL)
            code: int | None = process.returncode
        except subprocess.TimeoutExpired:
            process.kill()
            told, complained = process.communicate()
            code = None
        files = {str(p.relative_to(out)): p.read_bytes() for p in sorted(out.rglob("*")) if p.is_file()}
        texts = [raw.decode("utf-8", "replace").replace(str(out), "OUT") for raw in (told, complained)]
        answers.append(Ran(code, *texts, files, tuple(sorted(_listed(box) - began))))
    if keep:
        shutil.copytree(box.cache, warm, dirs_exist_ok=True)
    shutil.rmtree(box.base)
    return answers


def judged(place: Place, plain: Ran, found: Ran) -> tuple[End, str]:
    """How a run ended, held against the undisturbed one."""
    lines = [line for line in found.err.splitlines() if line.strip()]
    if found.code is None:
        return End.SLOW, f"not done after {WALL:.0f} s"
    if "Traceback" in found.out + found.err or found.code not in (0, 2):
        return End.CRASHED, f"exit {found.code}: {' | '.join(lines[-3:])[:600]}"
    if found.strewn:
        return End.LEFT_BEHIND, f"exit {found.code}: {', '.join(found.strewn)[:300]}"
    extra = set(_complaints(found.err)) - set(_complaints(plain.err))
    if found.code == 2 and plain.code == 0:
        whole = place.silent and found.files == plain.files  # what was asked for is there, only not told of
        if hidden := [name for name in found.files if not (whole or name.startswith("study/"))]:
            return End.LEFT_BEHIND, f"exit 2: {', '.join(hidden)}"
        if len(extra) != 1 and not (place.name.endswith("closed") or "stderr" in place.name):
            return End.CRASHED, f"exit 2 and {len(extra)} lines: {' | '.join(extra)[:600]}"
        return End.REFUSED, ""
    if extra and not place.rewrapped:
        return End.CRASHED, f"answered, and complained: {' | '.join(extra)[:600]}"
    if found.code != plain.code:
        return End.CRASHED, f"exit {found.code} in place of {plain.code}"
    if difference := "".join(_differences(place, plain, found)):
        return End.CRASHED, f"answered otherwise: {difference[:600]}"
    return End.ANSWERED if found.code == 0 else End.REFUSED, ""


def _differences(place: Place, plain: Ran, found: Ran) -> Iterator[str]:
    untold = place.silent or (place.undocumented and plain.out.startswith("Usage:"))
    if not untold and _told(place, plain.out) != _told(place, found.out):
        yield f"stdout: {_told(place, found.out)[:500]!r}"
    # how many rows a block of a study has follows from how quick the first were: a busy machine cuts them otherwise
    whole, other = ({name for name in ran.files if not name.startswith(BLOCKS)} for ran in (plain, found))
    if whole != other:
        yield f"files: {sorted(whole ^ other)}"
    for name in found.files.keys() & plain.files.keys():
        picture = name.endswith((".png", ".svg", ".pdf"))
        if not (picture and place.redrawn) and found.files[name] != plain.files[name]:
            yield f"{name} differs"
        if not found.files[name] and plain.files[name]:
            yield f"{name} is empty"


def _told(place: Place, out: str) -> str:
    """What was said, without how a picture was drawn and, if it may be, how lines are broken."""
    if out.startswith("{"):
        told = json.loads(out)
        told.pop("picture", None)
        return json.dumps(told)
    text = re.sub(r"(?m)^(Picture|Drawing): .*$", "", re.sub(r"\x1b\[[0-9;]*m", "", out)).strip()
    return re.sub(r"[\s\u2500-\u257f]+", "", text) if place.rewrapped else text


def _complaints(err: str) -> list[str]:
    """Lines on stderr, numbers left out: a forecast of seconds differs from run to run.

    What the system's font lister says of its own missing files is not ours to keep back.
    """
    lines = [line for line in err.splitlines() if line.strip() and not line.startswith("Fontconfig error")]
    return [re.sub(r"[\d.,]+", "#", line) for line in lines]


def _boxed(base: Path, warm: Path, *, cold: bool) -> Sandbox:
    shutil.rmtree(base, ignore_errors=True)
    box = Sandbox(base)
    for folder in (box.work, box.out, box.temporary, box.home):
        folder.mkdir(parents=True)
    if cold:
        box.cache.mkdir()
    else:
        shutil.copytree(warm, box.cache)
    shutil.copy(SCENARIO, box.work / NAME)
    (box.work / "tiny.toml").write_text(STUDY, encoding="utf-8")
    return box


def _outs(box: Sandbox, copy: int) -> Path:
    folder = box.out / str(copy)
    folder.mkdir()
    folder.chmod(0o777)
    return folder


def _listed(box: Sandbox) -> set[str]:
    """What lies in the current and the temporary folder, but for code compiled into the latter."""
    found = {str(p.relative_to(box.base)) for place in (box.work, box.temporary) for p in place.rglob("*")}
    return {name for name in found if not re.match(r"tmp/hangflat[^/]*(/compiled|$)", name)}


def _environment(place: Place, box: Sandbox) -> dict[str, str]:
    bare = {"PATH": os.environ.get("PATH", os.defpath), "PYTHONPATH": str(ROOT), "LANG": "C.UTF-8"}
    bare |= {"HOME": str(box.home), "XDG_CACHE_HOME": str(box.cache), "TMPDIR": str(box.temporary)}
    for name, value in place.environment.items():
        if value is None:
            bare.pop(name, None)
        else:
            bare[name] = value.format(base=box.base)
    return bare
