"""What may be otherwise of how heavy or light a diver is: the unknowns that carry it, without a body built anew.

Density and lungs change what the body displaces, by arithmetic; the suit's unknowns are laid out on the body that is
there. Left out are the measures that were not taken (under 1 % of the variance of the lead of four demo divers, in
drysuits and wetsuit) and what only moves things. Against the band with all unknowns and every variant built, that of
the lead comes out 0.96 to 1.03 times as wide, in a tenth of the time.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from meshes.mesh import Floats
from scenarios.by_key import with_values
from scenarios.models import Scenario
from sim.assembly.assembled import Assembled
from sim.assembly.other_gas import differ_in_gas_alone, with_other_gas
from sim.assembly.posed_diver import KeptDivers, PosedDiver
from sim.assembly.scenario_rig import assembled_scenario
from sim.assembly.unbuildable import UnbuildableError
from sim.rig import Rig
from sim.said import word
from sim.uncertainty.belief import believing
from sim.uncertainty.body import density_pair, lung_pair
from sim.uncertainty.rig_numbers import VOLUME, numbers_of
from sim.uncertainty.suit import suit_pairs
from sim.uncertainty.uncertain_rig import fabric_variates, line_variate, stated_pairs
from sim.uncertainty.variants import Pair, Situation, UnvariedError
from sim.uncertainty.variates import UncertainRig, Variate

BOOTS: Final = word("weight of the boots")  # rubber, of which a sixth is left in water: 30 g
# What hangs on the diver weighs the same whatever the suit is like, and drops out between two variants of the suit
UNMOVED: Final = {"cylinders": None, "rebreather": None, "gear": (), "lead": ()}
DENSITY, LUNGS = "diver.body_density", "diver.lung_gas"


def uncertain_buoyancy(scenario: Scenario, situation: Situation, rig: Rig, people: KeptDivers) -> UncertainRig:
    """What may be otherwise of a diver in a situation; what it does to moments is not to be used.

    situation : makes of a scenario the one in it;  rig : that, assembled with what was learnt (if anything)
    people : where the scenario's person may be built already
    Raises UnvariedError for a stated spread so wide that its variants cannot be built.
    """
    told = scenario.as_told()
    base = numbers_of(rig)
    of_the_suit = [p for p in suit_pairs(told) if p.name != BOOTS]
    variates = [
        *_of_the_body(told, people.of(told), rig, base),
        *_laid_out(of_the_suit, lambda variant: with_values(situation(variant), UNMOVED), told, people),
        *_laid_out(list(stated_pairs(told)), situation, told, people),
        *fabric_variates(situation(told), rig, base),
    ]
    unknown = UncertainRig(rig, base, tuple(variates))
    return unknown if scenario.learnt is None else believing(unknown, scenario.learnt, scenario)


def _of_the_body(told: Scenario, wearer: PosedDiver, rig: Rig, base: Floats) -> Iterator[Variate]:
    """Density of the tissue and gas in the lungs; what is gained or lost lies at the body's CB.

    A larger body has the more skin, by two thirds, and over it the more room for a drysuit's gas.
    """
    body, person = wearer.body, wearer.body.person
    tissue = sum(solid.volume for _, solid in body.segments)
    centre = sum((solid.volume * solid.cb for _, solid in body.segments), np.zeros(3)) / tissue
    over_skin = 0.0 if rig.suit is None or rig.suit.gas is None else rig.suit.gas
    swollen = 1.0 + 2.0 / 3.0 * over_skin / (tissue + body.lungs.volume)
    per_density = -tissue / person.body_density
    for pair, key, each in (
        (density_pair(told, person), DENSITY, per_density),
        (lung_pair(told, person), LUNGS, 1.0),
    ):
        if pair is None:
            continue
        change = np.zeros_like(base)
        said = pair.said(told)
        more = swollen * each * said[key].per_spread
        change[VOLUME] = more * np.array([1.0, *centre])
        shape = "uniform" if key == LUNGS else pair.shape
        yield Variate(pair.name, pair.basis, shape, change, owner=pair.owned_by(told), said=said)


def _laid_out(pairs: Sequence[Pair], situation: Situation, told: Scenario, people: KeptDivers) -> Iterator[Variate]:
    """Each pair's line through its two variants, laid out on the person that is there where it is the same."""
    made: list[tuple[Scenario, Assembled]] = []
    for pair in pairs:
        try:
            plus, minus = (numbers_of(_rig(situation(v), people, made)) for v in (pair.plus, pair.minus))  # type: ignore[arg-type]
        except (UnbuildableError, ValueError) as error:
            raise UnvariedError(
                pair.name, f"cannot be varied ({pair.basis}): {error}; state a smaller spread"
            ) from error
        yield line_variate(pair, (plus - minus) / pair.span, told)


def _rig(told: Scenario, people: KeptDivers, made: list[tuple[Scenario, Assembled]]) -> Rig:
    wearer = people.of(told)
    for other, laid in made:
        if differ_in_gas_alone(other, told):
            return with_other_gas(laid, told, wearer.body)
    assembled = assembled_scenario(told, "", (), wearer)
    made.append((told, assembled))
    return assembled.rig
