"""What could be changed about a diver.

First what anybody adjusts with the gear at hand: height of the rig, bands, lead, gas in the suit, gaiters. Then how
the limbs are held, and other gear from the catalogue.
"""

from __future__ import annotations

import json
import math
import tomllib
from collections.abc import Iterator, Mapping
from typing import Any, Final

from scenarios.catalogue.lookup import entries
from scenarios.models import Scenario
from scenarios.pose import PoseName
from scenarios.suit import DrySuit
from scenarios.units import parse
from sim.answers.change.candidate import Candidate
from sim.answers.change.lead import lead_changes
from sim.answers.fit.limits import BANDS_AT_ENDS
from sim.said import Amount, Sentence, brief, note, word

HEIGHTS: Final = (-0.01, 0.01, 0.03)  # m, lower; more leaves the waist
BANDS: Final = (BANDS_AT_ENDS[0], 0.0, 0.025, BANDS_AT_ENDS[1])  # m, places of the cylinders on the plate
GAS_STEP: Final = 1.0  # l of suit gas
VENTED_WELL: Final = math.radians(60.0)  # head-up, from which on hardly any more gas finds its way out
OPEN: Final = 100.0  # Pa, a valve as open as it goes (a maker's manual)
LEAST_GAS: Final = 1.0  # l that stay in the suit (assumed)
SAME_SIZE: Final = 0.2  # of water capacity within which another cylinder would do as well (assumed)
SAME: Final = 1e-6
COLD: Final = note("Gaiters press the undergarment thin, so that the lower legs get colder (common practice).")
HELD: Final[Mapping[PoseName, str]] = {
    "flat, knees bent": word("held: flat, knees bent"), "flat, legs straight": word("held: flat, legs straight"),
    "arms ahead": word("held: arms ahead"), "arms at sides": word("held: arms at sides"),
}  # fmt: skip
# of the cylinders in the file, what is the diver's and not the cylinder's own
THE_DIVERS: Final = ("gas", "pressure", "temperature", "shift", "boot_mass", "regulators")


def candidates(
    scenario: Scenario, document: Mapping[str, Any], suit_gas: float, drop: float | None
) -> tuple[Candidate, ...]:
    """Everything to try on a scenario, each by its words once.

    document : the file's raw tables, settings applied;  suit_gas : that the suit holds [m^3]
    drop : how low the rig hangs [m]; None without plate
    """
    found = (
        *_heights(scenario, drop),
        *_bands(scenario),
        *lead_changes(scenario),
        *_suit(scenario, suit_gas),
        *_poses(scenario),
        *_plates_and_fins(scenario),
        *_other_cylinders(scenario, document),
    )
    return tuple({c.words: c for c in reversed(found)}.values())[::-1]


def _heights(scenario: Scenario, drop: float | None) -> Iterator[Candidate]:
    if scenario.harness is None or drop is None:
        return
    for by in HEIGHTS:
        size, settings = _cm(by), (f"harness.drop={_mm(drop + by)}",)
        if by > 0.0:
            words, said = note("the rig {size} lower", size=size), note("Wear the rig {size} lower.", size=size)
        else:
            words, said = note("the rig {size} higher", size=size), note("Wear the rig {size} higher.", size=size)
        yield Candidate("height", frozenset({"height"}), words, settings, said, fit=True)


def _bands(scenario: Scenario) -> Iterator[Candidate]:
    cylinders = scenario.cylinders
    if cylinders is None or scenario.plate is None:
        return
    for place in BANDS:
        up = place - cylinders.shift
        if abs(up) > SAME:
            words, said = _in_bands(up, cylinders.count > 1)
            settings = (f"cylinders.shift={_mm(place)}",)
            yield Candidate("bands", frozenset({"bands"}), words, settings, said, fit=True)


def _in_bands(up: float, many: bool) -> tuple[Sentence, Sentence]:
    """One cylinder or ``many`` so much higher in the bands [m], and as an instructor says it."""
    size = _cm(up)
    if many and up > 0.0:
        return (
            note("the cylinders {size} higher in their bands", size=size),
            note("Set the cylinders {size} higher in their bands.", size=size),
        )
    if many:
        return (
            note("the cylinders {size} lower in their bands", size=size),
            note("Set the cylinders {size} lower in their bands.", size=size),
        )
    if up > 0.0:
        return (
            note("the cylinder {size} higher in its bands", size=size),
            note("Set the cylinder {size} higher in its bands.", size=size),
        )
    return (
        note("the cylinder {size} lower in its bands", size=size),
        note("Set the cylinder {size} lower in its bands.", size=size),
    )


