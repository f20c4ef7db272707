"""What could be changed about a diver, each as what-ifs on the scenario file.

First what anybody adjusts with the gear at hand: height of the rig, bands, lead, gas in the suit, gaiters. Then how
the limbs are held, and other gear from the catalogue.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal, get_args

from scenarios.catalogue.lookup import entries
from scenarios.loose_gear import Lead, LeadPlace
from scenarios.models import Scenario
from scenarios.suit import DrySuit
from scenarios.units import parse
from sim.fit.limits import BANDS_AT_ENDS
from sim.person.pose import POSES

Kind = Literal["height", "bands", "lead", "suit gas", "gaiters", "pose", "gear"]
ADDED: Final = "another entry of lead"  # knob of changes that append to the file's list of lead
MORE: Final = "more lead"  # knob of those among them that make the diver heavier
AT_HAND: Final[tuple[Kind, ...]] = ("height", "bands", "lead", "suit gas", "gaiters")
WITH_GEAR: Final[tuple[Kind, ...]] = (*AT_HAND, "gear")
HEIGHTS: Final = (-0.01, 0.01, 0.03)  # m, lower; more leaves the waist
BANDS: Final = (BANDS_AT_ENDS[0], 0.0, 0.025, BANDS_AT_ENDS[1])  # m, places of the cylinders on the plate
PIECE: Final = 1.0  # kg of lead that is moved or added at a time
GAS_STEP: Final = 1.0  # l of suit gas
LEAST_GAS: Final = 1.0  # l that stay in the suit
SAME_SIZE: Final = 0.2  # of water capacity within which another cylinder would do as well
SAME: Final = 1e-6
PLACES: Final[tuple[LeadPlace, ...]] = get_args(LeadPlace)
WHERE: Final[dict[LeadPlace, tuple[str, str]]] = {  # the place, and how lead is there
    "belt": ("the belt", "on"),
    "plate channel": ("the plate's channel", "in"),
    "tail": ("the plate's tail", "at"),
    "between cylinders": ("the gap between the cylinders", "in"),
    "upper band": ("the upper band", "at"),
    "ankles": ("the ankles", "on"),
}
MOST_ON_ANKLES: Final = 2.0  # kg on both together: two straps of 1 kg are the heaviest in use (common practice)


@dataclass(frozen=True)
class Candidate:
    """One change.

    knobs : what it turns; two changes that share one cannot go together
    words : what is done, "the rig 1 cm lower";  settings : the same as KEY=VALUE
    fit : whether it may change where the rig sits, what hands reach and eyes see
    """

    kind: Kind
    knobs: frozenset[str]
    words: str
    settings: tuple[str, ...]
    fit: bool


def candidates(scenario: Scenario, suit_gas: float) -> tuple[Candidate, ...]:
    """Everything to try on a scenario whose suit holds ``suit_gas`` [m^3]."""
    return (
        *_heights(scenario),
        *_bands(scenario),
        *_lead(scenario),
        *_suit(scenario, suit_gas),
        *_poses(scenario),
        *_gear(scenario),
    )


def _heights(scenario: Scenario) -> Iterator[Candidate]:
    harness = scenario.harness
    if harness is None or scenario.plate is None or harness.shoulder_strap is not None:
        return
    for by in HEIGHTS:
        words = f"the rig {_cm(by)} {'lower' if by > 0.0 else 'higher'}"
        yield Candidate("height", frozenset({"height"}), words, (f"harness.drop={_mm(harness.drop + by)}",), True)


def _bands(scenario: Scenario) -> Iterator[Candidate]:
    cylinders = scenario.cylinders
    if cylinders is None or scenario.plate is None:
        return
    for place in BANDS:
        up = place - cylinders.shift
        if abs(up) > SAME:
            words = f"the cylinders {_cm(up)} {'higher' if up > 0.0 else 'lower'} in their bands"
            yield Candidate("bands", frozenset({"bands"}), words, (f"cylinders.shift={_mm(place)}",), True)


def _lead(scenario: Scenario) -> Iterator[Candidate]:
    after = len(scenario.lead)
    places = [p for p in PLACES if _can_hold(scenario, p)]
    on_ankles = sum(lead.mass for lead in scenario.lead if lead.place == "ankles")

    def bears(place: LeadPlace, mass: float) -> bool:
        return place != "ankles" or on_ankles + mass <= MOST_ON_ANKLES + SAME

    for number, lead in enumerate(scenario.lead):
        for place in places:
            if lead.place not in (None, place):
                for moved in _moved(number, lead, lead.place, place, after):
                    if bears(place, PIECE if ADDED in moved.knobs else lead.mass):
                        yield moved
    for place in places:
        if bears(place, PIECE):
            added = (f"lead.{after}.mass={PIECE:g} kg", f"lead.{after}.place={place}")
            name, lies = WHERE[place]
            words = f"{PIECE:g} kg more lead {lies} {name}"
            yield Candidate("lead", _knobs(ADDED, place) | {MORE}, words, added, False)


def _knobs(knob: str, place: LeadPlace) -> frozenset[str]:
    """Only one change at a time puts lead on the ankles, which bear little."""
    return frozenset({knob, "ankles"} if place == "ankles" else {knob})


def _moved(number: int, lead: Lead, start: LeadPlace, place: LeadPlace, after: int) -> Iterator[Candidate]:
    """All of it in another place, and a piece of it."""
    knob, way = f"lead {number}", f"from {WHERE[start][0]} to {WHERE[place][0]}"
    words = f"{lead.mass:.3g} kg of lead {way}"
    yield Candidate("lead", _knobs(knob, place), words, (f"lead.{number}.place={place}",), False)
    if lead.mass > PIECE + 0.1:
        settings = (
            f"lead.{number}.mass={lead.mass - PIECE:.9g} kg",
            f"lead.{after}.mass={PIECE:g} kg",
            f"lead.{after}.place={place}",
        )
        words = f"{PIECE:g} kg of lead {way}"
        yield Candidate("lead", _knobs(knob, place) | {ADDED}, words, settings, False)


def _can_hold(scenario: Scenario, place: LeadPlace) -> bool:
    if place in ("between cylinders", "upper band"):
        return scenario.cylinders is not None and scenario.plate is not None
    return place not in ("plate channel", "tail") or scenario.plate is not None


def _suit(scenario: Scenario, suit_gas: float) -> Iterator[Candidate]:
    if not isinstance(scenario.suit, DrySuit):
        return
    litres = 1000.0 * suit_gas
    for by in (-GAS_STEP, GAS_STEP):
        if litres + by >= LEAST_GAS:
            words = f"{GAS_STEP:g} l {'more' if by > 0.0 else 'less'} gas in the suit"
            if by < 0.0 and scenario.suit.gas == "comfortable":
                words += ", which then squeezes"
            yield Candidate("suit gas", frozenset({"suit gas"}), words, (f"suit.gas={litres + by:.2f} l",), False)
    worn = scenario.suit.gaiters
    words = "gaiters off the lower legs" if worn else "gaiters on the lower legs"
    setting = f"suit.gaiters={'false' if worn else 'true'}"
    yield Candidate("gaiters", frozenset({"gaiters"}), words, (setting,), False)


def _poses(scenario: Scenario) -> Iterator[Candidate]:
    for name in POSES:
        if name not in (scenario.pose.name, "upright"):
            yield Candidate("pose", frozenset({"pose"}), f"held: {name}", (f"pose.name={name}",), True)


def _gear(scenario: Scenario) -> Iterator[Candidate]:
    if scenario.plate is not None:
        for name in entries("plate"):
            if name != scenario.plate.catalogue:
                yield Candidate("gear", frozenset({"plate"}), f"plate: {name}", (f"plate={name}",), True)
    if scenario.fins is not None:
        for name in entries("fins"):
            if name != scenario.fins.catalogue:
                yield Candidate("gear", frozenset({"fins"}), f"fins: {name}", (f"fins={name}",), False)
    yield from _other_cylinders(scenario)


def _other_cylinders(scenario: Scenario) -> Iterator[Candidate]:
    """Those of the catalogue that hold about as much, in the same arrangement, as full."""
    worn = scenario.cylinders
    if worn is None or worn.water_capacity is None:
        return
    for name, entry in entries("cylinders").items():
        size = entry.values.get("water_capacity")
        near = size is not None and abs(parse("volume", str(size)) / worn.water_capacity - 1.0) <= SAME_SIZE
        full = f"{worn.arrangement} {name}"
        if near and worn.catalogue not in (name, full):
            yield Candidate(
                "gear", frozenset({"bands"}), f"cylinders: {full}", (f"cylinders.catalogue={full}",), True
            )


def _cm(length: float) -> str:
    return f"{100.0 * abs(length):g} cm"


def _mm(length: float) -> str:
    return f"{1000.0 * length:.9g} mm"
