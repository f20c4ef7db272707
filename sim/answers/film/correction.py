"""How a correction works: the diver let go as they are, what is changed, and the diver let go again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Final

import numpy as np

from scenarios.errors import Problem, ScenarioError
from sim.answers.change.candidate import Candidate
from sim.answers.change.report import change_report
from sim.answers.film import words
from sim.answers.film.footage import (
    RATE,
    WATCHED,
    Footage,
    Picture,
    Pose,
    eased,
    hurried,
    pictures_in,
    said_in_turn,
)
from sim.answers.film.let_go import HELD, RESTS, curve_of, let_go_words, poses_along, seconds_axis
from sim.assembly.assembled import Assembled
from sim.case import Case
from sim.settling.course import Limits
from sim.settling.settle import settle

STOOD: Final = 1.2  # s of film at the end of the first motion
CHANGING: Final = 2.5  # s of film in which the change is made
Track = Callable[[Sequence[Candidate]], Iterable[Candidate]]


def correction_film(case: Case, *, speed: float = 1.0, seconds: float | None = None, track: Track = iter) -> Footage:
    """Before, the change, after: of the sets of changes that ``change`` advises, the one nearest to balance.

    speed : the diver's seconds in one of the film's;  seconds : the film's length, to which both motions are cut
    Raises ScenarioError for a parts file, and a diver for whom there is nothing to change.
    """
    report = change_report(case, track)
    found = [a for a in (report.advice, report.with_gear) if a is not None]
    if not found:
        message = "there is no correction to film: no change that hangflat knows betters this diver, held flat"
        raise ScenarioError([Problem(str(case.path), message)])
    best = min(found, key=lambda a: abs(a.met.start.moment))
    return corrected(case, best.changes, speed=speed, seconds=seconds)


def corrected(case: Case, made: Sequence[Candidate], *, speed: float = 1.0, seconds: float | None = None) -> Footage:
    """The diver before and after changes that are ``made`` together."""
    changes = tuple(c.words for c in made)
    divers = (case.assembled, case.vary([s for c in made for s in c.settings]).assembled)
    lasts, still = WATCHED, 2.0 * HELD + STOOD + CHANGING + RESTS
    share = hurried(seconds, still)
    if seconds is not None:
        lasts = min(WATCHED, 0.5 * (seconds - share * still) * speed)
    takes = [_watched(diver, number, lasts, speed) for number, diver in enumerate(divers)]
    (first, last) = takes
    change = [Picture(first[0], last[0], float(s)) for s in eased(pictures_in(share * CHANGING))]
    stretches = [
        [Picture(first[0])] * pictures_in(share * HELD),
        [Picture(p) for p in first] + [Picture(first[-1])] * pictures_in(share * STOOD),
        change,
        [Picture(last[0], curve=1)] * pictures_in(share * HELD),
        [Picture(p, curve=1) for p in last],
        [Picture(last[-1], curve=1)] * pictures_in(share * RESTS),
    ]
    starts = np.cumsum([0, *(len(s) for s in stretches)]) / RATE
    told = (
        words.before(first[0].moment),
        let_go_words(divers[0].rig),
        words.changing(changes),
        words.after(last[0].moment),
        words.let_go_again(),
        words.both(lasts, first[-1].pitch, last[-1].pitch),
    )
    pictures = tuple(p for stretch in stretches for p in stretch)
    return Footage(
        what="correction", title=words.title(case.assembled.title), under=words.correction(),
        pace=words.pace(speed), divers=divers, pictures=pictures,
        captions=said_in_turn([(float(s), t) for s, t in zip(starts, told, strict=False)], len(pictures) / RATE),
        axis=seconds_axis(), curves=(curve_of(first), curve_of(last)),
        moment_words=words.moment_axis(), pitch_words=words.pitch_axis(),
    )  # fmt: skip


def _watched(diver: Assembled, number: int, lasts: float, speed: float) -> list[Pose]:
    settled = settle(diver.rig, limits=Limits(time=lasts, frame=speed / RATE))
    return poses_along(diver, number, settled, np.arange(0.0, lasts + 1e-9, speed / RATE))