def _suit(scenario: Scenario, suit_gas: float) -> Iterator[Candidate]:
    """Less gas than was left or is comfortable squeezes, loose feet fill with gas: told, not advised."""
    suit = scenario.suit
    if not isinstance(suit, DrySuit):
        return
    open_to_the_rule = isinstance(suit.gas, str)
    litres = 1000.0 * (suit_gas if isinstance(suit.gas, str) else suit.gas)
    for by in (-GAS_STEP, GAS_STEP):
        if litres + by >= LEAST_GAS:
            tight = by < 0.0 and open_to_the_rule
            words, said = _kept_gas(by, tight)
            settings = (f"suit.gas={litres + by:.2f} l",)
            yield Candidate("suit gas", frozenset({"suit gas"}), words, settings, said, advised=not tight)
    if suit.gas == "vented" and suit.vented_head_up < VENTED_WELL - SAME:
        words = note("the suit vented half upright, the valve open, which then squeezes")
        well = (f"suit.vented_head_up={math.degrees(VENTED_WELL):.0f} deg", f"suit.valve_pressure={OPEN:.0f} Pa")
        yield Candidate("suit gas", frozenset({"suit gas"}), words, well, advised=False)
    worn = suit.gaiters
    knobs = frozenset({"gaiters"})
    if worn:
        words = note("gaiters off the lower legs")
        yield Candidate("gaiters", knobs, words, ("suit.gaiters=false",), advised=False)
        return
    words, said = note("gaiters on the lower legs"), note("Wear gaiters on the lower legs.")
    yield Candidate("gaiters", knobs, words, ("suit.gaiters=true",), said, cost=COLD)


def _kept_gas(by: float, tight: bool) -> tuple[Sentence, str]:
    """More or less gas in the suit [l], and as an instructor says it; nobody says so of what is ``tight``."""
    size = brief(abs(by), "l")
    if tight:
        return note("{size} less gas in the suit, which then squeezes", size=size), ""
    if by > 0.0:
        return note("{size} more gas in the suit", size=size), note("Keep {size} more gas in the suit.", size=size)
    return note("{size} less gas in the suit", size=size), note("Keep {size} less gas in the suit.", size=size)


def _poses(scenario: Scenario) -> Iterator[Candidate]:
    for name, words in HELD.items():
        if name != scenario.pose.name:
            yield Candidate("pose", frozenset({"pose"}), words, (f"pose.name={name}",), fit=True)


def _plates_and_fins(scenario: Scenario) -> Iterator[Candidate]:
    """A plate that was drawn is not advised against: whoever drew it wants to know of that one."""
    if scenario.plate is not None:
        drawn = scenario.plate.file is not None
        for name in entries("plate"):
            if name != scenario.plate.catalogue:
                settings = (f"plate={name}",)
                words = note("plate: {name}", name=name)
                said = note("Change the plate for this: {name}.", name=name)
                yield Candidate("gear", frozenset({"plate"}), words, settings, said, fit=True, advised=not drawn)
    if scenario.fins is not None:
        springs = "fins.straps=steel springs"
        worn = scenario.fins.straps == "steel springs"
        for name in entries("fins"):
            if name != scenario.fins.catalogue:
                kept = (springs,) if worn else ()
                words, settings = note("fins: {name}", name=name), (f"fins={name}", *kept)
                said = note("Change the fins for these: {name}.", name=name)
                yield Candidate("gear", frozenset({"fins"}), words, settings, said)
        if not worn:
            words = note("steel springs in place of the fins' rubber straps")
            said = note("Put steel springs in place of the fins' rubber straps.")
            yield Candidate("gear", frozenset({"fins"}), words, (springs,), said)


def _other_cylinders(scenario: Scenario, document: Mapping[str, Any]) -> Iterator[Candidate]:
    """Those of the catalogue that hold about as much and may be filled as full, arranged the same way."""
    worn = scenario.cylinders
    if worn is None or worn.water_capacity is None:
        return
    raw = document.get("cylinders")
    kept = {k: raw[k] for k in THE_DIVERS if k in raw} if isinstance(raw, Mapping) else {}
    for name, entry in entries("cylinders").items():
        size, made_for = entry.values.get("water_capacity"), entry.values.get("working_pressure")
        if size is None or abs(parse("volume", str(size)) / worn.water_capacity - 1.0) > SAME_SIZE:
            continue
        full = f"{worn.arrangement} {name}"
        if parse("pressure", str(made_for)) < worn.fill - SAME or worn.catalogue in (name, full):
            continue
        settings = (f"cylinders={full}", *_flattened("cylinders", kept))
        words = note("cylinders: {name}", name=full)
        said = note("Change the cylinders for these: {name}.", name=full)
        yield Candidate("gear", frozenset({"bands"}), words, settings, said, fit=True)


def _flattened(path: str, value: Any) -> Iterator[str]:
    """KEY=VALUE for everything in a raw table."""
    if isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _flattened(f"{path}.{key}", inner)
    else:
        yield f"{path}={value if _is_bare(value) else json.dumps(value, ensure_ascii=False)}"


def _is_bare(value: Any) -> bool:
    """Whether a text is read as itself without quotes, as most quantities are: easier to type."""
    if not isinstance(value, str) or '"' in value:
        return False
    try:
        tomllib.loads(f"value = {value}")
    except tomllib.TOMLDecodeError:
        return True
    return False


def _cm(length: float) -> Amount:
    return brief(100.0 * abs(length), "cm")


def _mm(length: float) -> str:
    return f"{1000.0 * length:.9g} mm"
