"""What is written to files for others: numbers, hand-outs, films."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from hangflat.origins import answer_made_by

if TYPE_CHECKING:
    from sim.answers.film.answer import FilmAnswer
    from sim.case import Case


def write_parts(case: Case, path: str | os.PathLike[str]) -> Path:
    """Write the case's rig as numbers, as a parts file (TOML): for other programs, for checks, to go on from.

    Lengths are in m, body axes; every other quantity carries its unit. It is read again to the same statics, and
    holds neither person nor shapes. The path is returned. Raises ScenarioError for what cannot be built.
    """
    place = Path(path)
    place.write_text(case.as_parts(), encoding="utf-8", newline="\n")
    return place


def write_sheet(
    cases: Case | Sequence[Case], path: str | os.PathLike[str], paper: Literal["a4", "letter"] = "a4"
) -> Path:
    """Write a hand-out to print: two pages of one diver, two divers compared, or up to 40 of a class as one document.

    It is a tagged PDF with its fonts in it. The path is returned.
    Raises ScenarioError for what cannot be built, ValueError for another number of cases, and NoTypesetterError
    without the extra ``print``.
    """
    from sim.answers.sheet.handout import handout
    from sim.answers.sheet.typeset import sheet_pdf, typesetter
    from sim.drawing.stamp import stamped

    typesetter()
    place, divers = Path(path), [cases] if not isinstance(cases, Sequence) else cases
    with stamped(answer_made_by(divers)):
        place.write_bytes(sheet_pdf(handout(divers), paper))
    return place


def write_film(
    case: Case, paths: str | os.PathLike[str] | Sequence[str | os.PathLike[str]],
    show: Literal["let-go", "emptying", "sweep", "correction"] = "let-go", *, sweep: str = "",
    roll: Literal["held", "free"] = "held", speed: float = 1.0, seconds: float | None = None,
    size: tuple[int, int] = (1280, 720),
) -> FilmAnswer:  # fmt: skip
    """Film the diver let go from flat, as the cylinders empty, as one choice changes, or before and after a change.

    paths : by their endings: .mp4 (needs the extra ``film``), .gif, .png (one picture), .srt or .vtt (the captions,
        which then do not stand in the pictures)
    sweep : for "sweep", a length that ``fit --sweep`` knows, or a key: "cylinders.pressure; from=200 bar; to=50 bar"
    speed : the diver's seconds in one of the film's;  seconds : of film;  size : (width, height) in pixels, both even
    Raises ScenarioError for what cannot be built or has nothing of the kind, ValueError for a wrong ``sweep``, ending
    or size, NoRendererError without a graphics library, NoEncoderError without PyAV for an .mp4.
    """
    from sim.answers.film.answer import film_answer
    from sim.answers.film.films import footage_of
    from sim.answers.film.written import ENDINGS, write_film
    from sim.drawing.stamp import stamped

    places = [Path(p) for p in ([paths] if isinstance(paths, str | os.PathLike) else paths)]
    kinds = {place.suffix.lower(): place for place in places}
    if not kinds or len(kinds) < len(places) or not kinds.keys() <= set(ENDINGS):
        raise ValueError(f"a film's files end in {', '.join(ENDINGS)}, each once; got {', '.join(map(str, places))}")
    if size[0] % 2 or size[1] % 2:
        raise ValueError(f"a film has even numbers of pixels across and down, got {size[0]} x {size[1]}")
    footage = footage_of(case, show, sweep=sweep, roll=roll, speed=speed, seconds=seconds)
    with stamped(answer_made_by([case])):
        write_film(footage, kinds, size)
    return film_answer(footage, size, [str(place) for place in places])
