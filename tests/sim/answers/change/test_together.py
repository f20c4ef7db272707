"""Sets of changes: enough lead first, then balance on every occasion by the fewest, against trying all by hand."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence

import numpy as np
import pytest

from scenarios.loose_gear import Lead, LeadPlace
from sim.answers.change.ballasting import Ballasting
from sim.answers.change.candidate import WITH_GEAR, Candidate, Kind
from sim.answers.change.occasions import Met, Outcome
from sim.answers.change.together import Chosen, Tried, rank, together

SMALLEST = 0.3  # N m, below which a change is not worth its while (assumed)
WITHIN = 2.0  # N m, any that these divers are in balance with
NO_LEAD = Ballasting((), {})
HALF_METRE = 0.5 * 9.80665  # N m, of a kilogram


def met(start: float, end: float | None = None, surplus: float = 0.0, wing: float = 0.0) -> Met:
    last = start if end is None else end
    return Met(Outcome(start, wing, 0.0), Outcome(last, wing, 0.0), surplus)


def worn(kilograms: float, place: str) -> Lead:
    return Lead.model_validate({"mass": f"{kilograms} kg", "place": place})


def change(
    name: str,
    found: Met,
    *knobs: str,
    kind: Kind = "lead",
    advised: bool = True,
    fails: tuple[str, ...] = (),
    unbalanced: bool = False,
) -> Tried:
    what = Candidate(kind, frozenset(knobs or {name}), name, (f"{name}=1",), advised=advised)
    return Tried(what, found, fails=fails, unbalanced=unbalanced)


def names(chosen: Chosen) -> str:
    lead = [] if chosen.correction is None else [chosen.correction.words]
    return ", ".join([*sorted(t.what.words for t in chosen.tried), *lead])


def sets(now: Met, tried: Iterable[Tried], lead: Ballasting = NO_LEAD, **more: Sequence[Kind]) -> list[str]:
    return [names(c) for c in together(now, list(tried), lead, WITHIN, **more)]


def test_one_that_does_comes_before_two_that_do_better() -> None:
    tried = [change("a", met(-1.5)), change("b", met(-6.0)), change("c", met(-4.0))]
    found = sets(met(-10.0), tried)
    assert found[:2] == ["a", "b, c"]  # that to nothing at all
    assert set(found) == {"", "a", "b", "c", "a, b", "a, c", "b, c", "a, b, c"}


def test_what_balances_at_the_start_alone_comes_behind_what_balances_at_the_end_too() -> None:
    tried = [change("a", met(0.0, -9.0)), change("b", met(-5.0, -3.0)), change("c", met(-4.0, -5.0))]
    assert sets(met(-10.0, -8.0), tried)[0] == "b, c"


def test_where_nothing_reaches_the_nearest_comes_first() -> None:
    tried = [change("a", met(-7.0)), change("b", met(-6.0)), change("c", met(-12.0))]
    assert sets(met(-10.0), tried)[0] == "a, b"
    assert sets(met(-10.0), [change("a", met(-9.5)), change("b", met(-5.0))])[0] == "b"  # half a newton metre is too
    # little for a change more


def test_what_shares_a_knob_breaks_something_or_does_nothing_is_left_out() -> None:
    tried = [
        change("a", met(-5.0), "x"), change("b", met(-5.0), "x"), change("c", met(0.0), fails=("look-ahead",)),
        change("g", met(0.0), unbalanced=True), change("h", met(0.0), advised=False),
        change("d", met(-10.0 + 0.5 * SMALLEST)), change("e", met(-1.0), kind="gear"),
        change("f", met(-1.0), kind="pose"), change("i", met(-10.0, -9.0)),
    ]  # fmt: skip
    assert set(sets(met(-10.0), tried)) == {"", "a", "b", "i", "a, i", "b, i"}
    gear = set(sets(met(-10.0), tried, kinds=WITH_GEAR))
    assert {"e", "a, e", "b, e, i"} <= gear
    assert not any("f" in one for one in gear)


def test_what_the_wing_has_to_hold_besides_counts_as_more_changes() -> None:
    tried = [
        change("a", met(-1.0, wing=1.4e-3)), change("b", met(-5.0, wing=-3e-3)), change("c", met(-5.5)),
        change("d", met(0.0, wing=3e-3)),
    ]  # fmt: skip
    found = sets(met(-10.0), tried)
    assert found[:2] == ["b, c", "a"]  # 2 changes each, bc nearer to nothing
    assert "d" not in found  # 3 kg more are too many,
    assert "b, d" in found  # unless others are left off


def test_who_is_too_light_is_given_lead_before_anything_else_where_it_trims_best() -> None:
    lead = Ballasting((), {"belt": (0.5, 0.5), "ankles": (4.0, 4.0)})
    found = sets(met(-5.0, surplus=-1.0), [change("a", met(0.0, surplus=-1.0))], lead)
    assert found[0] == "1 kg more lead on the ankles"
    assert found.index("a, 1 kg more lead on the belt") < found.index("a")  # which balances, and floats up


def test_lead_to_spare_comes_off_unless_it_holds_down_more_than_it_weighs() -> None:
    for turns, first in ((-1.0, "2 kg less lead on the belt"), (6.0, "")):
        lead = Ballasting((worn(4.0, "belt"),), {"belt": (turns, turns)})
        assert sets(met(0.0, surplus=2.0), [], lead)[0] == first


def test_an_entry_that_is_less_than_what_is_worn_too_much_may_come_off_whole() -> None:
    leads = (worn(1.0, "belt"), worn(3.0, "ankles"))
    lead = Ballasting(leads, {"belt": (0.1, 0.1), "ankles": (8.0, 8.0)})
    first, *_ = together(met(0.0, surplus=2.0), [], lead, WITHIN)
    (step,) = first.steps(met(0.0))
    assert step.what.words == "1 kg less lead on the belt"
    assert step.what.settings == ("lead=none", "lead.0.mass=3 kg", "lead.0.place=ankles")


@pytest.mark.parametrize("better", [0.2, 1.0, 3.0])
def test_rank_puts_lead_to_spare_and_moment_on_one_scale(better: float) -> None:
    """A kilogram beyond what is let pass weighs as much as the moment of one half a metre off."""
    spare = rank(5.0, 1.5 + better, 0, 0.0, WITHIN)
    turned = rank(5.0 + better * HALF_METRE, 1.5, 0, 0.0, WITHIN)
    assert spare == pytest.approx(turned, rel=1e-12)
    assert rank(50.0, 6.0, 3, 0.0, WITHIN) < rank(0.0, -0.3, 0, 0.0, WITHIN)  # too light is the worst


@pytest.mark.parametrize("seed", range(12))
def test_no_set_by_hand_is_better(seed: int) -> None:
    """Every set of up to three, lead corrections among them, valued by the rules as they are told in words."""
    rng = np.random.default_rng(seed)
    now = met(*rng.uniform(-15.0, 15.0, 2), surplus=float(rng.choice([-2.0, 0.0, 0.7, 3.0])))
    turns = rng.uniform(-6.0, 6.0, (6, 2))
    tried = [
        change(chr(97 + i), met(now.start.moment + a, now.end.moment + b, now.surplus))
        for i, (a, b) in enumerate(turns)
    ]
    places: dict[LeadPlace, tuple[float, ...]] = {
        "belt": tuple(rng.uniform(-1.0, 1.0, 2)), "tail": tuple(rng.uniform(1.0, 2.0, 2)),
    }  # fmt: skip
    lead = Ballasting((worn(4.0, "belt"),), places)
    best, *_ = together(now, tried, lead, WITHIN)
    by_hand = sorted((*_value(now, picked, add), picked, add) for picked, add in _every(now, turns, places))
    worth, worst, *_ = by_hand[0]
    steps = best.steps(now)
    found = [m + sum(s.turns[i] for s in steps) for i, m in enumerate(now.moments)]
    assert best.promised == pytest.approx(worth, abs=1e-9)
    assert max(map(abs, found)) == pytest.approx(worst, abs=1e-9)


Way = tuple[tuple[float, ...], float] | None  # what a correction of the lead turns, and the kilograms


def _every(
    now: Met, turns: np.ndarray, places: dict[LeadPlace, tuple[float, ...]]
) -> Iterator[tuple[list[tuple[float, ...]], Way]]:
    for count in range(4):
        for picked in itertools.combinations([tuple(t) for t in turns], count):
            yield list(picked), None
            if count == 3 or -0.25 <= now.surplus <= 1.5:
                continue
            if now.surplus < 0.0:
                for one in places.values():
                    yield list(picked), (tuple(-now.surplus * t for t in one), -now.surplus)
            else:
                yield list(picked), (tuple(-now.surplus * t for t in places["belt"]), -now.surplus)


def _value(now: Met, picked: list[tuple[float, ...]], lead: Way) -> tuple[float, float]:
    """Enough lead before too little; balance with at most 1.5 kg to spare before none; then the fewest, and a litre
    more in the wing as a change more; the nearest to nothing among as many."""
    adds = picked + ([] if lead is None else [lead[0]])
    worst = max(abs(m + sum(t[i] for t in adds)) for i, m in enumerate(now.moments))
    kilograms = 0.0 if lead is None else lead[1]
    surplus = now.surplus + kilograms
    more = kilograms + (now.surplus if now.surplus < -0.25 else 0.0)  # what is missing has to be worn anyway
    cost = len(adds) + round(max(more, 0.0))
    light = 0.0 if surplus >= -0.25 else 1000.0 - surplus
    if worst <= WITHIN and surplus <= 1.5:
        return light + cost, worst
    return light + 100.0 + max(worst, WITHIN) + HALF_METRE * max(surplus - 1.5, 0.0) + cost, worst
