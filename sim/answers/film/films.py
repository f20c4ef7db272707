"""Each film by its name."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any, Final, Literal, get_args

from sim.answers.film.along import emptying_film, sweep_film
from sim.answers.film.correction import correction_film
from sim.answers.film.footage import Footage, What
from sim.answers.film.let_go import let_go
from sim.answers.film.sweep import swept
from sim.case import Case

SHOWS: Final[tuple[What, ...]] = get_args(What)
Track = Callable[[Sequence[Any]], Iterable[Any]]


def footage_of(
    case: Case, show: What = "let-go", *, sweep: str = "", roll: Literal["held", "free"] = "held",
    speed: float = 1.0, seconds: float | None = None, track: Track = iter,
) -> Footage:  # fmt: skip
    """Footage of a case, worked out but not drawn.

    show : "let-go" from flat, "emptying" of the cylinders, a "sweep" of one choice, a "correction" before and after
    sweep : for a sweep, what goes from where to where, as "cylinders.pressure; from=200 bar; to=50 bar"
    roll : whether a diver let go is kept from rolling;  speed : the diver's seconds in one of the film's
    seconds : how long the film lasts, its usual length where left out;  track : wraps what is worked out one by one
    Raises ScenarioError for what cannot be built or has nothing of the kind, ValueError for a wrong ``sweep``.
    """
    if show == "emptying":
        return emptying_film(case, seconds=seconds, track=track)
    if show == "sweep":
        return sweep_film(case, swept(case, sweep), seconds=seconds, track=track)
    if show == "correction":
        return correction_film(case, speed=speed, seconds=seconds, track=track)
    return let_go(case.assembled, roll=roll, speed=speed, seconds=seconds)
