"""``hangflat change`` told: what it promises is what settle says of the same what-ifs."""

from __future__ import annotations

import itertools
import json
import math
import shlex
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from scenarios.demos import demo_path
from scenarios.errors import ScenarioError
from scenarios.quantities import SI
from sim.answers.change.answer import ChangeAnswer, change_answer
from sim.answers.change.candidate import Candidate, Kind
from sim.answers.change.occasions import Outcome, met
from sim.answers.change.report import _unbalanced, change_report
from sim.answers.change.text import _quoted, change_text
from sim.answers.fit.answer import fit_answer
from sim.answers.later.empty_report import FOAM
from sim.answers.posture.drift import balanced_moment
from sim.answers.posture.runaway import turning_of
from sim.answers.weigh.report import weigh_answer
from sim.answers.weigh.weighing import surplus_lead
from sim.answers.why.answer import why_answer
from sim.case import Case
from sim.statics.field import soft_rig
from sim.statics.flat import flat_answer
from sim.telling.caution import CAUTION
from sim.telling.record import as_json

NEUTRAL = 0.05  # kg that a diver may float or sink more than before (assumed)
LIGHT = 0.25  # kg of lead that may be missing at the last stop: half of the lightest block
SPARE = 1.5  # kg of lead beyond what is asked for that is let pass (assumed)
HEAVY = 2.0e-3  # m^3 that the wing may have to hold more (assumed)

DEMO = "single-wetsuit"
# so that the diver is out of balance, head-down
LOADED = 'gear=[{ name = "camera", mass = "1 kg", density = "1500 kg/m^3", at = [0.5, 0.0, -0.1] }]'
BARE = "plate=none"  # without it nothing is asked of the fit, which takes most of the time


@cache
def told(*settings: str, demo: str = DEMO) -> dict[str, Any]:
    return as_json(answer(*settings, demo=demo))


@cache
def answer(*settings: str, demo: str = DEMO, kinds: tuple[Kind, ...] | None = None) -> ChangeAnswer:
    """``kinds`` : of changes to try, all if left out; what is left out need not be waited for."""
    return change_answer(
        change_report(
            Case.read(demo_path(demo), settings), lambda w: [c for c in w if kinds is None or c.kind in kinds]
        )
    )


def moment(*settings: str, demo: str = DEMO) -> float:
    return why_answer(Case.read(demo_path(demo), settings)).flat.pitch_moment


def test_the_object_is_plain_json_with_the_moment_now() -> None:
    found = told(LOADED)
    assert json.loads(json.dumps(found, allow_nan=False)) == found
    assert found["format"] == "hangflat.change/1"
    assert found["pitch_moment_nm"] == pytest.approx(moment(LOADED), abs=1e-9)
    assert found["caution"] == CAUTION
    assert found["left_out"] == []


def test_what_is_promised_is_what_settle_says_of_the_same_what_ifs() -> None:
    found = told(LOADED)
    picked = [found["advice"], *found["changes"][::7]]
    assert len(picked) > 4
    for change in picked:
        assert change["pitch_moment_nm"] == pytest.approx(moment(*change["settings"]), abs=1e-9)
    for change in found["changes"]:
        difference = change["pitch_moment_nm"] - found["pitch_moment_nm"]
        assert change["difference_nm"] == pytest.approx(difference, abs=1e-12)


def test_advice_reaches_balance_where_it_says_so() -> None:
    found = told(LOADED)
    advice = found["advice"]
    within = advice["within_nm"]
    assert abs(found["now"]["nearly_empty"]["pitch_moment_nm"]) > found["within_nm"]
    assert advice["reaches"]
    assert abs(advice["pitch_moment_nm"]) <= within
    assert abs(advice["nearly_empty"]["pitch_moment_nm"]) <= within
    assert -LIGHT <= advice["surplus_lead_kg"] <= SPARE
    assert found["with_gear"] is None


