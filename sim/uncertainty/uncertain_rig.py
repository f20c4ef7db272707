"""From a file's model to a rig with everything that may be otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from concurrent.futures import Executor
from dataclasses import replace
from typing import Final

import numpy as np

from meshes.mesh import Floats
from scenarios.by_key import told_otherwise, told_value
from scenarios.known import Effect
from scenarios.loose_gear import GearItem
from scenarios.measure_names import measures as named_measures
from scenarios.models import Scenario
from scenarios.parts_file import PartsFile
from scenarios.suit import DrySuit
from scenarios.table import all_spreads
from sim.person.tissue import CB_CM_UNCERTAINTY
from sim.rig import Part, Rig
from sim.said import amount, known, note, word
from sim.uncertainty.belief import believing
from sim.uncertainty.body import density_pair, lung_pair, measure_pairs, person_of_scenario
from sim.uncertainty.progress import Progress, unheard
from sim.uncertainty.rig_numbers import MASS, VOLUME, numbers_of
from sim.uncertainty.suit import suit_pairs
from sim.uncertainty.variants import Pair, Situation, lines_in_situations, lines_through
from sim.uncertainty.variates import NINETY, BodyMeasures, UncertainRig, Variate

# Assumed, 5 to 95 %: no measured garment curve is published, and divers hang their gear by feel
STIFFNESS_FACTOR: Final = 2.0
SUIT_GAS_SHARE: Final = 0.25
STIFFER_BACK: Final = 3.0  # times, at most, on small reversals: fibre layers lose energy in a cycle (from memory)
CYLINDER_CM: Final = 0.005  # m, SD; a wall's thickness more or less in the base moves it by 4 to 7 mm
PLACED: Final = 0.02  # m along the body
LEAST_WEIGHT: Final = 0.2  # kg of apparent weight below which the place of a clipped-on item is not varied

# stated spreads that are worked into the body's own unknowns
_MEASURES: Final = "diver.measures."
_OF_THE_BODY: Final = ("diver.body_density", "diver.body_fat")


def uncertain_parts(
    file: PartsFile, rig: Rig, pool: Executor | None = None, done: Progress = unheard
) -> UncertainRig:
    """A parts file is taken at its word: only what it states with a spread may be otherwise."""
    pairs = list(stated_pairs(file))
    lines = lines_through(pairs, pool, done)
    told = (
        () if pairs else (note('Nothing in this parts file was stated with a spread (like mass = "57 +- 0.5 kg").'),)
    )
    return UncertainRig(
        rig, numbers_of(rig), tuple(line_variate(p, n, file) for p, n in zip(pairs, lines, strict=True)), notes=told
    )


def uncertain_scenario(
    scenario: Scenario, rig: Rig, pool: Executor | None = None, done: Progress = unheard
) -> UncertainRig:
    """What was estimated, what is known of the model's own error, and what was stated with a spread.

    Body, lungs, density, suit, height of the plate and stated values enter by one straight line each through two
    assembled variants; the suit's stiffness, the places of loose gear and CB - CM of the body as they are. Against
    128 draws of each of four divers with body, suit and harness built anew for each, the moment's SD comes out 0.98
    to 1.00 times and its band 0.97 to 1.02 times as wide (the draws alone make that 1 to 4 % unsure), in drysuits and
    wetsuit alike; a draw by itself is off by 5 to 15 % of the SD. Where the suit was vented nearly flat, which is far
    from a straight line, the SD is 1.08 times and a draw off by 38 %. scripts/uncertainty_error.py measures it.
    Raises UnvariedError for a spread so wide that its variants cannot be built.
    """
    return uncertain_situations(scenario, {_as_told: rig}, pool, done)[0]


def uncertain_situations(
    scenario: Scenario, rigs: Mapping[Situation, Rig], pool: Executor | None = None, done: Progress = unheard
) -> list[UncertainRig]:
    """As ``uncertain_scenario``, for one diver in several situations: the same unknowns, in the same order, in each.

    rigs : of each situation, which makes of a scenario the one in it, assembled with what was learnt (if anything)
    What was learnt is the belief about the unknowns in place of what is believed of anybody; each body is built once.
    """
    learnt, told = scenario.learnt, scenario.as_told()
    person = person_of_scenario(told)
    measures = measure_pairs(told, person)
    lungs = lung_pair(told, person)
    others = [density_pair(told, person), *_heights(told), *suit_pairs(told), *stated_pairs(told)]
    pairs = [*measures.pairs, *([] if lungs is None else [lungs]), *others]
    lines = lines_in_situations(pairs, list(rigs), pool, done)
    k = len(measures.pairs)
    body = BodyMeasures(measures.names, measures.basis, measures.loading, slice(0, k))
    found = []
    for (situation, rig), along in zip(rigs.items(), lines, strict=True):
        base = numbers_of(rig)
        variates = [line_variate(p, n, told) for p, n in zip(pairs, along, strict=True)]
        if lungs is not None:
            variates[k] = replace(variates[k], shape="uniform")
        here = situation(told)
        variates += [
            _body_centre(rig, base), *fabric_variates(here, rig, base), *_cylinders(rig, base),
            *_places(here, rig, base),
        ]  # fmt: skip
        unknown = UncertainRig(rig, base, tuple(variates), body)
        found.append(unknown if learnt is None else believing(unknown, learnt, scenario))
    return found


def _as_told(scenario: Scenario) -> Scenario:
    return scenario


def line_variate(pair: Pair, line: Floats, told: Scenario | PartsFile) -> Variate:
    return Variate(pair.name, pair.basis, pair.shape, line, owner=pair.owned_by(told), said=pair.said(told))


def stated_pairs(told: Scenario | PartsFile) -> Iterator[Pair]:
    """Variants one stated SD either side of what was told."""
    for key, sd in all_spreads(told).items():
        if key.startswith(_OF_THE_BODY) or not sd > 0.0:
            continue
        value = told_value(told, key)
        low = 0.01 * value if value > 0.0 >= value - sd else value - sd
        yield Pair(
            _as_written(key), note("as stated"),
            told_otherwise(told, key, value + sd), told_otherwise(told, key, low),
            (value + sd - low) / sd,
        )  # fmt: skip


def _as_written(key: str) -> str:
    """The key with a measure's plain name, as in "diver.measures.waist_girth"."""
    if not key.startswith(_MEASURES):
        return key
    plain = {m.measure: m.name for m in named_measures()}
    return _MEASURES + plain[key.removeprefix(_MEASURES)].replace(" ", "_")


