"""A rebreather in general form: canister, two small cylinders, and counterlungs that the diver breathes from."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from scenarios.breathing import WaterCapacity
from scenarios.catalogue.lookup import optional_from_catalogue
from scenarios.cylinders import (
    BareMass,
    Base,
    Diameter,
    FreeGasOrNone,
    Gas,
    GasTemperature,
    Length,
    Material,
    Pressure,
    ValveMass,
    WorkingPressure,
    check_size,
)
from scenarios.quantities import Quantity
from scenarios.suit import Name
from scenarios.table import Table

CounterlungPlace = Literal["back", "shoulders", "chest"]


class SmallCylinder(Table):
    """A small cylinder beside the canister, valve down, with its first stage and hose."""

    material: Material
    base: Base = None
    water_capacity: WaterCapacity = None
    free_gas: FreeGasOrNone = None
    working_pressure: WorkingPressure
    outer_diameter: Diameter
    length: Length = None
    mass: BareMass = None
    gas: Gas
    pressure: Pressure = None
    temperature: GasTemperature = None
    valve_mass: ValveMass = 0.5
    regulator_mass: Annotated[
        float, Quantity("mass", "mass of first stage, hose and gauge", "1.0 kg", "0 kg", "4 kg")
    ] = 1.0

    @model_validator(mode="after")
    def _complete(self) -> Self:
        check_size(self.water_capacity, self.free_gas)
        return self

    @property
    def fill(self) -> float:
        """Gauge pressure of the gas now [Pa]: that given, or the working pressure."""
        return self.working_pressure if self.pressure is None else self.pressure


class Rebreather(Table):
    """A rebreather on the back, in place of cylinders there."""

    catalogue: Name = None
    canister_mass: Annotated[
        float, Quantity("mass", "mass of canister, lid, electronics and frame, without absorbent", "9 kg", "1 kg",
                        "40 kg"),
    ]  # fmt: skip
    absorbent_mass: Annotated[float, Quantity("mass", "mass of absorbent in the scrubber", "2.5 kg", "0 kg", "8 kg")]
    watertight_volume: Annotated[
        float,
        Quantity("volume", "water that the closed canister displaces, with the gas and absorbent in it", "9 l", "1 l",
                 "40 l"),
    ]  # fmt: skip
    canister_length: Annotated[float, Quantity("length", "length of the canister", "42 cm", "15 cm", "80 cm")]
    canister_diameter: Annotated[float, Quantity("length", "width of the canister", "17 cm", "8 cm", "40 cm")]
    oxygen: Annotated[SmallCylinder, Field(description="Cylinder at the right, of oxygen")]
    diluent: Annotated[SmallCylinder, Field(description="Cylinder at the left, of the gas that dilutes it")]
    counterlungs: Annotated[
        CounterlungPlace,
        Field(description="Where they lie: on the back, over the shoulders, or on the chest"),
    ]
    counterlung_room: Annotated[
        float, Quantity("volume", "gas that both counterlungs hold at most", "6 l", "1 l", "16 l")
    ]
    counterlung_mass: Annotated[float, Quantity("mass", "mass of both counterlungs", "1.5 kg", "0.1 kg", "6 kg")]
    loop_gas: Annotated[
        float,
        Quantity("volume", "gas in both counterlungs when the chest is relaxed, after breathing out quietly", "2 l",
                 "0.1 l", "16 l", "a breath in takes its gas out of them"),
    ]  # fmt: skip
    hoses_mass: Annotated[
        float, Quantity("mass", "mass of mouthpiece and breathing hoses", "1.2 kg", "0.1 kg", "4 kg")
    ]
    hoses_volume: Annotated[
        float,
        Quantity("volume", "water that mouthpiece and hoses displace, gas in them too", "1.3 l", "0.1 l", "5 l"),
    ]

    @model_validator(mode="after")
    def _holds_it(self) -> Self:
        if not self.loop_gas <= self.counterlung_room:
            raise ValueError(
                f"loop_gas is {1e3 * self.loop_gas:.2g} l, and the counterlungs hold "
                f"{1e3 * self.counterlung_room:.2g} l at most (counterlung_room); say less, or more room"
            )
        drawn = 0.25 * 3.14159265 * self.canister_diameter**2 * self.canister_length
        if not 0.3 * drawn <= self.watertight_volume <= 3.0 * drawn:
            raise ValueError(
                f"a canister {1e2 * self.canister_length:.0f} cm long and {1e2 * self.canister_diameter:.0f} cm wide "
                f"takes {1e3 * drawn:.1f} l, and watertight_volume is {1e3 * self.watertight_volume:.1f} l; check "
                "these three"
            )
        return self


OptionalRebreather = Annotated[Rebreather | None, BeforeValidator(optional_from_catalogue("rebreather"))]
