"""``hangflat plate --hold``: whether the plate holds when cylinders are carried on it, beside others."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, replace
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

from cyclopts import Parameter

from sim.commands.console import UsageError
from sim.commands.watching import DRAWING, waiting, watched
from sim.commands.whole_file import PICTURE_ENDINGS, written_whole
from sim.telling.language import say_count, told

if TYPE_CHECKING:
    from sim.answers.plate.bench import BenchPlate
    from sim.answers.plate.hold.run import HeldPlate
    from sim.answers.plate.hold.told import HoldTold

DECELERATIONS: Final = (1.0, 50.0)  # times g


@Parameter(name="*")
@dataclass(frozen=True)
class Carrying:
    """The options of whether a plate holds."""

    hold: Annotated[
        bool,
        Parameter(
            negative="",
            help="Say how much it bends and is stressed when the cylinders are carried ashore on it, beside the "
            "catalogue's plates or those of --beside.",
        ),
    ] = False
    deceleration: Annotated[
        str | None, Parameter(help="With --hold: how hard a vehicle's floor strikes it, in times g; 5 if left out.")
    ] = None
    stress: Annotated[
        Path | None, Parameter(help="With --hold: draw where it is stressed to this file (PNG, SVG or PDF).")
    ] = None

    def check(self) -> None:
        """Raises UsageError for options that need --hold, and for a deceleration that is none."""
        if not self.hold:
            for given, name in ((self.deceleration, "--deceleration"), (self.stress, "--stress")):
                if given is not None:
                    raise UsageError(f"{name} is of a plate that is carried: give --hold with it.")
        self.times_g(DECELERATIONS[0])

    def times_g(self, otherwise: float) -> float:
        """The deceleration. Raises UsageError for what is no such number."""
        if self.deceleration is None:
            return otherwise
        low, high = DECELERATIONS
        try:
            value = float(self.deceleration.strip().removesuffix("g"))
        except ValueError:
            value = float("nan")
        if not (isfinite(value) and low <= value <= high):
            raise UsageError(
                f"--deceleration takes how many times g, {low:g} to {high:g}, like 5; got {self.deceleration!r}."
            )
        return value


NOT_CARRIED: Final = Carrying()


def told_hold(bench: BenchPlate, carrying: Carrying, wearing: Path | None, beside: Sequence[str]) -> HoldTold:
    """Whether the plate holds, its picture drawn. Raises ScenarioError and UsageError."""
    with ExitStack() as stack:
        drawn = stack.enter_context(written_whole(carrying.stress, PICTURE_ENDINGS)) if carrying.stress else None
        from sim.answers.plate.hold.run import NoElementsError, plates_held
        from sim.answers.plate.hold.told import hold_told
        from sim.answers.plate.hold.ways import VEHICLE
        from sim.telling.written_file import written

        def watching(work: Iterable[HeldPlate], steps: int, seconds: float, workers: int) -> Iterable[HeldPlate]:
            return watched(work, steps, seconds, workers, say_count("{n} plate", "{n} plates", steps))

        vehicle = carrying.times_g(VEHICLE)
        try:
            found = plates_held(bench, beside, scenario=wearing, vehicle=vehicle, watched=watching)
        except NoElementsError as error:
            raise UsageError(str(error)) from None
        answer = hold_told(found)
        if drawn:
            from sim.answers.plate.hold.picture import draw_stress

            with waiting(told(DRAWING)):
                draw_stress(found, answer, drawn)
    return replace(answer, picture=written(carrying.stress))
