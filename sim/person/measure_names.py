"""Plain words for the measures a user may give, and the survey's names for them."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

# plain name -> name in the measures model (ANSUR II)
MEASURE_NAMES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "waist girth": "waistcircumference",
        "chest girth": "chestcircumference",
        "hip girth": "buttockcircumference",
        "shoulder girth": "shouldercircumference",
        "neck girth": "neckcircumference",
        "thigh girth": "thighcircumference",
        "knee girth": "lowerthighcircumference",
        "calf girth": "calfcircumference",
        "ankle girth": "anklecircumference",
        "biceps girth": "bicepscircumferenceflexed",
        "forearm girth": "forearmcircumferenceflexed",
        "wrist girth": "wristcircumference",
        "hand girth": "handcircumference",
        "head girth": "headcircumference",
        "crotch height": "crotchheight",
        "sitting height": "sittingheight",
        "span": "span",
        "neck height": "cervicaleheight",
        "notch height": "suprasternaleheight",
        "shoulder height": "acromialheight",
        "armpit height": "axillaheight",
        "chest height": "chestheight",
        "navel height": "waistheightomphalion",
        "iliac crest height": "iliocristaleheight",
        "hip height": "trochanterionheight",
        "knee height": "lateralfemoralepicondyleheight",
        "ankle height": "lateralmalleolusheight",
        "shoulder breadth": "biacromialbreadth",
        "deltoid breadth": "bideltoidbreadth",
        "waist breadth": "waistbreadth",
        "waist depth": "waistdepth",
        "chest depth": "chestdepth",
        "hip breadth": "hipbreadth",
        "iliac breadth": "bicristalbreadth",
        "buttock depth": "buttockdepth",
        "head length": "headlength",
        "head breadth": "headbreadth",
        "face breadth": "bizygomaticbreadth",
        "upper arm length": "acromionradialelength",
        "forearm length": "radialestylionlength",
        "hand length": "handlength",
        "hand breadth": "handbreadth",
        "foot length": "footlength",
        "foot breadth": "footbreadthhorizontal",
        "back length": "waistbacklength",
        "front length": "waistfrontlengthsitting",
        "back breadth": "interscyei",
        "reach": "thumbtipreach",
        "overhead reach sitting": "overheadfingertipreachsitting",
        "buttock knee length": "buttockkneelength",
    }
)

# other words people use for the same
ALIASES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "waist": "waist girth", "waist circumference": "waist girth", "belly girth": "waist girth",
        "chest": "chest girth", "chest circumference": "chest girth", "bust girth": "chest girth",
        "hips": "hip girth", "hip circumference": "hip girth", "buttock girth": "hip girth",
        "inseam": "crotch height", "inside leg": "crotch height", "arm span": "span", "wingspan": "span",
        "neck": "neck girth", "thigh": "thigh girth", "calf": "calf girth", "upper arm girth": "biceps girth",
        "wrist": "wrist girth", "head": "head girth", "biacromial breadth": "shoulder breadth",
        "waist height": "navel height", "c7 height": "neck height", "foot": "foot length", "hand": "hand length",
    }
)  # fmt: skip


def survey_name(words: str) -> str:
    """The model's name of a measure from plain words, an alias or the model's own name.

    Raises ValueError naming the measures that can be given.
    """
    plain = " ".join(words.replace("_", " ").replace("-", " ").lower().split())
    plain = ALIASES.get(plain, plain)
    if plain in MEASURE_NAMES:
        return MEASURE_NAMES[plain]
    if words in MEASURE_NAMES.values():
        return words
    from difflib import get_close_matches

    near = get_close_matches(plain, [*MEASURE_NAMES, *ALIASES], n=1)
    hint = f"; did you mean '{near[0]}'?" if near else ""
    raise ValueError(f"'{words}' is not a measure that can be given{hint} Known are {', '.join(MEASURE_NAMES)}")
