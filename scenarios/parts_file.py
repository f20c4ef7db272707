"""The parts file: a rig given as numbers, with no person, for those who weighed and measured their own."""

from __future__ import annotations

import math
from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from scenarios.believable import number
from scenarios.quantities import Point, Quantity, found
from scenarios.table import Table

PARTS_FORMAT = "parts/1"
PartKind = Literal[
    "body", "suit", "wetsuit", "hood", "mask", "boots", "gloves", "fins", "plate", "harness", "wing", "cylinder",
    "valve", "manifold", "bands", "breathing gas", "suit gas", "wing gas", "regulator", "hose", "lead", "light",
    "stage", "rebreather", "counterlungs", "other",
]  # fmt: skip

Vector = tuple[float, float, float]
Matrix = tuple[Vector, Vector, Vector]
PartMass = Annotated[float, Quantity("mass", "a part's mass", "28.826 kg", "0 kg", "10000 kg")]
PartVolume = Annotated[float, Quantity("volume", "the water a part displaces", "30.027 l", "0 l", "10000 l")]
CellVolume = Annotated[float, Quantity("volume", "a cell's gas", "0.3043 l", "0 l", "1000 l")]
Softness = Annotated[float, Quantity("pressure", "softness p0", "300 Pa", "0.01 Pa", "1000 kPa")]
GasTime = Quantity("time", "time in which a cell's gas evens out", "2 s", "0.001 s", "1000 s")
GasDensity = Annotated[
    float, Quantity("density", "density of the gas at depth, 0 for massless", "3 kg/m^3", "0 kg/m^3", "100 kg/m^3")
]


class PartsWater(Table):
    """The water of a parts file."""

    density: Annotated[float, Quantity("density", "density of the water", "1025 kg/m^3", "1 kg/m^3", "20000 kg/m^3")]
    gravity: Annotated[float, Quantity("acceleration", "gravity", "9.81 m/s^2", "0.001 m/s^2", "1000 m/s^2")] = (
        9.80665
    )


class HeldDepth(Table):
    """At which pressure the rig is, and which of its points is meant."""

    pressure: Annotated[
        float, Quantity("pressure", "absolute pressure at the held point", "252153.75 Pa", "1000 Pa", "1000 bar")
    ]
    held: Annotated[
        Literal["cm"] | Vector,
        BeforeValidator(lambda value: value if value == "cm" else _point_or_cm(value)),
        Field(description='The body point whose depth is held and about which moments are taken: "cm" or [x, y, z]'),
    ] = "cm"


class NumberPart(Table):
    """One rigid part."""

    name: Annotated[str, Field(description="What it is called in reports", min_length=1, max_length=120)]
    kind: Annotated[PartKind, Field(description="What kind of thing it is")] = "other"
    mass: PartMass
    cm: Annotated[Vector, Point("the part's centre of mass")]
    volume: PartVolume
    cb: Annotated[Vector, Point("the centroid of the water the part displaces")]
    inertia: Annotated[
        Matrix | None,
        BeforeValidator(lambda value: _inertia(value)),
        Field(description="Inertia about the part's centre of mass, 3 by 3 bare numbers in kg m^2; settling only"),
    ] = None


class SuitCell(Table):
    """One cell of the suit's gas."""

    at: Annotated[Vector, Point("where the cell is")]
    least: CellVolume
    most: CellVolume

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if not self.least < self.most:
            raise ValueError(f"least ({self.least * 1e3:g} l) must be less than most ({self.most * 1e3:g} l)")
        return self


class GarmentCell(Table):
    """One cell of the suit's gas where a springy undergarment holds it, under a shell that can balloon a little."""

    at: Annotated[Vector, Point("where the cell is")]
    loft: Annotated[
        float, Quantity("volume", "gas that the relaxed garment holds in a cell", "0.1 l", "1e-9 l", "1000 l")
    ]
    slack: Annotated[float, Quantity("volume", "room in which the shell can balloon", "0.03 l", "1e-9 l", "1000 l")]
    preload: Annotated[
        float,
        Quantity("pressure", "what a taut shell keeps on the garment; below 0 what presses from outside", "0 Pa",
                 "-100 kPa", "100 kPa"),
    ] = 0.0  # fmt: skip


class WingCell(Table):
    """One cell of the wing's gas; it can be empty, so that ``least`` need not be said."""

    at: Annotated[Vector, Point("where the cell is")]
    least: Annotated[float, Quantity("volume", "a wing cell's least gas, nothing", "0 l", "0 l", "0 l")] = 0.0
    most: Annotated[float, Quantity("volume", "the most gas the cell holds", "0.1875 l", "1e-9 l", "1000 l")]


