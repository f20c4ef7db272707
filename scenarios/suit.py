"""Drysuits, wetsuits and what is worn under and beside them."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Discriminator, Field, Tag, model_validator

from scenarios.boots import OptionalBoots, with_boots
from scenarios.breathing import AIR_OXYGEN, SuitGas, amount_not_kind
from scenarios.catalogue.lookup import optional_from_catalogue
from scenarios.quantities import Quantity
from scenarios.table import Table

Name = Annotated[str | None, Field(description="Name of the catalogue entry the values come from")]
FoamDensity = Annotated[
    float,
    Quantity("density", "density of the neoprene foam at the surface", "180 kg/m^3", "80 kg/m^3", "1300 kg/m^3",
             "solid rubber is about 1300 kg/m^3"),
]  # fmt: skip
FoamStiffness = Annotated[
    float,
    Quantity("pressure", "elastic constant K of the foam: p0/(1 - e/phi) + K e = p at compression e", "1 bar",
             "0 bar", "20 bar"),
]  # fmt: skip
HoodThickness = Annotated[
    float, Quantity("length", "foam thickness of the hood, 0 for none", "5 mm", "0 mm", "12 mm")
]
GloveThickness = Annotated[
    float, Quantity("length", "foam thickness of the gloves, 0 for none", "5 mm", "0 mm", "12 mm")
]
BootThickness = Annotated[
    float | None,
    Quantity("length", "foam thickness of the boots, if not that of their kind; 0 for none worn", "5 mm", "0 mm",
             "12 mm"),
]  # fmt: skip
BootsMass = Annotated[
    float | None, Quantity("mass", "mass of the pair of boots, if weighed", "1.4 kg", "0.1 kg", "6 kg")
]
HoodMass = Annotated[float | None, Quantity("mass", "mass of the hood, if weighed dry", "0.3 kg", "0.05 kg", "2 kg")]
GlovesMass = Annotated[
    float | None, Quantity("mass", "mass of the pair of gloves, if weighed dry", "0.25 kg", "0.05 kg", "2 kg")
]


class Undergarment(Table):
    """Insulation under a drysuit: the gas it holds, and how it yields to a squeeze (van Wyk's law)."""

    catalogue: Name = None
    loft: Annotated[float, Quantity("length", "thickness of the relaxed undergarment", "10 mm", "0.5 mm", "40 mm")]
    stiffness: Annotated[
        float,
        Quantity("pressure", "squeeze that thins the undergarment to 79 % of its relaxed thickness", "570 Pa",
                 "20 Pa", "20 kPa"),
    ]  # fmt: skip
    mass_per_area: Annotated[
        float, Quantity("mass per area", "mass of the undergarment's cloth", "450 g/m^2", "30 g/m^2", "3 kg/m^2")
    ]
    fibre_density: Annotated[
        float, Quantity("density", "density of the fibre itself", "1380 kg/m^3", "850 kg/m^3", "1600 kg/m^3")
    ]
    mass: Annotated[
        float | None, Quantity("mass", "mass of the whole undergarment, if weighed", "1.6 kg", "0.1 kg", "8 kg")
    ] = None
    on_limbs: Annotated[
        float,
        Quantity("fraction", "its thickness on arms and legs, of that on the trunk", "80 %", "20 %", "150 %"),
    ] = 0.8


class FlatWidths(Table):
    """How wide the suit is, laid flat and empty: with a tape across each place, from edge to edge.

    What is not given is taken from the diver's girths, the undergarment and the slack.
    """

    chest: Annotated[
        float | None, Quantity("length", "width of the suit, laid flat, under the arms", "60 cm", "25 cm", "1 m")
    ] = None
    waist: Annotated[
        float | None, Quantity("length", "width of the suit, laid flat, at the waist", "55 cm", "25 cm", "1 m")
    ] = None
    hips: Annotated[
        float | None, Quantity("length", "width of the suit, laid flat, at the hips", "58 cm", "25 cm", "1 m")
    ] = None
    thigh: Annotated[
        float | None,
        Quantity("length", "width of the suit, laid flat, of a leg just below the crotch", "35 cm", "15 cm", "60 cm"),
    ] = None
    knee: Annotated[
        float | None,
        Quantity("length", "width of the suit, laid flat, of a leg at the knee", "26 cm", "12 cm", "45 cm"),
    ] = None
    calf: Annotated[
        float | None,
        Quantity(
            "length", "width of the suit, laid flat, of a leg at the widest of the calf", "24 cm", "10 cm", "45 cm"
        ),
    ] = None
    ankle: Annotated[
        float | None,
        Quantity("length", "width of the suit, laid flat, of a leg above the boot", "19 cm", "8 cm", "35 cm"),
    ] = None
    upper_arm: Annotated[
        float | None,
        Quantity("length", "width of the suit, laid flat, of a sleeve at the upper arm", "22 cm", "9 cm", "40 cm"),
    ] = None
    forearm: Annotated[
        float | None,
        Quantity("length", "width of the suit, laid flat, of a sleeve at the forearm", "18 cm", "8 cm", "35 cm"),
    ] = None
    cuff: Annotated[
        float | None,
        Quantity(
            "length", "width of the suit, laid flat, of a sleeve above the wrist seal", "12 cm", "6 cm", "25 cm"
        ),
    ] = None
    heel_girth: Annotated[
        float | None,
        Quantity("length", "girth of heel and instep, in the sock, over which the leg is pulled on", "34 cm",
                 "24 cm", "50 cm"),
    ] = None  # fmt: skip


def _check_worn(suit: DrySuit | Wetsuit) -> None:
    """Refuse a hood or gloves that were weighed but are not worn."""
    for name, mass, thickness in (
        ("hood", suit.hood_mass, suit.hood_thickness),
        ("gloves", suit.gloves_mass, suit.gloves_thickness),
    ):
        if mass is not None and not thickness > 0.0:
            raise ValueError(f'{name}_mass is given, but no {name} worn; add {name}_thickness, like "5 mm"')
    if suit.boots is None and (suit.boots_mass is not None or suit.boots_thickness):
        raise ValueError('boots are described, but none worn; write boots = "attached rubber" or another kind')


class DrySuit(Table):
    """A drysuit with its undergarment and the gas in it."""

    saying = frozenset({"softness", "free_room"})  # of another law than the usual one
    kind: Annotated[Literal["dry"], Field(description="A drysuit")]
    catalogue: Name = None
    material: Annotated[str, Field(description="What the shell is made of, in words", max_length=60)]
    mass_per_area: Annotated[
        float, Quantity("mass per area", "mass of the shell's cloth", "450 g/m^2", "50 g/m^2", "8 kg/m^2")
    ]
    thickness: Annotated[float, Quantity("length", "thickness of the shell", "0.5 mm", "0.05 mm", "10 mm")]
    foam_stiffness: Annotated[
        float | None,
        Quantity("pressure", "elastic constant K of a shell of foam; leave out for a shell that does not compress",
                 "3 bar", "0 bar", "20 bar"),
    ] = None  # fmt: skip
    mass: Annotated[
        float | None,
        Quantity("mass", "mass of the whole suit without undergarment, if weighed", "3.6 kg", "0.5 kg", "12 kg"),
    ] = None
    fittings_mass: Annotated[
        float, Quantity("mass", "zip, valves, seals and braces together", "0.8 kg", "0 kg", "4 kg")
    ]
    undergarment: Annotated[
        Undergarment | None,
        BeforeValidator(optional_from_catalogue("undergarment")),
        Field(description="Insulation worn under it"),
    ] = None
    slack: Annotated[
        float,
        Quantity("length", "how far the shell can lift off the relaxed undergarment before it is taut", "8 mm",
                 "0.1 mm", "60 mm"),
    ]  # fmt: skip
    widths: Annotated[FlatWidths, Field(description="Widths of the suit laid flat, as measured")] = FlatWidths()
    gas: Annotated[
        float | Literal["vented", "comfortable"],
        Quantity("volume", "gas in the suit at the diver's depth; \"vented\" is what the last venting left, "
                 "\"comfortable\" what takes the squeeze off the back",
                 "10 l", "0 l", "60 l", words=("vented", "comfortable")),
        BeforeValidator(amount_not_kind),
    ] = "vented"  # fmt: skip
    inflation: Annotated[
        SuitGas,
        Field(description='Kind of gas that the suit is inflated with: "air", "argon", "nitrox 32", "trimix 18/45"'),
    ] = SuitGas(name="air", oxygen=AIR_OXYGEN)
    vented_head_up: Annotated[
        float,
        Quantity(
            "angle", "how far head-up the trunk was when the suit was last vented", "30 deg", "-30 deg", "90 deg"
        ),
    ] = 0.5235987755982988  # 30 degrees, assumed: on the way up or on arriving, feet low (common practice)
    vented_left_up: Annotated[
        float,
        Quantity("angle", "how far the left side was up then", "0 deg", "-90 deg", "90 deg"),
    ] = 0.0
    vented_arm_lift: Annotated[
        float,
        Quantity("angle", "how far above level the arm with the exhaust valve was lifted then", "30 deg", "-30 deg",
                 "90 deg"),
    ] = 0.5235987755982988  # fmt: skip
    valve_place: Annotated[
        Literal["left upper arm", "left wrist"], Field(description="Where the exhaust valve sits")
    ] = "left upper arm"
    comfort_squeeze: Annotated[
        float,
        Quantity("pressure", "squeeze left on the back of the trunk when the suit is filled comfortably",
                 "0 kPa", "-2 kPa", "5 kPa"),
    ] = 0.0  # fmt: skip
    fill_law: Annotated[
        Literal["garment", "logistic"],
        Field(description='How the gas fills the suit: "garment" from loft, stiffness and slack, or "logistic" from '
              "free_room and softness"),
    ] = "garment"  # fmt: skip
    softness: Annotated[
        float, Quantity("pressure", "softness p0 of the logistic law", "600 Pa", "50 Pa", "10 kPa")
    ] = 600.0
    free_room: Annotated[
        float | None,
        Quantity("volume", "greatest gas the suit can hold, for the logistic law", "20 l", "0.5 l", "80 l"),
    ] = None
    valve_pressure: Annotated[
        float,
        Quantity(
            "pressure",
            "excess over the water at which the exhaust valve, as it is set, lets gas go",
            "0.3 kPa",
            "0 kPa",
            "10 kPa",
            "open valves let go at 0.1 kPa, shut ones at about 2",
        ),
    ] = 300.0
    gas_time: Annotated[
        float, Quantity("time", "time in which gas evens out between parts of the suit", "2 s", "0.05 s", "60 s")
    ] = 2.0
    foam_density: FoamDensity = 180.0
    hood_thickness: HoodThickness = 0.005
    hood_mass: HoodMass = None
    gloves_thickness: GloveThickness = 0.0
    gloves_mass: GlovesMass = None
    boots: OptionalBoots = None  # the usual ones are filled in before
    boots_thickness: BootThickness = None
    boots_mass: BootsMass = None
    gaiters: Annotated[bool, Field(description="Straps round the shanks that keep gas out of the lower legs")] = False
    gaiter_pressure: Annotated[
        float, Quantity("pressure", "how hard the gaiters press", "3 kPa", "0.2 kPa", "20 kPa")
    ] = 3000.0
    boots_room: Annotated[
        float,
        Quantity("fraction", "gas that a boot holds round the foot, of what the undergarment would hold there",
                 "50 %", "0 %", "300 %"),
    ] = 0.5  # fmt: skip

    @model_validator(mode="before")
    @classmethod
    def _usual_boots(cls, data: Any) -> Any:
        return with_boots(data, "attached rubber")

    @model_validator(mode="after")
    def _complete(self) -> Self:
        _check_worn(self)
        return self


class Wetsuit(Table):
    """A wetsuit of foam neoprene, which thins with depth."""

    kind: Annotated[Literal["wet"], Field(description="A wetsuit")]
    catalogue: Name = None
    thickness: Annotated[float, Quantity("length", "thickness of the suit at the surface", "5 mm", "0.3 mm", "14 mm")]
    foam_density: FoamDensity
    foam_stiffness: FoamStiffness
    lining: Annotated[
        float,
        Quantity("mass per area", "mass of the cloth on both sides together", "160 g/m^2", "0 g/m^2", "1 kg/m^2"),
    ]
    mass: Annotated[
        float | None, Quantity("mass", "mass of the dry suit, if weighed", "3.2 kg", "0.2 kg", "10 kg")
    ] = None
    hood_thickness: HoodThickness = 0.0
    hood_mass: HoodMass = None
    gloves_thickness: GloveThickness = 0.0
    gloves_mass: GlovesMass = None
    boots: OptionalBoots = None  # the usual ones are filled in before
    boots_thickness: BootThickness = None
    boots_mass: BootsMass = None

    @model_validator(mode="before")
    @classmethod
    def _usual_boots(cls, data: Any) -> Any:
        return with_boots(data, "neoprene")

    @model_validator(mode="after")
    def _complete(self) -> Self:
        _check_worn(self)
        return self


def _kind_of_suit(value: Any) -> str | None:
    return value.get("kind") if isinstance(value, dict) else getattr(value, "kind", None)


AnySuit = Annotated[
    Annotated[DrySuit, Tag("dry")] | Annotated[Wetsuit, Tag("wet")],
    Discriminator(
        _kind_of_suit,
        custom_error_type="no_kind",
        custom_error_message='say which suit: catalogue = "trilaminate" (or another entry), or kind = "dry" or "wet"',
    ),
]
OptionalSuit = Annotated[AnySuit | None, BeforeValidator(optional_from_catalogue("suit"))]
