r"""Which cause is how likely: divers of each cause weighed by how well they fit what was seen (Bayes).

With divers i = 1 .. n of every cause drawn from what is believed before,

    P(cause | seen)  ~  P(cause) (1/n) sum_i able_i L(seen | diver i with the cause),

L being what is read: an attitude with its Gaussian error, fins by their height with theirs, a time with a share of
it. The factor able_i makes a cause count by the divers in whom it can be at work. The best test between two causes is
that whose outcome tells most about which of them it is: the mutual information of outcome (in a few classes) and
cause, over divers weighed so (Lindley 1956, Annals of Mathematical Statistics 27:986).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.special import ndtr

from meshes.mesh import Floats, Ints
from sim.answers.posture.drift import WATCHED
from sim.answers.seen import causes as c
from sim.answers.seen.behaviour import PARTS, Part, Played, View, seen_as, tested
from sim.answers.seen.causes import CAUSES, CauseName
from sim.answers.seen.diver import SeenDiver
from sim.answers.seen.typed import CHECKS, DRIFTS, Outcome, Sight, TestName

LEAST: Final = 1e-3  # likelihood of what cannot be by the model: eyes are wrong now and then (assumed)
MISCOUNTED: Final = 0.05  # of the times that a check is told wrong (assumed)
MISFELT: Final = 0.15  # of the times that a hand takes full for slack, or slack for full (assumed)
LITTLE: Final = 0.03  # bit, below which a test is not worth the gas
NEARLY: Final = 0.8  # of what the best test tells: then the easier one is taken (assumed)
UNLIKELY: Final = 0.02  # a cause that is not asked after
DRIFT_CLASSES: Final = (-WATCHED, -6.0, -3.0, 0.0, 3.0, 6.0, WATCHED)  # s, between what an onlooker tells apart
ATTITUDE_CLASSES: Final = tuple(np.radians([-30.0, -15.0, -5.0, 5.0, 15.0, 30.0]).tolist())


@dataclass(frozen=True, eq=False)
class Ranked:
    """Divers of every part of a cause with their weights.

    prior, after : probability of each part, before and after;  weight : (n,) within each part, adding up to 1
    counts : the number of divers that count for the likeliest part
    fit : how well what was seen fits the divers drawn, mean of all causes: 1 if everything is as read in all of them
    """

    played: Mapping[Part, Played]
    prior: Mapping[Part, float]
    after: Mapping[Part, float]
    weight: Mapping[Part, Floats]
    counts: float
    fit: float

    def of_cause(self, name: CauseName, *, before: bool = False) -> float:
        """Probability of a cause."""
        table = self.prior if before else self.after
        return sum(p for part, p in table.items() if PARTS[part][0] == name)

    @property
    def order(self) -> tuple[CauseName, ...]:
        """Causes, the likeliest first."""
        return tuple(sorted(CAUSES, key=lambda name: -self.of_cause(name)))


def ranked(
    diver: SeenDiver, played: Mapping[Part, Played], sights: Sequence[Sight], outcomes: Sequence[Outcome]
) -> Ranked:
    """Causes after sights (the first one tested) and outcomes; ``played`` : divers with each, see ``play_all``."""
    prior = {part: PARTS[part][1] * float(p.able.mean()) for part, p in played.items()}
    whole = sum(prior.values())
    log_fits = {part: log_fit(diver, p, sights, outcomes) for part, p in played.items()}
    top = max(float(f.max()) for f in log_fits.values())
    weight, evidence = {}, {}
    for part, p in played.items():
        fits = np.where(p.able, np.exp(log_fits[part] - top), 0.0)
        total = float(fits.sum())
        weight[part] = fits / total if total > 0.0 else np.full(len(fits), 1.0 / len(fits))
        evidence[part] = PARTS[part][1] * float(fits.mean())
    seen = sum(evidence.values())
    after = {part: e / seen for part, e in evidence.items()}
    first = max(after, key=lambda part: after[part])
    return Ranked(
        played, {part: p / whole for part, p in prior.items()}, after, weight,
        1.0 / float((weight[first] ** 2).sum()), seen / whole * float(np.exp(top)),
    )  # fmt: skip


def log_fit(diver: SeenDiver, played: Played, sights: Sequence[Sight], outcomes: Sequence[Outcome]) -> Floats:
    """Log likelihood (n,) of everything seen, up to a constant."""
    total = np.zeros(len(played.moment))
    for number, sight in enumerate(sights):
        total += _of_sight(seen_as(diver, played, number, sight.doing, number), sight)
    for number, outcome in enumerate(outcomes):
        came = tested(diver, played, outcome.test, sights[0], len(sights) + number)
        total += np.log(LEAST + (1.0 - LEAST) * fit_of(outcome, came))
    return total


def _of_sight(view: View, sight: Sight) -> Floats:
    fit = _near(view.pitch, sight.attitude)
    if sight.fins is not None:
        fit = fit * fins_fit(view.fins, sight.fins)
    return np.asarray(np.log(LEAST * 1e-3 + fit))


def _near(pitch: Floats, read: float) -> Floats:
    return np.asarray(np.exp(-0.5 * ((pitch - read) / c.READ_SD) ** 2))


def fins_fit(height: Floats, said: str) -> Floats:
    """Probability (n,) that fins so high [m] are said to be up, even or down; 1 of each without fins."""
    low, high = (ndtr((edge - height) / c.FINS_SD) for edge in c.FINS_EDGE)
    found = {"down": low, "even": high - low, "up": 1.0 - high}[said]
    return np.where(np.isnan(height), 1.0, found)


def fit_of(outcome: Outcome, came: Floats) -> Floats:
    """How well what came of a test (n,) fits what is told of it, 1 at best."""
    if outcome.as_told is not None:
        wrong = told_wrong(outcome.test)
        return np.where((came > 0.5) == outcome.as_told, 1.0 - wrong, wrong)
    if outcome.attitude is not None:
        return _near(came, outcome.attitude)
    size = np.log(np.minimum(np.abs(came), 1e6))
    stays = ndtr((size - np.log(WATCHED)) / c.TIME_SD)
    if outcome.way == "stays":
        return np.asarray(stays)
    same = np.sign(came) == (1.0 if outcome.way == "head-up" else -1.0)
    if outcome.time is None:
        return np.where(same, 1.0 - stays, 0.0)
    return np.where(same, np.exp(-0.5 * ((size - np.log(outcome.time)) / c.TIME_SD) ** 2), 0.0)


def told_wrong(test: TestName) -> float:
    """How often a check is told wrong."""
    return MISFELT if test == "feel" else MISCOUNTED


def classes(test: TestName, came: Floats, noise: Floats) -> Ints:
    """In which class each outcome (n,) is told, read with an error; ``noise`` (n,) standard normal."""
    if test in CHECKS:
        return np.asarray((came > 0.5) ^ (ndtr(noise) < told_wrong(test)), dtype=np.int64)
    if test in DRIFTS:
        read = came * np.exp(c.TIME_SD * noise)
        slow = np.abs(read) >= WATCHED
        return np.where(slow, 0, np.digitize(read, DRIFT_CLASSES) + 1).astype(np.int64)
    return np.asarray(np.digitize(came + c.READ_SD * noise, ATTITUDE_CLASSES), dtype=np.int64)


@dataclass(frozen=True, eq=False)
class Separation:
    """What a test tells of which among some causes it is: information [bit], and the chance of each class of outcome.

    chances : by cause, in the order of ``between``
    """

    test: TestName
    between: tuple[CauseName, ...]
    information: float
    chances: tuple[Mapping[int, float], ...]


def separation(
    diver: SeenDiver, found: Ranked, test: TestName, sight: Sight, time: int, between: Sequence[CauseName]
) -> Separation:
    """Of one test, among causes."""
    chances = []
    for name in between:
        parts = [part for part in PARTS if PARTS[part][0] == name]
        whole = sum(found.after[part] for part in parts)
        chance: dict[int, float] = {}
        for part in parts:
            came = tested(diver, found.played[part], test, sight, time)
            told = classes(test, came, np.random.default_rng(len(part)).standard_normal(len(came)))
            each = np.bincount(told, found.weight[part])
            share = found.after[part] / whole if whole > 0.0 else 0.0
            for k in np.flatnonzero(each).tolist():
                chance[k] = chance.get(k, 0.0) + share * float(each[k])
        chances.append(chance)
    shares = np.array([found.of_cause(name) for name in between])
    return Separation(test, tuple(between), _information(shares / shares.sum(), chances), tuple(chances))


def _information(shares: Floats, chances: Sequence[Mapping[int, float]]) -> float:
    """Mutual information [bit] of cause (m,) and class."""
    total = 0.0
    for k in {k for chance in chances for k in chance}:
        p = np.array([chance.get(k, 0.0) for chance in chances])
        known = p * shares > 0.0
        total += float((shares[known] * p[known] * np.log2(p[known] / float(shares @ p))).sum())
    return max(total, 0.0)


def best_test(
    diver: SeenDiver, found: Ranked, tests: Sequence[TestName], sight: Sight, time: int
) -> Separation | None:
    """The test that best tells the first two causes apart; where none does, the one that tells most among all of
    them; None where that is next to nothing. Of tests that tell nearly as much the first, the easiest, is taken."""
    for between in (found.order[:2], tuple(name for name in found.order if found.of_cause(name) > UNLIKELY)):
        told = [separation(diver, found, test, sight, time, between) for test in tests]
        most = max((s.information for s in told), default=0.0)
        if most > LITTLE:
            return next(s for s in told if s.information >= NEARLY * most)
    return None
