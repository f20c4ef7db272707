"""The reference divers with a plate beside the catalogue's two sizes, each answer split into what makes it differ.

From a plate of the catalogue to the new one in three steps, each on the one before: the catalogue's plate weighs
in water what the new one does (mass); the new plate takes its place, hung by its waist slots at the same height, and
puts cylinders and all else where it holds them (place); it is hung, and its bands set, so that it passes (fit).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Annotated, Final

from scenarios.demos import demo_path
from scenarios.models import Scenario
from scenarios.quantities import SI
from scenarios.settings import setting_to
from sim.answers.fit.set_up import SetUps, set_ups
from sim.answers.plate.bench import BenchPlate
from sim.answers.plate.divers.worn import WornAnswers, difference, worn_answers
from sim.answers.plate.laid import LaidPlate, laid, wearing, worn_plate
from sim.case import Case
from sim.telling.record import Told
from sim.telling.written_file import WrittenFile

REFERENCE_DIVERS: Final = ("small-woman-steel", "tall-man-steel")
SIZES: Final = ("standard", "small")
MADE_OF: Final = ("steel", "aluminium", "carbon")
OTHERWISE: Final = "steel"  # of the catalogue's plates, where it has none of the new one's material
LIGHTEST: Final = 0.1  # kg, the least that a plate may be said to weigh
Watched = Callable[[Iterable["DiverWith"]], Iterable["DiverWith"]]  # gives each on, and shows how far it is


@dataclass(frozen=True)
class Beside:
    """A plate of the catalogue on the same diver, and by what the new one's answers differ from its own."""

    plate: Annotated[str, Told("the catalogue's plate")]
    worn: Annotated[WornAnswers, Told("with it")]
    by_mass: Annotated[WornAnswers, Told("what changes once it weighs in water what the new plate does")]
    by_place: Annotated[WornAnswers, Told("what changes then with the new plate at the same height, by its places")]


@dataclass(frozen=True)
class DiverWith:
    """One diver with the new plate."""

    diver: Annotated[str, Told("title of the scenario, without its plate")]
    beside: Annotated[tuple[Beside, ...], Told("plates of the catalogue")]
    worn: Annotated[WornAnswers, Told("with the new plate, hung at the same height")]
    passes: Annotated[bool, Told("whether it passes as worn there")]
    fitted: Annotated[
        WornAnswers | None, Told("with the new plate worn so that it passes", none="no set-up meets every demand")
    ]
    by_fit: Annotated[WornAnswers | None, Told("what changes by wearing it so", none="no set-up meets every demand")]
    drop: Annotated[
        float | None,
        Told("then of its waist slots below the natural waist", "m", none="no set-up meets every demand"),
    ]
    shift: Annotated[
        float | None,
        Told(
            "then of the cylinders from their usual place on the plate",
            "m",
            plus="headward",
            none="no set-up meets every demand",
        ),
    ]
    barred_by: Annotated[tuple[str, ...], Told("the fewest demands that no set-up meets together")]


@dataclass(frozen=True, kw_only=True)
class DiversTold:
    """What a plate does to divers."""

    plate: Annotated[str, Told("the new plate")]
    divers: Annotated[tuple[DiverWith, ...], Told("each diver")]
    picture: Annotated[WrittenFile | None, Told("the picture", left_out=True)] = None


def reference_divers(bench: BenchPlate, scenario: Path | None = None) -> tuple[Case, ...]:
    """The diver of ``scenario``, of the plate's own scenario, or those of the demos.

    Raises ScenarioError for a file that tells of no diver.
    """
    if scenario is not None or isinstance(bench.content, Scenario):
        return (wearing(bench, scenario),)
    return tuple(Case.read(demo_path(name)) for name in REFERENCE_DIVERS)


def divers_told(bench: BenchPlate, divers: Sequence[Case], watched: Watched = list) -> DiversTold:
    """What the plate does to each. Raises ScenarioError for what cannot be worn."""
    return DiversTold(plate=bench.name, divers=tuple(watched(_diver(case, bench) for case in divers)))


def beside_names(bench: BenchPlate) -> tuple[str, ...]:
    """The catalogue's two sizes in the material that comes nearest by its name, but for the plate itself."""
    made = next((word for word in MADE_OF if word in bench.table.material), OTHERWISE)
    own = "" if bench.read.settings else str(bench.path).lower()
    return tuple(name for size in SIZES if (name := f"{size} {made}") != own)


def diver_name(case: Case) -> str:
    """Who it is: the title of the scenario as far as its first comma, behind which the demos name the plate."""
    name = case.assembled.title.split(",")[0].strip()
    return name[:1].upper() + name[1:]


def _diver(case: Case, bench: BenchPlate) -> DiverWith:
    new = laid(case, bench)
    ways = set_ups(worn_plate(new))
    worn, near = worn_answers(new.case), ways.nearest
    fitted = _fitted(new.case, ways, worn)
    return DiverWith(
        diver=diver_name(case),
        beside=tuple(_beside(case, name, bench, worn) for name in beside_names(bench)),
        worn=worn,
        passes=ways.as_worn.passes,
        fitted=fitted,
        by_fit=None if fitted is None else difference(fitted, worn),
        drop=None if near is None else near.drop,
        shift=None if near is None else near.shift,
        barred_by=ways.barred_by,
    )


def _fitted(case: Case, ways: SetUps, worn: WornAnswers) -> WornAnswers | None:
    """With the plate worn so that it passes; None where no set-up does."""
    if ways.nearest is None or ways.nearest is ways.as_worn:
        return None if ways.nearest is None else worn
    changes = {"harness.drop": SI(ways.nearest.drop)}
    if ways.nearest.shift != ways.as_worn.shift:
        changes["cylinders.shift"] = SI(ways.nearest.shift)
    return worn_answers(case.vary(changes))


def _beside(case: Case, name: str, bench: BenchPlate, new: WornAnswers) -> Beside:
    usual = LaidPlate(name, case.vary([setting_to("plate", {"catalogue": name})]))
    plate, water = worn_plate(usual).plate.solid, usual.case.rig.water.density
    other = bench.plate.solid
    # what the new plate weighs in water, whatever room it takes
    mass = max(other.mass - water * (other.volume - plate.volume), LIGHTEST)
    worn = worn_answers(usual.case)
    # ashore nothing but the dry mass counts
    weighed = replace(worn_answers(usual.case.vary({"plate.mass": SI(mass)})), carried=new.carried)
    return Beside(name, worn, difference(weighed, worn), difference(new, weighed))
