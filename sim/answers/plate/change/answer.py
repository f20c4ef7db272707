"""By how much each dimension of a plate moves each answer, on the reference divers."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from typing import Annotated

from scenarios.errors import ScenarioError
from sim.answers.plate.bench import BenchPlate
from sim.answers.plate.design.brief import Brief
from sim.answers.plate.design.trial import Built, trials
from sim.answers.plate.dimensions import Dimensions, measure_of
from sim.answers.plate.divers.answer import diver_name
from sim.answers.plate.divers.worn import WornAnswers, difference, worn_answers
from sim.answers.plate.laid import laid
from sim.answers.plate.suits.known import Batch, Who
from sim.case import Case
from sim.said import word
from sim.telling.record import Told
from sim.telling.written_file import WrittenFile


@dataclass(frozen=True)
class OnDiver:
    """What a dimension moves on one diver."""

    diver: Annotated[str, Told("who")]
    moves: Annotated[WornAnswers, Told("how much each answer grows by so much more of it")]


@dataclass(frozen=True)
class Lever:
    """One dimension of the plate."""

    dimension: Annotated[str, Told("which one; all the others are kept")]
    unit: Annotated[str, Told('"cm", "mm" or "degrees"')]
    now: Annotated[float, Told("as drawn, in that unit")]
    per: Annotated[float, Told("how much more of it, in that unit, the moves are told for")]
    sides: Annotated[
        tuple[float, ...],
        Told("how far it was changed, in that unit; two sides, one where the other makes no plate, or none"),
    ]
    why_not: Annotated[str | None, Told("why a side is missing", none="none is")]
    mass: Annotated[float | None, Told("how much the plate's mass grows", "kg", none="it cannot be changed")]
    divers: Annotated[tuple[OnDiver, ...], Told("what it moves on each diver; none where it cannot be changed")]
    share: Annotated[
        float | None,
        Told(
            "how much the share of the group grows that it suits", "1", none="nobody asked, or it cannot be changed"
        ),
    ] = None


@dataclass(frozen=True, kw_only=True)
class ChangeTold:
    """What could be changed in the drawing."""

    mass: Annotated[float, Told("of the plate as drawn", "kg")]
    now: Annotated[tuple[OnDiver, ...], Told("each answer with the plate as drawn, on each diver")]
    levers: Annotated[tuple[Lever, ...], Told("each dimension")]
    redrawn: Annotated[str, Told("how a drawing is changed, as a sentence; empty for a plate by its dimensions")]
    group: Annotated[str | None, Told("whom the shares are of", none="nobody asked")] = None
    share: Annotated[float | None, Told("of the group, whom it suits as drawn", "1", none="nobody asked")] = None
    picture: Annotated[WrittenFile | None, Told("the drawing", left_out=True)] = None


@dataclass(frozen=True)
class _Side:
    """The plate with one dimension changed by ``by`` [SI]: its mass [kg], and the answers of each diver."""

    by: float
    mass: float
    answers: tuple[WornAnswers, ...]


Watched = Callable[[Iterable[Lever]], Iterable[Lever]]
People = Callable[[Iterable[Batch], int, float, int], Iterable[Batch]]


def change_told(bench: BenchPlate, divers: Sequence[Case], watched: Watched = list) -> ChangeTold:
    """What each dimension moves. Raises ScenarioError for a plate that cannot be worn."""
    dimensions = Dimensions(bench)
    names = [diver_name(case) for case in divers]
    # the same places stated: what is compared differs by one dimension alone
    now = _side(dimensions, {}, 0.0, divers)
    levers = tuple(watched(_lever(dimensions, name, now, names, divers) for name in dimensions.names))
    return ChangeTold(mass=now.mass, now=_on(names, now.answers), levers=levers, redrawn=_redrawn(bench))


def with_shares(
    told: ChangeTold, bench: BenchPlate, case: Case, people: Sequence[Who], group: str, watched: People | None = None
) -> ChangeTold:
    """The answer with what each dimension does to whom the plate suits, of a group worked out in full each time.

    case : whose gear they wear;  group : who they are, in words
    """
    dimensions = Dimensions(bench)
    brief = Brief(dimensions, (), tuple(people), group)
    asked = [(lever, side / measure_of(lever.dimension).scale) for lever in told.levers for side in lever.sides]
    plates = [dimensions.with_values({})]
    plates += [dimensions.with_values({lv.dimension: dimensions.now[lv.dimension] + by}) for lv, by in asked]
    as_drawn, *found = (t.share for t in trials(brief, case, [Built(p, {}, {}) for p in plates], watched))
    shares = {(lever.dimension, by): share for (lever, by), share in zip(asked, found, strict=True)}
    levers = tuple(replace(lever, share=_share(lever, shares, as_drawn)) for lever in told.levers)
    return replace(told, group=group, share=as_drawn, levers=levers)


def _share(lever: Lever, shares: Mapping[tuple[str, float], float], as_drawn: float) -> float | None:
    scale = measure_of(lever.dimension).scale
    ends = [(side / scale, shares[lever.dimension, side / scale]) for side in lever.sides]
    if not ends:
        return None
    (a, more), (b, less) = ends if len(ends) == 2 else [ends[0], (0.0, as_drawn)]
    return (more - less) / (a - b) * lever.per / scale


def _redrawn(bench: BenchPlate) -> str:
    if bench.table.file is None:
        return ""
    if bench.table.is_solid:
        return word("Of a solid only bolts and slots are moved here; its shape is as drawn.")
    return word(
        "The drawing is made longer at its lower end, and wider in proportion; slots that move take the edge along."
    )


def _lever(
    dimensions: Dimensions, name: str, now: _Side, names: Sequence[str], divers: Sequence[Case]
) -> Lever:  # fmt: skip
    how, value = measure_of(name), dimensions.now[name]
    found: list[_Side] = []
    why = None
    for by in (how.step, -how.step):
        try:
            found.append(_side(dimensions, {name: value + by}, by, divers))
        except ScenarioError as error:
            why = error.problems[0].message
    ends = found if len(found) != 1 else [found[0], now]
    mass, moves = (None, ()) if not found else _slopes(ends, how.per / how.scale)
    return Lever(
        dimension=name,
        unit=how.unit,
        now=how.scale * value,
        per=how.per,
        sides=tuple(how.scale * side.by for side in found),
        why_not=why,
        mass=mass,
        divers=_on(names, moves),
    )


def _side(dimensions: Dimensions, values: Mapping[str, float], by: float, divers: Sequence[Case]) -> _Side:
    bench = dimensions.with_values(values)
    return _Side(by, bench.plate.solid.mass, tuple(worn_answers(laid(case, bench).case) for case in divers))


def _slopes(ends: Sequence[_Side], per: float) -> tuple[float, tuple[WornAnswers, ...]]:
    """How mass and answers grow by ``per`` [SI], from two places."""
    more, less = ends
    times = per / (more.by - less.by)
    moves = tuple(_times(difference(a, b), times) for a, b in zip(more.answers, less.answers, strict=True))
    return times * (more.mass - less.mass), moves


def _times(answers: WornAnswers, times: float) -> WornAnswers:
    def grown() -> Iterator[tuple[str, float | None]]:
        for field in fields(answers):
            value = getattr(answers, field.name)
            yield field.name, None if value is None else times * value

    return WornAnswers(**dict(grown()))  # type: ignore[arg-type]


def _on(names: Sequence[str], answers: Sequence[WornAnswers]) -> tuple[OnDiver, ...]:
    return tuple(OnDiver(name, told) for name, told in zip(names, answers, strict=False))
