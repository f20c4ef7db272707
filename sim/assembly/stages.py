"""How a diver is dressed: stage by stage, each on what is worn already.

A stage takes the diver so far and yields what it puts on, one ``WornThing`` at a time, or nothing where the scenario
leaves it out. What it needs of earlier things it asks for by type (``DiverSoFar.needed``, ``offered``); parts come
in the order of the stages. The gas in a suit is last, as all that is worn presses on it and weighs it down.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Final

from sim.assembly.back_cylinders import put_on_cylinders
from sim.assembly.body_items import start_with_body
from sim.assembly.harness import put_on_harness
from sim.assembly.loose_gear import put_on_gear
from sim.assembly.rebreather import put_on_rebreather
from sim.assembly.regulators import put_on_regulators
from sim.assembly.suit_gas import fill_suit
from sim.assembly.worn_fins import put_on_fins
from sim.assembly.worn_lead import put_on_lead
from sim.assembly.worn_plate import put_on_plate
from sim.assembly.worn_suit import put_on_suit
from sim.assembly.worn_thing import DiverSoFar, WornThing
from sim.assembly.worn_wing import put_on_wing

Stage = Callable[[DiverSoFar], Iterable[WornThing]]

STAGES: Final[tuple[Stage, ...]] = (
    start_with_body,
    put_on_suit,  # offers Clothing
    put_on_plate,  # needs Clothing; offers SeatedPlate
    put_on_harness,
    put_on_cylinders,  # needs SeatedPlate; offers BackCylinders
    put_on_rebreather,  # needs SeatedPlate and Clothing
    put_on_regulators,  # on BackCylinders
    put_on_fins,
    put_on_lead,  # on SeatedPlate and BackCylinders
    put_on_gear,
    put_on_wing,  # needs SeatedPlate
    fill_suit,  # needs the rig of everything else
)


def dressed(diver: DiverSoFar, stages: Iterable[Stage] = STAGES) -> DiverSoFar:
    """The diver with everything on that the scenario tells of. Raises UnbuildableError, naming the key."""
    for put_on in stages:
        for thing in put_on(diver):
            diver = diver.wearing(thing)
    return diver
