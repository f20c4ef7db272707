"""What the page lets people set: the keys of a scenario that matter most, in the order in which people dress."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Final

from scenarios.catalogue import Section, entries
from sim.telling.record import Told

CHOICE: Final = "choice"
TEXT: Final = "text"
SWITCH: Final = "switch"


@dataclass(frozen=True)
class Slider:
    """A range to slide through, in the unit of the field."""

    low: Annotated[float, Told("least")]
    high: Annotated[float, Told("greatest")]
    step: Annotated[float, Told("from one to the next")]
    unit: Annotated[str, Told("as users write it")]


@dataclass(frozen=True)
class Field:
    """One field of the page."""

    key: Annotated[str, Told("key of the scenario, dotted")]
    label: Annotated[str, Told("what stands before it")]
    kind: Annotated[str, Told("choice, text or switch")]
    hint: Annotated[str, Told("what may be written")] = ""
    choices: Annotated[tuple[str, ...], Told("what may be chosen")] = ()
    slider: Annotated[Slider | None, Told("a range to slide through", none="none")] = None
    keeps: Annotated[tuple[str, ...], Told("keys of its table that stay when another entry is chosen")] = ()


@dataclass(frozen=True)
class Group:
    """Fields that belong together; ``table`` is the list that they are entries of, "" for none."""

    title: Annotated[str, Told("heading")]
    fields: Annotated[tuple[Field, ...], Told("fields")]
    table: Annotated[str, Told("the list of the scenario whose entries these are; empty for none")] = ""


def form() -> tuple[Group, ...]:
    """Every group, with the catalogue's entries as they are now."""
    return (
        Group("Person", tuple(_person())),
        Group("Water", tuple(_water())),
        Group("Suit", tuple(_suit())),
        Group("Plate and harness", tuple(_plate())),
        Group("Cylinders and wing", tuple(_cylinders())),
        Group("Fins and pose", tuple(_fins())),
        Group("Lead", tuple(_lead()), "lead"),
        Group("Other gear", (Field("catalogue", "item", CHOICE, choices=_entries("gear", none=False)),), "gear"),
    )


def _entries(section: Section, *, none: bool = True) -> tuple[str, ...]:
    return (*entries(section), *(("none",) if none else ()))


def _person() -> Iterator[Field]:
    yield Field("diver.sex", "sex", CHOICE, choices=("female", "male"))
    yield Field("diver.height", "height", TEXT, "166 cm", slider=Slider(145, 205, 1, "cm"))
    yield Field("diver.mass", "mass, bare", TEXT, "58 kg", slider=Slider(40, 130, 1, "kg"))
    yield Field("diver.age", "age", TEXT, "34 years", slider=Slider(16, 75, 1, "years"))
    yield Field("diver.measures.waist_girth", "waist girth", TEXT, "72 cm, if measured")
    yield Field("diver.body_fat", "body fat", TEXT, "24 %, if measured")
    levels = ("relaxed", "mid-breath", "breathed in", "full", "empty")
    yield Field("diver.breathing_level", "breath", CHOICE, choices=levels)


def _water() -> Iterator[Field]:
    yield Field("water.kind", "water", CHOICE, choices=("sea", "fresh", "brackish"))
    yield Field("water.depth", "depth", TEXT, "10 m", slider=Slider(1, 60, 1, "m"))
    yield Field("water.temperature", "temperature", TEXT, "10 °C", slider=Slider(0, 30, 1, "°C"))


def _suit() -> Iterator[Field]:
    yield Field("suit.catalogue", "suit", CHOICE, choices=_entries("suit"))
    yield Field("suit.undergarment", "undergarment", CHOICE, choices=_entries("undergarment", none=False))
    yield Field(
        "suit.gas", "gas in the suit", TEXT, '"vented", "comfortable" or 10 l', slider=Slider(0, 25, 0.5, "l")
    )
    yield Field("suit.gaiters", "gaiters", SWITCH)


def _plate() -> Iterator[Field]:
    yield Field("plate.catalogue", "plate", CHOICE, choices=_entries("plate"))
    yield Field("harness.catalogue", "harness", CHOICE, choices=_entries("harness"), keeps=("drop",))
    yield Field("harness.drop", "waist slots below the waist", TEXT, "0 cm", slider=Slider(-6, 10, 0.5, "cm"))


def _cylinders() -> Iterator[Field]:
    kept = ("gas", "pressure", "shift")
    yield Field("cylinders.catalogue", "cylinders", CHOICE, choices=_entries("cylinders"), keeps=kept)
    yield Field("cylinders.gas", "gas", TEXT, "air, nitrox 32, trimix 18/45")
    yield Field("cylinders.pressure", "pressure", TEXT, "200 bar", slider=Slider(0, 300, 5, "bar"))
    yield Field("cylinders.shift", "moved headward in the bands", TEXT, "0 cm", slider=Slider(-10, 10, 0.5, "cm"))
    yield Field("wing.catalogue", "wing", CHOICE, choices=_entries("wing"), keeps=("gas",))
    yield Field("wing.gas", "gas in the wing", TEXT, '"neutral" or 6 l', slider=Slider(0, 20, 0.5, "l"))


def _fins() -> Iterator[Field]:
    yield Field("fins.catalogue", "fins", CHOICE, choices=_entries("fins"), keeps=("straps",))
    yield Field("fins.straps", "straps", CHOICE, choices=("rubber", "steel springs"))
    poses = ("flat, knees bent", "flat, legs straight", "arms ahead", "arms at sides", "upright")
    yield Field("pose.name", "pose", CHOICE, choices=poses, keeps=("joints",))
    bent = Slider(0, 130, 5, "deg")
    yield Field("pose.joints.knee flexion", "knees bent by", TEXT, "90 deg", slider=bent)


def _lead() -> Iterator[Field]:
    yield Field("mass", "lead", TEXT, "2 kg", slider=Slider(0.5, 10, 0.5, "kg"))
    places = ("belt", "plate channel", "tail", "between cylinders", "upper band", "ankles")
    yield Field("place", "worn", CHOICE, choices=places)
