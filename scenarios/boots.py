"""What is worn on the feet: boots of a drysuit, socks with boots over them, boots of foam."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from scenarios.catalogue.lookup import optional_from_catalogue
from scenarios.quantities import Quantity
from scenarios.table import Table


class Boots(Table):
    """A pair of boots: soles, uppers or over-boots that do not compress, and foam round the foot, if any."""

    catalogue: Annotated[str | None, Field(description="Name of the catalogue entry the values come from")] = None
    material: Annotated[str, Field(description="What the boots are made of, in words", max_length=60)]
    outer_mass: Annotated[
        float,
        Quantity("mass", "mass of the pair without its foam, for a foot of 26 cm", "1.1 kg", "0 kg", "6 kg",
                 "it grows with the square of the foot's length"),
    ]  # fmt: skip
    outer_density: Annotated[
        float, Quantity("density", "mean density of that mass", "1150 kg/m^3", "900 kg/m^3", "4000 kg/m^3")
    ]
    foam_thickness: Annotated[
        float, Quantity("length", "foam of the boot or of the sock in it, 0 for none", "4 mm", "0 mm", "12 mm")
    ]


def with_boots(data: Any, usual: str) -> Any:
    """A suit's raw table with the usual boots in it where it names none."""
    return {**data, "boots": usual} if isinstance(data, dict) and "boots" not in data else data


_READ: Callable[[Any], Any] = optional_from_catalogue("boots")
OptionalBoots = Annotated[
    Boots | None,
    BeforeValidator(_READ),
    Field(description='Kind of boots, "none" for bare feet; those usual with the suit if left out'),
]
