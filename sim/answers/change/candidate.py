"""One change of a diver, as what-ifs on the scenario file."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

Kind = Literal["height", "bands", "lead", "suit gas", "gaiters", "pose", "gear"]
AT_HAND: Final[tuple[Kind, ...]] = ("height", "bands", "lead", "suit gas", "gaiters")
WITH_GEAR: Final[tuple[Kind, ...]] = (*AT_HAND, "gear")


@dataclass(frozen=True)
class Candidate:
    """One change.

    knobs : what it turns; two changes that share one cannot go together
    words : what is done, "the rig 1 cm lower";  said : as an instructor says it, empty where never advised
    settings : the same as KEY=VALUE
    fit : whether it may change where the rig sits, what hands reach and eyes see
    advised : whether it is recommended, or only told what it does
    note : what else is to be known by whoever does it;  cost : what it costs whoever wears it, as a sentence
    """

    kind: Kind
    knobs: frozenset[str]
    words: str
    settings: tuple[str, ...]
    said: str = ""
    fit: bool = False
    advised: bool = True
    note: str = ""
    cost: str = ""
