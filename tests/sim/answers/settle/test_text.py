import copy

import pytest

from sim.answers.settle.text import moment_lines, settle_text, why_text
from sim.telling.caution import CAUTION
from sim.telling.words import attitude_words, wrapped

REPORT = {
    "format": "hangflat.settle/1",
    "title": "a small woman with a steel plate",
    "water": {"density_kg_m3": 1025.0, "gravity_m_s2": 9.81, "pressure_pa": 252153.75},
    "whole": {
        "mass_kg": 118.4, "volume_l": 115.6, "net_buoyancy_kg": 0.0, "wing_gas_l": 7.4, "suit_gas_l": 5.2,
        "cm_m": [0.1, 0.0, 0.05], "cb_m": [0.11, 0.0, 0.04],
    },
    "flat": {
        "pitch_moment_nm": -3.2, "roll_moment_nm": 0.0, "pitch_stiffness_nm_per_rad": 14.2,
        "roll_stiffness_nm_per_rad": -6.0, "gas_takes_from_pitch_stiffness_nm_per_rad": 9.5,
    },
    "held": [{"pitch_deg": -12.4, "stable": True}, {"pitch_deg": 81.0, "stable": False}],
    "rest": [
        {"pitch_deg": -11.0, "roll_deg": 172.0, "up": [0, 0, 1], "kind": "stable", "energy_j": -9.0,
         "wing_gas_l": 7.4, "net_buoyancy_kg": 0.0},
        {"pitch_deg": -12.4, "roll_deg": 0.0, "up": [0, 0, 1], "kind": "saddle", "energy_j": -2.0,
         "wing_gas_l": 7.4, "net_buoyancy_kg": 0.0},
    ],
    "settled": {
        "pitch_deg": -12.4, "roll_deg": 0.0, "time_s": 31.2, "reached": True, "roll": "held",
        "freeze_test": [{"time_s": 5.0, "pitch_deg": -4.2, "roll_deg": 0.0}],
    },
    "settled_roll_free": {"pitch_deg": -11.0, "roll_deg": 172.0, "time_s": 64.0, "reached": True, "roll": "free"},
    "items": [
        {"name": "gas in wing", "kind": "wing gas", "mass_kg": 0.02, "volume_l": 7.4, "apparent_weight_kg": -7.57,
         "arm_m": 0.112, "moment_nm": 8.3},
        {"name": "fins", "kind": "fins", "mass_kg": 2.8, "volume_l": 2.4, "apparent_weight_kg": 0.34,
         "arm_m": -0.95, "moment_nm": 3.17},
    ],
    "sensitivity": [
        {"change": "suit twice as soft", "pitch_moment_nm": -3.5, "pitch_stiffness_nm_per_rad": 10.0}
    ],
    "estimated": ["waist girth", "lung gas"],
    "notes": ["Face down is not stable in roll: left alone the diver would turn over."],
    "caution": CAUTION,
}  # fmt: skip


def changed(**parts):
    """REPORT with some keys of its tables changed: changed(flat={"roll_moment_nm": 1})."""
    report = copy.deepcopy(REPORT)
    for key, values in parts.items():
        report[key] = {**report[key], **values} if isinstance(values, dict) else values
    return report


def line_with(text, words):
    found = [line for line in text.splitlines() if words in line]
    assert len(found) == 1, (words, found)
    return found[0]


def test_moment_comes_first_in_words_and_as_kilograms_at_half_a_metre():
    # 3.2 N m / (0.5 m x 9.80665 m/s^2) = 0.653 kg; weight nearer the head turns head-down
    assert settle_text(REPORT).splitlines()[:2] == [
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


@pytest.mark.parametrize("text", [settle_text(REPORT), why_text(REPORT)])
def test_every_text_fits_its_width_ends_with_the_caution_and_says_what_was_estimated(text):
    assert max(len(line) for line in text.splitlines()) <= 100
    assert " ".join(text.split()).endswith(f"Caution: {CAUTION}")
    assert "Estimated, not given: waist girth, lung gas." in text
    for word in ("positive", "negative", "trimmed"):
        assert word not in text.lower()


def test_rest_kept_from_rolling_and_free_to_roll():
    text = settle_text(REPORT)
    assert "12 degrees head-down" in text.split("kept from rolling")[1].splitlines()[0]
    assert "81 degrees head-up (would not stay there)" in text
    assert line_with(text, "free to roll  ").endswith(
        "11 degrees head-down, on the back, 8 degrees off it with the left side up"
    )
    assert "at rest after 31 s" in text
    assert "at rest after 64 s" in text


def test_only_stable_attitudes_are_told():
    unstable = changed(rest=[{**REPORT["rest"][0], "kind": "saddle"}])
    assert "no attitude of rest stands out" in settle_text(unstable)


def test_stiffness_says_which_way_ten_degrees_end():
    text = " ".join(settle_text(REPORT).split())
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
    water = {"density_kg_m3": 1027.0, "gravity_m_s2": 9.81, "pressure_pa": 2e5}
    suit = {"gas_from": "left when last vented flat, left arm level", "back_squeeze_pa": squeeze}
    text = " ".join(settle_text(changed(water=water) | {"suit": suit}).split())
    assert f" l, left when last vented flat, left arm level; the back is {back}" in text


@pytest.mark.parametrize(
    ("net", "words"), [(0.0, "neutral"), (1.234, "1.23 kg, floats up"), (-0.5, "0.50 kg, sinks")]
)
def test_net_buoyancy_in_words(net, words):
    assert words in line_with(settle_text(changed(whole={"net_buoyancy_kg": net})), "net buoyancy")


def test_nothing_settled_is_left_out():
    text = settle_text(changed(settled=None, settled_roll_free=None, held=[], notes=[], estimated=[]))
    assert "after stopping flat" not in text
    assert "Notes" not in text
    assert "Estimated" not in text
    assert "no rest between" in text


def test_a_rig_that_nothing_turns_is_neither_stable_nor_unstable():
    flat = {**REPORT["flat"], "pitch_stiffness_nm_per_rad": 0.0, "roll_stiffness_nm_per_rad": -0.02}
    text = settle_text(changed(settled=None, settled_roll_free=None, held=[], rest=[], indifferent=True, flat=flat))
    assert "at any pitch: nothing turns the diver" in line_with(text, "kept from rolling")
    assert "in any attitude" in line_with(text, "free to roll")
    assert text.count("neither: turned by 10 degrees, the diver stays so") == 2
    assert "unstable" not in text


def test_contract_fields_alone_are_enough():
    """Another program's object has only the fields of the contract."""
    extra = {"title", "settled_roll_free", "sensitivity"}
    bare = {k: v for k, v in REPORT.items() if k not in extra}
    bare["flat"] = {k: v for k, v in REPORT["flat"].items() if not k.startswith("gas_takes")}
    assert "at rest after 31 s" in settle_text(bare)


def test_budget_has_one_aligned_line_for_each_item_and_the_sum():
    text = why_text(REPORT)
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
    assert line_with(settle_text(REPORT), "after 5 s").split() == [
        "after", "5", "s", "4", "degrees", "head-down,", "face", "down",
    ]  # fmt: skip


def test_going_over_is_no_rest():
    over = {"pitch_deg": -57.3, "roll_deg": 180.0, "time_s": 44.0, "reached": False, "outcome": "past the vertical"}
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
