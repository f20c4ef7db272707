"""What one worn thing adds to a diver, and the diver so far, on whom the next thing is put."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TypeVar

from scenarios.models import Scenario
from sim.assembly.posed_diver import PosedDiver
from sim.person.posed_body import PosedBody
from sim.rig import Part, Pocket, Rig, SuitPocket, Water, WingPocket, rig_of
from sim.said import Sentence, capital, known, note

Offer = TypeVar("Offer")


@dataclass(frozen=True, eq=False)
class WornThing:
    """One thing in its place. Nothing of it need be worn: a plate that is left out still says where others lie.

    key : of the scenario's table that tells of it, as "wing" or "lead.0"
    parts : in body axes;  pocket : gas that is free to move in it
    notes : plain sentences for the reader;  estimated : inputs that were estimated, not given
    offers : what later things are fixed to, or what pictures and answers need, each known by its type
    """

    key: str
    parts: tuple[Part, ...] = ()
    pocket: Pocket | None = None
    notes: tuple[str, ...] = ()
    estimated: tuple[str, ...] = ()
    offers: tuple[object, ...] = ()


@dataclass(frozen=True, eq=False)
class DiverSoFar:
    """A diver in the water, as far as dressed: what the next thing is put on, and all things added up."""

    scenario: Scenario
    water: Water
    diver: PosedDiver
    worn: tuple[WornThing, ...] = ()

    @property
    def body(self) -> PosedBody:
        """In body axes."""
        return self.diver.body

    @property
    def notes(self) -> tuple[str, ...]:
        """Of everything worn, in the order in which it was put on."""
        return tuple(note for thing in self.worn for note in thing.notes)

    @property
    def estimated(self) -> tuple[str, ...]:
        """Inputs of everything worn that were estimated."""
        return tuple(name for thing in self.worn for name in thing.estimated)

    @property
    def rig(self) -> Rig:
        """Everything worn so far, held at the CM of its rigid parts."""
        parts = [replace(part, told_by=thing.key) for thing in self.worn for part in thing.parts]
        return rig_of(parts, self.water, suit=self._pocket(SuitPocket), wing=self._pocket(WingPocket))

    def _pocket(self, kind: type[Offer]) -> Offer | None:
        return next((thing.pocket for thing in self.worn if isinstance(thing.pocket, kind)), None)

    def offered(self, kind: type[Offer]) -> Offer | None:
        """What something worn offers of that type; None where nothing does."""
        found = (offer for thing in self.worn for offer in thing.offers if isinstance(offer, kind))
        return next(found, None)

    def needed(self, kind: type[Offer]) -> Offer:
        """As ``offered``, of what every diver has by now. Raises LookupError where a stage comes too early."""
        found = self.offered(kind)
        if found is None:
            raise LookupError(f"nothing put on so far offers a {kind.__name__}: the order of the stages is amiss")
        return found

    def wearing(self, thing: WornThing) -> DiverSoFar:
        """The diver with one thing more."""
        return replace(self, worn=(*self.worn, thing))


def sentence(text: str) -> str:
    """Capital first, full stop last."""
    made = text if isinstance(text, Sentence) else known(text)
    return capital(made if text.endswith((".", "!", "?")) else note("{text}.", text=made))
