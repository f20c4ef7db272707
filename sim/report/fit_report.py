"""Everything that ``hangflat fit`` says of one diver with one or several plates."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from scenarios.back_gear import DRAWING_KINDS
from scenarios.errors import Problem, ScenarioError
from scenarios.settings import SAME_THING, setting_of
from sim.assembly.assembled import Assembled
from sim.assembly.from_file import assembled_from_file, wearer_from_file
from sim.assembly.scenario_rig import Wearer
from sim.fit.answer import FitAnswer, fit_answer
from sim.fit.set_up import set_ups
from sim.report.fit_set_up import SetUpFit, set_up_settings

HEIGHTS: Final = tuple(SAME_THING)  # keys, either of which says how low a rig hangs


@dataclass(frozen=True, eq=False)
class PlateFit:
    """One plate on the diver: its name, the rig with it, the answers, and how to wear it (None without harness)."""

    name: str
    assembled: Assembled
    answer: FitAnswer
    set_up: SetUpFit | None


def fit_report(path: Path, settings: Sequence[str] = (), plates: Sequence[str] = ()) -> tuple[PlateFit, ...]:
    """Answers for a scenario file with its own plate, or with each of ``plates`` in its place.

    A plate is a catalogue entry or the path of a drawing; ``; KEY=VALUE`` behind it sets keys of the table [plate].
    Raises ScenarioError for input that cannot be read, for a parts file, and for a diver without a plate.
    """
    wearer = wearer_from_file(path, settings)
    if not plates:
        return (_fitted(path, "the plate of the file", settings, wearer),)
    return tuple(
        _fitted(path, name, (*settings, *plate_settings(plate)), wearer)
        for plate, name in zip(plates, plate_names(plates), strict=True)
    )


def plate_settings(plate: str) -> tuple[str, ...]:
    """The ``--set`` what-ifs that put a plate on: "small steel; mass=2.2 kg", "mine.dxf; unit=mm".

    A drawing takes what is not set from the file's own table [plate], a catalogue entry takes its place.
    """
    name, *keys = (part.strip() for part in plate.split(";"))
    first = [f"plate.file={json.dumps(str(Path(name).resolve()))}"] if _is_drawing(name) else _entry(name, keys)
    return (*first, *(f"plate.{key}" for key in keys if key))


def _entry(name: str, keys: Sequence[str]) -> list[str]:
    """A catalogue entry: as a table when more is set in it."""
    return [f"plate={name}"] if not any(keys) else ["plate={}", f"plate.catalogue={name}"]


def _is_drawing(name: str) -> bool:
    return Path(name).suffix.lower() in DRAWING_KINDS


def plate_names(plates: Sequence[str]) -> list[str]:
    """Names for reports, in the order of ``plates``.

    Of a drawing its file's name alone, with the keys that tell it from others of that name.
    """
    short = [_short(plate) for plate in plates]
    keys = [{key.strip() for key in plate.split(";")[1:] if key.strip()} for plate in plates]
    told = []
    for plate, name, own in zip(plates, short, keys, strict=True):
        alike = [k for k, other in zip(keys, short, strict=True) if other == name]
        apart = sorted(k for k in own if any(k not in other for other in alike))
        told.append("; ".join([name, *apart]) if _is_drawing(plate.split(";")[0].strip()) else name)
    return told if len(set(told)) == len(told) else list(plates)


def _short(plate: str) -> str:
    """A plate's name for reports: a drawing's without its folder and keys."""
    name = plate.split(";")[0].strip()
    return Path(name).name if _is_drawing(name) else plate


def _fitted(path: Path, name: str, settings: Sequence[str], wearer: Wearer | None) -> PlateFit:
    assembled = worn_from_file(path, settings, wearer)
    answer = fit_answer(assembled)
    return PlateFit(name, assembled, answer, _set_up(path, settings, wearer, assembled, answer))


def _set_up(
    path: Path, settings: Sequence[str], wearer: Wearer | None, assembled: Assembled, answer: FitAnswer
) -> SetUpFit | None:
    """The nearest set-up that will do, with all its answers; None without a harness to adjust."""
    if not any(part.kind == "harness" for part in assembled.rig.parts):
        return None
    found = set_ups(answer.worn)
    if found.nearest is None or found.nearest is found.as_worn:
        return SetUpFit(found, answer, None if found.nearest is None else answer)
    changed = worn_from_file(
        path, (*without_height(settings), *set_up_settings(found.nearest, found.as_worn)), wearer
    )
    return SetUpFit(found, answer, fit_answer(changed))


def without_height(settings: Sequence[str]) -> tuple[str, ...]:
    """The what-ifs less those that say how low the rig hangs, which another is about to say."""
    return tuple(s for s in settings if setting_of(s).path not in HEIGHTS)


def worn_from_file(path: Path, settings: Sequence[str], wearer: Wearer | None = None) -> Assembled:
    """A rig with a person and a plate. Raises ScenarioError for any other, saying what is missing."""
    assembled = assembled_from_file(path, settings, wearer)
    if assembled.looks is None:
        raise ScenarioError([Problem(str(path), "fit needs a person; a parts file has none: give a scenario file")])
    if assembled.worn is None:
        message = 'fit needs a plate; add [plate] with catalogue = "standard steel", or give --plate'
        raise ScenarioError([Problem(str(path), message, "plate")])
    return assembled
