"""The plates that ``--plate`` asks for, as what-ifs on the scenario file.

``--plate "DRAWING; KEY=VALUE; ..."`` is the table [plate] with file = DRAWING and these keys, read by the same code.
Of the file's own plate it keeps only what it is made of, where that is not said, which is told; all of it where
DRAWING is the file's own.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

from scenarios.back_gear import DRAWING_KINDS, FLAT_DRAWINGS, OF_FLAT_DRAWINGS, plate_table
from scenarios.errors import Problem, ScenarioError, shortened
from scenarios.settings import Setting, setting_of, setting_to
from sim.assembly.assembled import Assembled
from sim.case import Case
from sim.said import word

OWN_PLATE: Final = word("the plate of the file")
MADE_OF: Final = ("material", "thickness", "density")


@dataclass(frozen=True)
class AskedPlate:
    """One plate to be laid on the diver.

    name : for reports;  settings : what puts it on
    taken : keys with values that were not given and are those of the file's own plate, in words
    """

    name: str
    settings: tuple[Setting, ...]
    taken: tuple[str, ...] = ()


def asked_plates(case: Case, plates: Sequence[str]) -> tuple[AskedPlate, ...]:
    """Each of ``plates``, or the file's own where there is none. Raises ScenarioError for a key without value."""
    if not plates:
        return (AskedPlate(OWN_PLATE, ()),)
    own = case.told.document.get("plate")
    return tuple(
        _asked(plate, name, own, case.path.parent) for plate, name in zip(plates, plate_names(plates), strict=True)
    )


def _asked(plate: str, name: str, own: Any, folder: Path) -> AskedPlate:
    first, *keys = (part.strip() for part in plate.split(";"))
    keys = [key for key in keys if key]
    for key in keys:
        if not key.partition("=")[0].strip() or "=" not in key:
            message = f'"{shortened(key)}" is not understood; write KEY=VALUE, like thickness=3 mm'
            raise ScenarioError([Problem(f"--plate {name}", message)])
    put = tuple(setting_of(f"plate.{key}") for key in keys)
    if not _is_drawing(first):
        return AskedPlate(name, (*_entry(first, keys), *put))
    if isinstance(own, dict) and isinstance(own.get("file"), str) and _same(folder / own["file"], Path(first)):
        return AskedPlate(name, put)
    given = {str(setting.path[1]) for setting in put}
    taken = {} if "catalogue" in given else _made_of(own, given, Path(first).suffix.lower() in FLAT_DRAWINGS)
    table = {"file": str(Path(first).resolve()), **taken}
    return AskedPlate(name, (setting_to("plate", table), *put), tuple(f"{k} {v}" for k, v in taken.items()))


def _made_of(own: Any, given: set[str], flat: bool) -> Mapping[str, Any]:
    """What the file's own plate is made of, as far as that is not given; a density goes with its material."""
    try:
        table = plate_table(own)
    except ValueError:  # an entry that the catalogue does not have: it is not worn here
        return {}
    if not isinstance(table, dict):
        return {}
    closed = given | ({"density"} if "material" in given else set()) | (set() if flat else {*OF_FLAT_DRAWINGS})
    return {key: table[key] for key in MADE_OF if key in table and key not in closed}


def _same(own: Path, other: Path) -> bool:
    try:
        return own.resolve() == other.resolve()
    except (OSError, ValueError, RuntimeError):  # no path at all, or one that goes round in a circle
        return False


def _entry(name: str, keys: Sequence[str]) -> list[Setting]:
    """A catalogue entry: as a table when more is set in it."""
    entry = setting_of(f"plate={name}")
    return [setting_to("plate", {}), setting_to("plate.catalogue", entry.value)] if keys else [entry]


def _is_drawing(name: str) -> bool:
    return Path(name).suffix.lower() in DRAWING_KINDS


def wearing_plate(case: Case) -> Assembled:
    """A rig with a person and a plate. Raises ScenarioError for any other, saying what is missing."""
    case.scenario("fit needs a person; a parts file has none: give a scenario file")
    if case.worn is None:
        message = 'fit needs a plate; add [plate] with catalogue = "standard steel", or give --plate'
        raise ScenarioError([Problem(str(case.path), message, "plate")])
    return case.assembled


@contextmanager
def blaming_plate(plate: AskedPlate) -> Iterator[None]:
    """Name "--plate" in problems that come of the what-ifs it stands for."""
    try:
        yield
    except ScenarioError as error:
        own = {f"--set {shortened(setting.text)}" for setting in plate.settings}
        raise ScenarioError(
            [replace(p, place=f"--plate {plate.name}") if p.place in own else p for p in error.problems]
        ) from None


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
