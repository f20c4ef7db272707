"""Plate, harness and wing: what lies between the diver's back and the cylinders."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any, Literal, Self

from pydantic import AfterValidator, BeforeValidator, Field, ValidationInfo, field_validator, model_validator

from scenarios.catalogue.lookup import entry, optional_from_catalogue
from scenarios.errors import InnerError
from scenarios.file_names import place_named
from scenarios.materials import checked_material
from scenarios.plate_additions import MOST, Added, Zone
from scenarios.quantities import Quantity
from scenarios.suit import Name
from scenarios.table import Table

PlateMaterial = Annotated[str, AfterValidator(checked_material)]
Axis = Literal["+x", "-x", "+y", "-y", "+z", "-z"]
DRAWING_KINDS = (".dxf", ".svg", ".stl", ".obj", ".ply", ".3mf", ".glb", ".step", ".stp")


_FromTop = Annotated[
    float, Quantity("length", "a slot's distance from the plate's top edge", "50 mm", "0 mm", "60 cm")
]
_FromMiddle = Annotated[
    float, Quantity("length", "a slot's distance from the plate's middle line", "95 mm", "1 mm", "30 cm")
]
SlotPlace = tuple[_FromTop, _FromMiddle] | None

_USUAL_SIZE = {"length": "400 mm", "width": "280 mm", "channel_depth": "56 mm"}
FLAT_DRAWINGS = (".dxf", ".svg")
# keys that stretch the built-in outlines
OF_BUILT_IN = ("shape", *_USUAL_SIZE, "channel_width", "channel_angle", "bend_radius", "openings")
OF_FLAT_DRAWINGS = ("thickness", "bends")
OF_SOLIDS = ("back_axis",)
OF_DRAWINGS = ("unit", "head_axis", "back_axis", "bends")


class Bend(Table):
    """One fold of a flat outline, along the plate's length and on both sides of its middle line."""

    offset: Annotated[
        float, Quantity("length", "distance of the bend from the plate's middle line", "35 mm", "0 mm", "300 mm")
    ]
    angle: Annotated[
        float,
        Quantity(
            "angle", "turn of what lies outside the bend, plus toward the diver", "45 deg", "-120 deg", "120 deg"
        ),
    ]
    radius: Annotated[
        float | None, Quantity("length", "radius of the bend at the middle of the sheet", "6 mm", "0.2 mm", "100 mm")
    ] = None


