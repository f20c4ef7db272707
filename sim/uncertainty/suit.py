"""What is not known of a drysuit: how much gas the last venting left, where the cut of the suit lets it be, how thick
and how stiff the undergarment is.

Each width has a reason from outside or is called assumed; none of them follows from how the whole answer turns out.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from scenarios.by_key import told_otherwise, told_value
from scenarios.models import Scenario
from scenarios.suit import DrySuit, Wetsuit
from scenarios.table import all_spreads
from sim.said import note, word
from sim.uncertainty.sampling import Shape
from sim.uncertainty.variants import Pair

VENTED: Final = 0.3490658503988659  # rad (20 degrees) either way: from nearly flat to half upright (common practice)
VALVE: Final = 200.0  # Pa, SD of a valve's setting; makers give 100 Pa open and 2000 Pa shut
ON_LIMBS: Final = 0.2  # either way: undergarments are sold evenly thick and with thinner limbs (from memory)
SLACK: Final = 0.004  # m either way: 2.5 cm of girth, a tailor's ease from close to wide (assumed)
LOFT: Final = 0.15  # SD, as a share: thickness depends on the pressure of the gauge by 20 to 27 % (ASTM D1777's two)
BOOTS: Final = 0.15  # SD, as a share of the mass of a pair (from memory: 0.9 to 1.4 kg)
BOOTS_ROOM: Final = 0.5  # either way, from tight with a thin sock to a size too large (assumed)
GAITERS: Final = 1000.0  # Pa, SD: hand-drawn straps, about a compression stocking to a neck seal (assumed)

Unknown = tuple[str, str, str, float, Shape]  # key of the suit, words, how far it may be off and why [SI], shape


def suit_pairs(scenario: Scenario) -> Iterator[Pair]:
    """Variants of a suit one spread either side of what was told, but for what was stated with a spread."""
    suit = scenario.suit
    if suit is None:
        return
    stated = all_spreads(suit)
    unknowns = [*_of_boots(suit), *(_unknowns(suit) if isinstance(suit, DrySuit) else ())]
    for key, words, basis, by, shape in unknowns:
        if key not in stated:
            yield _either_side(scenario, f"suit.{key}", words, basis, by, shape)


def _of_boots(suit: DrySuit | Wetsuit) -> Iterator[Unknown]:
    if suit.boots is not None and suit.boots_mass is None:
        basis = note("SD 15 % of what does not compress: pairs of one kind weigh 0.9 to 1.4 kg, from memory")
        yield "boots.outer_mass", word("weight of the boots"), basis, BOOTS * suit.boots.outer_mass, "normal"


def _unknowns(suit: DrySuit) -> Iterator[Unknown]:
    under = suit.undergarment if suit.fill_law == "garment" else None
    if under is not None:
        basis = note("SD 15 %: how thick it is hangs on the pressure it is measured at (ASTM D1777's two, as cited)")
        yield "undergarment.loft", word("thickness of the undergarment"), basis, LOFT * under.loft, "normal"
    if suit.gas == "vented":
        basis = note("20 degrees either way: vented nearly flat, or half upright (common practice)")
        yield "vented_head_up", word("posture of the last venting"), basis, VENTED, "uniform"
        basis = note("SD 0.2 kPa: makers give 0.1 kPa for an open valve and 2 for a shut one")
        yield "valve_pressure", word("setting of the exhaust valve"), basis, VALVE, "normal"
    if under is None:
        return
    basis = note("20 points either way: sold evenly thick and with thinner limbs, from memory")
    yield "undergarment.on_limbs", word("undergarment on arms and legs"), basis, ON_LIMBS, "uniform"
    basis = note("4 mm either way, 2.5 cm of girth: from close-fitting to wide, assumed")
    yield "slack", word("how wide the suit is cut"), basis, SLACK, "uniform"
    basis = note("50 points either way: from tight to a size too large, assumed")
    yield "boots_room", word("gas held in the boots"), basis, BOOTS_ROOM, "uniform"
    if suit.gaiters:
        basis = note("SD 1 kPa: drawn by hand, as tight as a compression stocking or a neck seal, assumed")
        yield "gaiter_pressure", word("how tight the gaiters are"), basis, GAITERS, "normal"


def _either_side(scenario: Scenario, key: str, words: str, basis: str, by: float, shape: Shape) -> Pair:
    """A step up, and one down as far as the value stays what it can be."""
    now = told_value(scenario, key)
    low = max(now - by, 0.02 * now) if key != "suit.vented_head_up" else now - by
    return Pair(
        words, basis, told_otherwise(scenario, key, now + by), told_otherwise(scenario, key, low),
        (now + by - low) / by, shape,
    )  # fmt: skip
