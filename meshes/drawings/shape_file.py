"""What reading any designer's file has in common: units, the guard in front of it, its one error and its report."""

from __future__ import annotations

import logging
import warnings
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Final

UNITS: Final[Mapping[str, float]] = MappingProxyType({"mm": 1e-3, "cm": 1e-2, "m": 1.0, "in": 0.0254, "ft": 0.3048})

MOST_BYTES: Final = 50_100_000  # 50 MB and a head: a million triangles of binary STL
MOST_WORDS: Final = 160  # letters of anything quoted from a file or a library


class ShapeFileError(ValueError):
    """A file that cannot be used; the message names the file, what was found, what is allowed, what to do."""


@dataclass(frozen=True)
class FileUnit:
    """The unit in which a file's numbers were taken.

    name : of the unit;  by_file : whether the file itself states it, or else whoever uses the file
    doubt : where another was stated than the file says, both and what was done, as a sentence
    page : the drawn page's size, where that gives the scale
    """

    name: str
    by_file: bool
    doubt: str | None = None
    page: str = ""

    @property
    def words(self) -> str:
        """As "mm, as the file states"."""
        if not self.by_file:
            return f"{self.name}, as stated"
        return f"{self.name}, as the file states" + (f" (its page is {self.page})" if self.page else "")


def unit_of(stated: str | None, in_file: str | None) -> FileUnit | None:
    """The stated unit, or else the file's own; None where there is neither."""
    if stated is None:
        return None if in_file is None else FileUnit(in_file, True)
    if in_file is None or stated == in_file:
        return FileUnit(stated, stated == in_file)
    told = f"the file says that its unit is {in_file}, and {stated} was used, as stated: is that right?"
    return FileUnit(stated, False, told)


@dataclass(frozen=True)
class ImportReport:
    """What reading a file found.

    file : its name;  unit : of its numbers
    size_mm : the bounding box's sides [mm], along the file's own axes
    notes : what was skipped, mended or assumed, as sentences
    """

    file: str
    unit: FileUnit
    size_mm: tuple[float, ...]
    notes: tuple[str, ...] = ()


def metres_per_unit(unit: str, file: str) -> float:
    """Metres in one ``unit``; raises ShapeFileError naming the known units."""
    if unit not in UNITS:
        raise ShapeFileError(f"{file}: the unit {unit!r} is not known; write one of {', '.join(UNITS)}")
    return UNITS[unit]


def usable_file(path: str | Path, suffixes: tuple[str, ...], most_bytes: int = MOST_BYTES) -> Path:
    """The path, once it is a plain file of a known kind, neither empty nor huge; else ShapeFileError."""
    file = Path(path)
    try:
        if file.suffix.lower() not in suffixes:
            raise ShapeFileError(
                f"{file.name}: {file.suffix or 'no ending'!r} is not read; use {', '.join(suffixes)}"
            )
        if not file.exists():
            raise ShapeFileError(f"{file}: there is no such file; check the name and the folder")
        if not file.is_file():
            raise ShapeFileError(f"{file}: this is not a file; give the drawing's own path")
        size = file.stat().st_size
    except (OSError, ValueError) as error:
        if isinstance(error, ShapeFileError):
            raise
        raise ShapeFileError(f"{file.name}: cannot be opened ({getattr(error, 'strerror', None) or error})") from None
    if size == 0:
        raise ShapeFileError(f"{file.name}: the file is empty; export it again")
    if size > most_bytes:
        raise ShapeFileError(
            f"{file.name}: the file has {size / 1e6:.0f} MB, at most {most_bytes / 1e6:.0f} MB are read; export it "
            "with fewer points or without pictures"
        )
    return file


@contextmanager
def library_trouble(file: str, kind: str) -> Iterator[None]:
    """Turn whatever a reading library raises into a ShapeFileError, and keep its warnings to itself."""
    try:
        with warnings.catch_warnings(), _quiet():
            warnings.simplefilter("ignore")
            yield
    except ShapeFileError:
        raise
    except (RecursionError, MemoryError):
        raise ShapeFileError(
            f"{file}: cannot be read as {kind}: it is nested too deeply or takes too much memory; export the plate's "
            "outline or solid alone"
        ) from None
    except Exception as error:  # any library's own kinds of error, for input that nobody can foresee
        words = "its reader gave up" if isinstance(error, FileNotFoundError) else str(error)
        reason = short(words) or type(error).__name__
        raise ShapeFileError(
            f"{file}: cannot be read as {kind} ({reason}); it may be damaged, cut short or of "
            "another kind: export it again"
        ) from None


def short(words: str) -> str:
    """Words from a file or a library, on one line and cut where they grow too long."""
    line = " ".join("".join(c if c.isprintable() else " " for c in words[: 4 * MOST_WORDS]).split())
    return line if len(line) <= MOST_WORDS else f"{line[:MOST_WORDS]}..."


@contextmanager
def _quiet() -> Iterator[None]:
    """Keep what the libraries log to themselves: all of it comes from a file that is told of in our own words."""
    was = logging.root.manager.disable
    logging.disable(logging.CRITICAL)
    try:
        yield
    finally:
        logging.disable(was)