class Plate(Table):
    """A backplate: from the catalogue, by its measures, or a designer's own drawing."""

    catalogue: Name = None
    material: Annotated[
        PlateMaterial,
        Field(
            description="What the plate is made of, which sets its density: see 'hangflat catalogue materials'; or "
            '"other" with a density',
            examples=["stainless steel"],
        ),
    ]
    thickness: Annotated[float | None, Quantity("length", "thickness of the sheet", "3 mm", "0.3 mm", "20 mm")] = None
    density: Annotated[
        float | None,
        Quantity("density", "density of the plate's material", "8000 kg/m^3", "800 kg/m^3", "20000 kg/m^3"),
    ] = None
    mass: Annotated[
        float | None, Quantity("mass", "mass of the bare plate, if weighed", "2.9 kg", "0.1 kg", "15 kg")
    ] = None
    shape: Annotated[
        Literal["standard", "small"],
        Field(description="Which of the two built-in outlines, stretched to length and width"),
    ] = "standard"
    length: Annotated[
        float | None, Quantity("length", "length of the plate from top to bottom", "400 mm", "30 cm", "60 cm")
    ] = None
    width: Annotated[
        float | None, Quantity("length", "greatest width of the bent plate", "280 mm", "18 cm", "45 cm")
    ] = None
    channel_depth: Annotated[
        float | None, Quantity("length", "depth of the channel along the middle", "56 mm", "15 mm", "90 mm")
    ] = None
    channel_width: Annotated[
        float | None, Quantity("length", "level width of the channel's floor", "58 mm", "20 mm", "120 mm")
    ] = None
    channel_angle: Annotated[
        float | None, Quantity("angle", "turn of each bend of the channel", "65 deg", "15 deg", "90 deg")
    ] = None
    bend_radius: Annotated[
        float | None,
        Quantity("length", "radius of the channel's bends at the middle of the sheet", "6 mm", "0.2 mm", "60 mm"),
    ] = None
    openings: Annotated[
        bool, Field(description="Whether the openings that lighten a built-in outline are cut out of it")
    ] = True
    file: Annotated[
        Path | None,
        Field(
            description="A designer's own plate: outline (DXF, SVG) or closed solid (STL, OBJ, PLY, 3MF, GLB, STEP)"
        ),
    ] = None
    unit: Annotated[
        Literal["mm", "cm", "m", "in", "ft"] | None,
        Field(description="Unit of the drawing's numbers, where the file does not state it"),
    ] = None
    head_axis: Annotated[Axis, Field(description="Direction in the drawing that points to the diver's head")] = "+y"
    back_axis: Annotated[Axis, Field(description="Direction in the drawing that points away from the diver")] = "+z"
    bends: Annotated[tuple[Bend, ...], Field(description="Folds of a flat outline, from the middle outward")] = ()
    bolts: Annotated[
        tuple[
            Annotated[
                float, Quantity("length", "a bolt's distance from the plate's top edge", "60 mm", "0 mm", "60 cm")
            ],
            ...,
        ],
        Field(description="Band bolts: distances from the plate's top edge along the middle line"),
    ] = ()

    shoulder_slots: Annotated[
        SlotPlace,
        Field(description="Where the shoulder slots are: from the plate's top edge, and from its middle line"),
    ] = None
    waist_slots: Annotated[
        SlotPlace,
        Field(description="Where the waist slots are: from the plate's top edge, and from its middle line"),
    ] = None
    crotch_slot: Annotated[
        float | None,
        Quantity("length", "where the crotch slot is, from the plate's top edge", "382 mm", "10 mm", "60 cm"),
    ] = None

    zones: Annotated[
        tuple[Zone, ...],
        Field(description="Places where the sheet is thicker or thinner, on its face away from the diver",
              max_length=MOST),
    ] = ()  # fmt: skip
    added: Annotated[
        tuple[Added, ...], Field(description="What is fixed to the plate: weights, pads", max_length=MOST)
    ] = ()

    @field_validator("file")
    @classmethod
    def _beside_the_scenario(cls, file: Path | None, info: ValidationInfo) -> Path | None:
        """The drawing is looked for beside the scenario file."""
        if file is None:
            return None
        if file.suffix.lower() not in DRAWING_KINDS:
            raise ValueError(f'"{file}" is no drawing read here; known: {", ".join(DRAWING_KINDS)}')
        folder = (info.context or {}).get("folder")
        file = place_named(str(file))
        place = file if folder is None else Path(folder) / file
        if folder is not None and not place.is_file():
            raise ValueError(f'there is no file "{place}"; give the path from the folder of the scenario file')
        return place

    @model_validator(mode="after")
    def _complete(self) -> Self:
        if self.material == "other" and self.density is None and self.mass is None:
            raise ValueError('material "other" needs a density, like density = "1500 kg/m^3", or a weighed mass')
        self._check_keys()
        if not self.is_solid and self.thickness is None:
            raise ValueError('thickness is missing; add one, like thickness = "3 mm"')
        if self.file is None:
            missing = [f'{k} = "{v}"' for k, v in _USUAL_SIZE.items() if getattr(self, k) is None]
            if missing:
                raise ValueError(f"name a catalogue entry or a file, or add {', '.join(missing)}")
        return self

    @property
    def is_solid(self) -> bool:
        """Whether it is drawn as a finished solid."""
        return self.file is not None and self.file.suffix.lower() not in FLAT_DRAWINGS

    @property
    def is_flat(self) -> bool:
        """Whether it is drawn flat and not bent."""
        return self.file is not None and not self.is_solid and not self.bends

    def _check_keys(self) -> None:
        """Raises InnerError at a key that has no effect on such a plate."""
        fields = type(self).model_fields
        unused: tuple[str, ...]
        if self.file is None:
            unused, why = OF_DRAWINGS, "belongs to a drawing; add file, or leave it out"
        elif self.is_solid:
            unused = (*OF_BUILT_IN, *OF_FLAT_DRAWINGS, "zones")
            why = f'does nothing to "{self.file.name}", which is a solid, whole as it is drawn; leave it out'
        else:
            unused = (*OF_BUILT_IN, *OF_SOLIDS)
            why = f'does nothing to "{self.file.name}", a drawing with its own outline; leave it out, or change that'
        for key in unused:
            if getattr(self, key) != fields[key].default:
                raise InnerError(f"{key} {why}", key)


