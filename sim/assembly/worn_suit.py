"""The suit as solids: a drysuit's cloth or a wetsuit's foam, hood, gloves and boots. Its gas comes last of all."""

from __future__ import annotations

from collections.abc import Iterator

from scenarios.suit import DrySuit
from sim.assembly.clothing import clothing_of
from sim.assembly.dry_suit import drysuit_cloth
from sim.assembly.unbuildable import blaming
from sim.assembly.wet_suit import worn_neoprene
from sim.assembly.worn_thing import DiverSoFar, WornThing
from sim.rig import Part


def put_on_suit(on: DiverSoFar) -> Iterator[WornThing]:
    """Everything of the suit but the gas in it; offers Clothing."""
    suit = on.scenario.suit
    parts: tuple[Part, ...] = ()
    if suit is not None:
        with blaming("suit"):
            cloth = drysuit_cloth(suit, on.body, on.water) if isinstance(suit, DrySuit) else ()
            parts = (*cloth, *worn_neoprene(suit, on.body, on.water))
    yield WornThing("suit", parts, offers=(clothing_of(suit),))