def test_the_end_is_what_weigh_has_at_the_last_stop_and_other_water_with_its_lead() -> None:
    case = Case.read(demo_path(DEMO), [BARE, "lead.0.mass=8 kg", "diver.mass=90 kg"])
    now = change_answer(change_report(case, lambda _: (), ("fresh",))).now
    weighed = weigh_answer(case).waters
    (elsewhere,) = now.elsewhere
    assert elsewhere.lead == pytest.approx(next(w.lead for w in weighed if w.water == "fresh"), abs=1e-9)
    assert elsewhere.lead > 0.5
    rig = case.vary({"water.kind": "fresh", "lead.0.mass": SI(elsewhere.lead)}).rig
    assert elsewhere.start.moment == pytest.approx(flat_answer(soft_rig(rig)).pitch_moment, abs=1e-6)


# those of a small set, few enough to put every three of them together
FEW = {
    "single-wetsuit": ("1 kg of lead from the belt to the ankles", "1 kg less lead on the belt",
                       "the cylinder 2.5 cm lower in its bands", "1 kg more lead at the plate's tail"),
    "loose-legs": ("gaiters on the lower legs", "1 kg more lead on the ankles", "1 l more gas in the suit",
                   "the cylinders 2.5 cm higher in their bands", "1 kg more lead on the belt"),
}  # fmt: skip


@pytest.mark.parametrize(("demo", "settings"), [("single-wetsuit", LOADED), ("loose-legs", BARE)])
def test_no_set_of_a_few_changes_worked_out_in_full_is_better_than_the_advice(demo: str, settings: str) -> None:
    """Brute force: every set of up to three laid out anew, none of it added up."""
    case = Case.read(demo_path(demo), [settings])
    seen: list[Candidate] = []

    def few(changes: Sequence[Candidate]) -> list[Candidate]:
        seen.extend(c for c in changes if c.words in FEW[demo])
        return seen

    advice = change_report(case, few).advice
    assert len(seen) > 3
    best = min(
        _value(case, chosen) for count in range(4) for chosen in itertools.combinations(seen, count) if _apart(chosen)
    )
    assert advice is not None
    assert _value(case, advice.changes) <= best + 1e-9


def _apart(chosen: Sequence[Candidate]) -> bool:
    return sum(len(c.knobs) for c in chosen) == len(frozenset().union(*(c.knobs for c in chosen)))


def _value(case: Case, chosen: Sequence[Candidate]) -> float:
    """Of a set: balance throughout and the lead right with the fewest, each litre more in the wing as one; else the
    largest moment, half a metre for each kilogram to spare, a newton metre for each change; too light behind all."""
    changed = case.vary([s for c in chosen for s in c.settings])
    then, now = met(changed), met(case)
    within = balanced_moment(turning_of(changed.rig, flat_answer(soft_rig(changed.rig))))
    asked = now.surplus if now.surplus < -LIGHT else 0.0
    more = 1000.0 * (then.start.wing_gas - now.start.wing_gas) + asked
    if more > 1000.0 * HEAVY and chosen:
        return math.inf
    cost = len(chosen) + round(max(more, 0.0))
    light = 1000.0 - then.surplus if then.surplus < -LIGHT else 0.0
    if then.worst <= within and then.surplus <= SPARE:
        return light + cost
    return light + 100.0 + max(then.worst, within) + 0.5 * 9.80665 * max(then.surplus - SPARE, 0.0) + cost


def test_changes_are_told_nearest_to_balance_first() -> None:
    moments = [abs(c["pitch_moment_nm"]) for c in told(LOADED)["changes"]]
    assert moments == sorted(moments)


def test_taking_the_advice_leaves_nothing_to_advise() -> None:
    again = answer(*told(LOADED, BARE)["advice"]["settings"], BARE)
    assert again.advice is None
    assert again.balanced
    assert "nothing The lead is right, and with up to" in " ".join(change_text(again).split())


def test_where_what_is_at_hand_does_not_reach_other_gear_is_told_too() -> None:
    told_once = answer("gear=none", BARE, demo="small-woman-steel", kinds=("gear", "lead", "gaiters"))
    found, text = as_json(told_once), " ".join(change_text(told_once).split())
    assert not found["advice"]["reaches"]
    worst = [
        max(abs(a["pitch_moment_nm"]), abs(a["nearly_empty"]["pitch_moment_nm"]))
        for a in (found["with_gear"], found["advice"])
    ]
    assert worst[0] < worst[1]
    assert "Or, with other gear 1. " in text
    assert (
        f"No set of up to three changes was found that comes to {found['advice']['within_nm']:.1f} N m or less"
        in text
    )


