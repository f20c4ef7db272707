"""Sets of changes: the fewest that reach balance come first, against trying all by hand."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from sim.answers.change.candidate import WITH_GEAR, Candidate, Kind
from sim.answers.change.together import Outcome, Tried, together

SMALLEST = 0.3  # N m, below which a change is not worth its while (assumed)


def change(
    name: str,
    moment: float,
    *knobs: str,
    kind: Kind = "lead",
    wing: float = 0.0,
    advised: bool = True,
    **more: object,
) -> Tried:
    what = Candidate(kind, frozenset(knobs or {name}), name, (f"{name}=1",), advised=advised)
    return Tried(what, Outcome(moment, wing_gas=wing, net_buoyancy=0.0), **more)  # type: ignore[arg-type]


def now(moment: float) -> Outcome:
    return Outcome(moment, wing_gas=0.0, net_buoyancy=0.0)


def names(chosen: tuple[Tried, ...]) -> str:
    return "".join(sorted(t.what.words for t in chosen))


def test_one_that_does_comes_before_two_that_do_better() -> None:
    tried = [change("a", -1.5), change("b", -6.0), change("c", -4.0)]
    found = [names(c) for c in together(now(-10.0), tried, within=2.0)]
    assert found[0] == "a"
    assert found[1] == "bc"  # to nothing at all
    assert set(found) == {"a", "b", "c", "ab", "ac", "bc", "abc"}


def test_where_nothing_reaches_the_nearest_comes_first() -> None:
    tried = [change("a", -9.0), change("b", -8.0), change("c", -12.0)]
    assert names(together(now(-10.0), tried, within=2.0)[0]) == "ab"


def test_what_shares_a_knob_breaks_something_or_does_nothing_is_left_out() -> None:
    tried = [
        change("a", -5.0, "x"), change("b", -5.0, "x"), change("c", 0.0, fails=("look-ahead",)),
        change("g", 0.0, unbalanced=True), change("h", 0.0, advised=False),
        change("d", -10.0 + 0.5 * SMALLEST), change("e", -1.0, kind="gear"), change("f", -1.0, kind="pose"),
    ]  # fmt: skip
    assert {names(c) for c in together(now(-10.0), tried, within=2.0)} == {"a", "b"}
    assert {names(c) for c in together(now(-10.0), tried, 2.0, WITH_GEAR)} == {"a", "b", "e", "ae", "be"}


def test_what_the_wing_has_to_hold_besides_counts_as_more_changes() -> None:
    tried = [
        change("a", -1.0, wing=1.4e-3), change("b", -5.0, wing=-3e-3), change("c", -5.5), change("d", 0.0, wing=3e-3),
    ]  # fmt: skip
    found = [names(c) for c in together(now(-10.0), tried, within=2.0)]
    assert found[:2] == ["bc", "a"]  # 2 changes each, bc nearer to nothing
    assert "d" not in found  # 3 kg more are too many,
    assert "bd" in found  # unless others are left off


@pytest.mark.parametrize("seed", range(20))
def test_no_set_by_hand_is_better(seed: int) -> None:
    rng = np.random.default_rng(seed)
    start = float(rng.uniform(-20.0, 20.0))
    tried = [change(chr(97 + i), start + float(d)) for i, d in enumerate(rng.uniform(-8.0, 8.0, 7))]
    best = together(now(start), tried, within=2.0)[0]
    left = {
        chosen: abs(start + sum(t.then.moment - start for t in chosen))
        for n in (1, 2, 3)
        for chosen in itertools.combinations([t for t in tried if abs(t.then.moment - start) >= SMALLEST], n)
    }
    reaching = [c for c, m in left.items() if m <= 2.0]
    pool = [c for c in reaching if len(c) == min(map(len, reaching))] if reaching else list(left)
    assert left[best] == pytest.approx(min(left[c] for c in pool), abs=1e-12)
    assert best in pool