class PartsSuit(Table):
    """A fixed amount of gas in soft cells: ``cells`` by the logistic law, or ``garment`` by that of a mass of fibres,
    whose stiffness P is then the softness."""

    gas: Annotated[
        float,
        Quantity("volume", "the suit's gas at the held point's pressure", "5 l", "0 l", "10000 l"),
    ]
    softness: Softness
    gas_time: Annotated[float, GasTime] = 2.0
    gas_density: GasDensity = 0.0
    cells: Annotated[tuple[SuitCell, ...] | None, Field(description="The cells", min_length=1, max_length=10000)] = (
        None
    )
    garment: Annotated[
        tuple[GarmentCell, ...] | None,
        Field(description="The cells over a springy garment, in place of cells", min_length=1, max_length=10000),
    ] = None

    @model_validator(mode="after")
    def _of_one_kind(self) -> Self:
        if (self.cells is None) == (self.garment is None):
            raise ValueError("give the cells of the suit's gas, as cells or as garment, and not as both")
        return self


class PartsWing(Table):
    """A volume of gas in soft cells, or as much as makes the whole neutral."""

    gas: Annotated[
        float | Literal["neutral"],
        Quantity("volume", "the wing's gas", "4 l", "0 l", "10000 l", words=("neutral",)),
    ] = "neutral"
    softness: Softness
    gas_time: Annotated[float, GasTime] = 0.5
    gas_density: GasDensity = 0.0
    cells: Annotated[tuple[WingCell, ...], Field(description="The cells", min_length=1, max_length=10000)]

    @model_validator(mode="after")
    def _holds_it(self) -> Self:
        most = math.fsum(c.most for c in self.cells)
        if not isinstance(self.gas, str) and not self.gas <= most * (1.0 + 1e-9):
            raise ValueError(
                f"the gas, {self.gas * 1e3:g} l, is more than the {most * 1e3:g} l that the cells can hold"
            )
        return self


class PartsFile(Table):
    """A rig as numbers. Lengths are bare metres in body axes; everything else carries its unit."""

    format: Annotated[Literal["parts/1"], Field(description="Kind of file")]
    title: Annotated[str | None, Field(description="A line for pictures and reports", max_length=120)] = None
    water: Annotated[PartsWater, Field(description="The water")]
    depth: Annotated[HeldDepth, Field(description="The pressure, and where")]
    part: Annotated[tuple[NumberPart, ...], Field(description="The rigid parts", min_length=1, max_length=10000)]
    suit: Annotated[PartsSuit | None, Field(description="Gas in the suit")] = None
    wing: Annotated[PartsWing | None, Field(description="Gas in the wing")] = None

    @model_validator(mode="after")
    def _has_mass(self) -> Self:
        if not math.fsum(p.mass for p in self.part) > 0.0:
            raise ValueError("the masses of all parts add up to 0 kg; at least one part must weigh something")
        return self


def _point_or_cm(value: Any) -> Vector:
    if isinstance(value, str):
        raise ValueError(f'held is "{value}"; write "cm" for the centre of mass, or a point [x, y, z] in metres')
    return Point("the held point").read(value)


def _inertia(value: Any) -> Any:
    """Guard of an inertia: three rows of three numbers, symmetric, no negative principal moment."""
    if value is None:
        return None
    hint = "write [[ixx, ixy, ixz], [ixy, iyy, iyz], [ixz, iyz, izz]], bare numbers in kg m^2"
    rows = value if isinstance(value, list | tuple) else ()
    if len(rows) != 3 or not all(isinstance(r, list | tuple) and len(r) == 3 for r in rows):
        raise ValueError(f"expected 3 rows of 3 numbers, found {found(value)}; {hint}")
    numbers = [[number(x) for x in row] for row in rows]
    if any(x is None for row in numbers for x in row):
        raise ValueError(f"an element is no finite number; {hint}")
    import numpy as np

    matrix = np.array(numbers, dtype=float)
    size = float(np.abs(matrix).max())
    if not np.allclose(matrix, matrix.T, rtol=0.0, atol=1e-9 * size):
        raise ValueError(
            f"the matrix is not symmetric: an inertia equals its mirror image about the diagonal; {hint}"
        )
    least = float(np.linalg.eigvalsh(matrix).min())
    if not least >= -1e-9 * size:
        raise ValueError(f"a principal moment is negative ({least:.3g} kg m^2), which no mass has; check the signs")
    return tuple(tuple(row) for row in matrix.tolist())
