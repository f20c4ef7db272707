"""Mutated scenario, parts, study, bench, known and plate files and tables of people: through reading, and what is
accepted through the commands.

A mutant is drawn from ``random.Random("SEED:NUMBER")`` alone, so that any of them can be made again:
    python3 scripts/attack_text.py SEED NUMBER > mutant.toml
A plain mutator that knows TOML and the models was chosen over a coverage-guided one (atheris): what breaks lies in
values that are each believable and in their combination, past a parser that refuses nearly every mutated byte.
"""

from __future__ import annotations

import contextlib
import random
import shutil
import signal
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pathlib import Path

from attack_child import Outcome, in_child
from attack_tally import End, Tally
from attack_text_judge import judged, kind_of, ran, read_as
from attack_text_mutants import mutant, mutant_table

READ, ANSWERED, THE_REST = 200_000, 2_000, 200  # inputs of a full run
AT_ONCE = 250  # inputs that are read in one child
READING_TIME = 4.0  # s of processor time for reading one mutant; an unmutated file takes hundredths
STARTING_TIME = 2.0  # s on top of twice the unmutated file's
GIB = 1 << 30
SCRIPTS = Path(__file__).resolve().parent
FOLDERS = ("demos", "practice", "studies")


@dataclass(frozen=True)
class Seed:
    """A file to be mutated: its bytes, and its folder under the copy of all of them."""

    name: str
    folder: str
    text: bytes

    @property
    def kind(self) -> str:
        return kind_of(self.text)


@cache
def seeds() -> tuple[Seed, ...]:
    own = ("rig.toml", "plate.toml", "people.csv")
    found = [Seed(n.split(".")[0], "demos", (SCRIPTS / f"attack_text_{n}").read_bytes()) for n in own]
    for folder in FOLDERS:
        paths = sorted((SCRIPTS.parent / "scenarios" / folder).glob("*.toml"))
        found += [Seed(path.stem, folder, path.read_bytes()) for path in paths]
    return tuple(found)


def made(seed: int, number: int) -> tuple[Seed, bytes]:
    """Mutant ``number`` and the file it was made from."""
    rng = random.Random(f"{seed}:{number}")
    own = rng.choice(seeds())
    others = [s.text for s in rng.sample(seeds(), 2)]
    return own, (mutant_table if own.kind == "people" else mutant)(rng, [own.text, *others])


def run(seed: int, share: float) -> list[Tally]:
    """Read ``share`` of 200,000 mutants; put those accepted through settle and why, and fewer through the rest."""
    reading, accepted = Tally("text, reading"), []
    with _copied() as place:
        for first in range(0, max(1, round(READ * share)), AT_ONCE):
            numbers = range(first, min(first + AT_ONCE, max(1, round(READ * share))))
            for number, end, words in _read_all(seed, numbers, place):
                reading.add(end, f"seed {seed}, number {number}: {words}")
                if end is End.ANSWERED and made(seed, number)[0].kind in ("scenario", "parts", "known", "plate"):
                    accepted.append(number)
        random.Random(seed).shuffle(accepted)
        _warm(place)
        commands = [
            ("settle", ANSWERED),
            ("why", ANSWERED),
            ("fit", THE_REST),
            ("change", THE_REST),
            ("empty", THE_REST),
            ("weigh", THE_REST),
            ("later", THE_REST),
            ("posture", THE_REST),
            ("plate", THE_REST),
        ]
        return [reading, *(_commanded(seed, accepted, c, max(1, round(n * share)), place) for c, n in commands)]


@contextlib.contextmanager
def _copied() -> Iterator[Path]:
    """A folder with all seeds where they name one another."""
    with tempfile.TemporaryDirectory(prefix="hangflat-attack-") as name:
        for folder in FOLDERS:
            shutil.copytree(SCRIPTS.parent / "scenarios" / folder, Path(name) / folder)
        yield Path(name)


