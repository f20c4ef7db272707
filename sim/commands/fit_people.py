"""``hangflat fit --people``: say how long it will take, hold the plates against a population, write map and table."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from sim.commands.console import UsageError
from sim.commands.watching import watched
from sim.commands.whole_file import PICTURE_ENDINGS, written_whole
from sim.said import note
from sim.telling.language import say, say_count

if TYPE_CHECKING:
    from sim.answers.fit.fitted_people import Batch
    from sim.answers.fit.report import PlateFit
    from sim.answers.fit.told.people import PeopleFit

MOST: Final = 100_000  # people of each sex: a day's work
MOST_ROWS: Final = 12  # plates on one sheet


def told_people(
    file: Path, fits: Sequence[PlateFit], people: str, map_file: Path | None, table: Path | None
) -> PeopleFit:
    """For whom the plates pass, its files written; raises UsageError for a number or a file that cannot be."""
    number = _number(people)
    if map_file and table and map_file.resolve() == table.resolve():
        raise UsageError("--map and --table are the same file; give each its own.")
    if map_file and len(fits) > MOST_ROWS:
        raise UsageError(f"the map has room for {MOST_ROWS} plates, got {len(fits)}; draw several.")
    with ExitStack() as stack:
        drawn = stack.enter_context(written_whole(map_file, PICTURE_ENDINGS)) if map_file else None
        listed = stack.enter_context(written_whole(table, (".csv",))) if table else None
        from sim.answers.fit.people_run import people_report
        from sim.answers.fit.told.people import people_fit, write_people_table
        from sim.telling.written_file import written

        many = say_count("{n} plate", "{n} plates", len(fits))
        what = say("{number} women and {number} men, {plates}", number=number, plates=many)

        def watching(batches: Iterable[Batch], steps: int, seconds: float, workers: int) -> Iterable[Batch]:
            return watched(batches, steps, seconds, workers, what)

        found = people_report(fits, number, watched=watching)
        if drawn:
            from sim.answers.fit.drawn.people_map import draw_people_map

            draw_people_map(found, note("Cylinders, suit and all else as in {file}", file=file.name), drawn)
        if listed:
            write_people_table(found, listed)
    return replace(people_fit(found), people_map=written(map_file), table=written(table))


def _number(people: str) -> int:
    if people.isdecimal() and len(people) <= len(str(MOST)) and 1 <= int(people) <= MOST:
        return int(people)
    raise UsageError(f"--people takes how many of each sex, a whole number of 1 to {MOST}, like 200; got {people!r}.")