def test_text_begins_with_the_moment_names_what_fails_and_ends_with_the_caution() -> None:
    text = change_text(answer("cylinders.shift=4 cm", kinds=("bands", "height", "lead")))
    lines = text.split("\n")
    assert lines[0].startswith("When you hold flat and stop moving you are turned head-down with ")
    assert all(len(line) <= 100 for line in lines if not line.startswith("hangflat "))
    assert "but then fails: waist strap" in text
    assert f'\nhangflat settle "{demo_path(DEMO)}" --set "' in text
    assert " ".join(text.split()).endswith("hangflat plans no dive and no decompression.")


def test_what_the_user_set_is_in_every_command() -> None:
    asked = "fins=none"  # far from balance, so that there is something to advise
    found = told(asked, BARE)
    for change in (found["advice"], found["changes"][0]):
        assert change["settings"][:2] == [asked, BARE]
        assert change["pitch_moment_nm"] == pytest.approx(moment(*change["settings"]), abs=1e-9)
    assert f'--set "{asked}"' in change_text(answer(asked, BARE))


@pytest.mark.parametrize(
    ("demo", "settings"),
    [
        ("tall-man-steel", ("wing.capacity=4 l",)),
        ("tall-man-steel", ("wing=none",)),
        ("tall-man-steel", ("lead=none",)),
        ("single-wetsuit", ("diver.mass=110 kg", "lead=none", "plate=none")),
    ],
)
def test_nobody_is_advised_to_float_up_or_to_sink(demo: str, settings: tuple[str, ...]) -> None:
    found = told(*settings, BARE, demo=demo)
    now = found["now"]
    at_stop = ("cylinders.pressure=50 bar", "water.depth=4 m")
    dry_at_stop = (*at_stop, "suit.gas=vented")
    for advice in (found["advice"], found["with_gear"]):
        if advice is None:
            continue
        assert abs(advice["net_buoyancy_kg"]) <= abs(now["net_buoyancy_kg"]) + NEUTRAL
        before, after = now["nearly_empty"], advice["nearly_empty"]
        assert after["net_buoyancy_kg"] <= max(before["net_buoyancy_kg"], 0.0) + LIGHT
        assert after["wing_gas_l"] <= before["wing_gas_l"] + 1000.0 * HEAVY
        assert after["wing_gas_l"] == pytest.approx(
            1e3
            * why_answer(
                Case.read(demo_path(demo), [*advice["settings"], *(at_stop if demo == DEMO else dry_at_stop)])
            ).whole.wing_gas,
            abs=1e-9,
        )
    assert any(c["no_longer_neutral"] for c in found["changes"])  # there was something to be kept from


def test_lead_off_the_belt_is_minded() -> None:
    assert "Lead on the belt can be dropped in need" in " ".join(change_text(answer(LOADED)).split())


def test_a_parts_file_has_nothing_to_change(tmp_path) -> None:
    path = tmp_path / "rig.toml"
    path.write_text(
        'format = "parts/1"\n[water]\ndensity = "1000 kg/m^3"\n[depth]\npressure = "2 bar"\n[[part]]\nname = "a"\n'
        'mass = "1 kg"\ncm = [0, 0, 0]\nvolume = "1 l"\ncb = [0, 0, 0]\n',
        encoding="utf-8",
    )
    with pytest.raises(ScenarioError, match="a parts file has no gear to change"):
        change_report(Case.read(path))


def test_a_height_told_by_the_straps_is_changed_from_there() -> None:
    strap = "harness.shoulder_strap=74 cm"
    found = as_json(answer(strap, kinds=("height", "lead")))
    lower = next(c for c in found["changes"] if c["what"] == "the rig 1 cm lower")
    assert strap not in lower["settings"]
    assert lower["pitch_moment_nm"] == pytest.approx(moment(*lower["settings"]), abs=1e-9)
    assert abs(lower["difference_nm"]) < 2.0  # one centimetre, not from the waist
    other = next(c for c in found["changes"] if c["kind"] != "height")
    assert strap in other["settings"]


def test_without_harness_what_the_advice_breaks_counts_all_the_same() -> None:
    loose = "harness=none"
    found = as_json(answer(loose, "lead=none", demo="tall-man-steel", kinds=("height", "bands", "lead")))
    path = demo_path("tall-man-steel")
    before, after = (
        {v.subject for v in fit_answer(Case.read(path, s).assembled).verdicts if v.passes is False}
        for s in ([loose, "lead=none"], found["advice"]["settings"])
    )
    assert after <= before


