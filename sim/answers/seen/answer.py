"""``hangflat.seen/1``: which causes fit what was seen, how likely each is, and which test tells most."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Final

from scenarios.errors import Problem, ScenarioError
from sim.answers.seen.behaviour import PARTS, drawn_divers, kilogram_goes, play_all, possible
from sim.answers.seen.causes import CAUSES, READ_SD, CauseName
from sim.answers.seen.diver import SeenDiver, seen_diver
from sim.answers.seen.ranking import Ranked, Separation, best_test, ranked
from sim.answers.seen.typed import Outcome, Sight, TestName
from sim.answers.seen.words import classes_words, finding, how_to, typed_like, why_words
from sim.case import Case
from sim.said import joined, known, note
from sim.telling.caution import CAUTION
from sim.telling.made_by import MadeBy
from sim.telling.record import Told
from sim.telling.written_file import WrittenFile
from sim.uncertainty.variants import UnvariedError

FORMAT: Final = "hangflat.seen/1"
SAMPLES: Final = (8192, 32768)  # divers drawn of each cause at first, and where too few of them count
ENOUGH: Final = 200.0  # divers that count
SEED: Final = 61_803  # any fixed number: the same file gives the same answer
APART: Final = 2.0  # times as likely as the next: then the first is told as the cause, else as one of two (assumed)
FITS: Final = 1e-3  # of what can fit at best, by each thing seen, below which nothing known here fits (assumed)
EXPLAINS: Final = 0.7  # of the best cause's fit, from which the file as told explains what was seen (assumed)
SHOWN: Final = 0.15  # chance of an outcome below which it is not told in words


@dataclass(frozen=True)
class CauseTold:
    """A cause and how likely it is."""

    name: Annotated[CauseName, Told("which cause")]
    finding: Annotated[str, Told("in words")]
    probability: Annotated[float, Told("after what was seen, of all causes 1", "1")]
    before: Annotated[float, Told("before anything was seen", "1")]
    moment: Annotated[
        float, Told("what turns such a diver when flat, mean, as in the first sight", "N m", plus="head-up")
    ]
    why: Annotated[str, Told("what the diver does")]
    mend: Annotated[str, Told("what mends it")]


@dataclass(frozen=True)
class OutcomesTold:
    """What comes of a test if it is one cause."""

    cause: Annotated[CauseName, Told("if it is this")]
    words: Annotated[str, Told("what then is seen most")]
    chances: Annotated[dict[str, float], Told("chance of each outcome", "1", names="<outcome>")]


@dataclass(frozen=True)
class NextTest:
    """The test in the water that tells most."""

    name: Annotated[TestName, Told("which test")]
    how: Annotated[str, Told("how it is done")]
    information: Annotated[float, Told("what it is expected to tell, bit: 1 would decide between two alike", "1")]
    if_it_is: Annotated[tuple[OutcomesTold, ...], Told("what comes of it, by cause")]
    typed_like: Annotated[str, Told("how its outcome is typed")]


@dataclass(frozen=True, kw_only=True)
class SeenAnswer:
    """``hangflat.seen/1``."""

    format: Annotated[str, Told(FORMAT)] = FORMAT
    made_by: Annotated[MadeBy | None, Told("by which program and from what", left_out=True)] = None
    title: Annotated[str, Told("the scenario's title")]
    sights: Annotated[tuple[Sight, ...], Told("what was seen")]
    outcomes: Annotated[tuple[Outcome, ...], Told("what came of tests")]
    flat: Annotated[bool, Told("what was seen is flat, so that there is nothing to explain")]
    fits: Annotated[bool, Told("some cause known here fits what was seen")]
    explained: Annotated[
        bool, Told("the balance as the file tells it fits nearly as well as the best cause, so that none is needed")
    ]
    apart: Annotated[bool, Told("the first cause is told apart from the second: twice as likely or more")]
    causes: Annotated[tuple[CauseTold, ...], Told("the likeliest first")]
    test: Annotated[NextTest | None, Told("the next test", none="no test tells anything")]
    drawn: Annotated[int, Told("divers drawn of each cause")]
    count: Annotated[float, Told("of them that count for the first cause", "1")]
    far: Annotated[
        str | None,
        Told("that few of the divers drawn come near what was seen, as a sentence", none="enough of them do"),
    ]
    estimated: Annotated[tuple[str, ...], Told("what was estimated of the diver")]
    notes: Annotated[tuple[str, ...], Told("what is to be known besides")]
    caution: Annotated[str, Told("what the answer is good for")]
    chart: Annotated[WrittenFile | None, Told("the drawing", left_out=True)] = None


def seen_answer(case: Case, sights: Sequence[Sight], outcomes: Sequence[Outcome] = ()) -> SeenAnswer:
    """Of a scenario's diver. Raises ScenarioError for a parts file, what cannot be, and what is no sight of it."""
    _check(case, sights, outcomes)
    try:
        diver = seen_diver(case, sights)
    except UnvariedError as error:
        raise ScenarioError([Problem(str(case.path), str(error), error.key)]) from error
    found, drawn = _ranked(diver, sights, outcomes)
    left = [t for t in possible(diver, sights[0].doing) if t not in {o.test for o in outcomes}]
    test = best_test(diver, found, left, sights[0], len(sights) + len(outcomes))
    first, second = (found.of_cause(name) for name in found.order[:2])
    made = case.assembled
    return SeenAnswer(
        title=made.title,
        sights=tuple(sights),
        outcomes=tuple(outcomes),
        flat=all(abs(s.attitude) < READ_SD and s.fins != "down" for s in sights) and not outcomes,
        fits=found.fit >= FITS ** (len(sights) + len(outcomes)),
        explained=_explained(found),
        apart=first >= APART * second,
        causes=tuple(_told(diver, found, name) for name in found.order),
        test=None if test is None else _test_told(test, sights[0]),
        drawn=drawn,
        count=found.counts,
        far=_far(found),
        estimated=made.estimated,
        notes=(*made.notes, *_notes(found)),
        caution=CAUTION,
    )


