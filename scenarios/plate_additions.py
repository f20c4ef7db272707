"""What makes a plate more than one even sheet: places of another thickness, weights bolted on, pads."""

from __future__ import annotations

from typing import Annotated, Final, Literal, Self

from pydantic import AfterValidator, Field, model_validator

from scenarios.materials import OTHER, checked_material, material
from scenarios.quantities import Quantity
from scenarios.table import Table

DENSITIES: Final = (5.0, 25000.0)  # kg/m^3, from foam to the heaviest metals
MOST: Final = 20  # of each: no plate that is meant has as many

_Side = Annotated[float, Quantity("length", "a side of what is fixed to the plate", "60 mm", "1 mm", "60 cm")]


class Zone(Table):
    """A rectangle of the flat sheet that is thicker or thinner than the rest, on both sides of the middle line."""

    thickness: Annotated[float, Quantity("length", "thickness of the sheet there", "5 mm", "0.3 mm", "40 mm")]
    top: Annotated[
        float, Quantity("length", "where it begins, from the plate's top edge", "40 mm", "0 mm", "60 cm")
    ] = 0.0
    bottom: Annotated[
        float, Quantity("length", "where it ends, from the plate's top edge", "90 mm", "1 mm", "60 cm")
    ] = 0.6
    inner: Annotated[
        float, Quantity("length", "where it begins, from the plate's middle line", "0 mm", "0 mm", "30 cm")
    ] = 0.0
    outer: Annotated[
        float, Quantity("length", "where it ends, from the plate's middle line", "30 mm", "1 mm", "30 cm")
    ] = 0.3

    @model_validator(mode="after")
    def _some(self) -> Self:
        if not self.bottom > self.top:
            raise ValueError(f"bottom, {1e3 * self.bottom:g} mm, must lie further from the top edge than top")
        if not self.outer > self.inner:
            raise ValueError(f"outer, {1e3 * self.outer:g} mm, must lie further from the middle line than inner")
        return self


class Added(Table):
    """A block fixed to the plate: a weight bolted on, a pad. Its mass, or what it is made of, must be told."""

    name: Annotated[str, Field(description="What it is, for reports", min_length=1, max_length=40)]
    mass: Annotated[float | None, Quantity("mass", "its mass", "1 kg", "1 g", "15 kg")] = None
    density: Annotated[
        float | None, Quantity("density", "its density", "11340 kg/m^3", "5 kg/m^3", "25000 kg/m^3")
    ] = None
    material: Annotated[
        Annotated[str, AfterValidator(checked_material)] | None,
        Field(description="What it is made of, in place of its density: see 'hangflat catalogue materials'"),
    ] = None
    size: Annotated[
        tuple[_Side, _Side, _Side], Field(description="Its sides: along the plate, across it, and off its face")
    ]
    from_top: Annotated[
        float, Quantity("length", "where its middle is, from the plate's top edge", "350 mm", "0 mm", "60 cm")
    ]
    from_middle: Annotated[
        float,
        Quantity(
            "length", "where its middle is, from the plate's middle line, plus to the diver's left", "0 mm", "-30 cm",
            "30 cm",
        ),
    ] = 0.0  # fmt: skip
    both_sides: Annotated[bool, Field(description="Whether there is another like it on the other side")] = False
    face: Annotated[
        Literal["back", "front"],
        Field(description="On which face: the back, away from the diver, or the front, between plate and diver"),
    ] = "back"

    @model_validator(mode="after")
    def _made_of_something(self) -> Self:
        told = [key for key in ("mass", "density", "material") if getattr(self, key) is not None]
        if len(told) != 1:
            found = " and ".join(told) if told else "none of them"
            raise ValueError(f'give one of mass, density and material, like mass = "1 kg"; got {found}')
        if self.material == OTHER:
            raise ValueError('material "other" has no density; give a density or a mass in its place')
        if self.both_sides and self.from_middle == 0.0:
            raise ValueError("both_sides makes two of it, and from_middle puts both in the same place; move it out")
        density = self.weight / self.volume
        if not DENSITIES[0] <= density <= DENSITIES[1]:
            raise ValueError(
                f"with that mass and size it has {density:.3g} kg/m^3, not between {DENSITIES[0]:g} and "
                f"{DENSITIES[1]:g}; check both"
            )
        return self

    @property
    def volume(self) -> float:
        """Of one of them [m^3]."""
        along, across, off = self.size
        return along * across * off

    @property
    def weight(self) -> float:
        """Mass of one of them [kg]."""
        if self.mass is not None:
            return self.mass
        density = self.density
        if density is None and self.material is not None:
            density = material(self.material).density_of_sheet(self.size[2])
        return (density or 0.0) * self.volume
