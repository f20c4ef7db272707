"""What ``hangflat weigh`` says, as records: ``hangflat.weigh/1``. Weights in water are plus when they sink."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

from sim.answers.weigh.conditions import Conditions
from sim.telling.caution import CAUTION
from sim.telling.made_by import MadeBy
from sim.telling.record import Told
from sim.telling.written_file import WrittenFile

FORMAT: Final = "hangflat.weigh/1"


@dataclass(frozen=True)
class Start:
    """The diver at the start with the lead that makes them neutral at the end."""

    depth: Annotated[float | None, Told("of the diver, as the file says", "m", none="a parts file")]
    pressure: Annotated[
        float | None, Told("in the back cylinders, as the file says", "bar", none="no cylinders on the back")
    ]
    heavy: Annotated[float, Told("weight in water with an empty wing", "kg", plus="sinks")]
    wing_gas: Annotated[float | None, Told("gas in the wing that makes the diver neutral", "l", none="no wing")]
    wing_lift: Annotated[float | None, Told("what the full wing carries", "kg", none="no wing")]
    margin: Annotated[float | None, Told("wing's lift beyond what is needed", "kg", plus="to spare", none="no wing")]


@dataclass(frozen=True)
class InWater:
    """The weighing in one kind of water."""

    water: Annotated[str, Told('"sea", "fresh", "brackish", or "as told" by its density')]
    is_told: Annotated[bool, Told("whether this is the file's own water")]
    density: Annotated[float, Told("of the water at the last stop", "kg/m^3")]
    lead: Annotated[float, Told("lead that makes the diver neutral at the last stop, wing empty", "kg")]
    heavy_without_lead: Annotated[
        float,
        Told("what the diver sinks with at the last stop without any lead, wing empty; 0 if lead is needed", "kg"),
    ]
    surplus: Annotated[float, Told("worn lead beyond that", "kg", plus="too much is worn")]
    start: Annotated[Start, Told("with that lead at the start")]


@dataclass(frozen=True)
class SurfaceCheck:
    """Upright at the surface, lead as weighed, cylinders as at the last stop, wing empty, eyes at the water line."""

    chest_gas: Annotated[float, Told("in the chest, halfway between empty and full", "l")]
    suit_gas: Annotated[float | None, Told("in the suit, vented upright", "l", none="no gas in a suit")]
    out_of_water: Annotated[float, Told("of head, hood and mask above the eyes", "l")]
    floats: Annotated[float, Told("with the eyes at the water line", "kg", plus="floats higher than that")]
    water_line: Annotated[
        float | None,
        Told(
            "over the eyes along the head where it floats",
            "m",
            plus="above the eyes",
            none="it sinks, or floats with the whole head out",
        ),
    ]
    lead: Annotated[float, Told("lead with which the eyes would be at the water line", "kg")]
    full_floats: Annotated[
        float | None,
        Told("the same with the cylinders as full as the file says", "kg", plus="floats higher", none="no cylinders"),
    ]


@dataclass(frozen=True)
class Place:
    """All the lead in one place, the diver held flat."""

    place: Annotated[str, Told("in the words of lead.place")]
    per_kilogram: Annotated[
        float, Told("what a kilogram hung there turns with, the wing making up for it", "N m/kg", plus="head-up")
    ]
    start: Annotated[float, Told("trimming moment at the start with all the lead there", "N m", plus="head-up")]
    end: Annotated[float, Told("trimming moment at the last stop with all the lead there", "N m", plus="head-up")]


@dataclass(frozen=True)
class Piece:
    """Lead in one place."""

    place: Annotated[str, Told("in the words of lead.place")]
    mass: Annotated[float, Told("of lead there", "kg")]


@dataclass(frozen=True)
class Lying:
    """Lead shared out, and what that makes of the trimming moment."""

    pieces: Annotated[tuple[Piece, ...], Told("the lead by place")]
    start: Annotated[float, Told("trimming moment at the start", "N m", plus="head-up")]
    end: Annotated[float, Told("trimming moment at the last stop", "N m", plus="head-up")]


@dataclass(frozen=True)
class Left:
    """What a failure leaves once the wing has done what it can."""

    weight: Annotated[float, Told("to swim up", "kg", plus="sinks, minus to hold down")]
    wing_gas: Annotated[float | None, Told("in the wing then", "l", none="no wing")]


@dataclass(frozen=True)
class Failure:
    """One thing lost, with the lead as weighed."""

    lost: Annotated[
        str,
        Told('"nothing", "wing", "suit" (flooded), "lead" (all of it), or the name of a stage that is handed over'),
    ]
    start: Annotated[Left, Told("at the start")]
    end: Annotated[Left, Told("at the last stop")]


@dataclass(frozen=True)
class WeighBand:
    """How sure a number is."""

    low: Annotated[float, Told("5th percentile", "kg")]
    middle: Annotated[float, Told("50th percentile", "kg")]
    high: Annotated[float, Told("95th percentile", "kg")]


@dataclass(frozen=True)
class Unsure:
    """What makes a band wide."""

    name: Annotated[str, Told("the unknown")]
    basis: Annotated[str, Told("how far it may be off, and why")]
    share: Annotated[float, Told("of the lead's variance", "%")]


@dataclass(frozen=True)
class Sureness:
    """5 to 95 % bands. Lead below 0 is what the diver is too heavy by without any."""

    samples: Annotated[int, Told("draws")]
    lead: Annotated[WeighBand, Told("lead that makes neutral at the last stop, told water")]
    start_heavy: Annotated[WeighBand, Told("weight in water at the start with an empty wing and that lead")]
    unknowns: Annotated[tuple[Unsure, ...], Told("most important first")]


@dataclass(frozen=True)
class Fuller:
    """The same weighing with a suit that is filled until nothing squeezes."""

    suit_gas: Annotated[float, Told("gas in the suit at the last stop", "l")]
    lead: Annotated[float, Told("lead that makes neutral with it, told water", "kg")]


@dataclass(frozen=True, kw_only=True)
class WeighAnswer:
    """``hangflat.weigh/1``."""

    format: Annotated[str, Told(FORMAT)] = FORMAT
    made_by: Annotated[MadeBy | None, Told("by which program and from what", left_out=True)] = None
    title: Annotated[str, Told("of the scenario")]
    how: Annotated[Conditions | None, Told("how the diver is weighed", none="a parts file, as it stands")]
    worn_lead: Annotated[float, Told("lead that the file says is worn", "kg")]
    breathed: Annotated[
        float | None, Told("gas that leaves the cylinders from the start to the last stop", "kg", none="no cylinders")
    ]
    suit_gas: Annotated[float | None, Told("gas in the suit at the last stop", "l", none="no gas in a suit")]
    fuller: Annotated[
        Fuller | None,
        Told("weighed with a suit filled until nothing squeezes", none="weighed with another suit gas than vented"),
    ]
    waters: Annotated[tuple[InWater, ...], Told("the file's water first, then sea and fresh")]
    surface: Annotated[SurfaceCheck | None, Told("what the check at the surface would show", none="a parts file")]
    places: Annotated[tuple[Place, ...], Told("the usual places for lead; none for a parts file or without lead")]
    as_worn: Annotated[Lying | None, Told("the lead shared out as the file has it", none="no lead, or a parts file")]
    best: Annotated[
        Lying | None, Told("the lead where the moment is least at start and end", none="no lead, or a parts file")
    ]
    failures: Annotated[tuple[Failure, ...], Told("one by one, with the lead as weighed")]
    suit_room: Annotated[
        float | None,
        Told("gas that the suit could take at the start before it is taut", "l", none="no gas in a suit"),
    ]
    sure: Annotated[Sureness | None, Told("how sure this is", left_out=True)]
    estimated: Annotated[tuple[str, ...], Told("what was estimated, not given")]
    notes: Annotated[tuple[str, ...], Told("plain sentences")]
    caution: Annotated[str, Told("what every answer ends with")] = CAUTION
    chart: Annotated[WrittenFile | None, Told("the drawing", left_out=True)] = None

    @property
    def told(self) -> InWater:
        """In the file's own water."""
        return self.waters[0]
