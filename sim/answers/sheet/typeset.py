"""From a hand-out to a tagged PDF, by typst: values go in as data beside the template, never as part of its text."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from importlib import resources
from pathlib import Path
from tempfile import TemporaryDirectory
from types import ModuleType
from typing import Any, Final, Literal

import numpy as np

from meshes.extra_packages import how_to_get
from sim.answers.fit.drawn.seen import fit_scene
from sim.answers.fit.drawn.views_alone import draw_fit_views
from sim.answers.settle.drawn.settled import scene_at, scene_of
from sim.answers.sheet.handout import DiverAnswers, Handout
from sim.answers.sheet.overview import compared_words, rows_of
from sim.answers.sheet.pictures import draw_flat, draw_rest
from sim.answers.sheet.template_words import template_words
from sim.answers.sheet.words import diver_words, fit_alt, flat_alt, rest_alt
from sim.drawing.stamp import stamp
from sim.telling.caution import told_caution
from sim.telling.language import reader

Paper = Literal["a4", "letter"]
TEMPLATE: Final = "sheet.typ"
PAPERS: Final[dict[Paper, str]] = {"a4": "a4", "letter": "us-letter"}
STANDARD: Final = "ua-1"  # PDF/UA-1, for readers of the screen: ISO 14289-1
UP: Final = np.array([0.0, 0.0, 1.0])


class NoTypesetterError(Exception):
    """typst is not there; the message says how to get it."""


def typesetter() -> ModuleType:
    """typst. Raises NoTypesetterError."""
    try:
        import typst
    except ImportError:
        raise NoTypesetterError(f"this needs typst, which is not installed; {how_to_get('print')}") from None
    return typst


def sheet_pdf(told: Handout, paper: Paper = "a4", progress: Callable[[float], None] = lambda _: None) -> bytes:
    """The hand-out as the bytes of a PDF/UA-1 file, its fonts embedded; the same hand-out gives the same bytes.

    progress : told the share done, 0 to 1
    Raises NoTypesetterError.
    """
    typst = typesetter()
    with TemporaryDirectory(prefix="hangflat-sheet-") as place:
        folder = Path(place)
        data = sheet_data(told, paper) | {"divers": list(divers_data(told.divers, folder, progress))}
        (folder / "sheet.json").write_text(json.dumps(data, allow_nan=False), encoding="utf-8")
        source = folder / TEMPLATE
        source.write_text(resources.files(__package__).joinpath(TEMPLATE).read_text("utf-8"), encoding="utf-8")
        return _set(typst, source)


def _set(typst: ModuleType, source: Path) -> bytes:
    """The PDF of a template and what lies beside it; letters that its own fonts lack are taken from the system's."""
    from matplotlib import get_data_path

    pdf: bytes = typst.compile(
        str(source),
        root=str(source.parent),
        format="pdf",
        pdf_standards=STANDARD,
        font_paths=[str(Path(get_data_path()) / "fonts" / "ttf")],
    )
    return pdf


def sheet_data(told: Handout, paper: Paper) -> dict[str, Any]:
    """What the template reads besides the divers themselves."""
    made = stamp("pdf")
    pair = told.comparison
    return {
        "paper": PAPERS[paper],
        "caution": told_caution(),
        "language": reader().language,
        "words": template_words(),
        "made": made["Creator"],
        "files": made.get("Subject", ""),
        "digests": made.get("Keywords", ""),
        "overview": rows_of(told.divers) if len(told.divers) > 1 else [],
        "compared": None if pair is None else compared_words(pair),
    }


def divers_data(
    divers: Sequence[DiverAnswers], folder: Path, progress: Callable[[float], None]
) -> Iterator[dict[str, Any]]:
    """Words of each diver, pictures drawn into the folder; the fit of two compared is drawn small, without words."""
    for number, diver in enumerate(divers):
        yield diver_words(diver) | {"pictures": _pictures(diver, number, folder, small=len(divers) == 2)}
        progress((number + 1) / len(divers))


def _pictures(diver: DiverAnswers, number: int, folder: Path, *, small: bool) -> dict[str, dict[str, str] | None]:
    flat, rest, fit = (f"{name}-{number}.svg" for name in ("flat", "rest", "fit"))
    draw_flat(scene_at(diver.settle, UP), folder / flat)
    draw_rest(scene_of(diver.settle), folder / rest)
    if diver.fit is not None:
        draw_fit_views(fit_scene(diver.case.assembled, diver.fit), folder / fit, named=not small)
    return {
        "flat": {"file": flat, "alt": flat_alt(diver)},
        "rest": {"file": rest, "alt": rest_alt(diver)},
        "fit": None if diver.fit is None else {"file": fit, "alt": fit_alt(diver, named=not small)},
    }