def _heights(scenario: Scenario) -> Iterator[Pair]:
    """The plate, with all that hangs on it, worn higher and lower; the cylinders in their bands, where not told."""
    sd, harness = PLACED / NINETY, scenario.harness
    told = harness is None or harness.shoulder_strap is not None or "drop" in harness.spreads
    if harness is not None and scenario.plate is not None and not told:
        drop = harness.drop
        yield Pair(
            word("height of the plate"), _placed_basis(), told_otherwise(scenario, "harness.drop", drop - sd),
            told_otherwise(scenario, "harness.drop", drop + sd),
        )  # fmt: skip
    if scenario.cylinders is not None and "shift" not in scenario.cylinders.model_fields_set:
        yield Pair(
            word("height of the cylinders on the plate"), _placed_basis(),
            told_otherwise(scenario, "cylinders.shift", sd),
            told_otherwise(scenario, "cylinders.shift", -sd),
        )  # fmt: skip


def _placed_basis() -> str:
    return note("{size} either way along the body, 5 to 95 %, assumed", size=amount(100.0 * PLACED, "cm", 0))


def _body_centre(rig: Rig, base: Floats) -> Variate:
    """CB of the body headward of where the model has it, its CM left alone."""
    change = np.zeros_like(base)
    change[VOLUME.start + 1] = CB_CM_UNCERTAINTY * sum(p.solid.volume for p in rig.parts if p.kind == "body")
    basis = note(
        "SD {sd}: how far published models and measurements differ, a model error",
        sd=amount(100.0 * CB_CM_UNCERTAINTY, "cm", 1),
    )
    effect = Effect(what="cb", amount=CB_CM_UNCERTAINTY)
    return Variate(word("CB over CM of the bare body"), basis, "normal", change, owner="diver", effect=effect)


