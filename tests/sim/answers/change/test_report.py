"""``hangflat change`` told: what it promises is what settle says of the same what-ifs."""

from __future__ import annotations

import json
import shlex
from functools import cache
from typing import Any

import pytest

from scenarios.demos import demo_path
from scenarios.errors import ScenarioError
from sim.answers.change.answer import ChangeAnswer, change_answer
from sim.answers.change.report import _unbalanced, change_report
from sim.answers.change.text import _quoted, change_text
from sim.answers.change.together import Outcome
from sim.answers.fit.answer import fit_answer
from sim.answers.later.empty_report import FOAM
from sim.answers.weigh.weighing import surplus_lead
from sim.answers.why.answer import why_answer
from sim.case import Case
from sim.telling.caution import CAUTION
from sim.telling.record import as_json

TRIMMED = 2.0  # N m, held without anybody seeing an effort (assumed)
NEUTRAL = 0.05  # kg that a diver may float or sink more than before (assumed)
LIGHT = 0.1  # kg that a diver may be lighter than before, cylinders nearly empty (assumed)
HEAVY = 2.0e-3  # m^3 that the wing may have to hold more (assumed)

DEMO = "single-wetsuit"
# so that the diver is out of balance, head-down
LOADED = 'gear=[{ name = "camera", mass = "2 kg", density = "4000 kg/m^3", at = [0.5, 0.0, -0.1] }]'
BARE = "plate=none"  # without it nothing is asked of the fit, which takes most of the time


@cache
def told(*settings: str, demo: str = DEMO) -> dict[str, Any]:
    return as_json(answer(*settings, demo=demo))


@cache
def answer(*settings: str, demo: str = DEMO) -> ChangeAnswer:
    return change_answer(change_report(Case.read(demo_path(demo), settings)))


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
    assert abs(found["pitch_moment_nm"]) > TRIMMED
    assert found["advice"]["reaches"]
    assert abs(found["advice"]["pitch_moment_nm"]) <= TRIMMED
    assert found["with_gear"] is None


def test_changes_are_told_nearest_to_balance_first() -> None:
    moments = [abs(c["pitch_moment_nm"]) for c in told(LOADED)["changes"]]
    assert moments == sorted(moments)


def test_taking_the_advice_leaves_nothing_to_advise() -> None:
    again = answer(*told(LOADED, BARE)["advice"]["settings"], BARE)
    assert again.advice is None
    assert "held without anybody seeing an effort" in " ".join(change_text(again).split())


def test_where_what_is_at_hand_does_not_reach_other_gear_is_told_too() -> None:
    found = told("gear=none", demo="small-woman-steel")
    text = " ".join(change_text(answer("gear=none", demo="small-woman-steel")).split())
    assert not found["advice"]["reaches"]
    assert abs(found["with_gear"]["pitch_moment_nm"]) < abs(found["advice"]["pitch_moment_nm"])
    assert "Or, with other gear 1. " in text
    assert "No set of up to three changes was found that comes to less than 2 N m." in text


def test_text_begins_with_the_moment_names_what_fails_and_ends_with_the_caution() -> None:
    text = change_text(answer("cylinders.shift=4 cm"))
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
                Case.read(demo_path(demo), [*advice["settings"], "cylinders.pressure=10 bar"])
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
    found = told(strap)
    lower = next(c for c in found["changes"] if c["what"] == "the rig 1 cm lower")
    assert strap not in lower["settings"]
    assert lower["pitch_moment_nm"] == pytest.approx(moment(*lower["settings"]), abs=1e-9)
    assert abs(lower["difference_nm"]) < 2.0  # one centimetre, not from the waist
    other = next(c for c in found["changes"] if c["kind"] != "height")
    assert strap in other["settings"]


def test_without_harness_what_the_advice_breaks_counts_all_the_same() -> None:
    loose = "harness=none"
    found = told(loose, demo="tall-man-steel")
    path = demo_path("tall-man-steel")
    before, after = (
        {v.subject for v in fit_answer(Case.read(path, s).assembled).verdicts if v.passes is False}
        for s in ([loose], found["advice"]["settings"])
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
    before = change_answer(change_report(more))
    worn = float(case.scenario("").lead[0].mass)
    assert before.surplus_lead - surplus_lead(case) == pytest.approx(6.0 - worn, abs=0.05)  # its own volume, deeper
    assert f"{before.surplus_lead:.1f} kg more lead than the last stop asks for" in change_text(before)
    if before.advice is not None:
        asked = more.vary([*before.advice.settings])
        assert before.advice.surplus_lead == pytest.approx(surplus_lead(asked), abs=1e-9)
