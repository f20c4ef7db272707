"""Causes weighed: Bayes' rule in closed form, what each cause shows, and what a test is worth."""

from __future__ import annotations

from dataclasses import replace
from math import radians

import numpy as np
import pytest

from sim.answers.seen import behaviour, ranking
from sim.answers.seen.behaviour import PARTS, Divers, drawn_divers, play, play_all, possible, seen_as
from sim.answers.seen.causes import CAUSES
from sim.answers.seen.diver import SeenDiver
from sim.answers.seen.ranking import (
    Ranked,
    _information,
    best_test,
    fins_fit,
    fit_of,
    separation,
)
from sim.answers.seen.typed import Outcome, Sight
from tests.sim.answers.seen.conftest import made

N = 2048


def divers(diver: SeenDiver, times: int = 4) -> Divers:
    return drawn_divers(diver, N, times, 1)


def ranked(diver: SeenDiver, drawn: Divers, sights: list[Sight], outcomes: list[Outcome]) -> Ranked:
    return ranking.ranked(diver, play_all(diver, drawn), sights, outcomes)


HEAD_UP = Sight(radians(20.0), "finning", "down")


def test_probabilities_add_up_and_each_cause_counts_by_who_can_have_it(diver) -> None:
    found = ranked(diver, divers(diver), [HEAD_UP], [])
    assert sum(found.after.values()) == pytest.approx(1.0)
    assert sum(found.prior.values()) == pytest.approx(1.0)
    able = {name: np.mean(found.played[part].able) for part, (name, _) in PARTS.items()}
    ratio = found.of_cause("over-correction", before=True) / found.of_cause("balance", before=True)
    assert ratio == pytest.approx(able["over-correction"])
    # light feet: a Gaussian about -3 N m of 6 N m SD, below -2 N m
    assert able["over-correction"] == pytest.approx(0.566, abs=0.01)


def test_who_wears_no_drysuit_has_no_gas_in_it() -> None:
    found = ranked(made(dry=False), divers(made()), [HEAD_UP], [])
    assert found.of_cause("gas") == 0.0
    assert "gas out" not in possible(made(dry=False), "still")


def test_a_check_moves_the_odds_by_what_checks_are_worth(diver) -> None:
    """Bayes' rule: odds after are odds before times the ratio of likelihoods, which a count has in closed form."""
    drawn = divers(diver)
    before = ranked(diver, drawn, [HEAD_UP], [])
    after = ranked(diver, drawn, [HEAD_UP], [Outcome("count", as_told=False)])
    odds = [f.of_cause("lead or gas") / f.of_cause("over-correction") for f in (before, after)]
    likely, not_likely = (1e-3 + (1.0 - 1e-3) * p for p in (0.95, 0.05))  # told wrong once in twenty (assumed)
    assert odds[1] / odds[0] == pytest.approx(likely / not_likely)
    others = [f.of_cause("balance") / f.of_cause("sight") for f in (before, after)]
    assert others[1] == pytest.approx(others[0])


def test_the_order_of_checks_is_of_no_account(diver) -> None:
    drawn, told = divers(diver), [Outcome("count", as_told=True), Outcome("rig down", as_told=False)]
    one, other = (ranked(diver, drawn, [HEAD_UP], outcomes) for outcomes in (told, told[::-1]))
    for name in CAUSES:
        assert one.of_cause(name) == pytest.approx(other.of_cause(name))


def test_two_sights_alike_say_more_than_one(diver) -> None:
    both, sight = made(situations=2), Sight(radians(20.0), "finning", "even")
    once, twice = ranked(diver, divers(diver), [sight], []), ranked(both, divers(both), [sight, sight], [])
    assert max(twice.after.values()) > max(once.after.values())


def test_light_feet_kicked_down_are_told_by_fins_that_are_down_and_by_freezing(diver) -> None:
    drawn = divers(diver)
    found = ranked(diver, drawn, [HEAD_UP], [])
    assert found.order[0] == "over-correction"
    frozen = ranked(diver, drawn, [HEAD_UP], [Outcome("freeze", way="head-down", time=4.0)])
    assert frozen.of_cause("over-correction") > found.of_cause("over-correction")
    other = ranked(diver, drawn, [HEAD_UP], [Outcome("freeze", way="head-up", time=4.0)])
    assert other.of_cause("over-correction") < 0.3 * found.of_cause("over-correction")


