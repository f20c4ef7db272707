"""Names of the measures that make a body, in metres, and the age in years that goes with them.

They are those of ANSUR II (Gordon et al. 2014, NATICK/TR-15/007); a name that is none is found by the type checker.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

MeasureName = Literal[
    "age",
    "cervicaleheight", "suprasternaleheight", "acromialheight", "axillaheight", "chestheight", "tenthribheight",
    "waistheightomphalion", "iliocristaleheight", "trochanterionheight", "buttockheight", "crotchheight",
    "kneeheightmidpatella", "lateralfemoralepicondyleheight", "tibialheight", "lateralmalleolusheight",
    "wristheight", "sittingheight", "biacromialbreadth", "bideltoidbreadth", "chestbreadth", "chestdepth",
    "waistbreadth", "waistdepth", "bicristalbreadth", "hipbreadth", "buttockdepth", "neckcircumference",
    "neckcircumferencebase", "shouldercircumference", "chestcircumference", "waistcircumference",
    "buttockcircumference", "verticaltrunkcircumferenceusa", "shoulderlength", "interscyei", "interscyeii",
    "waistbacklength", "waistfrontlengthsitting", "crotchlengthomphalion", "headlength", "headbreadth",
    "headcircumference", "tragiontopofhead", "bizygomaticbreadth", "mentonsellionlength", "acromionradialelength",
    "radialestylionlength", "handlength", "handbreadth", "shoulderelbowlength", "bicepscircumferenceflexed",
    "forearmcircumferenceflexed", "wristcircumference", "handcircumference", "span", "thumbtipreach",
    "overheadfingertipreachsitting", "buttockkneelength", "functionalleglength", "thighcircumference",
    "lowerthighcircumference", "calfcircumference", "anklecircumference", "bimalleolarbreadth", "footlength",
    "footbreadthhorizontal", "balloffootcircumference",
]  # fmt: skip
Measures = Mapping[MeasureName, float]
