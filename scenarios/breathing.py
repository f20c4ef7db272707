"""Things a diver writes that are read wrongly with ease: the gas in cylinders and suit, and a cylinder's size.

*Water capacity* ("12 l") is the volume inside. *Free gas* ("80 cu ft at 3000 psi") is the volume the gas of a full
cylinder would take at the surface. They differ two-hundredfold, so they are two types under two keys.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any, Self

from pydantic import BeforeValidator, Field, model_validator

from scenarios.errors import shortened
from scenarios.quantities import Quantity, found
from scenarios.table import Table
from scenarios.units import UnitError, parse

AIR_OXYGEN = 0.20946  # of air by volume, ISO 2533 standard atmosphere
LEAST_FREE_GAS = 0.15  # m^3; less than the smallest diving cylinder holds, more than any water capacity
MOST_WATER = 0.05  # m^3


class GasMix(Table):
    """What the diver breathes, by volume; the rest is nitrogen (with argon where it is air)."""

    name: Annotated[str, Field(description='As divers write it: "air", "nitrox 32", "trimix 18/45", "oxygen"')]
    oxygen: Annotated[float, Field(ge=0.0, le=1.0, description="Share of oxygen by volume, 0 to 1")]
    helium: Annotated[float, Field(ge=0.0, le=1.0, description="Share of helium by volume, 0 to 1")] = 0.0

    @model_validator(mode="before")
    @classmethod
    def _from_name(cls, data: Any) -> Any:
        return mix_of(data) if isinstance(data, str) else data

    @model_validator(mode="after")
    def _adds_up(self) -> Self:
        if not self.oxygen + self.helium <= 1.0 + 1e-12:
            raise ValueError(f"{self.oxygen:.0%} oxygen and {self.helium:.0%} helium are more than the whole")
        return self


class SuitGas(Table):
    """What a drysuit is inflated with, by volume; the rest is nitrogen (with argon where it is air)."""

    name: Annotated[str, Field(description='As divers write it: "argon", "air", "nitrox 32", "trimix 18/45"')]
    oxygen: Annotated[float, Field(ge=0.0, le=1.0, description="Share of oxygen by volume, 0 to 1")] = 0.0
    helium: Annotated[float, Field(ge=0.0, le=1.0, description="Share of helium by volume, 0 to 1")] = 0.0
    argon: Annotated[float, Field(ge=0.0, le=1.0, description="Share of argon by volume, 0 to 1")] = 0.0

    @model_validator(mode="before")
    @classmethod
    def _from_name(cls, data: Any) -> Any:
        return suit_gas_of(data) if isinstance(data, str) else data

    @model_validator(mode="after")
    def _adds_up(self) -> Self:
        if not self.oxygen + self.helium + self.argon <= 1.0 + 1e-12:
            raise ValueError(
                f"{self.oxygen:.0%} oxygen, {self.helium:.0%} helium and {self.argon:.0%} argon are more than the "
                "whole"
            )
        return self


@dataclass(frozen=True)
class _NamedMix:
    pattern: re.Pattern[str]
    helium: bool


_MIXES = (
    _NamedMix(re.compile(r"(?:nitrox|ean|eanx|nx)\s*([0-9]{2,3})\s*%?"), helium=False),
    _NamedMix(re.compile(r"(?:trimix|tmx|tx|heliox|hx)\s*([0-9]{1,2})\s*/\s*([0-9]{1,2})"), helium=True),
)


def mix_of(text: str) -> dict[str, Any]:
    """Shares of a mix from its name. Raises ValueError that says what to write."""
    name = " ".join(text.lower().split())
    if name == "air":
        return {"name": "air", "oxygen": AIR_OXYGEN, "helium": 0.0}
    if name in ("oxygen", "o2"):
        return {"name": "oxygen", "oxygen": 1.0, "helium": 0.0}
    for mix in _MIXES:
        if match := mix.pattern.fullmatch(name):
            oxygen = int(match[1]) / 100.0
            return {"name": name, "oxygen": oxygen, "helium": int(match[2]) / 100.0 if mix.helium else 0.0}
    raise ValueError(f'"{text}" is no gas known here; write "air", "nitrox 32", "trimix 18/45" or "oxygen"')


def suit_gas_of(text: str) -> dict[str, Any]:
    """Shares of what a suit is inflated with, from its name. Raises ValueError that says what to write."""
    if " ".join(text.lower().split()) in ("argon", "ar"):
        return {"name": "argon", "argon": 1.0}
    try:
        return mix_of(text)
    except ValueError:
        pass
    amount = "; how much of it is in the suit stands under gas" if _is_amount(text) else ""
    raise ValueError(
        f'"{shortened(text)}" is no gas known here; write "argon", "air", "nitrox 32" or "trimix 18/45"{amount}'
    )


def amount_not_kind(value: Any) -> Any:
    """Guard of how much gas is in a suit: a kind of gas in its place is explained."""
    if not isinstance(value, str):
        return value
    try:
        kind = suit_gas_of(value)["name"]
    except ValueError:
        return value
    raise ValueError(
        f'"{value}" says which gas it is, and gas says how much of it is in the suit, like "vented" or "10 l"; '
        f'the kind goes under another key: inflation = "{kind}"'
    )


def _is_amount(text: str) -> bool:
    if text.strip().lower() in ("vented", "comfortable"):
        return True
    try:
        parse("volume", text)
    except UnitError:
        return False
    return True


class FreeGas(Table):
    """Gas of a full cylinder: its volume at the surface (1 atm, 21 °C), and the gauge pressure that is full."""

    volume: Annotated[float, Quantity("volume", "gas of a full cylinder at the surface", "80 cu ft")]
    pressure: Annotated[
        float | None, Quantity("pressure", "gauge pressure at which the cylinder counts as full", "3000 psi")
    ] = None

    @model_validator(mode="before")
    @classmethod
    def _from_text(cls, data: Any) -> Any:
        if isinstance(data, dict):
            return data
        if not isinstance(data, str):
            raise ValueError(f'expected free gas like "80 cu ft at 3000 psi", found {found(data)}')
        volume, at, pressure = re.sub(r"\s*@\s*", " at ", data).partition(" at ")
        return {"volume": volume, "pressure": pressure} if at else {"volume": volume}

    @model_validator(mode="after")
    def _is_free_gas(self) -> Self:
        if not LEAST_FREE_GAS <= self.volume <= 20.0:
            litres = f"{self.volume * 1e3:.3g} l"
            raise ValueError(
                f"{litres} cannot be the free gas of a full cylinder (150 to 20000 l, 5 to 700 cu ft); free gas is "
                f"what a full cylinder would blow up at the surface, like 80 cu ft at 3000 psi. Is it the volume "
                f'inside? Then write water_capacity = "{litres}"'
            )
        return self


def water_volume(value: Any) -> Any:
    """Guard of a water capacity: a free-gas capacity in its place is explained."""
    if not isinstance(value, str):
        return value
    if re.search(r"\bat\b|@", value):
        raise ValueError(f'"{value}" is free gas at a pressure, not water capacity; write free_gas = "{value}"')
    try:
        volume = parse("volume", value, "12 l")
    except UnitError:
        return value
    if volume > MOST_WATER:
        raise ValueError(
            f'"{value}" would be {volume * 1e3:.0f} l of water inside. A cylinder sold as "80 cu ft" is named for '
            'the free gas in it when full: write free_gas = "80 cu ft at 3000 psi"; water_capacity is the volume '
            'inside, like "12 l"'
        )
    return value


WaterCapacity = Annotated[
    float | None,
    Quantity("volume", "water capacity of one cylinder, the volume inside", "12 l", "0.2 l", "50 l"),
    BeforeValidator(water_volume),
]