def test_who_is_still_kicks_nobody_down(diver) -> None:
    drawn = divers(diver)
    kicks, none = (play(diver, drawn, part) for part in ("over-correction", "balance"))
    still = [seen_as(diver, p, 0, "still", 0).pitch for p in (kicks, none)]
    np.testing.assert_array_equal(*still)
    finning = [seen_as(diver, p, 0, "finning", 0) for p in (kicks, none)]
    light = drawn.moment[:, 0] < -2.0  # N m: lighter feet are felt (assumed)
    assert (finning[0].pitch[light] >= finning[1].pitch[light] - 1e-12).all()
    assert (finning[0].fins[light] < finning[1].fins[light] + 1e-12).mean() > 0.95
    np.testing.assert_array_equal(finning[0].pitch[~light], finning[1].pitch[~light])


def test_looking_down_lowers_who_lifts_the_trunk_to_see_and_no_other(diver) -> None:
    drawn = divers(diver)
    lifts, none = (play(diver, drawn, part) for part in ("sight", "balance"))
    assert (lifts.lift > 0.0).mean() > 0.3
    down = [behaviour.tested(diver, p, "look down", HEAD_UP, 1) for p in (lifts, none)]
    np.testing.assert_allclose(*down)
    as_seen = seen_as(diver, lifts, 0, "finning", 0).pitch
    assert (as_seen >= down[0] - 1e-12).all()


def test_gaiters_keep_gas_out_of_the_feet_but_not_out_of_the_shoulders(diver) -> None:
    shut, drawn = replace(diver, gaiters=(True,)), divers(diver)
    for part, kept in (("feet", 0.2), ("shoulders", 1.0)):
        by = [play(d, drawn, part).moment - drawn.moment for d in (shut, diver)]  # type: ignore[arg-type]
        np.testing.assert_allclose(by[0], kept * by[1])


def test_gas_let_out_of_the_feet_turns_head_up(diver) -> None:
    drawn = divers(diver)
    gas = play(diver, drawn, "feet")
    before, after = (behaviour.tested(diver, gas, test, HEAD_UP, 1) for test in ("freeze", "gas out"))  # type: ignore[arg-type]
    assert (after < 0.0).mean() < (before < 0.0).mean() - 0.2


def test_a_rig_that_hangs_high_comes_down_when_pulled(diver) -> None:
    drawn = divers(diver)
    high, right = play(diver, drawn, "rig high"), play(diver, drawn, "balance")
    assert behaviour.tested(diver, high, "rig down", HEAD_UP, 1).mean() < 0.25
    # of plates one SD of 1 cm off, one in 44 sits 2 cm high
    assert behaviour.tested(diver, right, "rig down", HEAD_UP, 1).mean() > 0.95


def test_a_hand_finds_gas_in_the_feet_where_it_is_and_not_behind_gaiters(diver) -> None:
    holding = replace(diver, levers=replace(diver.levers, legs_gas=2e-3))
    drawn = divers(holding)
    gas, none = play(holding, drawn, "feet"), play(holding, drawn, "balance")
    slack = [behaviour.tested(holding, p, "feel", HEAD_UP, 1) for p in (gas, none)]
    assert (slack[0] <= slack[1]).all()
    assert slack[0].mean() < 0.5
    # what is there as told, spread by a factor of e^0.4: above 3.5 l in one diver of 12
    assert slack[1].mean() == pytest.approx(0.919, abs=0.01)
    shut = replace(holding, gaiters=(True,))
    assert behaviour.tested(shut, play(shut, drawn, "feet"), "feel", HEAD_UP, 1).mean() > 0.75


def test_who_is_asked_to_fin_on_looks_as_one_who_fins(diver) -> None:
    kicks = play(diver, divers(diver), "over-correction")
    asked = behaviour.tested(diver, kicks, "fin on", Sight(0.0, "still"), 1)
    np.testing.assert_array_equal(asked, seen_as(diver, kicks, 0, "finning", 0).pitch)
    assert "fin on" not in possible(diver, "finning")


def test_lead_and_gas_are_never_less_than_nothing(diver) -> None:
    drawn = divers(diver)
    own = drawn.own.copy()
    own[:, 11] = 0.5  # as it sits
    own[:, 10], own[:, 12] = np.linspace(0.001, 0.999, N), 0.5
    by = play(diver, replace(drawn, own=own), "lead or gas").moment[:, 0] - drawn.moment[:, 0]
    assert by.min() >= -diver.levers.lead * diver.levers.lead_mass - 1e-9
    assert (by > 0.0).any()


