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
    Cue,
    Footage,
    Picture,
    Pose,
    eased,
    hurried,
    pictures_in,
    read_in,
    said_in_turn,
)
from sim.answers.film.let_go import HELD, RESTS, curve_of, flat_pose, let_go_words, poses_along, seconds_axis
from sim.assembly.assembled import Assembled
from sim.case import Case
from sim.settling.course import Limits
from sim.settling.settle import settle

STOOD: Final = 1.2  # s of film at the end of the first motion
CHANGING: Final = 2.5  # s of film in which the change is made, and as long as it takes to read it
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
    flats = [flat_pose(diver, number) for number, diver in enumerate(divers)]
    said = (words.before(flats[0].moment), words.changing(changes), words.after(flats[1].moment))
    usual = (HELD, CHANGING, HELD, RESTS)
    stills = [max(t, read_in(text)) for t, text in zip(usual, (*said, words.both(WATCHED, -2.0, -2.0)), strict=True)]
    stood, still = STOOD, STOOD + sum(stills)
    lasts = WATCHED
    if seconds is not None:
        share = hurried(seconds, still)
        stood, stills = share * STOOD, [share * t for t in stills]
        lasts = min(WATCHED, 0.5 * (seconds - share * still) * speed)
    held, changing, again, rests = stills
    takes = [_watched(diver, number, lasts, speed) for number, diver in enumerate(divers)]
    (first, last) = takes
    change = [Picture(first[0], last[0], float(s)) for s in eased(pictures_in(changing))]
    stretches = [
        [Picture(first[0])] * pictures_in(held),
        [Picture(p) for p in first] + [Picture(first[-1])] * pictures_in(stood),
        change,
        [Picture(last[0], curve=1)] * pictures_in(again),
        [Picture(p, curve=1) for p in last],
        [Picture(last[-1], curve=1)] * pictures_in(rests),
    ]
    starts = np.cumsum([0, *(len(s) for s in stretches)]) / RATE
    told = (
        (said[0], 1),
        (let_go_words(divers[0].rig), 4),
        (said[1], 0),
        (said[2], 2),
        (words.let_go_again(), 5),
        (words.both(lasts, first[-1].pitch, last[-1].pitch), 3),
    )
    pictures = tuple(p for stretch in stretches for p in stretch)
    cues = [Cue(float(start), text, rank) for start, (text, rank) in zip(starts, told, strict=False)]
    return Footage(
        what="correction", title=words.title(case.assembled.title), under=words.correction(),
        pace=words.pace(speed), divers=divers, pictures=pictures,
        captions=said_in_turn(cues, len(pictures) / RATE),
        axis=seconds_axis(), curves=(curve_of(first), curve_of(last)),
        moment_words=words.moment_axis(), pitch_words=words.pitch_axis(),
    )  # fmt: skip


def _watched(diver: Assembled, number: int, lasts: float, speed: float) -> list[Pose]:
    settled = settle(diver.rig, limits=Limits(time=lasts, frame=speed / RATE))
    return poses_along(diver, number, settled, np.arange(0.0, lasts + 1e-9, speed / RATE))
