"""How it goes on under water, for the command later: depths, times, what is breathed, as told. Nothing is planned."""

from __future__ import annotations

from typing import Annotated, Any, Final

from pydantic import BeforeValidator, Field

from scenarios.quantities import Quantity
from scenarios.table import Table

ON_THE_BACK: Final = "back"  # the cylinders or the rebreather there, as [later] says what is breathed
NOT_A_STAGE: Final = (ON_THE_BACK, "rebreather")  # names under which the command later tells of what is there
Depth = Annotated[float | None, Quantity("length", "depth reached at its end", "18 m", "0.5 m", "200 m")]


def _one_name(value: Any) -> Any:
    return (value,) if isinstance(value, str) else value


Names = Annotated[tuple[Annotated[str, Field(max_length=60)], ...], BeforeValidator(_one_name)]


class Stretch(Table):
    """A stretch of time, in which the depth changes evenly."""

    lasts: Annotated[float, Quantity("time", "how long it lasts", "5 min", "1 s", "24 h")]
    to: Depth = None
    breathe: Annotated[
        str,
        Field(description='What is breathed: "back" for the cylinders or the rebreather on the back, or the name of '
                          "a stage", max_length=60),
    ] = ON_THE_BACK  # fmt: skip
    leave: Annotated[Names, Field(description="Names of stages left behind at its beginning")] = ()
    take: Annotated[Names, Field(description="Names of stages taken again at its beginning")] = ()


class Later(Table):
    """What happens later: stretches of time one after another."""

    gas_use: Annotated[
        float,
        Quantity("flow", "gas breathed in a minute, as its volume is at the diver's depth", "20 l/min", "5 l/min",
                 "150 l/min"),
    ] = 20e-3 / 60.0  # fmt: skip
    oxygen_use: Annotated[
        float,
        Quantity("flow", "oxygen that the body uses in a minute, dry, at 0 °C and one atmosphere", "0.8 l/min",
                 "0.2 l/min", "4 l/min", "with a rebreather alone; a navy found 0.64 at rest, 1.5 swimming"),
    ] = 0.8e-3 / 60.0  # fmt: skip
    begin: Annotated[float, Quantity("length", "depth at the beginning", "1 m", "0.5 m", "200 m")] = 1.0
    stretch: Annotated[
        tuple[Stretch, ...], Field(min_length=1, max_length=100, description="Stretches of time, in their order")
    ]
