import math
from dataclasses import replace

import numpy as np
import pytest

from sim.answers.settle.answer import (
    ComesToRest,
    Drift,
    FreeRest,
    HeldFlat,
    HeldRest,
    Item,
    Otherwise,
    SettleAnswer,
    SuitThere,
    WaterThere,
    Whole,
)
from sim.answers.settle.text import moment_lines, settle_text
from sim.answers.why.answer import Moments, WhyAnswer
from sim.answers.why.text import why_text
from sim.telling.caution import CAUTION
from sim.telling.words import attitude_words, wrapped

NOWHERE = np.zeros(3)


def at_rest(pitch, roll, kind):
    return FreeRest(
        math.radians(pitch), math.radians(roll), NOWHERE, kind, -9.0, None, 7.4e-3, 0.0, np.array([1.0, 2.0])
    )


def settled(pitch, roll, time, rule, *, reached=True, outcome="at rest", drift=()):
    return ComesToRest(
        math.radians(pitch), math.radians(roll), time, False, reached, rule, outcome, None, tuple(drift)
    )


ITEMS = (
    Item("gas in wing", "wing gas", 0.02, 7.4e-3, -7.57, 0.112, 8.3, 0.0),
    Item("fins", "fins", 2.8, 2.4e-3, 0.34, -0.95, 3.17, 0.0),
)
WATER = WaterThere(1025.0, 9.81, 252153.75)
WHOLE = Whole(118.4, 0.1156, 0.0, 7.4e-3, 5.2e-3, np.array([0.1, 0.0, 0.05]), np.array([0.11, 0.0, 0.04]))
ANSWER = SettleAnswer(
    title="a small woman with a steel plate",
    drawn_plate=None,
    water=WATER,
    whole=WHOLE,
    suit=None,
    flat=HeldFlat(-3.2, 0.0, 14.2, -6.0, 9.5, 0.0, NOWHERE),
    held=(HeldRest(math.radians(-12.4), True), HeldRest(math.radians(81.0), False)),
    indifferent=False,
    rest=(at_rest(-11.0, 172.0, "stable"), at_rest(-12.4, 0.0, "saddle")),
    settled=settled(-12.4, 0.0, 31.2, "held", drift=[Drift(5.0, math.radians(-4.2), 0.0)]),
    settled_roll_free=settled(-11.0, 172.0, 64.0, "free"),
    items=ITEMS,
    sensitivity=(Otherwise("suit twice as soft", -3.5, 10.0),),
    estimated=("waist girth", "lung gas"),
    notes=("Face down is not stable in roll: left alone the diver would turn over.",),
)
WHY = WhyAnswer(
    title=ANSWER.title, drawn_plate=None, water=WATER, whole=WHOLE, flat=Moments(-3.2, 0.0), items=ITEMS,
    estimated=ANSWER.estimated, notes=ANSWER.notes,
)  # fmt: skip


def changed(**fields):
    """ANSWER with some of its fields changed."""
    return replace(ANSWER, **fields)


def line_with(text, words):
    found = [line for line in text.splitlines() if words in line]
    assert len(found) == 1, (words, found)
    return found[0]


def test_moment_comes_first_in_words_and_as_kilograms_at_half_a_metre():
    # 3.2 N m / (0.5 m x 9.80665 m/s^2) = 0.653 kg; weight nearer the head turns head-down
    assert settle_text(ANSWER).splitlines()[:2] == [
        "When you hold flat and stop moving you are turned head-down with 3.2 N m:",
        "like 0.65 kg moved half a metre toward the head.",
    ]


@pytest.mark.parametrize(
    ("moment", "words"),
    [
        (4.903325, "turned head-up with 4.9 N m: like 1.00 kg moved half a metre toward the feet."),
        (-4.903325, "turned head-down with 4.9 N m: like 1.00 kg moved half a metre toward the head."),
        (0.04, "in balance: the moment is 0.04 N m."),
        (0.0, "in balance: the moment is 0.00 N m."),
    ],
)
def test_moment_in_words(moment, words):
    assert " ".join(moment_lines(moment)).endswith(words)


@pytest.mark.parametrize("text", [settle_text(ANSWER), why_text(WHY)])
def test_every_text_fits_its_width_ends_with_the_caution_and_says_what_was_estimated(text):
    assert max(len(line) for line in text.splitlines()) <= 100
    assert " ".join(text.split()).endswith(f"Caution: {CAUTION}")
    assert "Estimated, not given: waist girth, lung gas." in text
    for word in ("positive", "negative", "trimmed"):
        assert word not in text.lower()


def test_rest_kept_from_rolling_and_free_to_roll():
    text = settle_text(ANSWER)
    assert "12 degrees head-down" in text.split("kept from rolling")[1].splitlines()[0]
    assert "81 degrees head-up (would not stay there)" in text
    assert line_with(text, "free to roll  ").endswith(
        "11 degrees head-down, on the back, 8 degrees off it with the left side up"
    )
    assert "at rest after 31 s" in text
    assert "at rest after 64 s" in text


def test_only_stable_attitudes_are_told():
    unstable = changed(rest=(replace(ANSWER.rest[0], kind="saddle"),))
    assert "no attitude of rest stands out" in settle_text(unstable)


