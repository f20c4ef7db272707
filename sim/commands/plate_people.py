"""``hangflat plate --people``: whom the plate suits, drawn from the survey or listed in a table, beside others."""

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
from sim.telling.language import say, say_count, told

if TYPE_CHECKING:
    from sim.answers.plate.bench import BenchPlate
    from sim.answers.plate.suits.known import Batch
    from sim.answers.plate.suits.told import PeopleTold

MOST: Final = 200_000  # people of each sex: a minute or so
MOST_PLATES: Final = 8  # on one map


@Parameter(name="*")
@dataclass(frozen=True)
class Whom:
    """The options of whom a plate suits."""

    people: Annotated[
        str | None,
        Parameter(help="Say whom the plate suits, of so many women and so many men drawn from a survey, e.g. 10000."),
    ] = None
    csv: Annotated[
        Path | None,
        Parameter(
            help="Say whom it suits of real people, a table with the columns sex, height, mass and body measures, "
            'units in brackets ("waist girth [cm]").'
        ),
    ] = None
    beside: Annotated[
        tuple[str, ...],
        Parameter(
            help='Another plate to lay beside it: of the catalogue ("small steel"), a drawing with its keys '
            '("mine.dxf; material=aluminium; thickness=3 mm"), or a file with [plate]. May be given again.'
        ),
    ] = ()
    wearing: Annotated[
        Path | None,
        Parameter(
            help="Scenario whose cylinders, suit and all else people wear with the plate, and whose diver is looked "
            "at; if left out, the plate's own scenario or the demos'."
        ),
    ] = None
    people_map: Annotated[
        Path | None,
        Parameter(name="--map", help="Draw whom it suits over height and build to this file (PNG, SVG or PDF)."),
    ] = None
    table: Annotated[Path | None, Parameter(help="Write how it ends for each of them to this file (CSV).")] = None

    def check(self) -> None:
        """Raises UsageError for options that need another, or cannot be had at once."""
        if self.people is not None and self.csv is not None:
            raise UsageError("--people draws people and --csv lists them: give one, then again the other.")
        if self.people is None and self.csv is None:
            for given, name in ((self.people_map, "--map"), (self.table, "--table")):
                if given:
                    raise UsageError(f"{name} holds people: give --people 10000 or --csv FILE with it.")
        if self.people_map and self.table and self.people_map.resolve() == self.table.resolve():
            raise UsageError("--map and --table are the same file; give each its own.")
        if len(self.beside) >= MOST_PLATES:
            raise UsageError(f"{MOST_PLATES - 1} plates beside it at most, got {len(self.beside)}; leave some out.")
        if self.people is not None:
            self.number()

    def number(self) -> int:
        """How many of each sex. Raises UsageError for what is no such number."""
        text = self.people or ""
        if text.isdecimal() and text.isascii() and len(text) <= len(str(MOST)) and 1 <= int(text) <= MOST:
            return int(text)
        raise UsageError(
            f"--people takes how many of each sex, a whole number of 1 to {MOST}, like 10000; got {text!r}."
        )

    @property
    def asked(self) -> bool:
        """Whether anybody asks whom it suits."""
        return self.people is not None or self.csv is not None

    @property
    def draws(self) -> bool:
        """Whether a picture is wanted."""
        return self.people_map is not None


NOBODY: Final = Whom()


def told_whom(bench: BenchPlate, whom: Whom) -> PeopleTold:
    """Whom the plate suits, its files written. Raises ScenarioError and UsageError."""
    with ExitStack() as stack:
        drawn = stack.enter_context(written_whole(whom.people_map, PICTURE_ENDINGS)) if whom.people_map else None
        listed = stack.enter_context(written_whole(whom.table, (".csv",))) if whom.table else None
        from scenarios.people_file import people_file
        from sim.answers.plate.laid import laid, laid_beside, wearing, wears
        from sim.answers.plate.suits.run import drawn_suited, listed_suited
        from sim.answers.plate.suits.told import people_told, write_suits_table
        from sim.said import note
        from sim.telling.written_file import written

        with waiting(told(note("Laying the plates on a diver"))):
            people = None if whom.csv is None else people_file(whom.csv)
            case = wearing(bench, whom.wearing)
            plates = (laid(case, bench), *laid_beside(case, whom.beside))
        counted = say_count("{n} plate", "{n} plates", len(plates))
        if people is None:
            what = say("{number} women and {number} men, {plates}", number=whom.people, plates=counted)
        else:
            what = say("{number} people, {plates}", number=len(people), plates=counted)

        def watching(batches: Iterable[Batch], steps: int, seconds: float, workers: int) -> Iterable[Batch]:
            return watched(batches, steps, seconds, workers, what)

        if people is None:
            found = drawn_suited(plates, whom.number(), watching)
        else:
            source = note("{count} real people of {file}", count=len(people), file=whom.csv.name if whom.csv else "")
            found = listed_suited(plates, people, source, watching)
        answer = people_told(found, wears(bench, whom.wearing))
        if drawn:
            from sim.answers.plate.suits.picture import draw_suits_map

            with waiting(told(DRAWING)):
                draw_suits_map(found, answer.wears, drawn)
        if listed:
            write_suits_table(found, listed)
    return replace(answer, people_map=written(whom.people_map), table=written(whom.table))
