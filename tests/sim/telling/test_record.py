"""Answers as records: keys, units and pages of fields follow from the annotations."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, get_args

import numpy as np
import pytest

from meshes.mesh import Floats
from sim.telling.record import UNITS, Field, Kept, Told, Unit, as_json, fields_of


@dataclass(frozen=True)
class Hand:
    side: Annotated[str, Told("left or right")]
    reach: Annotated[float | None, Told("what is left", "m", none="no way at all")]


@dataclass(frozen=True, eq=False)
class Answer:
    format: Annotated[str, Told("name of the format")]
    pitch: Annotated[float, Told("of the trunk", "deg", plus="head-up")]
    gas: Annotated[float, Told("in the wing", "l")]
    centre: Annotated[Floats, Told("point in body axes", "m")]
    hands: Annotated[tuple[Hand, ...], Told("each hand")]
    best: Annotated[Hand, Told("the better one", beside=True)]
    shares: Annotated[Mapping[str, float], Told("share of people", "%", names="<reason>")]
    extra: Annotated[Hand | None, Told("where asked for", left_out=True)] = None
    room: Annotated[float, Told("of the fall", "m", key="fall_m")] = math.inf
    counts: Annotated[tuple[int, ...], Told("people")] = ()


@dataclass(frozen=True)
class Band:
    low: Annotated[float, Told("5 % of what may be")]
    share: Annotated[float, Told("of the draws", "%")]


@dataclass(frozen=True)
class Sure:
    gas: Annotated[Band, Told("in the wing", "l")]
    bands: Annotated[tuple[Band, ...], Told("of each reach", "mm")]


ANSWER = Answer(
    "x/1", math.pi / 6, 0.0125, np.array([1.0, 0.0, -2.0]), (Hand("left", 0.1), Hand("right", None)),
    Hand("left", 0.1), {"head": 0.25}, counts=(3, 4),
)  # fmt: skip


def test_keys_carry_units_and_numbers_are_in_them():
    told = as_json(ANSWER)
    assert told == {
        "format": "x/1",
        "pitch_deg": pytest.approx(30.0),
        "gas_l": pytest.approx(12.5),
        "centre_m": [1.0, 0.0, -2.0],
        "hands": [{"side": "left", "reach_m": 0.1}, {"side": "right", "reach_m": None}],
        "side": "left",
        "reach_m": 0.1,
        "shares_percent": {"head": 25.0},
        "fall_m": None,
        "counts": [3, 4],
    }
    assert json.loads(json.dumps(told, allow_nan=False)) == told


def test_pages_of_fields_name_every_path_that_can_turn_up():
    listed = list(fields_of(Answer))
    assert [f.path for f in listed] == [
        "format", "pitch_deg", "gas_l", "centre_m", "hands[].side", "hands[].reach_m", "side", "reach_m",
        "shares_percent.<reason>", "extra.side", "extra.reach_m", "fall_m", "counts",
    ]  # fmt: skip
    assert listed[1] == Field("pitch_deg", "of the trunk, plus head-up", "deg")
    assert listed[5].meaning == "what is left; null: no way at all"


def test_a_field_that_does_not_say_what_it_means_is_refused():
    @dataclass(frozen=True)
    class Silent:
        length: float

    with pytest.raises(TypeError, match=r"Silent.length does not say"):
        as_json(Silent(1.0))


def test_a_band_is_in_the_unit_of_the_field_that_holds_it():
    assert as_json(Sure(Band(0.002, 0.5), (Band(0.25, 0.125),))) == {
        "gas_l": {"low": 2.0, "share_percent": 50.0},
        "bands_mm": [{"low": 250.0, "share_percent": 12.5}],
    }
    assert [(f.path, f.unit) for f in fields_of(Sure)] == [
        ("gas_l.low", "l"), ("gas_l.share_percent", "%"), ("bands_mm[].low", "mm"), ("bands_mm[].share_percent", "%"),
    ]  # fmt: skip


@dataclass(frozen=True)
class Worn:
    name: Annotated[str, Told("of the rig")]
    made: Kept[object]
    margins: Annotated[
        Mapping[str, float], Told("of each demand", "m", key="margins", names="<demand>", others=(("sight", "deg"),))
    ]
    values: Annotated[tuple[float, ...], Told("of what is swept", "m", digits=3)]
    hand: Annotated[Hand | None, Told("the better one", none="no valve")]


def test_what_is_only_worked_with_is_not_told_and_a_mapping_may_hold_two_units():
    worn = Worn("x", object(), {"strap": 0.25, "sight": -math.pi / 4}, (0.12345, math.nan), None)
    assert as_json(worn) == {
        "name": "x",
        "margins": {"strap": 0.25, "sight": pytest.approx(-45.0)},
        "values_m": [0.123, None],
        "hand": None,
    }
    assert [(f.path, f.meaning) for f in fields_of(Worn)][1:4] == [
        ("margins.<demand>", "of each demand"),
        ("values_m", "of what is swept"),
        ("hand", "the better one; null: no valve"),
    ]


def test_every_unit_has_its_ending():
    assert set(UNITS) == set(get_args(Unit))
    assert UNITS["deg"][1] * math.pi == pytest.approx(180.0)
