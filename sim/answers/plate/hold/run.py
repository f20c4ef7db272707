"""Plates carried ashore, one beside another: what each is made of and carries, the work shared between processes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from importlib.util import find_spec
from pathlib import Path
from typing import Final

import numpy as np

from meshes.extra_packages import how_to_get
from meshes.plate.back_plate import Pattern, Plate
from meshes.plate.edges import edges_of
from scenarios.back_gear import Plate as PlateTable
from scenarios.catalogue.lookup import entries
from scenarios.cylinders import Cylinders
from scenarios.errors import Problem, ScenarioError
from scenarios.materials import OTHER, Material, material
from sim.answers.fit.people_run import MOST_WORKERS, cores
from sim.answers.fit.plates import OWN_PLATE
from sim.answers.plate.bench import BenchPlate
from sim.answers.plate.hold.carried import Carried, carried_by
from sim.answers.plate.hold.held import PlateHeld, plate_held
from sim.answers.plate.hold.uneven import FixedMass, Uneven
from sim.answers.plate.hold.ways import VEHICLE, WAYS, Way, WayName
from sim.answers.plate.laid import laid_beside, wearing
from sim.assembly.back_plate import plate_from
from sim.case import Case
from sim.said import word
from sim.shells.shell import Sheet
from sim.worker_pool import worker_pool

ROUGH: Final = 2  # meshes of a plate that is one of many
SECONDS: Final = 7.0  # of one plate, about: one core of the day
NO_TWINS: Final = word(
    "whether a plate holds is a question of the cylinders on it; a parts file does not say: give a scenario",
    sense="error",
)


class NoElementsError(Exception):
    """scikit-fem is not there; the message says how to get it."""


Watched = Callable[[Iterable["HeldPlate"], int, float, int], Iterable["HeldPlate"]]


@dataclass(frozen=True, eq=False)
class SheetPlate:
    """A plate whose sheet can be worked out: its name, what it is made of, and the cylinders on it.

    fixed : to the plate
    """

    name: str
    plate: Plate
    made_of: Material
    carried: Carried
    fixed: tuple[FixedMass, ...] = ()

    @property
    def sheet(self) -> Sheet:
        """The uniform sheet that bends alike."""
        return self._of(self.plate.thickness)

    @property
    def uneven(self) -> Uneven:
        """Where it is another sheet, and what is fixed to it."""
        return Uneven(tuple((zone, self._of(zone.thickness)) for zone in self.plate.zones), self.fixed)

    def _of(self, thickness: float) -> Sheet:
        bears = self.made_of.bending_strength(thickness) / self.strength
        return Sheet(thickness, self.made_of.bending_stiffness(thickness), self.made_of.poisson, bears=bears)

    @property
    def density(self) -> float:
        """Of that sheet [kg/m^3]."""
        return self.plate.solid.mass / self.plate.solid.volume

    @property
    def strength(self) -> float:
        """Stress [Pa] at that sheet's face at which it is spoilt."""
        return self.made_of.bending_strength(self.plate.thickness)


@dataclass(frozen=True, eq=False)
class HeldPlate:
    """A plate, and what it comes to when it is carried."""

    of: SheetPlate
    held: PlateHeld


@dataclass(frozen=True, eq=False)
class HeldPlates:
    """The plate asked about first, the others behind it; all carry ``cylinders`` in the same ``ways``."""

    plates: tuple[HeldPlate, ...]
    cylinders: Cylinders
    ways: tuple[Way, ...]


def plates_held(
    bench: BenchPlate,
    beside: Sequence[str] = (),
    *,
    scenario: Path | None = None,
    vehicle: float = VEHICLE,
    watched: Watched | None = None,
) -> HeldPlates:
    """The plate on the bench beside others; those of the catalogue where none are named.

    scenario : whose cylinders are carried, see ``wearing``;  vehicle : deceleration in times g
    watched : called with the plates, their number, the seconds they will take and the workers; gives them on
    Raises ScenarioError for a plate of unknown stiffness, one given as a solid, and where nothing is carried, and
    NoElementsError without the library of finite elements.
    """
    case = wearing(bench, scenario)
    own = _sheet_plate(bench.name, bench.table, bench.plate, _cylinders(case))
    return _held_beside(own, case, beside, vehicle, None, watched)


def case_held(case: Case, beside: Sequence[str] = (), *, vehicle: float = VEHICLE, workers: int = 1) -> HeldPlates:
    """As ``plates_held``, of the plate and cylinders of a case; raises ScenarioError where it has none."""
    table, cylinders = case.scenario(NO_TWINS).plate, _cylinders(case)
    if table is None:
        raise ScenarioError([Problem(str(case.path), "there is no plate to hold anything", "plate")])
    own = _sheet_plate(OWN_PLATE, table, plate_from(table), cylinders)
    return _held_beside(own, case, beside, vehicle, workers, None)


def check_elements() -> None:
    """Raises NoElementsError without the library of finite elements."""
    if find_spec("skfem") is None:
        raise NoElementsError(f"this needs scikit-fem, which is not installed; {how_to_get('hold')}")