@pytest.mark.parametrize(("height", "likeliest"), [(-1.0, "down"), (0.05, "even"), (1.0, "up")])
def test_fins_are_up_even_or_down(height, likeliest) -> None:
    chances = {said: fins_fit(np.array([height]), said)[0] for said in ("down", "even", "up")}
    assert sum(chances.values()) == pytest.approx(1.0)
    assert max(chances, key=lambda k: chances[k]) == likeliest


def test_fins_that_are_not_worn_are_seen_nowhere() -> None:
    assert fins_fit(np.array([np.nan]), "up")[0] == 1.0


def test_a_drift_the_other_way_does_not_fit_and_its_own_time_fits_best() -> None:
    told = Outcome("freeze", way="head-down", time=5.0)
    fit = fit_of(told, np.array([-5.0, -6.0, -20.0, 5.0, np.inf]))
    assert fit[0] == pytest.approx(1.0)
    assert fit[0] > fit[1] > fit[2]
    assert (fit[3:] < 1e-6).all()
    assert fit_of(Outcome("freeze", way="stays"), np.array([np.inf, -2.0]))[0] == pytest.approx(1.0)


def test_information_of_a_test_in_closed_form() -> None:
    even = np.array([0.5, 0.5])
    assert _information(even, ({0: 1.0}, {1: 1.0})) == pytest.approx(1.0)
    assert _information(even, ({0: 0.3, 1: 0.7}, {0: 0.3, 1: 0.7})) == pytest.approx(0.0, abs=1e-12)
    wrong = 0.05  # a channel that is wrong one time in twenty: 1 - H(0.05)
    channel = ({0: 1.0 - wrong, 1: wrong}, {0: wrong, 1: 1.0 - wrong})
    assert _information(even, channel) == pytest.approx(
        1.0 + wrong * np.log2(wrong) + (1.0 - wrong) * np.log2(1.0 - wrong)
    )


def test_a_count_between_lead_and_balance_is_worth_what_its_channel_carries(diver) -> None:
    found = ranked(diver, divers(diver), [HEAD_UP], [])
    told = separation(diver, found, "count", HEAD_UP, 1, ("lead or gas", "balance"))
    p = found.of_cause("lead or gas") / (found.of_cause("lead or gas") + found.of_cause("balance"))
    wrong = 0.05
    out = p * (1.0 - wrong) + (1.0 - p) * wrong

    def entropy(q: float) -> float:
        return float(-q * np.log2(q) - (1.0 - q) * np.log2(1.0 - q))

    assert told.information == pytest.approx(entropy(out) - entropy(wrong), rel=0.25)  # so many draws are read wrong


def test_a_test_is_proposed_that_is_not_done_yet(diver) -> None:
    drawn, left = divers(diver), list(possible(diver, "finning"))
    found = ranked(diver, drawn, [HEAD_UP], [])
    first = best_test(diver, found, left, HEAD_UP, 1)
    assert first is not None
    left.remove(first.test)
    again = best_test(diver, found, left, HEAD_UP, 1)
    assert again is None or again.test != first.test


def test_other_divers_drawn_give_the_same_probabilities(diver) -> None:
    """Eight thousand of each cause: what one draw and another say differs by hundredths."""
    told = [
        ranked(diver, drawn_divers(diver, 8192, 4, seed), [HEAD_UP], [Outcome("freeze", way="stays")])
        for seed in (1, 2)
    ]
    for name in CAUSES:
        assert told[0].of_cause(name) == pytest.approx(told[1].of_cause(name), abs=0.03)


def test_what_hardly_any_diver_does_is_told_by_how_little_it_fits(diver) -> None:
    drawn = divers(diver)
    usual = ranked(diver, drawn, [Sight(radians(5.0), "finning")], [])
    upright = ranked(diver, drawn, [Sight(radians(85.0), "finning", "up")], [])  # with the fins over the hips
    assert usual.fit > 0.2
    assert upright.fit < 1e-4


def test_the_same_seed_gives_the_same_divers(diver) -> None:
    one, other = (drawn_divers(diver, 64, 2, 9) for _ in range(2))
    np.testing.assert_array_equal(one.own, other.own)
    np.testing.assert_array_equal(one.moment, other.moment)
