"""The person: what was measured, as measured. What is left out is estimated later, and said to be."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import Field, model_validator

from scenarios.measure_names import standard_measures
from scenarios.quantities import Quantity
from scenarios.table import Table

BreathingLevel = Literal["mid-breath", "relaxed", "breathed in", "full", "empty"]
LungMethod = Literal["ecsc 1993", "gli 2021"]


class Diver(Table):
    """The diver, undressed."""

    sex: Annotated[Literal["female", "male"], Field(description="Sex, for the survey the body is estimated from")]
    height: Annotated[
        float,
        Quantity("length", "the diver's height without shoes", "166 cm", "1.40 m", "2.10 m",
                 "body shape is estimated from a survey of adults"),
    ]  # fmt: skip
    mass: Annotated[
        float, Quantity("mass", "the diver's mass without clothes", "58 kg", "30 kg", "200 kg", "adults only")
    ]
    age: Annotated[float | None, Quantity("age", "the diver's age", "34 years", "14 years", "95 years")] = None
    trained: Annotated[
        bool,
        Field(description="Trains for a sport on most days of the week (true or false): taken to be leaner and "
              "denser than others of like size; without effect where body_fat or body_density is given"),
    ] = False  # fmt: skip
    body_fat: Annotated[
        float | None,
        Quantity("fraction", "body fat as a share of body mass, by calipers, a scan or a weighing under water",
                 "24 %", "3 %", "65 %", "most divers have 10 to 35 %"),
    ] = None  # fmt: skip
    body_density: Annotated[
        float | None,
        Quantity("density", "density of the body without the gas in lungs and gut", "1055 kg/m^3", "950 kg/m^3",
                 "1105 kg/m^3", "pure fat is 900, lean tissue 1100 kg/m^3"),
    ] = None  # fmt: skip
    lung_gas: Annotated[
        float | None,
        Quantity("volume", "gas in the chest at the breathing level asked for", "3.2 l", "0.5 l", "12 l"),
    ] = None
    breathing_level: Annotated[
        BreathingLevel,
        Field(description='How full the chest is: "relaxed" after breathing out quietly, "mid-breath" half a quiet '
              'breath above it, "breathed in" a whole one, "full" as full as can be, "empty" as empty as can be'),
    ] = "mid-breath"  # fmt: skip
    lung_method: Annotated[
        LungMethod, Field(description="Published equations from which lung volumes are estimated")
    ] = "ecsc 1993"
    tidal_volume: Annotated[float | None, Quantity("volume", "gas of one quiet breath", "0.7 l", "0.2 l", "4 l")] = (
        None
    )
    measures: Annotated[
        dict[str, Annotated[float, Quantity("length", "a body measure", "80 cm", "1 cm", "3 m")]],
        Field(description="Any measures taken, by plain name: waist girth, crotch height, chest girth, foot length"),
    ] = {}  # noqa: RUF012 - pydantic copies defaults

    @classmethod
    def _standard(cls, data: dict[str, Any]) -> dict[str, Any]:
        if isinstance(data.get("measures"), dict):
            return {**data, "measures": standard_measures(data["measures"])}
        return data

    @model_validator(mode="after")
    def _agrees(self) -> Self:
        bmi = self.mass / self.height**2
        if not 14.0 <= bmi <= 60.0:
            raise ValueError(
                f"mass {self.mass:g} kg at height {self.height * 100:g} cm is a body-mass index of {bmi:.0f}; "
                "14 to 60 kg/m^2 can be computed: check both values and their units"
            )
        if self.body_fat is not None and self.body_density is not None:
            raise ValueError("body_fat and body_density say the same thing; give one of them")
        return self