def test_stiffness_says_which_way_ten_degrees_end():
    text = " ".join(settle_text(ANSWER).split())
    # 14.2 N m/rad x 10 degrees = 2.48 N m; 6.0 N m/rad x 10 degrees = 1.05 N m
    assert "+14.2 N m/rad, stable: turned by 10 degrees, 2.5 N m (like 0.5 kg moved half a metre) turn back" in text
    assert "turn back (moving gas takes 9.5 N m/rad)" in text
    assert "-6.0 N m/rad, unstable: turned by 10 degrees, 1.0 N m (like 0.2 kg moved half a metre) turn" in text


@pytest.mark.parametrize(
    ("squeeze", "back"),
    [
        (1027.0 * 9.81 * 0.12, "squeezed as by 12 cm of water"),
        (-300.0, "lifted as by 3 cm of water"),
        (0.0, "not squeezed"),
    ],
)
def test_what_venting_left_and_how_far_the_back_is_squeezed(squeeze, back):
    suit = SuitThere("left when last vented flat, left arm level", squeeze)
    text = " ".join(settle_text(changed(water=WaterThere(1027.0, 9.81, 2e5), suit=suit)).split())
    assert f" l, left when last vented flat, left arm level; the back is {back}" in text


@pytest.mark.parametrize(
    ("net", "words"), [(0.0, "neutral"), (1.234, "1.23 kg, floats up"), (-0.5, "0.50 kg, sinks")]
)
def test_net_buoyancy_in_words(net, words):
    assert words in line_with(settle_text(changed(whole=replace(WHOLE, net_buoyancy=net))), "net buoyancy")


def test_nothing_settled_is_left_out():
    text = settle_text(changed(settled=None, settled_roll_free=None, held=(), notes=(), estimated=()))
    assert "after stopping flat" not in text
    assert "Notes" not in text
    assert "Estimated" not in text
    assert "no rest between" in text


def test_a_rig_that_nothing_turns_is_neither_stable_nor_unstable():
    flat = replace(ANSWER.flat, pitch_stiffness=0.0, roll_stiffness=-0.02)
    text = settle_text(changed(settled=None, settled_roll_free=None, held=(), rest=(), indifferent=True, flat=flat))
    assert "at any pitch: nothing turns the diver" in line_with(text, "kept from rolling")
    assert "in any attitude" in line_with(text, "free to roll")
    assert text.count("neither: turned by 10 degrees, the diver stays so") == 2
    assert "unstable" not in text


def test_budget_has_one_aligned_line_for_each_item_and_the_sum():
    text = why_text(WHY)
    assert line_with(text, "gas in wing").split() == [
        "gas",
        "in",
        "wing",
        "-7.57",
        "kg",
        "+0.112",
        "m",
        "+8.30",
        "N",
        "m",
    ]
    assert line_with(text, "together").split() == ["together", "-3.20", "N", "m"]
    ends = {len(line_with(text, w)) for w in ("gas in wing", "fins", "together", "apparent weight  ")}
    assert len(ends) == 1


def test_freeze_test_tells_the_drift():
    assert line_with(settle_text(ANSWER), "after 5 s").split() == [
        "after", "5", "s", "4", "degrees", "head-down,", "face", "down",
    ]  # fmt: skip


def test_going_over_is_no_rest():
    over = settled(-57.3, 180.0, 44.0, "held", reached=False, outcome="past the vertical")
    text = " ".join(settle_text(changed(settled=over)).split())
    assert (
        "tips head-down, past standing on the head, onto the back; after 44 s 57 degrees head-down, on the back"
        in text
    )


@pytest.mark.parametrize(
    ("pitch", "roll", "words"),
    [
        (0.2, 0.2, "level, face down"),
        (17.0, 0.0, "17 degrees head-up, face down"),
        (-17.0, 25.0, "17 degrees head-down, rolled 25 degrees, left side up"),
        (-17.0, -25.0, "17 degrees head-down, rolled 25 degrees, right side up"),
        (1.2, -179.0, "1 degree head-up, on the back, 1 degree off it with the right side up"),
        (0.0, 180.0, "level, on the back"),
        (0.0, -180.0, "level, on the back"),
        (3.0, -172.0, "3 degrees head-up, on the back, 8 degrees off it with the right side up"),
        (85.0, 133.0, "upright, 85 degrees head-up"),
        (-85.0, 0.0, "standing on the head, 85 degrees head-down"),
        (-120.0, 0.0, "60 degrees head-down, on the back"),
        (120.0, 10.0, "60 degrees head-up, on the back, 10 degrees off it with the right side up"),
    ],
)
def test_attitude_in_words(pitch, roll, words):
    assert attitude_words(pitch, roll) == words


def test_a_number_and_its_unit_stay_together():
    for width in range(60, 100):
        lines = wrapped("x" * width + " moving gas takes 70.1 N m/rad of it, which is 12 degrees of 3.5 kg at 2 bar")
        assert not any(line[-1].isdigit() or line.endswith(" N") for line in lines)
        assert all(len(line) <= 100 for line in lines)