def fabric_variates(scenario: Scenario, rig: Rig, base: Floats) -> Iterator[Variate]:
    """Fabric and gas of a drysuit, unless stated with a spread or, for the gas, stated at all."""
    suit = scenario.suit
    if not isinstance(suit, DrySuit) or rig.suit is None:
        return
    nothing = np.zeros_like(base)
    garment = suit.fill_law == "garment" and suit.undergarment is not None
    if ("undergarment.stiffness" if garment else "softness") not in all_spreads(suit):
        basis = note("half to twice as stiff, 5 to 95 %, assumed: no measured curve is published")
        by = float(np.log(STIFFNESS_FACTOR) / NINETY)
        effect = Effect(what="stiffness", amount=by)
        yield Variate(
            word("stiffness of the suit"), basis, "normal", nothing, log_stiffness=by, owner="suit", effect=effect
        )
    if suit.gas == "comfortable":
        basis = note("{share:.0f} % either way, 5 to 95 %, assumed", share=100.0 * SUIT_GAS_SHARE)
        by = SUIT_GAS_SHARE / NINETY
        effect = Effect(what="gas", amount=by)
        yield Variate(word("gas in the suit"), basis, "normal", nothing, gas_share=by, owner="suit", effect=effect)
    if garment:
        basis = note(
            "1 to 3 times as stiff when a slow squeeze is reversed by a little, from memory; moves no moment"
        )
        yield Variate(
            word("garment on small reversals"), basis, "from nil", nothing, reversal=STIFFER_BACK - 1.0, owner="suit"
        )


def _cylinders(rig: Rig, base: Floats) -> Iterator[Variate]:
    """CM of the cylinders' metal headward of where the model has it, their displacement left alone."""
    metal = [p for p in rig.parts if p.kind == "cylinder"]
    if metal:
        change = np.zeros_like(base)
        change[MASS.start + 1] = CYLINDER_CM * sum(p.solid.mass for p in metal)
        effect = Effect(what="cm", of="; ".join(p.name for p in metal), amount=CYLINDER_CM)
        basis = note(
            "SD {sd}: bases of 1.5 to 2.5 times the wall all meet the standards",
            sd=amount(1000.0 * CYLINDER_CM, "mm", 0),
        )
        yield Variate(word("CM of the cylinders"), basis, "normal", change, effect=effect)


def _places(scenario: Scenario, rig: Rig, base: Floats) -> Iterator[Variate]:
    """Lead and clipped-on gear a little higher or lower on the body, each by itself; what has a point stays there."""
    leads = [p for p in rig.parts if p.kind == "lead"]
    for told, part in zip(scenario.lead, leads, strict=True):
        if told.at is None:
            yield _moved(part.name, [part], base)
    for i, item in enumerate(scenario.gear):
        if item.at is not None or (isinstance(item, GearItem) and item.place == "face"):
            continue
        parts = [p for p in rig.parts if p.told_by == f"gear.{i}"]
        apparent = sum(p.solid.mass - rig.water.density * p.solid.volume for p in parts)
        if abs(apparent) > LEAST_WEIGHT:
            yield _moved(item.name, parts, base)


def _moved(name: str, parts: list[Part], base: Floats) -> Variate:
    """Parts moved together along the body."""
    change = np.zeros_like(base)
    change[MASS.start + 1] = PLACED / NINETY * sum(p.solid.mass for p in parts)
    change[VOLUME.start + 1] = PLACED / NINETY * sum(p.solid.volume for p in parts)
    effect = Effect(what="moved", of="; ".join(p.name for p in parts), amount=PLACED / NINETY)
    return Variate(note("place of {thing}", thing=known(name)), _placed_basis(), "normal", change, effect=effect)