@pytest.mark.parametrize(
    ("now", "then", "unbalanced"),
    [
        (-0.5, -0.4, False),
        (-0.5, 0.2, True),
        (0.5, -0.2, True),
        (0.0, 0.04, False),
        (0.0, 0.06, True),
        (0.3, 0.1, False),
    ],
)
def test_who_sinks_may_not_float_instead(now: float, then: float, unbalanced: bool) -> None:
    assert _unbalanced(Outcome(0.0, 0.0, now), Outcome(0.0, 0.0, then)) is unbalanced
    assert _unbalanced(Outcome(0.0, 0.0, now), Outcome(0.0, 0.0, float("nan")))


@pytest.mark.parametrize("text", ['title="It\'s so"', "a b", "plain", "a$b", "a`b`", 'say "so"'])
def test_a_command_can_be_pasted(text: str) -> None:
    assert shlex.split(_quoted(text)) == [text]


def test_whoever_is_made_lighter_in_foam_is_sent_to_look_nearer_the_surface() -> None:
    """Head-up with lead to spare: a kilogram less on the ankles is what helps, and foam is thicker higher up."""
    spare = ("lead.0.mass=1.8 kg", "lead.0.place=ankles", "lead.1.mass=4 kg", "lead.1.at=[0.3, 0.0, 0.0]")
    found = told(*spare, BARE)["advice"]
    assert found["changes"] == ["1 kg less lead on the ankles"]
    assert FOAM in found["notes"]
    assert FOAM not in told(LOADED, BARE)["advice"]["notes"]


def test_lead_beyond_what_the_last_stop_asks_for_is_told_before_and_after():
    """As much as is worn more: 4 kg hung on a diver who needs no more is 4 kg too much, whatever is moved."""
    case = Case.read(demo_path("tall-man-steel"))
    more = case.vary({"lead.0.mass": "6 kg"})
    before = change_answer(change_report(more, lambda w: [c for c in w if c.kind == "lead"]))
    worn = float(case.scenario("").lead[0].mass)
    assert before.surplus_lead - surplus_lead(case) == pytest.approx(6.0 - worn, abs=0.05)  # its own volume, deeper
    assert f"{before.surplus_lead:.1f} kg more lead than that asks for" in " ".join(change_text(before).split())
    if before.advice is not None:
        asked = more.vary([*before.advice.settings])
        assert before.advice.surplus_lead == pytest.approx(surplus_lead(asked), abs=1e-9)


def test_in_other_water_more_lead_is_worn_on_the_belt() -> None:
    """A kilogram on the ankles in fresh water; in the sea the rest goes on the belt, as nobody bears it there."""
    ankles = ("water.kind=fresh", "lead.0.mass=1 kg", "lead.0.place=ankles", "diver.mass=90 kg", BARE)
    case = Case.read(demo_path(DEMO), ankles)
    (sea,) = met(case, ("sea",)).elsewhere
    more = ("lead.1.mass", SI(sea.lead - 1.0)), ("lead.1.place", "belt")
    laid = case.vary({"water.kind": "sea", **dict(more)})
    assert sea.lead > 2.0
    assert sea.start.moment == pytest.approx(flat_answer(soft_rig(laid.rig)).pitch_moment, abs=1e-6)


def test_where_nothing_is_advised_lead_is_not_left_unsaid() -> None:
    """Nothing at hand does better: whoever lacks more lead than any one place can take is told how much, and whoever
    wears more than is asked for that leaving it off was tried."""
    now = replace(answer(LOADED), advice=None, with_gear=None, balanced=False)
    assert "10.2 kg more lead is asked for than is worn" in _plain(replace(now, surplus_lead=-10.2))
    assert "Taking off the lead beyond what is asked for was tried" in _plain(replace(now, surplus_lead=3.0))
    even = _plain(replace(now, surplus_lead=0.2))
    assert "No set of up to three changes at hand was found" in even
    assert "lead is asked for" not in even
    assert "Taking off" not in even


def _plain(told: ChangeAnswer) -> str:
    return " ".join(change_text(told).split())
