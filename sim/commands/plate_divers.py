"""``hangflat plate --divers``: what the plate does to divers, beside plates of the catalogue."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import ExitStack
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

from cyclopts import Parameter

from sim.commands.console import UsageError
from sim.commands.watching import waiting, watched
from sim.commands.whole_file import PICTURE_ENDINGS, written_whole

if TYPE_CHECKING:
    from sim.answers.plate.bench import BenchPlate
    from sim.answers.plate.divers.answer import DiversTold, DiverWith

A_DIVER: Final = 3.0  # s, about what one takes


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

    def check(self) -> None:
        """Raises UsageError for a picture of nothing."""
        if self.divers_picture and not self.divers:
            raise UsageError("--divers-picture draws what the plate does to divers: give --divers with it.")

    @property
    def draws(self) -> bool:
        """Whether a picture is wanted."""
        return self.divers_picture is not None


NO_DIVERS: Final = OnDivers()


def told_on_divers(bench: BenchPlate, asked: OnDivers, scenario: Path | None) -> DiversTold:
    """What the plate does, its picture drawn. scenario : of the diver; the demos' in its place."""
    with ExitStack() as stack:
        drawn = None
        if asked.divers_picture:
            drawn = stack.enter_context(written_whole(asked.divers_picture, PICTURE_ENDINGS))
        from sim.answers.plate.divers.answer import divers_told, reference_divers
        from sim.telling.written_file import written

        cases = reference_divers(bench, scenario)

        def watching(found: Iterable[DiverWith]) -> Iterable[DiverWith]:
            return watched(
                found, len(cases), A_DIVER * len(cases), 1, f"{len(cases)} divers, each with several plates"
            )

        told = divers_told(bench, cases, watching)
        if drawn:
            from sim.answers.plate.divers.picture import draw_divers

            with waiting("Drawing"):
                draw_divers(told, drawn)
    return replace(told, picture=written(asked.divers_picture))
