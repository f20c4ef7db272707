"""Fins, lead, and whatever else hangs on the diver."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Discriminator, Field, Tag, model_validator

from scenarios.breathing import WaterCapacity
from scenarios.catalogue.lookup import from_catalogue, optional_from_catalogue
from scenarios.cylinders import (
    AIR,
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
from scenarios.quantities import Point, Quantity
from scenarios.suit import Name
from scenarios.table import Table

LeadPlace = Literal["belt", "plate channel", "tail", "between cylinders", "upper band", "ankles"]
GearPlace = Literal[
    "face", "chest", "back", "left hip", "right hip", "left thigh", "right thigh", "left shank", "right shank",
    "left forearm", "right forearm", "left shoulder", "right shoulder", "crotch strap",
]  # fmt: skip
GearShape = Literal["egg", "mask", "canister light", "backup light", "knife"]
Hangs = Literal["under the chest", "along the flank"]
Straps = Literal["rubber", "steel springs"]
Where = Annotated[tuple[float, float, float] | None, Point("where the middle of the item is")]


class Fins(Table):
    """A pair of fins."""

    catalogue: Name = None
    material: Annotated[str, Field(description="What the fins are made of, in words", max_length=60)]
    density: Annotated[
        float, Quantity("density", "mean density of a fin", "1180 kg/m^3", "500 kg/m^3", "3000 kg/m^3")
    ]
    pair_mass: Annotated[
        float | None, Quantity("mass", "mass of both fins with rubber straps", "2.8 kg", "0.2 kg", "8 kg")
    ] = None
    each_mass: Annotated[
        float | None, Quantity("mass", "mass of one fin with a rubber strap", "1.4 kg", "0.1 kg", "4 kg")
    ] = None
    straps: Annotated[
        Straps, Field(description="What holds the heels: rubber straps, or steel springs in their place")
    ] = "rubber"
    springs_mass: Annotated[
        float, Quantity("mass", "mass of both steel springs, where they are worn", "0.3 kg", "0.05 kg", "1 kg")
    ] = 0.3
    length: Annotated[float, Quantity("length", "length of one fin", "58 cm", "15 cm", "120 cm")]
    width: Annotated[float, Quantity("length", "greatest width of one fin", "22 cm", "8 cm", "80 cm")]

    @model_validator(mode="after")
    def _one_mass(self) -> Self:
        if (self.pair_mass is None) == (self.each_mass is None):
            raise ValueError(
                'give the mass once: pair_mass = "2.8 kg" for both fins, or each_mass = "1.4 kg" for one'
            )
        return self

    @property
    def mass_of_one(self) -> float:
        """Mass of one fin [kg]."""
        if self.each_mass is not None:
            return self.each_mass
        assert self.pair_mass is not None  # _one_mass saw to it
        return self.pair_mass / 2.0

    @property
    def spring_of_one(self) -> float | None:
        """Mass of one steel spring [kg]; None with rubber straps."""
        return 0.5 * self.springs_mass if self.straps == "steel springs" else None


class Lead(Table):
    """Lead in one place; on the ankles, the mass of both together."""

    name: Annotated[str | None, Field(description="What to call it in reports", max_length=60)] = None
    mass: Annotated[float, Quantity("mass", "mass of the lead in this place", "2 kg", "0.05 kg", "40 kg")]
    place: Annotated[LeadPlace | None, Field(description="Where it is worn")] = None
    at: Where = None
    density: Annotated[
        float, Quantity("density", "density of the weights", "11340 kg/m^3", "5000 kg/m^3", "12000 kg/m^3")
    ] = 11340.0

    @model_validator(mode="after")
    def _placed(self) -> Self:
        _one_place(self.place, self.at, "belt")
        return self


class GearItem(Table):
    """Anything else, by mass and size."""

    kind: Annotated[Literal["item"], Field(description="Anything but a cylinder")] = "item"
    name: Annotated[str, Field(description="What it is", min_length=1, max_length=60)]
    catalogue: Name = None
    mass: Annotated[float, Quantity("mass", "mass of the item", "0.3 kg", "0.005 kg", "60 kg")]
    volume: Annotated[
        float | None, Quantity("volume", "water the item displaces, with the gas it holds", "0.2 l", "0 l", "60 l")
    ] = None
    density: Annotated[
        float | None,
        Quantity("density", "mean density of the item without held gas", "1400 kg/m^3", "20 kg/m^3", "22000 kg/m^3"),
    ] = None
    held_gas: Annotated[
        float,
        Quantity("volume", "gas that the item holds at any depth, as a mask does, besides what its density says",
                 "0.15 l", "0 l", "60 l"),
    ] = 0.0  # fmt: skip
    place: Annotated[GearPlace | None, Field(description="Where it is worn")] = None
    at: Where = None
    shape: Annotated[
        GearShape | None,
        Field(description="What it is drawn as; a mask on the face and an egg of its size elsewhere if left out"),
    ] = None

    @model_validator(mode="after")
    def _complete(self) -> Self:
        if (self.volume is None) == (self.density is None):
            raise ValueError('give volume = "0.2 l" (water displaced) or density = "1400 kg/m^3", one of them')
        _one_place(self.place, self.at, "right hip")
        return self

    @property
    def drawn_as(self) -> GearShape:
        """The shape told, or that usual where it is worn."""
        return self.shape or ("mask" if self.place == "face" else "egg")

    @property
    def displaced(self) -> float:
        """Water the item displaces [m^3]."""
        if self.volume is not None:
            return self.volume
        assert self.density is not None  # _complete saw to it
        return self.mass / self.density + self.held_gas


class StageCylinder(Table):
    """A cylinder that hangs from two rings, with its own regulator: a stage, or one hung at the side."""

    kind: Annotated[Literal["stage"], Field(description="A stage, or a cylinder hung at the side")]
    name: Annotated[str, Field(description="What to call it in reports", max_length=60)] = "stage cylinder"
    catalogue: Name = None
    side: Annotated[Literal["left", "right"], Field(description="Side it hangs at")] = "left"
    hangs: Annotated[
        Hangs,
        Field(description="How it is rigged: under the chest, from a ring at the chest and one at the hip, as stages "
              "are; or along the flank, by a bungee under the arm and a clip at the lower back"),
    ] = "under the chest"  # fmt: skip
    upper_line: Annotated[
        float | None,
        Quantity("length", "clip and cord (or stretched bungee) from the ring to the neck; 10 cm under the chest, "
                 "6 cm along the flank if left out", "10 cm", "1 cm", "50 cm"),
    ] = None  # fmt: skip
    lower_line: Annotated[
        float | None,
        Quantity("length", "clip and cord from the ring to the lower band; 10 cm under the chest, 8 cm along the "
                 "flank if left out", "10 cm", "1 cm", "50 cm"),
    ] = None  # fmt: skip
    lower_band: Annotated[
        float | None,
        Quantity("length", "where the lower band sits, from the base; if left out 0.45 of the way to the shoulder "
                 "under the chest, 0.33 along the flank, or higher on a long cylinder", "25 cm", "2 cm", "80 cm"),
    ] = None  # fmt: skip
    material: Material
    base: Base = None
    water_capacity: WaterCapacity = None
    free_gas: FreeGasOrNone = None
    working_pressure: WorkingPressure
    outer_diameter: Diameter
    length: Length = None
    mass: BareMass = None
    gas: Gas = AIR
    pressure: Pressure = None
    temperature: GasTemperature = None
    valve_mass: ValveMass = 0.6
    rigging_mass: Annotated[float, Quantity("mass", "mass of rigging and clips", "0.4 kg", "0 kg", "3 kg")] = 0.4
    regulator_mass: Annotated[
        float, Quantity("mass", "mass of first stage, second stage, hose and gauge", "1.4 kg", "0 kg", "4 kg")
    ] = 1.4
    at: Annotated[
        tuple[float, float, float] | None, Point("where the middle of the cylinder is, if not slung as usual")
    ] = None

    @model_validator(mode="after")
    def _complete(self) -> Self:
        check_size(self.water_capacity, self.free_gas)
        return self

    @property
    def fill(self) -> float:
        """Gauge pressure of the gas now [Pa]: that given, or the working pressure."""
        return self.working_pressure if self.pressure is None else self.pressure


def _one_place(place: str | None, at: tuple[float, float, float] | None, example: str) -> None:
    if (place is None) == (at is None):
        raise ValueError(
            f'say where it is: place = "{example}", or a point at = [0.0, 0.1, 0.1] in metres, one of them'
        )


def _kind_of_gear(value: Any) -> str:
    kind = value.get("kind", "item") if isinstance(value, dict) else getattr(value, "kind", "item")
    return kind if isinstance(kind, str) else "item"


AnyGear = Annotated[
    Annotated[GearItem, Tag("item")] | Annotated[StageCylinder, Tag("stage")],
    Discriminator(
        _kind_of_gear, custom_error_type="no_kind", custom_error_message='kind is "item" (the default) or "stage"'
    ),
    BeforeValidator(from_catalogue("gear")),
]
OptionalFins = Annotated[Fins | None, BeforeValidator(optional_from_catalogue("fins"))]
