"""What is tried on a scenario: each change can be made, says what it does, and keeps within what is worn."""

from __future__ import annotations

import pytest

from scenarios.demos import demo_names, demo_path
from scenarios.models import Scenario
from scenarios.reading import read_file
from sim.assembly.from_file import assembled_from_file, wearer_from_file
from sim.changes.candidates import (
    AT_HAND,
    BANDS,
    GAS_STEP,
    MOST_ON_ANKLES,
    WHERE,
    WITH_GEAR,
    Candidate,
    candidates,
)

SUIT_GAS = 0.0075  # m^3


def scenario(demo: str, *settings: str) -> Scenario:
    content = read_file(demo_path(demo), settings).content
    assert isinstance(content, Scenario)
    return content


def found(demo: str, *settings: str) -> tuple[Candidate, ...]:
    return candidates(scenario(demo, *settings), SUIT_GAS)


@pytest.mark.parametrize("demo", demo_names())
def test_every_change_can_be_made_and_is_told_once(demo: str) -> None:
    tried = found(demo)
    assert len({c.words for c in tried}) == len(tried) > 15
    wearer = wearer_from_file(demo_path(demo))
    as_is = read_file(demo_path(demo)).document
    for change in tried:
        after = read_file(demo_path(demo), change.settings)
        assert after.document != as_is, change.words
        if change.kind != "pose":
            assembled_from_file(demo_path(demo), change.settings, wearer)


def test_lead_that_is_moved_stays_as_much_and_added_lead_is_more() -> None:
    """By hand: 3.5 kg at the tail and 1 kg on the ankles."""
    demo = "tall-man-carbon"
    before = sum(x.mass for x in scenario(demo).lead)
    assert before == pytest.approx(4.5)
    for change in (c for c in found(demo) if c.kind == "lead"):
        lead = scenario(demo, *change.settings).lead
        more = 1.0 if "more" in change.words else 0.0
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
    made = {c.words: scenario("tall-man-steel", *c.settings).suit for c in found("tall-man-steel")}
    more, less = (
        made[f"{GAS_STEP:g} l more gas in the suit"],
        made[f"{GAS_STEP:g} l less gas in the suit, which then squeezes"],
    )
    assert (more.gas, less.gas) == pytest.approx((0.0085, 0.0065))  # type: ignore[union-attr]
    assert made["gaiters off the lower legs"].gaiters is False  # type: ignore[union-attr]
    assert not [c for c in candidates(scenario("tall-man-steel"), 0.001) if "less gas" in c.words]


@pytest.mark.parametrize(
    ("settings", "missing"),
    [
        (("harness.shoulder_strap=78 cm",), "height"),  # told by its strap: the drop follows
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
    for change in found("tall-man-steel", "plate=none", "harness=none"):
        assert change.kind not in ("height", "bands")
        assert not any(WHERE[p][0] in change.words for p in ("plate channel", "tail", "upper band"))


def test_kinds_at_hand_are_some_of_those_with_gear() -> None:
    assert set(AT_HAND) < set(WITH_GEAR)
    assert {c.kind for c in found("tall-man-steel")} == {*WITH_GEAR, "pose"}
