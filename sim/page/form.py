"""What the page lets people set: what matters most, in the order in which people dress, and all else on demand.

The fields that are shown at once stand here; all others are read off the keys of a scenario, so that none is missing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Annotated, Final

from scenarios.catalogue import Section, entries
from scenarios.joint_names import joint_ranges
from scenarios.materials import materials
from scenarios.measure_names import measures
from scenarios.scenario_keys import ScenarioKey, scenario_keys
from sim.telling.record import Told

CHOICE: Final = "choice"
TEXT: Final = "text"
SWITCH: Final = "switch"
# set by a drawing that is dropped in, shown as a group of its own, and said by the entry chosen
NOT_HERE: Final = ("plate.file", "plate.bends", "suit.kind")
VALUE: Final = "value"  # a number, or a list in square brackets


@dataclass(frozen=True)
class Range:
    """A range in one unit."""

    low: Annotated[float, Told("least")]
    high: Annotated[float, Told("greatest")]
    step: Annotated[float, Told("from one to the next")]
    unit: Annotated[str, Told("as users write it")]


@dataclass(frozen=True)
class Slider:
    """A range to slide through, in the unit of the field."""

    low: Annotated[float, Told("least")]
    high: Annotated[float, Told("greatest")]
    step: Annotated[float, Told("from one to the next")]
    unit: Annotated[str, Told("as users write it")]
    other: Annotated[Range | None, Told("the same for those who measure in feet and pounds", none="alike")] = None


@dataclass(frozen=True)
class Field:
    """One field of the page."""

    key: Annotated[str, Told("key of the scenario, dotted; below the list's entry where the group is a list")]
    label: Annotated[str, Told("what stands before it")]
    kind: Annotated[str, Told("choice, text, switch or value")]
    hint: Annotated[str, Told("what may be written")] = ""
    choices: Annotated[tuple[str, ...], Told("what may be chosen")] = ()
    slider: Annotated[Slider | None, Told("a range to slide through", none="none")] = None
    keeps: Annotated[tuple[str, ...], Told("keys of its table that stay when another entry is chosen")] = ()
    meaning: Annotated[str, Told("what it is, and what is believed of it")] = ""
    only: Annotated[tuple[str, ...], Told("entries of the catalogue to which it belongs; empty for all")] = ()


@dataclass(frozen=True)
class Group:
    """Fields that belong together; ``table`` is the list that they are entries of, "" for none."""

    title: Annotated[str, Told("heading")]
    fields: Annotated[tuple[Field, ...], Told("fields that are shown at once")]
    table: Annotated[str, Told("the list of the scenario whose entries these are; empty for none")] = ""
    more: Annotated[tuple[Field, ...], Told("all others, shown on demand")] = ()
    fresh: Annotated[Mapping[str, str], Told("what a new entry of the list says", names="<key>")] = field(
        default_factory=dict
    )
    needs: Annotated[str, Told("key without which the group means nothing; empty for none")] = ""


@cache
def form() -> tuple[Group, ...]:
    """Every group, with the catalogue's entries as they are now."""
    known = {k.key: k for k in scenario_keys()}
    groups = (
        (Group("Person", tuple(_person())), ("diver", "title")),
        (Group("Water", tuple(_water())), ("water",)),
        (Group("Suit", tuple(_suit())), ("suit",)),
        (Group("Plate and harness", tuple(_plate())), ("plate", "harness")),
        (Group("Bends of the drawn plate", tuple(_bends()), "plate.bends",
               fresh={"offset": "35 mm", "angle": "45 deg"}, needs="plate.file"), ("plate.bends.N",)),
        (Group("Cylinders and wing", tuple(_cylinders())), ("cylinders", "wing")),
        (Group("Rebreather", tuple(_rebreather())), ("rebreather",)),
        (Group("Fins and pose", tuple(_fins())), ("fins", "pose")),
        (Group("Lead", tuple(_lead()), "lead", fresh={"mass": "1 kg", "place": "belt"}), ("lead.N",)),
        (Group("Stages and other gear", tuple(_gear()), "gear", fresh={"catalogue": "mask"}), ("gear.N",)),
        (Group("Reach and stiff joints", ()), ("fit",)),
    )  # fmt: skip
    return tuple(_completed(group, tables, known) for group, tables in groups)


