"""The water around the diver."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from scenarios.quantities import Quantity
from scenarios.table import Table

WaterKind = Literal["sea", "fresh", "brackish"]

# Practical salinity taken for a kind of water: open ocean and lake (definitions), middle Baltic (common practice).
_USUAL_SALINITY: dict[WaterKind, float] = {"sea": 35.0, "fresh": 0.0, "brackish": 7.0}


class Water(Table):
    """Water and depth; left out, the open sea at 10 °C and 10 m."""

    kind: Annotated[WaterKind, Field(description="Kind of water, which sets the salinity when that is not given")] = (
        "sea"
    )
    salinity: Annotated[
        float | None, Quantity("salinity", "salinity of the water", "35 g/kg", "0 g/kg", "42 g/kg")
    ] = None
    temperature: Annotated[float, Quantity("temperature", "water temperature", "10 °C", "-2 °C", "40 °C")] = 283.15
    density: Annotated[
        float | None,
        Quantity("density", "density of the water, if measured", "1025 kg/m^3", "950 kg/m^3", "1300 kg/m^3"),
    ] = None
    latitude: Annotated[float | None, Quantity("angle", "latitude, for gravity", "50 deg", "-90 deg", "90 deg")] = (
        None
    )
    gravity: Annotated[
        float | None, Quantity("acceleration", "gravity, if known", "9.81 m/s^2", "9.7 m/s^2", "9.9 m/s^2")
    ] = None
    depth: Annotated[
        float,
        Quantity("length", "depth of the diver", "10 m", "0.5 m", "200 m", "the diver is wholly under water"),
    ] = 10.0
    surface_pressure: Annotated[
        float,
        Quantity("pressure", "air pressure at the surface", "1013 hPa", "450 hPa", "1100 hPa"),
    ] = 101325.0

    @model_validator(mode="after")
    def _agrees(self) -> Self:
        if self.density is not None and self.salinity is not None:
            raise ValueError(
                "density and salinity are both given; density is computed from salinity: give one of them"
            )
        if self.gravity is not None and self.latitude is not None:
            raise ValueError(
                "gravity and latitude are both given; gravity is computed from latitude: give one of them"
            )
        return self

    @property
    def salinity_or_usual(self) -> float:
        """Practical salinity given, or the usual one of this kind of water."""
        return _USUAL_SALINITY[self.kind] if self.salinity is None else self.salinity