class Harness(Table):
    """Webbing, buckles and rings that hold the plate to the diver."""

    saying = frozenset({"drop"})  # the strap may say it instead
    catalogue: Name = None
    mass: Annotated[float, Quantity("mass", "mass of webbing, buckles and rings", "0.9 kg", "0.05 kg", "5 kg")]
    density: Annotated[
        float,
        Quantity("density", "mean density of webbing and metal together", "2200 kg/m^3", "800 kg/m^3", "8500 kg/m^3"),
    ]
    drop: Annotated[
        float,
        Quantity("length", "how far the waist strap's slots hang below the natural waist, midway between lowest rib "
                 "and hip bone; plus toward the feet", "0 cm", "-20 cm", "30 cm"),
    ] = 0.0  # fmt: skip
    shoulder_strap: Annotated[
        float | None,
        Quantity("length", "length of one shoulder strap, from its slot in the plate over the shoulder and under the "
                 "arm to the waist slot; says the same as drop", "62 cm", "20 cm", "200 cm"),
    ] = None  # fmt: skip

    @model_validator(mode="after")
    def _told_once(self) -> Self:
        if self.shoulder_strap is not None and "drop" in self.model_fields_set:
            raise ValueError("drop and shoulder_strap say the same thing; give one of them")
        return self


class Wing(Table):
    """The buoyancy bag on the back."""

    catalogue: Name = None
    cylinders: Annotated[Literal["single", "twin"], Field(description="What it is made to be worn with")]
    capacity: Annotated[float, Quantity("volume", "greatest gas the wing can hold", "18 l", "2 l", "60 l")]
    mass: Annotated[float, Quantity("mass", "mass of the empty wing", "1.6 kg", "0.1 kg", "6 kg")]
    density: Annotated[
        float,
        Quantity("density", "mean density of cloth, hose and valves", "1150 kg/m^3", "800 kg/m^3", "3000 kg/m^3"),
    ]
    length: Annotated[
        float, Quantity("length", "length of the empty wing from top to bottom", "60 cm", "20 cm", "100 cm")
    ]
    width: Annotated[float, Quantity("length", "width of the empty wing", "45 cm", "15 cm", "80 cm")]
    gas: Annotated[
        float | Literal["neutral"],
        Quantity("volume", "gas in the wing", "4 l", "0 l", "60 l", words=("neutral",)),
    ] = "neutral"
    softness: Annotated[float, Quantity("pressure", "softness p0 of the bag", "250 Pa", "20 Pa", "5 kPa")] = 250.0
    gas_time: Annotated[
        float, Quantity("time", "time in which gas evens out between parts of the wing", "0.5 s", "0.02 s", "60 s")
    ] = 0.5

    @model_validator(mode="after")
    def _fits(self) -> Self:
        if not isinstance(self.gas, str) and self.gas > self.capacity:
            raise ValueError(
                f"gas {self.gas * 1e3:g} l is more than the wing's capacity of {self.capacity * 1e3:g} l"
            )
        return self


_plate_from_catalogue = optional_from_catalogue("plate")


def plate_table(value: Any) -> Any:
    """Keys of a plate with those of its catalogue entry, less what the user's own put out of force.

    A drawing takes what it is made of from the entry, not its size; another material has another density.
    """
    table = _plate_from_catalogue(value)
    if not isinstance(value, dict) or not isinstance(table, dict) or not isinstance(value.get("catalogue"), str):
        return table
    unused: set[str] = set()
    if isinstance(value.get("file"), str):
        unused |= {*OF_BUILT_IN, *(OF_FLAT_DRAWINGS if _draws_solid(value["file"]) else ())}
    if value.get("material", table.get("material")) != _of_entry(value["catalogue"], "material"):
        unused.add("density")
    return {key: inner for key, inner in table.items() if key in value or key not in unused}


def _draws_solid(file: str) -> bool:
    return Path(file).suffix.lower() not in FLAT_DRAWINGS


def _of_entry(name: str, key: str) -> Any:
    return entry("plate", name).values.get(key)


OptionalPlate = Annotated[Plate | None, BeforeValidator(plate_table)]
OptionalHarness = Annotated[Harness | None, BeforeValidator(optional_from_catalogue("harness"))]
OptionalWing = Annotated[Wing | None, BeforeValidator(optional_from_catalogue("wing"))]