def _ranked(diver: SeenDiver, sights: Sequence[Sight], outcomes: Sequence[Outcome]) -> tuple[Ranked, int]:
    """Ranked with as many divers as it takes."""
    times = len(sights) + len(outcomes) + 1
    for samples in SAMPLES:
        found = ranked(diver, play_all(diver, drawn_divers(diver, samples, times, SEED)), sights, outcomes)
        if found.counts >= ENOUGH:
            break
    return found, samples


def _explained(found: Ranked) -> bool:
    """Whether divers with nothing otherwise than told look so nearly as often as those with any cause."""
    fits = {
        n: found.of_cause(n) / found.of_cause(n, before=True) for n in CAUSES if found.of_cause(n, before=True) > 0.0
    }
    return fits["balance"] >= EXPLAINS * max(fits.values())


def _check(case: Case, sights: Sequence[Sight], outcomes: Sequence[Outcome]) -> None:
    scenario = case.scenario("a parts file has no body and no gear to ask after: give a scenario file")
    dry = scenario.suit is not None and scenario.suit.kind == "dry"
    problems = []
    if any(s.fins is not None for s in sights) and scenario.fins is None:
        problems.append("fins are told, but the scenario wears none; leave them out")
    if any(s.gaiters is not None for s in sights) and not dry:
        problems.append("gaiters are told, but the scenario wears no drysuit; leave them out")
    if any(o.test in ("gas out", "feel") for o in outcomes) and not dry:
        problems.append("a test is of a drysuit's gas, but the scenario wears no drysuit; leave that test out")
    if any(o.test == "fin on" for o in outcomes) and sights[0].doing == "finning":
        problems.append('"fin on" is a test of who was seen still, and the first sight is of one who fins')
    if any(s.pressure is not None for s in sights) and scenario.cylinders is None:
        problems.append("a pressure is told, but the scenario wears no cylinders on the back; leave it out")
    if problems:
        raise ScenarioError([Problem(str(case.path), message) for message in problems])


def _told(diver: SeenDiver, found: Ranked, name: CauseName) -> CauseTold:
    cause = CAUSES[name]
    parts = [part for part in PARTS if PARTS[part][0] == name]
    likeliest = max(parts, key=lambda part: found.after[part])
    whole = sum(found.after[part] for part in parts)
    moments = {part: float(found.weight[part] @ found.played[part].moment[:, 0]) for part in parts}
    moment = sum(found.after[part] * m for part, m in moments.items()) / whole if whole > 0.0 else moments[likeliest]
    return CauseTold(
        name=name,
        finding=finding(cause, likeliest, moment),
        probability=found.of_cause(name),
        before=found.of_cause(name, before=True),
        moment=moment,
        why=why_words(cause, likeliest, moment),
        mend=cause.mend,
    )


def _test_told(test: Separation, sight: Sight) -> NextTest:
    words = classes_words(test.test)
    each = tuple(
        OutcomesTold(name, _most(chance, words), {words[k]: p for k, p in sorted(chance.items())})
        for name, chance in zip(test.between, test.chances, strict=True)
    )
    return NextTest(test.test, how_to(test.test, kilogram_goes(sight)), test.information, each, typed_like(test.test))


def _most(chance: Mapping[int, float], words: Mapping[int, str]) -> str:
    shown = sorted((k for k, p in chance.items() if p >= SHOWN), key=lambda k: -chance[k])
    return joined([note("{what} ({n:.0f} in 100)", what=known(words[k]), n=100.0 * chance[k]) for k in shown[:3]])


def _far(found: Ranked) -> str | None:
    """How rough the probabilities are, where few of the divers drawn come near."""
    if found.counts >= ENOUGH:
        return None
    return note(
        "What was seen is far from what this diver does by the model: only {counts:.0f} of the divers "
        "drawn come near it, so that the probabilities are rough. Look again, and at the file.",
        counts=found.counts,
    )


def _notes(found: Ranked) -> Iterator[str]:
    hardly = [known(CAUSES[n].finding) for n in CAUSES if found.of_cause(n, before=True) < 1e-3]
    if hardly:
        yield note("This diver cannot have: {causes}.", causes=joined(hardly, "; "))
    yield note(
        "One cause at a time is looked for, each counting alike before anything was seen, as far as this diver can "
        "have it (assumed)."
    )
