"""What was seen, as it is typed, and what is said to who types it otherwise."""

from __future__ import annotations

from math import radians

import pytest

from sim.answers.seen.typed import Outcome, Sight, TypedError, attitude_of, outcome_of, sight_of


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("20 deg head-up", 20.0), ("20 degrees head up", 20.0), ("head-up 20 deg", 20.0), ("flat", 0.0),
        ("LEVEL", 0.0), ("7.5 deg head-down", -7.5), ("0.5 rad head-down", -28.6478897565),
    ],
)  # fmt: skip
def test_an_attitude_is_read(text, degrees) -> None:
    assert attitude_of(text) == pytest.approx(radians(degrees))


@pytest.mark.parametrize(
    "text",
    ["", "20 deg", "20 head-up", "head-up", "-5 deg head-up", "100 deg head-down", "nan deg head-up", "x" * 5000],
)
def test_what_is_no_attitude_is_refused_in_a_short_line(text) -> None:
    with pytest.raises(TypedError) as refused:
        attitude_of(text)
    assert len(str(refused.value)) < 300


def test_a_sight_is_read_with_what_was_otherwise() -> None:
    told = sight_of("10 deg head-down; still; fins up; pressure=60 bar; depth=5 m; gaiters=no;")
    assert told == Sight(radians(-10.0), "still", "up", pytest.approx(6e6), 5.0, False)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("10 deg head-down; fins up", "what the diver did"),
        ("10 deg head-down; still; fins sideways", "not understood"),
        ("10 deg head-down; still; pressure=60", "pressure"),
        ("10 deg head-down; still; gaiters=maybe", "yes or no"),
        ("still; 10 deg head-down", "no attitude"),
    ],
)
def test_what_is_no_sight_is_refused(text, said) -> None:
    with pytest.raises(TypedError, match=said):
        sight_of(text)


@pytest.mark.parametrize(
    ("text", "outcome"),
    [
        ("freeze: head-down in 5 s", Outcome("freeze", way="head-down", time=5.0)),
        ("Freeze : head-up", Outcome("freeze", way="head-up")),
        ("legs straight: stays", Outcome("legs straight", way="stays")),
        ("look down: flat", Outcome("look down", attitude=0.0)),
        ("count: as told", Outcome("count", as_told=True)),
        ("rig down: came down", Outcome("rig down", as_told=False)),
    ],
)
def test_an_outcome_is_read(text, outcome) -> None:
    assert outcome_of(text) == outcome


@pytest.mark.parametrize(
    "text",
    ["freeze", "melt: head-up", "freeze: up", "freeze: head-up in a while", "freeze: head-up in 900 s",
     "freeze: head-up in -1 s", "look down: head-up in 5 s", "count: perhaps", "rig down: as told"],
)  # fmt: skip
def test_what_is_no_outcome_is_refused(text) -> None:
    with pytest.raises(TypedError, match=r"write|takes"):
        outcome_of(text)