def _read_all(seed: int, numbers: Sequence[int], place: Path) -> list[tuple[int, End, str]]:
    """Read mutants in one child; each alone where that child died."""
    wall = 60.0 + READING_TIME * len(numbers)
    outcome = in_child(lambda: [(n, *_read(seed, n, place)) for n in numbers], processor=wall, memory=GIB, wall=wall)
    if outcome.value is not None:
        return list(outcome.value)
    if len(numbers) == 1:
        return [(numbers[0], _end_of(outcome), outcome.error[-300:])]
    return [found for n in numbers for found in _read_all(seed, [n], place)]


def _end_of(outcome: Outcome) -> End:
    if "MemoryError" in outcome.error:
        return End.LARGE
    return (
        End.SLOW if f"signal {int(signal.SIGXCPU)}" in outcome.error or "signal 9" in outcome.error else End.CRASHED
    )


class _TooLongError(BaseException):
    """Raised by the alarm."""


def _alarm(*_: object) -> None:
    raise _TooLongError


def _read(seed: int, number: int, place: Path) -> tuple[End, str]:
    own, text = made(seed, number)
    path = place / own.folder / "mutant.toml"
    path.write_bytes(text)
    signal.signal(signal.SIGPROF, _alarm)
    signal.setitimer(signal.ITIMER_PROF, READING_TIME)
    try:
        return read_as(own.kind, path)
    except _TooLongError:
        return End.SLOW, f"more than {READING_TIME:g} s"
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0.0)


def _warm(place: Path) -> None:
    """Import what the commands import, and compile, before any child is forked; with a person of no seed."""
    path = place / "demos" / "small-woman-steel.toml"
    import_module("sim.answers.change.report")  # to run it would take too long
    for command in ("settle", "why", "fit", "empty", "weigh", "later", "posture", "plate"):
        ran([command, str(path), "--json", "--set", "diver.mass=61.234 kg", "--set", "diver.height=167.3 cm"])


def _commanded(seed: int, accepted: Sequence[int], command: str, count: int, place: Path) -> Tally:
    """One command on ``count`` of the mutants that reading accepted."""
    tally, usual = Tally(f"text, {command}"), {}
    for number in accepted:
        own, text = made(seed, number)
        if (own.kind == "parts" and command not in ("settle", "why")) or (own.kind == "plate" and command != "plate"):
            continue
        if tally.tried == count:
            break
        mutated, given = _laid(own, place)
        if own.name not in usual:
            mutated.write_bytes(own.text)
            usual[own.name] = _in_child(command, given, 120.0).processor
        mutated.write_bytes(text)
        outcome = _in_child(command, given, 2.0 * usual[own.name] + STARTING_TIME)
        mutated.write_bytes(own.text)  # others may name it
        tally.add(*_ended(command, outcome, f"seed {seed}, number {number}", usual[own.name]))
    return tally


def _laid(own: Seed, place: Path) -> tuple[Path, Path]:
    """Where a mutant is written, and the file that is given to a command: what was learnt is read by way of its
    scenario."""
    folder = place / own.folder
    if own.kind == "known":
        return folder / f"{own.name}.toml", folder / f"{own.name.removesuffix('-known')}.toml"
    return folder / "mutant.toml", folder / "mutant.toml"


def _ended(command: str, outcome: Outcome, name: str, usual: float) -> tuple[End, str]:
    if outcome.value is None:
        return _end_of(outcome), f"{name}: {outcome.error[-400:]} (unmutated {usual:.1f} s)"
    end, words = judged(command, outcome.value)
    return end, f"{name}: {words}"


def _in_child(command: str, path: Path, processor: float) -> Outcome:
    wall = 120.0 + 30.0 * processor  # by the clock, on a machine that may do much other work
    return in_child(lambda: ran([command, str(path), "--json"]), processor=processor, memory=GIB, wall=wall)


if __name__ == "__main__":
    sys.stdout.buffer.write(made(int(sys.argv[1]), int(sys.argv[2]))[1])
