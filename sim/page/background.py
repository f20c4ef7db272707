"""What takes longer than a glance: worked out apart, with the share done told; dropped when the set-up moves on."""

from __future__ import annotations

import shlex
import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final

from scenarios.errors import Problem, ScenarioError
from sim.answers.change.candidate import Candidate
from sim.answers.weigh.answer import Start
from sim.case import Case
from sim.page.answers import PLAIN, Answer, ToldIn
from sim.page.set_up import SetUp, case_of, problems_of
from sim.page.words import WORDS, worded
from sim.telling.language import quantity, spoken, told
from sim.telling.record import as_json
from sim.telling.words import moment_words

SINGLES: Final = 5  # changes by themselves that are shown
PEOPLE: Final = 60  # of each sex, on whom a plate is tried: a minute's work
OFTEN: Final = 0.2  # s between two times that the share done is told

Progress = Callable[[float], None]


def worked_out(
    what: str,
    document: Mapping[str, Any],
    place: str,
    more: Mapping[str, Any],
    share_file: str | None = None,
    told_in: ToldIn = PLAIN,
) -> Answer:
    """One answer by its name, or ``problems`` where the set-up cannot be read or built.

    more : what an answer needs besides, such as ``other`` set-ups;  share_file : where the share done is written
    Raises KeyError for a name that is none.
    """
    answer = BACKGROUND[what]
    try:
        with spoken(*told_in):
            return answer(case_of(SetUp(document, Path(place))), more, _told_to(share_file))
    except ScenarioError as refused:
        return {"problems": problems_of(refused)}


def _told_to(share_file: str | None) -> Progress:
    last = [-1.0]

    def tell(share: float) -> None:
        now = time.monotonic()
        if share_file is not None and now - last[0] >= OFTEN:
            last[0] = now
            Path(share_file).write_text(f"{share:.3f}", encoding="ascii")

    return tell


def _weighing(case: Case, more: Mapping[str, Any], progress: Progress) -> Answer:
    """The lead for the last stop, what it leaves at the start, and where it lies best."""
    from sim.answers.weigh.report import weigh_answer
    from sim.answers.weigh.text import band, headline, weigh_text

    answer = weigh_answer(case)
    said = [headline(answer)]
    if answer.sure is not None:
        said.append(band(answer.sure))
    said.append(_at_the_start(answer.told.start))
    return {"said": said, "text": weigh_text(answer), "answer": as_json(answer)}


def _at_the_start(start: Start) -> str:
    heavy = quantity(start.heavy, "kg", 1)
    if start.wing_gas is None or start.margin is None:
        return worded(WORDS["start"]).format(heavy=heavy)
    gas, spare = quantity(1e3 * start.wing_gas, "l", 1), quantity(abs(start.margin), "kg", 1)
    return worded(WORDS["start held" if start.margin >= 0.0 else "start sinks"]).format(
        heavy=heavy, gas=gas, spare=spare
    )


def _fit_drawing(case: Case, more: Mapping[str, Any], progress: Progress) -> Answer:
    """The rig on the diver from behind and from the side, as a drawing (SVG)."""
    from sim.answers.fit.answer import fit_answer
    from sim.answers.fit.drawn.seen import fit_scene
    from sim.answers.fit.drawn.views_alone import draw_fit_views

    if case.worn is None:
        return {"drawing": None}
    with TemporaryDirectory() as folder:
        place = Path(folder, "fit.svg")
        draw_fit_views(fit_scene(case.assembled, fit_answer(case.assembled)), place)
        return {"drawing": place.read_text(encoding="utf-8")}


def _advice(case: Case, more: Mapping[str, Any], progress: Progress) -> Answer:
    """The fewest changes that bring balance, and the best single ones; each with the settings that make it."""
    from sim.answers.change.report import change_report

    def track(candidates: Sequence[Candidate]) -> Iterator[Candidate]:
        for number, one in enumerate(candidates):
            progress(number / len(candidates))
            yield one

    report = change_report(case, track)
    best = report.with_gear or report.advice
    single = sorted((t for t in report.tried if t.what.advised), key=lambda t: abs(t.then.moment))[:SINGLES]
    return {
        "now": moment_words(report.now.moment),
        "best": None if best is None else _change(list(best.changes), best.met.start.moment),
        "singles": [_change([t.what], t.then.moment) for t in single if abs(t.then.moment) < abs(report.now.moment)],
    }


