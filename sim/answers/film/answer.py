"""What is told of a film that was made."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final

from sim.answers.film.footage import RATE, Caption, Footage, What
from sim.telling.caution import CAUTION
from sim.telling.made_by import MadeBy
from sim.telling.record import Told
from sim.telling.written_file import WrittenFile

FORMAT: Final = "hangflat.film/1"


@dataclass(frozen=True, kw_only=True)
class FilmAnswer:
    """``hangflat.film/1``: what a film shows, its size, what is said when, its files."""

    format: Annotated[str, Told(FORMAT)] = FORMAT
    made_by: Annotated[MadeBy | None, Told("by which program and from what", left_out=True)] = None
    shows: Annotated[What, Told("what is filmed: let-go, emptying, sweep or correction")]
    title: Annotated[str, Told("what stands above the pictures")]
    under: Annotated[str, Told("the line below the title")]
    seconds: Annotated[float, Told("how long it lasts", "s")]
    pictures: Annotated[int, Told("how many pictures it has")]
    rate: Annotated[int, Told("pictures a second; of a GIF half as many")]
    width: Annotated[int, Told("pixels across; of a GIF half as many")]
    height: Annotated[int, Told("pixels down; of a GIF half as many")]
    captions: Annotated[tuple[Caption, ...], Told("what is said, and when")]
    files: Annotated[tuple[WrittenFile, ...], Told("what was written")]
    caution: Annotated[str, Told("what the film is good for")] = CAUTION


def film_answer(footage: Footage, size: tuple[int, int], files: Sequence[str]) -> FilmAnswer:
    """Of a footage as it was written to ``files``."""
    return FilmAnswer(
        shows=footage.what, title=footage.title, under=footage.under, seconds=footage.seconds,
        pictures=len(footage.pictures), rate=RATE, width=size[0], height=size[1], captions=footage.captions,
        files=tuple(WrittenFile(file) for file in files),
    )  # fmt: skip
