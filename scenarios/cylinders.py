"""Cylinders on the back, with what is screwed to them."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from scenarios.breathing import AIR_OXYGEN, FreeGas, GasMix, WaterCapacity
from scenarios.catalogue.lookup import from_catalogue, optional_from_catalogue
from scenarios.quantities import Quantity
from scenarios.suit import Name
from scenarios.table import Table

Material = Annotated[Literal["steel", "aluminium"], Field(description="Metal of the cylinder")]
Base = Annotated[
    Literal["convex", "concave", "flat"] | None,
    Field(
        description="Shape of the base: convex (domed outward), concave (domed inward, standing on a foot) or flat; "
        "convex in steel and flat in aluminium if left out"
    ),
]
FreeGasOrNone = Annotated[
    FreeGas | None, Field(description='Size by free gas instead of water capacity: "80 cu ft at 3000 psi"')
]
WorkingPressure = Annotated[
    float, Quantity("pressure", "pressure the cylinder is made for (gauge)", "232 bar", "50 bar", "400 bar")
]
Diameter = Annotated[float, Quantity("length", "outer diameter of one cylinder", "171 mm", "5 cm", "35 cm")]
Length = Annotated[
    float | None, Quantity("length", "length of one cylinder without valve", "66 cm", "15 cm", "110 cm")
]
BareMass = Annotated[
    float | None, Quantity("mass", "mass of one bare empty cylinder, if known", "14 kg", "0.5 kg", "50 kg")
]
Pressure = Annotated[
    float | None,
    Quantity("pressure", "pressure now, as the gauge shows", "200 bar", "0 bar",
             "450 bar"),
]  # fmt: skip
Gas = Annotated[GasMix, Field(description='Gas inside: "air", "nitrox 32", "trimix 18/45", "oxygen"')]
GasTemperature = Annotated[
    float | None,
    Quantity("temperature", "temperature of the gas, if not the water's", "10 °C", "-5 °C", "60 °C"),
]
ValveMass = Annotated[float, Quantity("mass", "mass of the valve of a single cylinder", "0.6 kg", "0 kg", "3 kg")]
AIR = GasMix(name="air", oxygen=AIR_OXYGEN)


class Regulators(Table):
    """First stages, second stages and hoses on the back cylinders."""

    catalogue: Name = None
    first_stages: Annotated[int, Field(ge=0, le=4, description="How many first stages", strict=True)]
    first_stage_mass: Annotated[float, Quantity("mass", "mass of one first stage", "0.7 kg", "0.1 kg", "2 kg")]
    second_stages: Annotated[int, Field(ge=0, le=4, description="How many second stages", strict=True)]
    second_stage_mass: Annotated[float, Quantity("mass", "mass of one second stage", "0.22 kg", "0.05 kg", "1 kg")]
    gauge_mass: Annotated[float, Quantity("mass", "mass of the pressure gauge", "0.2 kg", "0 kg", "2 kg")]
    hoses: Annotated[
        tuple[Annotated[float, Quantity("length", "length of a hose", "2.1 m", "10 cm", "5 m")], ...],
        Field(description="Lengths of all hoses, the second stages' first"),
    ]
    hose_mass: Annotated[float, Quantity("mass per length", "mass of hose by length", "270 g/m", "50 g/m", "1 kg/m")]
    hose_diameter: Annotated[float, Quantity("length", "outer diameter of a hose", "12 mm", "5 mm", "30 mm")]


class Cylinders(Table):
    """One cylinder or a twin set on the back."""

    saying = frozenset({"shift"})  # where it is not written, the bands may be anywhere near
    catalogue: Name = None
    arrangement: Annotated[Literal["single", "twin"], Field(description="One cylinder, or two side by side")] = (
        "single"
    )
    material: Material
    base: Base = None
    water_capacity: WaterCapacity = None
    free_gas: FreeGasOrNone = None
    working_pressure: WorkingPressure
    outer_diameter: Diameter
    length: Length = None
    mass: BareMass = None
    spacing: Annotated[
        float | None,
        Quantity("length", "distance between the middle lines of a twin set", "185 mm", "8 cm", "40 cm"),
    ] = None
    gas: Gas = AIR
    pressure: Pressure = None
    temperature: GasTemperature = None
    shift: Annotated[
        float,
        Quantity("length", "how far the cylinders are from their usual height, plus headward", "0 cm", "-30 cm",
                 "30 cm"),
    ] = 0.0  # fmt: skip
    valve_mass: ValveMass = 0.6
    manifold_mass: Annotated[
        float, Quantity("mass", "mass of a twin set's two valves and bridge together", "2.4 kg", "0 kg", "6 kg")
    ] = 2.4
    bands_mass: Annotated[
        float | None,
        Quantity("mass", "mass of the pair of bands (or of a single's straps), if weighed", "1.0 kg", "0 kg", "4 kg"),
    ] = None
    adapter_mass: Annotated[
        float,
        Quantity("mass", "mass of the steel rail under a single cylinder (0.6 to 1 kg, from memory), 0 for none",
                 "0.8 kg", "0 kg", "2 kg"),
    ] = 0.0  # fmt: skip
    boot_mass: Annotated[
        float, Quantity("mass", "mass of one rubber boot, 0 for none", "0.3 kg", "0 kg", "1.5 kg")
    ] = 0.0
    regulators: Annotated[
        Regulators,
        BeforeValidator(from_catalogue("regulators")),
        Field(description="First and second stages and hoses; those usual for the arrangement if left out"),
    ]

    @model_validator(mode="before")
    @classmethod
    def _usual_regulators(cls, data: Any) -> Any:
        """Those of the arrangement, where none are given or only some of their keys."""
        if not isinstance(data, dict):
            return data
        usual, own = data.get("arrangement", "single"), data.get("regulators", {})
        if own == {}:
            return {**data, "regulators": usual}
        needed = {key for key, field in Regulators.model_fields.items() if field.is_required()}
        if isinstance(own, dict) and "catalogue" not in own and not needed <= own.keys():
            return {**data, "regulators": {"catalogue": usual, **own}}
        return data

    @model_validator(mode="after")
    def _complete(self) -> Self:
        check_size(self.water_capacity, self.free_gas)
        if self.arrangement == "single" and self.spacing is not None:
            raise ValueError("spacing is the distance between two cylinders, and one is worn; leave it out")
        if self.arrangement == "twin" and self.adapter_mass > 0.0:
            raise ValueError("adapter_mass is of the rail under a single cylinder, and two are worn; leave it out")
        if self.spacing is not None and self.spacing < self.outer_diameter:
            raise ValueError(
                f"spacing {self.spacing * 1e3:g} mm is less than the outer diameter "
                f"{self.outer_diameter * 1e3:g} mm: the cylinders would stand inside each other"
            )
        return self

    @property
    def count(self) -> int:
        """How many cylinders."""
        return 2 if self.arrangement == "twin" else 1

    @property
    def fill(self) -> float:
        """Gauge pressure of the gas now [Pa]: that given, or the working pressure."""
        return self.working_pressure if self.pressure is None else self.pressure


def check_size(water_capacity: float | None, free_gas: FreeGas | None) -> None:
    """Raises ValueError unless a cylinder's size is given in exactly one way."""
    if (water_capacity is None) == (free_gas is None):
        say = "is missing" if water_capacity is None else "is given twice"
        raise ValueError(
            f'the size {say}: write water_capacity = "12 l" (volume inside) or free_gas = "80 cu ft at 3000 psi" '
            "(gas when full), one of them"
        )


OptionalCylinders = Annotated[Cylinders | None, BeforeValidator(optional_from_catalogue("cylinders"))]
