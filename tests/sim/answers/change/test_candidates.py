"""What is tried on a scenario: each change can be made, says what it does, and keeps within what is worn."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from scenarios.demos import demo_names, demo_path
from scenarios.models import Scenario
from scenarios.reading import read_file
from sim.answers.change.candidate import AT_HAND, WITH_GEAR, Candidate
from sim.answers.change.candidates import BANDS, candidates
from sim.answers.change.lead import OFF_THE_BELT
from sim.case import Case
from sim.telling.language import spoken, told

GAS_STEP = 1.0  # l
MOST_ON_ANKLES = 2.0  # kg: two straps of 1 kg are the heaviest in use (common practice)

SUIT_GAS = 0.0075  # m^3
DROP = 0.0  # m, as the demos hang


def scenario(demo: str, *settings: str) -> Scenario:
    content = read_file(demo_path(demo), settings).content
    assert isinstance(content, Scenario)
    return content


def found(demo: str, *settings: str) -> tuple[Candidate, ...]:
    return candidates(scenario(demo, *settings), read_file(demo_path(demo), settings).document, SUIT_GAS, DROP)


@pytest.mark.parametrize("demo", demo_names())
def test_every_change_can_be_made_and_is_told_once(demo: str) -> None:
    tried = found(demo)
    assert len({c.words for c in tried}) == len(tried) > 15
    case = Case.read(demo_path(demo))
    for change in tried:
        after = case.vary(change.settings)
        assert after.told.document != case.told.document, change.words
        assert after.assembled.rig.parts


def test_lead_that_is_moved_stays_as_much_and_added_lead_is_more() -> None:
    """By hand: 3.5 kg at the tail and 1 kg on the ankles."""
    demo = "tall-man-carbon"
    before = sum(x.mass for x in scenario(demo).lead)
    assert before == pytest.approx(4.5)
    for change in (c for c in found(demo) if c.kind == "lead"):
        lead = scenario(demo, *change.settings).lead
        more = 1.0 if "more" in change.words else -1.0 if "less" in change.words else 0.0
        assert sum(x.mass for x in lead) == pytest.approx(before + more), change.words
        assert sum(x.mass for x in lead if x.place == "ankles") <= MOST_ON_ANKLES + 1e-9, change.words
    words = {c.words for c in found(demo)}
    assert "3.5 kg of lead from the plate's tail to the belt" in words
    assert "1 kg of lead from the plate's tail to the ankles" in words
    assert "3.5 kg of lead from the plate's tail to the ankles" not in words
    assert "1 kg more lead on the ankles" in words


def test_the_rig_and_the_bands_move_by_what_is_said() -> None:
    now = scenario("small-woman-steel")
    assert now.harness is not None
    assert now.cylinders is not None
    drops = {c.words: scenario("small-woman-steel", *c.settings).harness for c in found("small-woman-steel")}
    assert drops["the rig 1 cm lower"].drop == pytest.approx(now.harness.drop + 0.01)  # type: ignore[union-attr]
    places = sorted(
        s.cylinders.shift
        for c in found("small-woman-steel")
        if c.kind == "bands" and (s := scenario("small-woman-steel", *c.settings)).cylinders is not None
    )
    assert places == pytest.approx(sorted(set(BANDS) - {now.cylinders.shift}))


def test_suit_gas_and_gaiters() -> None:
    made = {c.words: (c, scenario("tall-man-steel", *c.settings).suit) for c in found("tall-man-steel")}
    more, gas = made[f"{GAS_STEP:g} l more gas in the suit"]
    assert gas.gas == pytest.approx(0.0085)  # type: ignore[union-attr]
    assert more.advised
    less, gas = made[f"{GAS_STEP:g} l less gas in the suit, which then squeezes"]
    assert gas.gas == pytest.approx(0.0065)  # type: ignore[union-attr]
    off, suit = made["gaiters off the lower legs"]
    assert suit.gaiters is False  # type: ignore[union-attr]
    assert not less.advised
    assert not off.advised
    file = scenario("tall-man-steel"), read_file(demo_path("tall-man-steel")).document
    assert not [c for c in candidates(*file, 0.001, DROP) if "less gas" in c.words]


def test_gas_that_the_file_tells_is_changed_from_there() -> None:
    told = {c.words: c for c in found("tall-man-steel", "suit.gas=14 l")}
    assert told["1 l less gas in the suit"].settings == ("suit.gas=13.00 l",)
    assert told["1 l less gas in the suit"].advised


def test_lead_that_leaves_the_belt_is_said_to_be_lost_for_dropping() -> None:
    for change in (c for c in found("tall-man-steel") if c.kind == "lead"):
        assert change.note == (OFF_THE_BELT if "from the belt" in change.words else ""), change.words


def test_other_cylinders_keep_what_is_the_divers_and_leave_what_is_the_cylinders() -> None:
    settings = (
        "cylinders.mass=9.5 kg",
        "cylinders.gas=nitrox 32",
        "cylinders.regulators=twin",
        "cylinders.regulators.hose_mass=250 g/m",
    )
    others = [c for c in found("tall-man-steel", *settings) if c.words.startswith("cylinders: ")]
    assert len(others) > 3
    for change in others:
        cylinders = scenario("tall-man-steel", *settings, *change.settings).cylinders
        assert cylinders is not None
        assert cylinders.mass is None
        assert (cylinders.count, cylinders.fill, cylinders.shift) == pytest.approx((2, 200e5, 0.01))
        assert cylinders.gas.oxygen == pytest.approx(0.32)
        assert cylinders.regulators.hose_mass == pytest.approx(0.25)


def test_cylinders_that_may_not_be_filled_so_full_are_left_out() -> None:
    full = ("cylinders=twin steel 8.5 l 300 bar", "cylinders.pressure=290 bar")
    words = [c.words for c in found("tall-man-steel", *full) if c.words.startswith("cylinders: ")]
    assert words
    assert all(w.endswith("300 bar") for w in words)


def test_a_single_cylinder_is_spoken_of_as_one() -> None:
    words = [c.words for c in found("single-wetsuit")]
    assert "the cylinder 2.5 cm lower in its bands" in words
    assert not [w for w in words if "cylinders" in w and not w.startswith("cylinders: ")]


def test_two_entries_in_one_place_are_told_by_their_names() -> None:
    one = ("lead=none", "lead.0.mass=2 kg", "lead.0.place=belt")
    two = (*one, "lead.1.mass=2 kg", "lead.1.place=belt", "lead.1.name=V-weight")
    words = [c.words for c in found("tall-man-steel", *two)]
    assert "2 kg of lead from the belt to the plate's tail" in words
    assert "2 kg of V-weight from the belt to the plate's tail" in words
    alike = [c.words for c in found("tall-man-steel", *two[:-1])]
    assert len(set(alike)) == len(alike)


def test_lead_is_added_where_the_file_says_none() -> None:
    for change in (c for c in found("tall-man-steel", "lead=none") if c.kind == "lead"):
        assert [x.mass for x in scenario("tall-man-steel", "lead=none", *change.settings).lead] == [1.0]


def test_a_drawn_plate_is_not_advised_against() -> None:
    drawn = scenario("tall-man-steel")
    assert drawn.plate is not None
    plate = drawn.plate.model_copy(update={"file": Path("drawn.dxf"), "catalogue": None})
    plates = [
        c for c in candidates(drawn.model_copy(update={"plate": plate}), {}, SUIT_GAS, DROP) if "plate: " in c.words
    ]
    assert len(plates) == 6
    assert not any(c.advised for c in plates)


def test_a_drawing_is_not_stretched_and_a_flat_one_has_no_channel_for_lead() -> None:
    worn = scenario("tall-man-steel", 'lead=[{ mass = "2 kg", place = "belt" }]')
    assert worn.plate is not None
    as_is = candidates(worn, {}, SUIT_GAS, DROP)
    assert any("in the plate's channel" in c.words or "to the plate's channel" in c.words for c in as_is)
    plate = worn.plate.model_copy(update={"file": Path("drawn.dxf"), "catalogue": None})
    drawn = candidates(worn.model_copy(update={"plate": plate}), {}, SUIT_GAS, DROP)
    assert not any("the plate's channel" in c.words for c in drawn)
    assert not any(setting.startswith("plate.") for c in drawn for setting in c.settings)


@pytest.mark.parametrize(
    ("settings", "missing"),
    [
        (("harness=none",), "height"),
        (("cylinders=none",), "bands"),
        (("suit=wetsuit 5 mm",), "suit gas"),
        (("suit=wetsuit 5 mm",), "gaiters"),
    ],
)
def test_what_is_not_worn_is_not_changed(settings: tuple[str, ...], missing: str) -> None:
    kinds = {c.kind for c in found("tall-man-steel", *settings)}
    assert missing not in kinds
    assert "lead" in kinds


def test_without_plate_nothing_is_put_on_it() -> None:
    for change in found("tall-man-steel", "plate=none", "harness=none", "lead=none"):
        assert change.kind not in ("height", "bands")
        assert not any(p in change.words for p in ("the plate's channel", "the plate's tail", "the upper band"))


def test_kinds_at_hand_are_some_of_those_with_gear() -> None:
    assert set(AT_HAND) < set(WITH_GEAR)
    assert {c.kind for c in found("tall-man-steel")} == {*WITH_GEAR, "pose"}


def test_every_change_is_told_in_another_language_and_kept_in_english() -> None:
    """All but the names of a catalogue have words of their own; the amount gets its comma."""
    for change in found("single-wetsuit") + found("tall-man-steel"):
        with spoken("de"):
            words, said = told(change.words), told(change.said)
        assert words != change.words, change.words
        assert (said != change.said) == bool(change.said), change.said
        assert not set(re.findall(r"[a-z]+", words)) & {"the", "lead", "lower", "more", "less", "to", "on"}, words
    with spoken("de"):
        assert "die Flaschen 3,5 cm tiefer in ihren Schellen" in [told(c.words) for c in found("tall-man-steel")]