def _completed(group: Group, tables: tuple[str, ...], known: Mapping[str, ScenarioKey]) -> Group:
    """The group with the meaning of each field, and all keys of its tables that it does not show."""
    above = f"{group.table}.N." if group.table else ""
    told = {f"{above}{f.key}": f for f in group.fields}
    fields = tuple(
        replace(one, meaning=known[key].meaning) if key in known and not one.meaning else one
        for key, one in told.items()
    )
    others = [
        _other(key, key.key[len(above) :])
        for key in known.values()
        if key.key not in told
        and any(key.key == t or key.key.startswith(f"{t}.") for t in tables)
        and key.shape != "table"
        and key.key not in NOT_HERE
        and ".N." not in key.key[len(above) :]
    ]
    if "diver" in tables:
        others += [f for f in _measures() if f.key not in told]
    if "pose" in tables:
        others += [f for f in _joints() if f.key not in told]
    return replace(group, fields=fields, more=tuple(others))


def _other(key: ScenarioKey, below: str) -> Field:
    """A field read off a key."""
    steps = below.split(".")
    label = ", ".join(steps[-2:] if len(steps) > 2 else steps[-1:]).replace("_", " ")
    shape = {"switch": SWITCH, "number": VALUE, "list": VALUE}.get(key.shape, TEXT)
    choices = key.choices if shape == TEXT and not key.example else ()
    return Field(below, label, CHOICE if choices else shape, key.example, choices, meaning=key.meaning)


def _measures() -> Iterator[Field]:
    for one in measures():
        meaning = f"{one.name}, by tape or calliper; {100 * one.least:.0f} to {100 * one.most:.0f} cm are believed"
        yield Field(f"diver.measures.{one.name}", one.name, TEXT, "if measured", meaning=meaning)


def _joints() -> Iterator[Field]:
    for name, (low, high) in joint_ranges().items():
        sliding = Slider(low, high, 5, "deg")
        yield Field(f"pose.joints.{name}", name, TEXT, "as in the pose", slider=sliding)


def _entries(section: Section, *, none: bool = True) -> tuple[str, ...]:
    return (*entries(section), *(("none",) if none else ()))


def _person() -> Iterator[Field]:
    yield Field("diver.sex", "sex", CHOICE, choices=("female", "male"))
    yield Field("diver.height", "height", TEXT, "166 cm", slider=Slider(145, 205, 1, "cm", Range(57, 81, 0.5, "in")))
    yield Field("diver.mass", "mass, bare", TEXT, "58 kg", slider=Slider(40, 130, 1, "kg", Range(88, 286, 1, "lb")))
    yield Field("diver.age", "age", TEXT, "34 years", slider=Slider(16, 75, 1, "years"))
    yield Field("diver.measures.waist girth", "waist girth", TEXT, "if measured",
                slider=Slider(55, 130, 0.5, "cm", Range(22, 51, 0.5, "in")))  # fmt: skip
    yield Field("diver.body_fat", "body fat", TEXT, "if measured", slider=Slider(5, 50, 1, "%"))
    levels = ("relaxed", "mid-breath", "breathed in", "full", "empty")
    yield Field("diver.breathing_level", "breath", CHOICE, choices=levels)


def _water() -> Iterator[Field]:
    yield Field("water.kind", "water", CHOICE, choices=("sea", "fresh", "brackish"))
    yield Field("water.depth", "depth", TEXT, "10 m", slider=Slider(1, 60, 1, "m", Range(3, 200, 1, "ft")))
    yield Field("water.temperature", "temperature", TEXT, "10 °C",
                slider=Slider(0, 30, 1, "°C", Range(32, 86, 1, "°F")))  # fmt: skip


def _suit() -> Iterator[Field]:
    yield Field("suit.catalogue", "suit", CHOICE, choices=_entries("suit"))
    yield Field("suit.undergarment.catalogue", "undergarment", CHOICE, choices=_entries("undergarment", none=False))
    yield Field("suit.gas", "gas in the suit", TEXT, "vented, comfortable or 10 l", slider=Slider(0, 25, 0.5, "l"))
    yield Field("suit.gaiters", "gaiters", SWITCH)


def _plate() -> Iterator[Field]:
    yield Field("plate.catalogue", "plate", CHOICE, choices=_entries("plate"))
    yield Field("plate.material", "made of", CHOICE, choices=tuple(materials()))
    yield Field("plate.thickness", "thickness of the sheet", TEXT, "3 mm",
                slider=Slider(1, 8, 0.5, "mm", Range(0.04, 0.32, 0.01, "in")))  # fmt: skip
    yield Field("harness.catalogue", "harness", CHOICE, choices=_entries("harness"), keeps=("drop",))
    yield Field("harness.drop", "waist slots below the waist", TEXT, "0 cm",
                slider=Slider(-6, 10, 0.5, "cm", Range(-2.5, 4, 0.25, "in")))  # fmt: skip


