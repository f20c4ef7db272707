"""What is open on the bench, and the processes that work for it."""

from __future__ import annotations

import asyncio
import secrets
import shutil
import tempfile
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final, cast

from scenarios.errors import Problem, ScenarioError
from sim.page.answers import Answer, ToldIn, answered
from sim.page.background import worked_out
from sim.page.set_up import opened, text_of
from sim.page.shelf import Shelf, digest_of, harmless, mark_of
from sim.telling.language import Language, reader
from sim.worker_pool import WorkerPool

LONGEST: Final = 60.0  # s that an answer which the page waits for may take
MOST_LISTED: Final = 200  # files of a folder


@dataclass(eq=False)
class OpenFile:
    """A scenario that is open: its text as last read or written, and what that says."""

    place: Path
    text: str
    document: dict[str, Any]

    @classmethod
    def read(cls, place: Path) -> OpenFile:
        """Raises ScenarioError for what is no scenario."""
        set_up, text = opened(place)
        return cls(place, text, dict(set_up.document))

    @property
    def mark(self) -> str:
        """By which the page names it."""
        return mark_of(self.place)


@dataclass(eq=False)
class Desk:
    """What is open, what is kept, and who works answers out.

    port : that it listens on;  token : without which nothing answers
    """

    first: OpenFile
    port: int
    token: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    shelf: Shelf = field(default_factory=Shelf.of_user)
    files: dict[str, OpenFile] = field(default_factory=dict)
    quick: WorkerPool = field(default_factory=lambda: WorkerPool(1))
    slow: WorkerPool = field(default_factory=lambda: WorkerPool(1))
    told_in: ToldIn = field(default_factory=lambda: _told_in())
    shares: Path = field(default_factory=lambda: Path(tempfile.mkdtemp(prefix="hangflat-bench-")))

    @property
    def address(self) -> str:
        """Where the page is."""
        return f"http://127.0.0.1:{self.port}/{self.token}/"

    def close(self) -> None:
        """End the processes."""
        self.quick.shutdown(wait=False)
        self.slow.shutdown(wait=False)
        shutil.rmtree(self.shares, ignore_errors=True)

    def file(self, mark: Any) -> OpenFile:
        """The file of that mark: open, or opened before; the first where the mark is unknown."""
        if mark == self.first.mark or not isinstance(mark, str):
            return self.first
        if mark not in self.files:
            for place in self.shelf.recent():
                if mark_of(place) == mark:
                    with suppress(ScenarioError):
                        return self.take(OpenFile.read(place))
            return self.first
        return self.files[mark]

    def take(self, file: OpenFile) -> OpenFile:
        """Have a file open, and first among the recent ones."""
        self.files[file.mark] = file
        self.shelf.opened(file.place)
        return file

    def beside(self, file: OpenFile) -> list[Path]:
        """The scenarios in a file's folder."""
        with suppress(OSError):
            return sorted(p for p in file.place.parent.glob("*.toml") if p.is_file())[:MOST_LISTED]
        return []

    async def answer(self, what: str, document: Mapping[str, Any], file: OpenFile, known: list[str]) -> Answer:
        """One of the quick answers; whoever takes too long is stopped."""
        future = self.quick.submit(answered, what, dict(document), str(file.place), known, _told_in())
        try:
            return await asyncio.wait_for(asyncio.wrap_future(future), LONGEST)
        except TimeoutError:
            self.quick.shutdown(wait=False)
            self.quick = WorkerPool(1)
            raise ScenarioError(
                [Problem("", f"this took longer than {LONGEST:.0f} s and was stopped; undo the last change")]
            ) from None

    async def work_out(
        self, what: str, document: Mapping[str, Any], file: OpenFile, more: Mapping[str, Any], ticket: str
    ) -> Answer:
        """One of the answers in the background, the share done written under a ticket."""
        share = self.shares / ticket if ticket.isalnum() and len(ticket) <= 32 else None
        future = self.slow.submit(
            worked_out,
            what,
            dict(document),
            str(file.place),
            dict(more),
            None if share is None else str(share),
            _told_in(),
        )
        try:
            return await asyncio.wrap_future(future)
        finally:
            if share is not None:
                share.unlink(missing_ok=True)

    def share(self, ticket: str) -> float | None:
        """How much is done of what runs under a ticket."""
        if not ticket.isalnum() or len(ticket) > 32:
            return None
        with suppress(OSError, ValueError):
            return float((self.shares / ticket).read_text(encoding="ascii"))
        return None

    def drop_work(self) -> None:
        """The set-up has moved on: what is worked out in the background is of no more use."""
        self.slow.shutdown(wait=False)
        self.slow = WorkerPool(1)

    def confined(self, document: Mapping[str, Any], file: OpenFile) -> None:
        """Only files that lie where the user opened or dropped them are read. Raises ScenarioError."""
        plate, said = document.get("plate"), file.document.get("plate")
        for key, name, own in (
            ("known", document.get("known"), file.document.get("known")),
            ("plate.file", _file_in(plate), _file_in(said)),
        ):
            if isinstance(name, str) and name != own and not self._within(name, file.place.parent):
                raise ScenarioError(
                    [Problem("", "only files in the folder of the scenario are read; drop the file on the page", key)]
                )

    def _within(self, name: str, folder: Path) -> bool:
        with suppress(OSError, ValueError, RuntimeError):
            place = (folder / name).resolve()
            return any(place.is_relative_to(known.resolve()) for known in (folder, self.shelf.drawings))
        return False

    def saved(self, file: OpenFile, document: Mapping[str, Any], name: str | None = None) -> OpenFile:
        """Write a set-up to its file, or to another name in its folder; comments are kept.

        A drawing that was dropped in is put beside it. Raises ScenarioError where it cannot be written.
        """
        place = file.place if name is None else file.place.with_name(scenario_name(name))
        text = text_of(self._with_drawing_beside(document, place.parent), file.text)
        draft = place.with_name(f".{place.name}.draft")
        try:
            draft.write_text(text, encoding="utf-8", newline="\n")
            opened(draft)  # what could not be opened again is not written
            draft.replace(place)
        except ScenarioError:
            draft.unlink(missing_ok=True)
            raise
        except OSError as why:
            draft.unlink(missing_ok=True)
            reason = why.strerror or str(why)
            raise ScenarioError([Problem("", f"{place.name} cannot be written: {reason}")]) from None
        self.shelf.drop_draft(file.place)
        if place == file.place:
            file.text, file.document = text, dict(opened(place)[0].document)
            return file
        return self.take(OpenFile.read(place))

    def _with_drawing_beside(self, document: Mapping[str, Any], folder: Path) -> dict[str, Any]:
        plate = document.get("plate")
        name = _file_in(plate)
        if not isinstance(plate, Mapping) or name is None or not Path(name).is_relative_to(self.shelf.drawings):
            return dict(document)
        try:
            content = Path(name).read_bytes()
            target = folder / Path(name).name
            number = 2
            while target.exists() and target.read_bytes() != content:
                target = folder / f"{Path(name).stem}-{number}{Path(name).suffix}"
                number += 1
            target.write_bytes(content)
        except OSError as why:
            raise ScenarioError(
                [Problem("", f"the drawing cannot be put beside the scenario: {why.strerror or why}", "plate.file")]
            ) from None
        return {**document, "plate": {**plate, "file": target.name}}

    def is_changed(self, file: OpenFile, base: Any) -> bool:
        """Whether the file on disk is another than the page set out from (``base``, a digest)."""
        try:
            now = digest_of(file.place.read_text(encoding="utf-8"))
        except (OSError, UnicodeDecodeError):
            return file.place.exists()
        return bool(now != base)


def _told_in() -> ToldIn:
    now = reader()
    return cast(Language, now.language), now.units


def _file_in(plate: Any) -> str | None:
    name = plate.get("file") if isinstance(plate, Mapping) else None
    return name if isinstance(name, str) else None


def scenario_name(name: str) -> str:
    """The file that a user's word for it names. Raises ScenarioError for none."""
    found = harmless(name)
    if not found:
        raise ScenarioError([Problem("", "the file needs a name, such as student.toml", "name")])
    return found if found.lower().endswith(".toml") else f"{found}.toml"
