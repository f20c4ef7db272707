"""A plate searched for a group: what was searched, what can be had, and the one chosen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Final

import numpy as np

from scenarios.by_key import told_otherwise
from scenarios.plate_file import PlateFile
from scenarios.understood import understood_text
from sim.answers.plate.bench import BenchPlate
from sim.answers.plate.design.brief import Brief
from sim.answers.plate.design.search import Searched
from sim.answers.plate.design.trial import Trial
from sim.answers.plate.dimensions import measure_of
from sim.said import word
from sim.telling.record import Told
from sim.telling.share_band import share_band
from sim.telling.written_file import WrittenFile

RULE: Final = word(
    "the plate that suits most of the group; of those that suit as many, the one that turns the diver least, then "
    "the lightest"
)
LIMITS: Final = word(
    "no check on the drawing fails that the plate at the start meets, and none fails by more; a plate suits somebody "
    "when, at some height that keeps the waist strap on the waist, nothing of the fit fails, with the bands set for "
    "those who need it"
)


@dataclass(frozen=True)
class SearchedDimension:
    """One dimension that was searched."""

    dimension: Annotated[str, Told("which one")]
    unit: Annotated[str, Told('"cm", "mm" or "degrees"')]
    start: Annotated[float, Told("of the plate at the start, in that unit")]
    least: Annotated[float, Told("searched, in that unit")]
    greatest: Annotated[float, Told("searched, in that unit")]


@dataclass(frozen=True)
class PlateFound:
    """A plate worked out in full."""

    dimensions: Annotated[Mapping[str, float], Told("of those searched, in their units", names="<dimension>")]
    mass: Annotated[float, Told("of the bare plate", "kg")]
    share: Annotated[float, Told("of the group, whom it suits", "1")]
    share_band: Annotated[tuple[float, float], Told("least, greatest: what it may be for all such people, 90 %", "1")]
    start_moment: Annotated[
        float, Told("what turns the diver of the scenario held flat", "N m", plus="turns head-up")
    ]
    end_moment: Annotated[float, Told("the same at 50 bar", "N m", plus="turns head-up")]
    stress: Annotated[float | None, Told("greatest in the plate", "Pa", none="nobody asked")]


@dataclass(frozen=True, kw_only=True)
class DesignTold:
    """What the search found."""

    who: Annotated[str, Told("the group")]
    wears: Annotated[str, Told("what they wear besides the plate")]
    searched: Annotated[
        tuple[SearchedDimension, ...], Told("each dimension searched; slots go along with the outline")
    ]
    most_mass: Annotated[float | None, Told("allowed", "kg", none="any")]
    most_stress: Annotated[float | None, Told("allowed", "Pa", none="any")]
    limits: Annotated[str, Told("what else limits the search")] = LIMITS
    rule: Annotated[str, Told("by which one is chosen")] = RULE
    worked_out: Annotated[int, Told("plates worked out in full on everybody of the group")]
    start: Annotated[PlateFound, Told("the plate at the start")]
    front: Annotated[
        tuple[PlateFound, ...],
        Told("those of which none is better in mass, share and moment at once, lightest first"),
    ]
    chosen: Annotated[PlateFound | None, Told("the one written", none="no plate keeps the limits")]
    off: Annotated[
        Mapping[str, float | None],
        Told("RMS of the last guesses against what came out: mass in kg, share, moment in N m", names="<objective>"),
    ]
    file_text: Annotated[str | None, Told("the plate chosen as a file that opens again", none="there is none")]
    drawing_text: Annotated[
        str | None,
        Told("the drawing (DXF) that the file names, drawn anew", none="it names none, or the one searched from"),
    ] = None
    file: Annotated[WrittenFile | None, Told("the plate chosen", left_out=True)] = None
    dxf: Annotated[WrittenFile | None, Told("its flat pattern", left_out=True)] = None
    picture: Annotated[WrittenFile | None, Told("what can be had, drawn", left_out=True)] = None


def design_told(
    brief: Brief, found: Searched, wears: str, folder: Path | None = None, drawing: Path | None = None
) -> DesignTold:
    """The record of a search.

    folder : where the file of the plate chosen will lie, if not beside the one searched from
    drawing : where the drawing will lie that it names, if the plate is drawn anew; "plate.dxf" beside it if left out
    """
    chosen = None if found.chosen is None else found.chosen.built.bench
    anew = chosen is not None and is_drawn_anew(brief, chosen)
    folder = folder or brief.dimensions.bench.path.parent
    drawing = drawing or folder / "plate.dxf"
    low, high = brief.ends
    names = ("mass", "share", "moment")
    return DesignTold(
        who=brief.who,
        wears=wears,
        searched=tuple(
            SearchedDimension(n, how.unit, how.scale * brief.dimensions.now[n], how.scale * a, how.scale * b)
            for n, a, b in zip(brief.names, low.tolist(), high.tolist(), strict=True)
            for how in (measure_of(n),)
        ),
        most_mass=brief.most_mass,
        most_stress=brief.most_stress,
        worked_out=len(found.every),
        start=plate_found(found.start),
        front=tuple(plate_found(t) for t in sorted(found.front, key=lambda t: t.built.mass)),
        chosen=None if found.chosen is None else plate_found(found.chosen),
        file_text=None
        if chosen is None
        else plate_text_of(
            chosen, f"{brief.dimensions.bench.name}, searched", folder, drawing.absolute() if anew else None
        ),
        drawing_text=chosen.table.file.read_text(encoding="utf-8")
        if chosen is not None and chosen.table.file is not None and anew
        else None,
        off={n: float(v) if np.isfinite(v) else None for n, v in zip(names, found.off.tolist(), strict=True)},
    )


def plate_found(trial: Trial) -> PlateFound:
    """The record of one plate."""
    count = len(trial.suited)
    return PlateFound(
        dimensions={name: measure_of(name).scale * value for name, value in trial.built.values.items()},
        mass=trial.built.mass,
        share=trial.share,
        share_band=share_band(int(trial.suited.sum()), count),
        start_moment=trial.moments[0],
        end_moment=trial.moments[1],
        stress=None if np.isnan(trial.built.stress) else trial.built.stress,
    )


def is_drawn_anew(brief: Brief, bench: BenchPlate) -> bool:
    """Whether a plate of the search has a drawing of its own."""
    return bench.table.file != brief.dimensions.bench.table.file


def plate_text_of(bench: BenchPlate, title: str, folder: Path | None = None, drawing: Path | None = None) -> str:
    """A file with [plate] that opens again as the very plate.

    folder : it will lie there, that of the bench's file if left out
    drawing : to be named in place of the one that the plate was read from
    """
    table = bench.table if drawing is None else told_otherwise(bench.table, "file", drawing)
    content = PlateFile(title=title, plate=table, water=bench.read.water)
    return understood_text(content, folder or bench.path.parent)