def _change(changes: list[Candidate], moment: float) -> Answer:
    return {
        "words": [told(c.words) for c in changes],
        "notes": [told(c.note) for c in changes if c.note],
        "moment": moment_words(moment),
        "settings": [s for c in changes for s in c.settings],
    }


def _sure(case: Case, more: Mapping[str, Any], progress: Progress) -> Answer:
    """How sure the answers are: bands, and what makes them wide."""
    from sim.answers.settle.uncertain import uncertain_told
    from sim.answers.settle.uncertain_text import uncertain_lines
    from sim.uncertainty.uncertain_settle import uncertain_settle

    found = uncertain_told(uncertain_settle(case, done=progress))
    moment = found.pitch_moment
    return {"low": moment.p5, "high": moment.p95, "text": "\n".join(uncertain_lines(found)).strip("\n")}


def _compared(case: Case, more: Mapping[str, Any], progress: Progress) -> Answer:
    """The pinned set-up against this one: what differs, and what each difference does by itself."""
    from sim.answers.compare.compared import compared
    from sim.answers.compare.text import change_words, compare_text

    pinned = case_of(SetUp(dict(more["pinned"]), case.path.with_name("pinned.toml")))
    found = compared((pinned, case), progress)
    against = found.against[0]
    said = () if found.differences is None else found.differences.written
    return {
        "said": [[one.key, *one.said] for one in said],
        "effects": [
            [e.table, change_words(e.moment) if e.moment is not None else e.why_not] for e in against.effects
        ],
        "text": compare_text(found),
    }


def _people(case: Case, more: Mapping[str, Any], progress: Progress) -> Answer:
    """For how many women and men everything worn on the back fits, all else as in the set-up."""
    from sim.answers.fit.fitted_people import Batch
    from sim.answers.fit.people_run import people_report
    from sim.answers.fit.report import fit_report
    from sim.answers.fit.told.people import people_fit, people_rows

    def watched(batches: Iterable[Batch], steps: int, seconds: float, workers: int) -> Iterator[Batch]:
        for number, batch in enumerate(batches):
            progress(number / steps)
            yield batch

    found = people_report(fit_report(case).plates, PEOPLE, workers=1, watched=watched)
    return {"rows": [words for _, words in people_rows(people_fit(found))]}


def _seen(case: Case, more: Mapping[str, Any], progress: Progress) -> Answer:
    """Which causes fit how the diver was seen to hang."""
    from sim.answers.seen.answer import seen_answer
    from sim.answers.seen.text import seen_text
    from sim.answers.seen.typed import TypedError, outcome_of, sight_of

    try:
        sight = sight_of(str(more["sight"]))
        tests = [outcome_of(str(text)) for text in more.get("tests", ())]
    except TypedError as wrong:
        raise ScenarioError([Problem("seen", f"{wrong}.", "seen")]) from None
    return {"text": seen_text(seen_answer(case, [sight], tests))}


def _calibration(case: Case, more: Mapping[str, Any], progress: Progress) -> Answer:
    """What a freeze test that was filmed says of this diver, and the file of it for ``hangflat calibrate``."""
    from sim.answers.calibrate.answer import calibration_told
    from sim.answers.calibrate.calibrate import calibrated
    from sim.answers.calibrate.text import calibration_text
    from sim.page.measured import bench_of

    bench = bench_of(case, str(more["drift"]), float(more["seconds"]))
    found = calibrated(case, bench, done=progress)
    stem = case.path.stem
    return {
        "text": calibration_text(calibration_told(found)),
        "measured": bench.text,
        "command": shlex.join(["hangflat", "calibrate", case.path.name, bench.name, "-o", f"{stem}-known.toml"]),
    }


BACKGROUND: Final[dict[str, Callable[[Case, Mapping[str, Any], Progress], Answer]]] = {
    "weighing": _weighing,
    "fit drawing": _fit_drawing,
    "advice": _advice,
    "sure": _sure,
    "compared": _compared,
    "people": _people,
    "seen": _seen,
    "calibration": _calibration,
}
