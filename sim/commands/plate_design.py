"""``hangflat plate --design``: dimensions of a plate searched for a group of people, and the plate chosen written."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, replace
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final, Literal

from cyclopts import Parameter

from sim.commands.console import UsageError
from sim.commands.watching import DRAWING, waiting, watched
from sim.commands.whole_file import PICTURE_ENDINGS, written_whole
from sim.said import note
from sim.telling.language import told as spoken

if TYPE_CHECKING:
    from scenarios.quantities import Quantity
    from sim.answers.plate.bench import BenchPlate
    from sim.answers.plate.design.answer import DesignTold
    from sim.answers.plate.design.brief import Brief
    from sim.answers.plate.design.search import Searched
    from sim.answers.plate.design.trial import Built, Trial
    from sim.answers.plate.suits.known import Batch

OF_EACH: Final = 20  # women and men, each of whom is worked out with some fifty plates
MOST: Final = 500  # people of a group
Group = Literal["women", "men", "both"]


@Parameter(name="*")
@dataclass(frozen=True)
class Design:
    """The options of the search for a plate."""

    design: Annotated[
        Path | None,
        Parameter(
            help="Search the plate's dimensions for a group of people, and write the plate chosen to this file "
            "(TOML), which opens here again. The group: see --design-for, or the real people of --csv."
        ),
    ] = None
    design_for: Annotated[Group, Parameter(help="With --design: for whom, drawn from a survey.")] = "both"
    design_people: Annotated[
        int, Parameter(help="With --design: how many of each sex; more take longer and tell shares more surely.")
    ] = OF_EACH
    most_mass: Annotated[str | None, Parameter(help='With --design: greatest mass of the plate, e.g. "1.2 kg".')] = (
        None
    )
    most_stress: Annotated[
        str | None,
        Parameter(
            help='With --design: greatest stress in any way of carrying that --hold tells, e.g. "200 MPa"; '
            "takes several times as long."
        ),
    ] = None
    search: Annotated[
        str | None,
        Parameter(
            help="With --design: what to search, with commas between: length, width, bolt-row, channel-depth, "
            "channel-bends (these if left out), shoulder-height, shoulder-spacing, waist-height, waist-spacing, "
            "thickness. Of a drawing channel-bends are all its bends alike, and bend-1-place, bend-1-angle, "
            "bend-2-place and so on each of them, from the middle line outwards; its outline goes along with slots."
        ),
    ] = None
    design_picture: Annotated[
        Path | None,
        Parameter(help="With --design: draw what mass, share suited and moment can be had (PNG, SVG or PDF)."),
    ] = None
    design_dxf: Annotated[
        Path | None, Parameter(help="With --design: write the flat pattern of the plate chosen (DXF).")
    ] = None

    def check(self) -> None:
        """Raises UsageError for options without the search, and for what cannot be searched."""
        given = {
            "--design-picture": self.design_picture, "--design-dxf": self.design_dxf, "--most-mass": self.most_mass,
            "--search": self.search, "--most-stress": self.most_stress,
        }  # fmt: skip
        if self.design is None:
            for name, value in given.items():
                if value is not None:
                    raise UsageError(f"{name} belongs to a search: give --design FILE.toml with it.")
        if not 1 <= self.design_people <= MOST // 2:
            raise UsageError(f"--design-people takes 1 to {MOST // 2}, got {self.design_people}.")

    @property
    def draws(self) -> bool:
        """Whether a picture is wanted."""
        return self.design_picture is not None


NO_DESIGN: Final = Design()


def told_design(bench: BenchPlate, asked: Design, csv: Path | None, scenario: Path | None) -> DesignTold:
    """What the search finds, its files written. Raises ScenarioError and UsageError."""
    flat = _flat(bench, asked)
    with ExitStack() as stack:
        files = (
            (asked.design, (".toml",)), (asked.design_picture, PICTURE_ENDINGS), (flat, (".dxf",)),
        )  # fmt: skip
        file, drawn, dxf = (stack.enter_context(written_whole(p, ends)) if p else None for p, ends in files)
        from sim.answers.plate.design.answer import design_told
        from sim.answers.plate.design.search import ROUNDS, searched
        from sim.answers.plate.design.trial import trials
        from sim.answers.plate.laid import wearing, wears
        from sim.telling.written_file import written

        brief = _stressed(_brief(bench, asked, csv), asked, scenario)
        case = wearing(bench, scenario)

        def work(plates: Sequence[Built], number: int) -> list[Trial]:
            def watching(batches: Iterable[Batch], steps: int, seconds: float, workers: int) -> Iterable[Batch]:
                part = note(
                    "{plates} plates on {people} people, part {part} of {all}",
                    plates=len(plates),
                    people=len(brief.people),
                    part=number + 1,
                    all=ROUNDS + 1,
                )
                return watched(batches, steps, seconds, workers, spoken(part))

            laying = note("Laying {plates} plates on a diver", plates=len(plates))
            looking.close()  # two signs of life at once would write over one another
            found = trials(brief, case, plates, watching, waiting(spoken(laying)))
            looking.enter_context(waiting(spoken(note("Looking for better plates"))))
            return found

        with ExitStack() as looking:
            looking.enter_context(waiting(spoken(note("Looking for plates that can be made"))))
            found = searched(brief, case, work)
        where = () if asked.design is None or flat is None else (asked.design.parent, flat)
        told = design_told(brief, found, wears(bench, scenario), *where)
        if found.chosen is None or told.file_text is None:
            raise UsageError(_nothing(found))
        chosen = found.chosen.built.bench
        if file:
            file.write_text(told.file_text, encoding="utf-8")
        if dxf and told.drawing_text is not None:
            dxf.write_text(told.drawing_text, encoding="utf-8")
        elif dxf:
            from sim.answers.plate.export import export_plate

            export_plate(chosen, dxf, ".dxf")
        if drawn:
            _draw(told, found, drawn)
    return replace(told, file=written(asked.design), dxf=written(flat), picture=written(asked.design_picture))


def _flat(bench: BenchPlate, asked: Design) -> Path | None:
    """Where the flat pattern goes: of a drawing always, since the file of the plate chosen names it.

    Raises UsageError where that would be the drawing searched from.
    """
    source = bench.table.file
    if asked.design is None or source is None:
        return asked.design_dxf
    flat = asked.design_dxf or asked.design.with_suffix(".dxf")
    if flat.exists() and source.exists() and flat.samefile(source):
        raise UsageError(
            f"{flat} is the drawing that is searched from; name another for the plate chosen: --design-dxf FILE.dxf."
        )
    return flat


def _nothing(found: Searched) -> str:
    """What the plates came to that were tried, for somebody whose limits none of them keeps."""
    tried = [trial.built for trial in found.every]
    mass = min(t.mass for t in tried)
    stresses = [t.stress for t in tried if isfinite(t.stress)]
    if not stresses:
        return (
            f"no plate keeps the limits: the lightest of {len(tried)} plates tried has {mass:.2f} kg. Allow more, or "
            "search more dimensions (--search)."
        )
    return (
        f"no plate keeps the limits: the lightest of {len(tried)} plates tried has {mass:.2f} kg, the least stressed "
        f"{1e-6 * min(stresses):.0f} MPa. Allow more, or search more dimensions (--search)."
    )


def _draw(told: DesignTold, found: Searched, path: Path) -> None:
    from sim.answers.plate.design.picture import draw_design

    with waiting(spoken(DRAWING)):
        draw_design(told, found, path)


def _brief(bench: BenchPlate, asked: Design, csv: Path | None) -> Brief:
    from scenarios.people_file import people_file
    from scenarios.quantities import Quantity
    from sim.answers.plate.design.brief import group_brief, listed_brief

    names = [] if asked.search is None else [name.strip() for name in asked.search.split(",")]
    quantity = Quantity("mass", "greatest mass of a plate", "1.2 kg", "0.05 kg", "15 kg")
    mass = None if asked.most_mass is None else _read("--most-mass", asked.most_mass, quantity)
    if csv is None:
        return group_brief(bench, names, asked.design_for, asked.design_people, mass)
    listed = people_file(csv)
    if len(listed) > MOST:
        raise UsageError(f"--design takes {MOST} people at most, {csv} lists {len(listed)}: share it out.")
    return listed_brief(
        bench, names, listed, note("{count} real people of {file}", count=len(listed), file=csv.name), mass
    )


def _stressed(brief: Brief, asked: Design, scenario: Path | None) -> Brief:
    """With the limit on stress, if any. Raises UsageError where that cannot be worked out."""
    from scenarios.quantities import Quantity
    from sim.answers.plate.hold.run import NoElementsError, check_elements, greatest_stress

    if asked.most_stress is None:
        return brief
    try:
        check_elements()
    except NoElementsError as error:
        raise UsageError(str(error)) from None
    quantity = Quantity("pressure", "greatest stress in a plate", "200 MPa", "1 MPa", "5000 MPa")
    return replace(
        brief,
        stress=lambda plate: greatest_stress(plate, scenario=scenario),
        most_stress=_read("--most-stress", asked.most_stress, quantity),
    )


def _read(name: str, text: str, quantity: Quantity) -> float:
    try:
        return float(quantity.read(text))
    except ValueError as error:
        raise UsageError(f"{name}: {error}") from None
