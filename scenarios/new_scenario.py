"""A first scenario file for a person: complete, commented, ready to be edited by someone who knows no programming."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from typing import Final, Literal

from scenarios.catalogue import entries
from scenarios.toml_text import quoted
from scenarios.units import parse

NONE: Final = "none"
USUAL_CYLINDERS: Final = {"one": "steel 12 l 232 bar", "two": "steel 8.5 l 232 bar"}
USUAL_PLATES: Final = {"long": ("standard steel", "standard aluminium"), "short": ("small steel", "small aluminium")}
COLUMN: Final = 34  # at which comments stand
LARGE: Final = 0.0145  # m^3
MOST_NAMED: Final = 4  # entries of the catalogue in a comment
Count = Literal["one", "two"]


@dataclass(frozen=True)
class NewScenario:
    """What a file is to say.

    sex : "female" or "male";  height, mass, body_fat, lead : with unit, kept as written ("5 ft 5 in"); of the last
    two "" where there is none to tell;  trained : for a sport, on most days of the week
    suit, undergarment, cylinders, plate : entries of the catalogue, or "none" for no suit;  lead_words : why so much
    invented : which of sex, height and mass are nobody's
    """

    sex: str
    height: str
    mass: str
    body_fat: str = ""
    trained: bool = False
    suit: str = "trilaminate"
    undergarment: str = "medium"
    count: Count = "two"
    cylinders: str = USUAL_CYLINDERS["two"]
    plate: str = USUAL_PLATES["long"][0]
    lead: str = ""
    lead_words: str = ""
    invented: tuple[str, ...] = ()
    title: str = ""


def is_dry(suit: str) -> bool:
    """Whether an entry of the catalogue is a drysuit."""
    return suit != NONE and entries("suit")[suit].values["kind"] == "dry"


def new_scenario_text(new: NewScenario) -> str:
    """Text of a scenario file for a person, with common gear and every other key explained in comments.

    Raises ScenarioError when what it is to say cannot be read.
    """
    from scenarios.reading import scenario_of

    text = "\n".join([_HEAD, _title(new), _diver(new), _WATER, _suit(new), _back(new), _rest(new)])
    scenario_of(tomllib.loads(text), "new scenario")
    return text


def _line(key: str, value: str, comment: str = "", *, used: bool = True, invented: bool = False) -> str:
    """One key, commented out if it is not ``used``, with what there is to say of it."""
    said = "; ".join(filter(None, (_INVENTED if invented else "", comment)))
    return _said(f"{key} = {value}", said, used=used)


def _said(code: str, comment: str, *, used: bool = True) -> str:
    line = f"{'' if used else '# '}{code}"
    return f"{line:<{COLUMN - 1}} # {comment}" if comment else line


def _or(section: Literal["suit", "undergarment", "boots", "fins", "plate", "wing"], but: str) -> str:
    """The other names of a section."""
    others = [quoted(n) for n in entries(section) if n != but]
    return f"or {', '.join(others[:MOST_NAMED])}{' ...' if len(others) > MOST_NAMED else ''}"


def _title(new: NewScenario) -> str:
    height, mass = "height" in new.invented, "mass" in new.invented
    title = new.title or (_BOTH if height and mass else _HEIGHT if height else _MASS if mass else "")
    return f"title = {quoted(title)}\n" if title else ""


def _diver(new: NewScenario) -> str:
    invented = new.invented
    return "\n".join(
        [
            "[diver]",
            _line("sex", quoted(new.sex), invented="sex" in invented),
            _line("height", quoted(new.height), "without shoes", invented="height" in invented),
            _line("mass", quoted(new.mass), "without clothes", invented="mass" in invented),
            _line("age", '"34 years"', "the most useful thing to add, with a waist girth", used=False),
            _line(
                "body_fat", quoted(new.body_fat or "24 +- 3 %"),
                "most have 10 to 35 %: by calipers, a scan or a weighing under water; or instead",
                used=bool(new.body_fat),
            ),
            _line(
                "trained", "true", "trains for a sport on most days: leaner, so denser, than others of like size",
                used=new.trained,
            ),
            _MEASURES,
        ]
    )  # fmt: skip


def _suit(new: NewScenario) -> str:
    if new.suit == NONE:
        none = _line("catalogue", '"wetsuit 3 mm"', _or("suit", "wetsuit 3 mm"), used=False)
        return f"{_said('[suit]', 'none is worn; with one:', used=False)}\n{none}\n"
    lines = ["[suit]", _line("catalogue", quoted(new.suit), _or("suit", new.suit))]
    if not is_dry(new.suit):
        return "\n".join([*lines, 'boots = "neoprene"                # or "none"', ""])
    lines.append(_line("undergarment", quoted(new.undergarment), f"{_or('undergarment', new.undergarment)}, {_NONE}"))
    return "\n".join([*lines, _DRY])


def _back(new: NewScenario) -> str:
    many = new.count == "two"
    name = f"twin {new.cylinders}" if many else new.cylinders
    other = "steel 12 l 232 bar" if new.cylinders != "steel 12 l 232 bar" else "aluminium 11.1 l 207 bar"
    wing = ("large twin" if new.cylinders in _large() else "twin") if many else "single"
    return "\n".join(
        [
            "[plate]",
            _line("catalogue", quoted(new.plate), _or("plate", new.plate)),
            _line("mass", '"2.9 kg"', "weigh yours: it counts more than anything else here", used=False),
            "",
            "[harness]",
            'catalogue = "one-piece webbing"',
            "",
            "[cylinders]",
            _line("catalogue", quoted(name), f'or {quoted(other)}, {quoted("twin " + other)} ...'),
            _line("gas", '"air"', 'or "nitrox 32", "trimix 18/45", "oxygen"'),
            _line("pressure", '"200 bar"', "as the gauge shows now"),
            _line("shift", '"-2.5 cm"', "bands as high as they go: the valves are heavy", used=many),
            "",
            "[wing]",
            _line("catalogue", quoted(wing), _or("wing", wing)),
            _line("gas", '"neutral"', 'or a volume, like "4 l"'),
            "",
        ]
    )  # fmt: skip


def _large() -> frozenset[str]:
    """Cylinders of which two, full, sink with more than a wing of 20 l holds up where there is no suit to float."""
    sizes = {name: parse("volume", str(e.values["water_capacity"])) for name, e in entries("cylinders").items()}
    return frozenset(name for name, size in sizes.items() if size >= LARGE)


def _rest(new: NewScenario) -> str:
    fins = "rubber" if new.suit == NONE or is_dry(new.suit) else "plastic"
    worn = bool(new.lead)
    return "\n".join(
        [
            "[fins]",
            _line("catalogue", quoted(fins), _or("fins", fins)),
            "",
            _POSE,
            _said("[[lead]]", "as many of these as there are places", used=worn),
            _line("mass", quoted(new.lead or "1 kg"), new.lead_words, used=worn),
            _line("place", '"belt"', _PLACES, used=worn),
            "",
            _GEAR,
        ]
    )


_INVENTED: Final = "invented: put in the diver's own"
_BOTH: Final = "invented height and mass"
_HEIGHT: Final = "invented height"
_MASS: Final = "invented mass"
_NONE: Final = '"none"'
_PLACES: Final = 'or "plate channel", "tail", "between cylinders", "upper band", "ankles"'
_HEAD: Final = """\
# Scenario for hangflat. Lines that begin with # are comments: take the # away to use one.
# Every quantity is text in quotes with its unit: "166 cm", "5 ft 5 in", "12 l", "200 bar", "3000 psi", "95 deg".
# "hangflat catalogue" lists the names of gear; "hangflat settle FILE" says how the diver hangs in the water.
format = "scenario/1\""""
_MEASURES: Final = """\
# lung_gas = "3.2 l"              # gas in the chest, if known; else estimated
breathing_level = "mid-breath"    # or "relaxed", "breathed in", "full", "empty"

# [diver.measures]                # anything measured; what is missing is estimated
# waist_girth = "76 cm"
# chest_girth = "90 cm"
# crotch_height = "78 cm"
# foot_length = "25 cm"
"""
_WATER: Final = """\
[water]
kind = "sea"                      # or "fresh", "brackish"
temperature = "10 °C"
depth = "10 m"
"""
_DRY: Final = """\
boots = "attached rubber"         # or "rock boots", "heavy overboots", "neoprene"
gaiters = false                   # true: straps that keep gas out of the lower legs, against light feet
gas = "vented"                    # what the last venting left; or "comfortable", or like "10 l"
inflation = "air"                 # or "argon", "nitrox 32", "trimix 18/45"
"""
_POSE: Final = """\
[pose]
name = "flat, knees bent"         # or "flat, legs straight", "arms ahead", "arms at sides", "upright"
# joints = { "knee flexion" = "100 deg" }
"""
_GEAR: Final = """\
[[gear]]
catalogue = "mask"

# [[gear]]
# catalogue = "stage aluminium 11.1 l"
# side = "left"

# [[gear]]                        # anything else, by its mass and the water it displaces
# name = "camera"
# mass = "2.1 kg"
# volume = "1.9 l"
# place = "chest"                 # or a point in metres from the hips: at = [0.3, 0.0, -0.2] (head, left, back)
"""
