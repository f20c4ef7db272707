"""What the bench keeps on this machine so that nothing is lost: drafts of set-ups, drawings dropped in, recent files.

All of it lies in the user's own folder for such things, readable by the user alone, never beside the user's files.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from platformdirs import user_state_path

MOST_RECENT: Final = 12
MOST_DRAWINGS: Final = 30  # kept; the oldest go
LONGEST_NAME: Final = 80


@dataclass(frozen=True)
class Shelf:
    """The folder. Reading never raises: what cannot be read is not there."""

    folder: Path

    @classmethod
    def of_user(cls) -> Shelf:
        """The shelf of whoever runs the program."""
        return cls(user_state_path("hangflat", appauthor=False) / "bench")

    def draft(self, place: Path) -> dict[str, Any] | None:
        """What was set up of a file and not saved: ``document``, and ``base``, the digest of the text before."""
        found = self._read(f"draft-{mark_of(place)}.json")
        return found if isinstance(found, dict) and isinstance(found.get("document"), dict) else None

    def keep_draft(self, place: Path, document: Mapping[str, Any], base: str) -> None:
        """Keep a set-up until it is saved; where nothing can be written the page keeps it alone."""
        with suppress(OSError):
            self._write(f"draft-{mark_of(place)}.json", {"document": document, "base": base})

    def drop_draft(self, place: Path) -> None:
        """It was saved."""
        with suppress(OSError):
            (self.folder / f"draft-{mark_of(place)}.json").unlink(missing_ok=True)

    def address(self, place: Path) -> tuple[int, str] | None:
        """Port and token under which a file was served last, so that a page left open finds the program again."""
        found = self._read(f"address-{mark_of(place)}.json")
        try:
            port, token = int(found["port"]), str(found["token"])
        except (TypeError, KeyError, ValueError):
            return None
        return (port, token) if 1024 <= port < 65536 and re.fullmatch(r"[\w-]{32}", token) else None

    def keep_address(self, place: Path, port: int, token: str) -> None:
        """Remember them."""
        with suppress(OSError):
            self._write(f"address-{mark_of(place)}.json", {"port": port, "token": token})

    def recent(self) -> list[Path]:
        """Files that were opened and are still there, the last first."""
        found = self._read("recent.json")
        names = [Path(str(name)) for name in found] if isinstance(found, list) else []
        return [place for place in names if place.is_file()][:MOST_RECENT]

    def opened(self, place: Path) -> None:
        """Put a file first among the recent ones."""
        others = [str(other) for other in self.recent() if other != place]
        with suppress(OSError):
            self._write("recent.json", [str(place), *others][:MOST_RECENT])

    @property
    def drawings(self) -> Path:
        """Where drawings lie that were dropped in and not yet saved beside a scenario."""
        return self.folder / "drawings"

    def keep_drawing(self, name: str, content: bytes) -> Path:
        """Keep a drawing under its own name, made harmless. Raises OSError."""
        place = self.drawings / hashlib.sha256(content).hexdigest()[:16] / harmless(name)
        place.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        place.write_bytes(content)
        kept = sorted(self.drawings.iterdir(), key=lambda p: p.stat().st_mtime)
        for old in kept[:-MOST_DRAWINGS]:
            for file in old.iterdir():
                file.unlink()
            old.rmdir()
        return place

    def _read(self, name: str) -> Any:
        try:
            return json.loads((self.folder / name).read_bytes())
        except (OSError, ValueError, RecursionError):
            return None

    def _write(self, name: str, value: Any) -> None:
        """Whole or not at all."""
        self.folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        draft = self.folder / f".{name}.{os.getpid()}"
        handle = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with open(handle, "w", encoding="utf-8") as file:
            json.dump(value, file, ensure_ascii=False)
        draft.replace(self.folder / name)


def mark_of(place: Path) -> str:
    """By which a file is known without telling its path."""
    return hashlib.sha256(str(place).encode("utf-8", "surrogatepass")).hexdigest()[:24]


def digest_of(text: str) -> str:
    """Of a file's text, to see whether it is still the same."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:24]


def harmless(name: str) -> str:
    """A file's name without folders and without anything that a system takes for more than a name."""
    last = re.split(r"[\\/]", name)[-1]
    plain = re.sub(r"[^\w. -]", "_", last).strip(". ")
    if re.match(r"(con|prn|aux|nul|com\d|lpt\d)(\.|$)", plain, re.IGNORECASE):
        plain = f"_{plain}"  # devices, to some systems
    stem, dot, ending = plain.rpartition(".")
    return f"{(stem or 'drawing')[: LONGEST_NAME - len(ending) - 1]}{dot}{ending}" if dot else plain[:LONGEST_NAME]
