"""What was seen, as it is typed: "20 deg head-up; finning; fins down", "freeze: head-down in 5 s"."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import degrees
from typing import Annotated, Final, Literal

from scenarios.errors import shortened
from scenarios.units import UnitError, parse
from sim.said import word
from sim.telling.language import say
from sim.telling.record import Told

Doing = Literal["still", "finning"]
Fins = Literal["up", "even", "down"]
TestName = Literal[
    "freeze", "fin on", "look down", "legs straight", "feel", "count", "rig down", "gas out", "kilogram"
]  # fmt: skip
Way = Literal["head-up", "head-down", "stays"]

STEEPEST: Final = 90.0  # degrees
LONGEST: Final = 60.0  # s


class TypedError(ValueError):
    """What was typed is not understood; the message says what to write."""


@dataclass(frozen=True)
class Sight:
    """A diver as seen, and what was otherwise than in the file then."""

    attitude: Annotated[float, Told("how the trunk lay", "deg", plus="head-up")]
    doing: Annotated[Doing, Told("what the diver did")]
    fins: Annotated[Fins | None, Told("where the fins were: over the hips, level, below", none="not said")] = None
    pressure: Annotated[
        float | None, Told("in the cylinders, as the gauge shows", "bar", none="as the file says")
    ] = None
    depth: Annotated[float | None, Told("of water", "m", none="as the file says")] = None
    gaiters: Annotated[bool | None, Told("whether gaiters were on", none="as the file says")] = None


@dataclass(frozen=True)
class Outcome:
    """What came of a test: a drift with its time, an attitude, or whether things were as told."""

    test: Annotated[TestName, Told("which test")]
    way: Annotated[Way | None, Told("which way the diver drifted", none="not a test of drifting")] = None
    time: Annotated[float | None, Told("until 30 degrees were gone", "s", none="not said")] = None
    attitude: Annotated[float | None, Told("how the trunk lay then", "deg", plus="head-up", none="not asked")] = None
    as_told: Annotated[bool | None, Told("whether what was checked was as told", none="not asked")] = None


DRIFTS: Final[frozenset[TestName]] = frozenset({"freeze", "legs straight", "gas out", "kilogram"})
CHECKS: Final[dict[TestName, tuple[str, str]]] = {
    "count": (word("as told"), word("otherwise")),
    "rig down": (word("sits right"), word("came down")),
    "feel": (word("slack"), word("full")),
}  # words for as told, and not
TESTS: Final[tuple[TestName, ...]] = (
    word("freeze"), word("fin on"), word("look down"), word("legs straight"), word("feel"), word("count"),
    word("rig down"), word("gas out"), word("kilogram"),
)  # fmt: skip


def attitude_of(text: str) -> float:
    """Pitch [rad] of "20 deg head-up", "flat", "10 deg head-down". Raises TypedError."""
    words = text.strip().lower().replace("head up", "head-up").replace("head down", "head-down")
    if words in ("flat", "level"):
        return 0.0
    way = next((w for w in ("head-up", "head-down") if w in words), None)
    angle = words.replace(way or "", "").strip()
    message = f'"{shortened(text)}" is no attitude; write it like "20 deg head-up", "10 deg head-down" or "flat"'
    if way is None or not angle:
        raise TypedError(message)
    try:
        size = parse("angle", angle, "20 deg")
    except UnitError:
        raise TypedError(message) from None
    if not 0.0 <= degrees(size) <= STEEPEST:
        raise TypedError(f'"{shortened(text)}": between flat and {STEEPEST:.0f} degrees, say which way with head-up')
    return size if way == "head-up" else -size


def sight_of(text: str) -> Sight:
    """A sight of "20 deg head-up; finning; fins down; pressure=60 bar; depth=5 m; gaiters=no". Raises TypedError."""
    first, *rest = (part.strip() for part in text.split(";"))
    sight = Sight(attitude_of(first), "still")
    said = False
    for part in filter(None, rest):
        words = " ".join(part.lower().split())
        if words in ("still", "finning"):
            sight, said = replace(sight, doing=words), True  # type: ignore[arg-type]
        elif words in ("fins up", "fins even", "fins down"):
            sight = replace(sight, fins=words.removeprefix("fins "))  # type: ignore[arg-type]
        else:
            sight = _with(sight, part)
    if not said:
        raise TypedError(f'"{shortened(text)}" does not say what the diver did: add "; still" or "; finning"')
    return sight


def _with(sight: Sight, part: str) -> Sight:
    key, equals, value = (p.strip() for p in part.partition("="))
    try:
        if equals and key == "pressure":
            return replace(sight, pressure=parse("pressure", value, "60 bar"))
        if equals and key == "depth":
            return replace(sight, depth=parse("length", value, "5 m"))
    except UnitError as error:
        raise TypedError(f"{key}: {error}") from None
    if equals and key == "gaiters" and value in ("yes", "no"):
        return replace(sight, gaiters=value == "yes")
    message = f'"{shortened(part)}" is not understood; a sight is like "20 deg head-up; finning; fins down"'
    raise TypedError(f"{message}, and may have pressure=60 bar, depth=5 m, gaiters=yes or no")


def outcome_of(text: str) -> Outcome:
    """What came of a test: "freeze: head-down in 5 s", "look down: 5 deg head-up", "rig down: came down".

    Raises TypedError.
    """
    name, colon, said = (p.strip() for p in text.partition(":"))
    test = next((t for t in TESTS if t == " ".join(name.lower().split())), None)
    if test is None or not colon:
        known = ", ".join(TESTS)
        raise TypedError(f'"{shortened(text)}" is no test; write TEST: WHAT CAME OF IT, the tests being {known}')
    if test in DRIFTS:
        return _drift(test, said)
    if test in CHECKS:
        if said not in CHECKS[test]:
            right, wrong = CHECKS[test]
            raise TypedError(f'"{shortened(text)}": write "{test}: {right}" or "{test}: {wrong}"')
        return Outcome(test, as_told=said == CHECKS[test][0])
    return Outcome(test, attitude=attitude_of(said))


def _drift(test: TestName, said: str) -> Outcome:
    words = " ".join(said.lower().split())
    if words in ("stays", "stays flat"):
        return Outcome(test, way="stays")
    way, inside, time = words.partition(" in ")
    message = f'"{shortened(said)}" is no drift; write "{test}: head-down in 5 s", "... head-up" or "... stays"'
    if way not in ("head-up", "head-down") or (inside and not time):
        raise TypedError(message)
    if not inside:
        return Outcome(test, way=way)  # type: ignore[arg-type]
    try:
        seconds = parse("time", time, "5 s")
    except UnitError:
        raise TypedError(message) from None
    if not 0.1 <= seconds <= LONGEST:
        raise TypedError(f'"{shortened(said)}": a drift takes between 0.1 and {LONGEST:.0f} s; else write "stays"')
    return Outcome(test, way=way, time=seconds)  # type: ignore[arg-type]


def attitude_words(pitch: float) -> str:
    """A pitch [rad] in words."""
    size = round(abs(degrees(pitch)))
    if size == 0:
        return say("flat")
    return say("{angle} degrees head-up", angle=size) if pitch > 0.0 else say("{angle} degrees head-down", angle=size)