def _bends() -> Iterator[Field]:
    yield Field("offset", "from the middle line", TEXT, "35 mm")
    yield Field("angle", "turned toward the diver by", TEXT, "45 deg", slider=Slider(-90, 90, 1, "deg"))


def _cylinders() -> Iterator[Field]:
    kept = ("gas", "pressure", "shift")
    names = tuple(f"{many} {name}" for many in ("single", "twin") for name in entries("cylinders"))
    bar = Slider(0, 300, 5, "bar", Range(0, 4300, 50, "psi"))
    yield Field("cylinders.catalogue", "cylinders", CHOICE, choices=(*names, "none"), keeps=kept)
    yield Field("cylinders.gas", "gas", TEXT, "air, nitrox 32, trimix 18/45",
                meaning='Breathing gas as divers write it: "air", "nitrox 32", "trimix 18/45"')  # fmt: skip
    yield Field("cylinders.pressure", "pressure", TEXT, "200 bar", slider=bar)
    yield Field("cylinders.shift", "moved headward in the bands", TEXT, "0 cm",
                slider=Slider(-10, 10, 0.5, "cm", Range(-4, 4, 0.25, "in")))  # fmt: skip
    yield Field("wing.catalogue", "wing", CHOICE, choices=_entries("wing"), keeps=("gas",))
    yield Field("wing.gas", "gas in the wing", TEXT, "neutral or 6 l", slider=Slider(0, 20, 0.5, "l"))


def _rebreather() -> Iterator[Field]:
    kept = ("loop_gas", "oxygen", "diluent")
    bar = Slider(0, 300, 5, "bar", Range(0, 4300, 50, "psi"))
    yield Field("rebreather.catalogue", "rebreather", CHOICE, choices=_entries("rebreather"), keeps=kept)
    yield Field("rebreather.counterlungs", "counterlungs", CHOICE, choices=("back", "shoulders", "chest"))
    yield Field("rebreather.loop_gas", "gas in the loop", TEXT, "2 l", slider=Slider(0.5, 6, 0.25, "l"))
    yield Field("rebreather.oxygen.pressure", "oxygen, pressure", TEXT, "150 bar", slider=bar)
    yield Field("rebreather.diluent.pressure", "diluent, pressure", TEXT, "180 bar", slider=bar)


def _fins() -> Iterator[Field]:
    yield Field("fins.catalogue", "fins", CHOICE, choices=_entries("fins"), keeps=("straps",))
    yield Field("fins.straps", "straps", CHOICE, choices=("rubber", "steel springs"))
    poses = ("flat, knees bent", "flat, legs straight", "arms ahead", "arms at sides", "upright")
    yield Field("pose.name", "pose", CHOICE, choices=poses, keeps=("joints",))
    for joint, label, low, high in (
        ("knee flexion", "knees bent by", 0, 130),
        ("hip flexion", "hips bent by", -20, 60),
        ("shoulder flexion", "arms raised by", -30, 180),
    ):
        sliding = Slider(low, high, 5, "deg")
        yield Field(f"pose.joints.{joint}", label, TEXT, "as in the pose", slider=sliding,
                    meaning=f"{joint}, both sides alike; else as the pose has it")  # fmt: skip


def _lead() -> Iterator[Field]:
    yield Field("mass", "lead", TEXT, "2 kg", slider=Slider(0.5, 10, 0.5, "kg", Range(1, 22, 1, "lb")))
    places = ("belt", "plate channel", "tail", "between cylinders", "upper band", "ankles")
    yield Field("place", "worn", CHOICE, choices=places)


def _gear() -> Iterator[Field]:
    stages = tuple(n for n, e in entries("gear").items() if e.values.get("kind") == "stage")
    bar = Slider(0, 300, 5, "bar", Range(0, 4300, 50, "psi"))
    kept = ("name",)
    yield Field("catalogue", "item", CHOICE, choices=_entries("gear", none=False), keeps=kept)
    yield Field("name", "called", TEXT, "as the catalogue does")
    yield Field("side", "side", CHOICE, choices=("left", "right"), only=stages)
    yield Field("pressure", "pressure", TEXT, "200 bar", slider=bar, only=stages)
    yield Field("gas", "gas", TEXT, "air, nitrox 50, oxygen", only=stages,
                meaning='Breathing gas as divers write it: "air", "nitrox 50", "oxygen"')  # fmt: skip