def greatest_stress(
    bench: BenchPlate, *, scenario: Path | None = None, ways: Sequence[WayName] = tuple(WAYS)
) -> float:
    """[Pa] in any of the ways of carrying, on two meshes: within about 5 %, in half the time.

    Raises ScenarioError as ``plates_held`` does.
    """
    own = _sheet_plate(bench.name, bench.table, bench.plate, _cylinders(wearing(bench, scenario)))
    asked = [WAYS[name] for name in ways]
    try:
        held = plate_held(own.plate.pattern, own.sheet, own.density, own.carried, asked, ROUGH, own.uneven)
    except ValueError as error:
        raise ScenarioError([Problem(own.name, str(error), "plate")]) from error
    return float(held.peaks[-1].max())


def _held_beside(
    own: SheetPlate, case: Case, beside: Sequence[str], vehicle: float, workers: int | None, watched: Watched | None
) -> HeldPlates:
    """``workers`` : processes; by default as many as there are cores, up to eight."""
    check_elements()
    cylinders = _cylinders(case)
    asked = [own, *_others(case, own.name, beside, cylinders)]
    stated = replace(WAYS["vehicle"], load=vehicle, source=word("stated"))
    ways = tuple(stated if way.name == "vehicle" and vehicle != way.load else way for way in WAYS.values())
    count = min(cores(), MOST_WORKERS, len(asked)) if workers is None else workers
    jobs = [(one.plate.pattern, one.sheet, one.density, one.carried, ways, one.uneven) for one in asked]
    with worker_pool(count) as pool:
        found: Iterable[HeldPlate] = _named(map(_held, jobs) if pool is None else pool.map(_held, jobs), asked)
        if watched is not None:
            found = watched(found, len(asked), SECONDS * -(-len(asked) // count), count)
        return HeldPlates(tuple(found), cylinders, ways)


def _cylinders(case: Case) -> Cylinders:
    cylinders = case.scenario(NO_TWINS).cylinders
    if cylinders is None:
        message = "there are no cylinders on the back; give a scenario with [cylinders], as --wearing FILE"
        raise ScenarioError([Problem(str(case.path), message, "cylinders")])
    return cylinders


def _others(case: Case, own: str, beside: Sequence[str], cylinders: Cylinders) -> Iterator[SheetPlate]:
    names = beside or [name for name in entries("plate") if name != own]
    for laid in laid_beside(case, names):
        table = laid.case.scenario(NO_TWINS).plate
        if table is not None:
            yield _sheet_plate(laid.name, table, plate_from(table), cylinders)


def _sheet_plate(name: str, table: PlateTable, plate: Plate, cylinders: Cylinders) -> SheetPlate:
    """Raises ScenarioError for a plate of which too little is known."""
    if not plate.thickness:
        message = (
            "this solid could not be unfolded into a flat sheet. Taken are bent sheets: of one thickness all over, "
            "each bend straight from top to bottom, cut edges square to the faces, nothing welded or screwed on. "
            "Export the sheet alone, before edges are rounded and ribs or bosses are added; or give its flat drawing "
            "(DXF, SVG) with thickness, material and bends"
        )
        raise ScenarioError([Problem(name, message, "plate.file")])
    if table.material == OTHER:
        message = (
            'the stiffness and strength of the material "other" are not known; name one that comes near: hangflat '
            "catalogue materials lists them"
        )
        raise ScenarioError([Problem(name, message, "plate.material")])
    try:
        return SheetPlate(
            name, plate, material(table.material), carried_by(plate, cylinders), tuple(_fixed(table, plate))
        )
    except ValueError as error:
        raise ScenarioError([Problem(name, str(error), "cylinders")]) from error


def _fixed(table: PlateTable, plate: Plate) -> Iterator[FixedMass]:
    """What is fixed to the plate, in the order of ``Plate.additions``."""
    edges = edges_of(plate.pattern.outline.outer)
    blocks = iter(plate.additions)
    for one in table.added:
        for side in (1.0, -1.0) if one.both_sides else (1.0,):
            middle, half = edges.at(one.from_top, side * one.from_middle), np.array(one.size[:2]) / 2
            block = next(blocks).solid
            yield FixedMass(block.mass, block.cm, middle - half, middle + half)


def _held(job: tuple[Pattern, Sheet, float, Carried, Sequence[Way], Uneven]) -> PlateHeld:
    """One plate, in whichever process."""
    pattern, sheet, density, carried, ways, uneven = job
    return plate_held(pattern, sheet, density, carried, ways, uneven=uneven)


def _named(found: Iterable[PlateHeld], asked: Sequence[SheetPlate]) -> Iterator[HeldPlate]:
    """Each in turn with its plate, which is blamed where it cannot be worked out."""
    each = iter(found)
    for one in asked:
        try:
            yield HeldPlate(one, next(each))
        except ValueError as error:
            raise ScenarioError([Problem(one.name, str(error), "plate")]) from error
