"""``hangflat plate --divers`` and ``--change``: what the plate does to divers, and what to redraw."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import ExitStack
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

from cyclopts import Parameter

from sim.commands.console import UsageError
from sim.commands.watching import DRAWING, waiting, watched
from sim.commands.whole_file import PICTURE_ENDINGS, written_whole
from sim.said import note
from sim.telling.language import told

if TYPE_CHECKING:
    from sim.answers.plate.answer import PlateAnswer
    from sim.answers.plate.bench import BenchPlate
    from sim.answers.plate.change.answer import ChangeTold, Lever
    from sim.answers.plate.divers.answer import DiversTold, DiverWith
    from sim.answers.plate.suits.known import Batch

MOST: Final = 250  # people of each sex
A_DIVER, A_LEVER = 3.0, 0.8  # s, about what one takes, of levers for each diver


@Parameter(name="*")
@dataclass(frozen=True)
class OnDivers:
    """The options of what a plate does to divers."""

    divers: Annotated[
        bool,
        Parameter(
            help="Say what the plate does to divers beside plates of the catalogue: moment, weighting, look-ahead, "
            "reach, straps, ashore, by its mass, its places and its fit."
        ),
    ] = False
    divers_picture: Annotated[Path | None, Parameter(help="Draw that to this file (PNG, SVG or PDF).")] = None
    change: Annotated[
        bool,
        Parameter(help="Say which dimension of the plate moves each of these answers, and by how much a centimetre."),
    ] = False
    change_picture: Annotated[
        Path | None, Parameter(help="Draw the plate with an arrow for each to this file (PNG, SVG or PDF).")
    ] = None

    change_people: Annotated[
        int,
        Parameter(
            help="With --change: say also how the share suited moves, of so many women and as many men, each worked "
            "out in full with every change; 20 take about half a minute."
        ),
    ] = 0

    def check(self) -> None:
        """Raises UsageError for a picture of nothing, and for two of one name."""
        if not 0 <= self.change_people <= MOST:
            raise UsageError(f"--change-people takes 1 to {MOST}, got {self.change_people}.")
        if self.change_people and not self.change:
            raise UsageError("--change-people belongs to what to change in the plate: give --change with it.")
        if self.divers_picture and not self.divers:
            raise UsageError("--divers-picture draws what the plate does to divers: give --divers with it.")
        if self.change_picture and not self.change:
            raise UsageError("--change-picture draws what to change in the plate: give --change with it.")
        if (
            self.divers_picture
            and self.change_picture
            and self.divers_picture.resolve() == self.change_picture.resolve()
        ):
            raise UsageError("--divers-picture and --change-picture are the same file; give each its own.")

    @property
    def draws(self) -> bool:
        """Whether a picture is wanted."""
        return self.divers_picture is not None or self.change_picture is not None


NO_DIVERS: Final = OnDivers()


def with_divers(answer: PlateAnswer, bench: BenchPlate, asked: OnDivers, scenario: Path | None) -> PlateAnswer:
    """The answer with what is asked on divers. scenario : of the diver; the demos' in its place."""
    if asked.divers:
        answer = replace(answer, divers=_divers(bench, asked, scenario))
    if asked.change:
        answer = replace(answer, change=_change(bench, asked, scenario))
    return answer


def _divers(bench: BenchPlate, asked: OnDivers, scenario: Path | None) -> DiversTold:
    with ExitStack() as stack:
        drawn = _draft(stack, asked.divers_picture)
        from sim.answers.plate.divers.answer import divers_told, reference_divers
        from sim.telling.written_file import written

        cases = reference_divers(bench, scenario)

        def watching(found: Iterable[DiverWith]) -> Iterable[DiverWith]:
            said = told(note("a diver with several plates"))
            if len(cases) > 1:
                said = told(note("{number} divers, each with several plates", number=len(cases)))
            return watched(found, len(cases), A_DIVER * len(cases), 1, said)

        answer = divers_told(bench, cases, watching)
        if drawn:
            from sim.answers.plate.divers.picture import draw_divers

            with waiting(told(DRAWING)):
                draw_divers(answer, drawn)
    return replace(answer, picture=written(asked.divers_picture))


def _change(bench: BenchPlate, asked: OnDivers, scenario: Path | None) -> ChangeTold:
    with ExitStack() as stack:
        drawn = _draft(stack, asked.change_picture)
        from sim.answers.plate.change.answer import change_told
        from sim.answers.plate.dimensions import Dimensions
        from sim.answers.plate.divers.answer import reference_divers
        from sim.telling.written_file import written

        cases = reference_divers(bench, scenario)
        count = len(Dimensions(bench).names)

        def watching(found: Iterable[Lever]) -> Iterable[Lever]:
            return watched(
                found,
                count,
                A_LEVER * count * len(cases),
                1,
                told(note("{count} dimensions of the plate", count=count)),
            )

        answer = change_told(bench, cases, watching)
        if asked.change_people:
            answer = _with_shares(answer, bench, asked.change_people, scenario)
        if drawn:
            from sim.answers.plate.change.picture import draw_change

            with waiting(told(DRAWING)):
                draw_change(answer, bench, drawn)
    return replace(answer, picture=written(asked.change_picture))


def _with_shares(answer: ChangeTold, bench: BenchPlate, count: int, scenario: Path | None) -> ChangeTold:
    from sim.answers.fit.fitted_people import SEXES
    from sim.answers.plate.change.answer import with_shares
    from sim.answers.plate.laid import wearing
    from sim.person.population import many_drawn
    from sim.said import note

    who = note("{count} women and {count} men", count=count)
    many = [many_drawn(sex, count) for sex in SEXES]
    people = [of_sex.person(i) for i in range(count) for of_sex in many]

    def watching(batches: Iterable[Batch], steps: int, seconds: float, workers: int) -> Iterable[Batch]:
        return watched(
            batches, steps, seconds, workers, told(note("{count} people with every change", count=len(people)))
        )

    return with_shares(answer, bench, wearing(bench, scenario), people, who, watching)


def _draft(stack: ExitStack, path: Path | None) -> Path | None:
    return stack.enter_context(written_whole(path, PICTURE_ENDINGS)) if path else None
