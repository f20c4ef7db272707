"""Where the joints and landmarks of a standing body are, from its measures.

Body axes: x up (to the head), y to the left, z to the back, origin midway between the hip joints. Standing upright,
arms hanging, palms to the thighs. Measures are ANSUR II names (Gordon et al. 2014, NATICK/TR-15/007) in metres.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal, cast

import numpy as np

from meshes.body.measures import Measures
from meshes.mesh import Floats

HIP_ABOVE_TROCHANTERION: Final = (
    0.005  # of stature: hip joint centre near the tip of the greater trochanter (assumed)
)
HIP_SPACING: Final = 0.31  # half of the distance of the hip joints / bicristal breadth: 0.17 m apart in the mean man
SHOULDER_BELOW_ACROMION: Final = 0.123  # of acromion-radiale; leaves de Leva's arm chain below the acromion
SHOULDER_IN: Final = 0.90  # half of the distance of the shoulder joints / half of the biacromial breadth (assumed)
# de Leva 1996 joint-to-joint lengths / ANSUR II means of the surface lengths, each as a fraction of stature
UPPER_ARM: Final = {"male": 0.848, "female": 0.830}  # shoulder to elbow / acromion-radiale
FOREARM: Final = {"male": 1.013, "female": 1.028}  # elbow to wrist / radiale-stylion
HAND: Final = 0.98  # wrist joint to fingertip / hand length
XIPHOID: Final = {"male": 0.442, "female": 0.410}  # de Leva 1996: notch-xiphoid / notch-navel
NECK_JOINT: Final = 0.18  # height of the pivot of the neck between C7 and vertex (assumed, lower cervical spine)
KNEES_IN: Final = 0.87  # distance of the knees apart / of the hip joints, standing at ease (assumed)
ANKLES_IN: Final = 0.80  # the same for the ankles (assumed)
ANKLE_FROM_HEEL: Final = 0.235  # of foot length (assumed)
# How people stand, seen from the side [m behind the hip joint]: 15 people in profile on a reaction board, hip 6.2,
# knee 3.8, shoulder 3.8, ear 5.9 cm in front of the ankle, SD 1.3 to 2.0 (Woodhull et al. 1985, Eur J Appl Physiol
# 54:109)
KNEE_BEHIND: Final = 0.024
ANKLE_BEHIND: Final = 0.062
SHOULDER_BEHIND: Final = 0.024
EAR_BEHIND: Final = 0.003
# Of buttock depth, from the hip joint to the rearmost of the buttocks: 13 cm in the mean man. The CM of the same 15
# people's parts above the hip, 1.0 (SD 1.6) cm behind it, asks for 0.58; the pelvis by imaging (Harrington et al.
# 2007, J Biomech 40:595: 0.24 of its depth and 1 cm behind the front spines; depth of 15.5 cm and 2 cm of buttock
# behind the rear spines from memory) for 0.55; a seated manikin's hip is 13.4 cm from the backrest (SAE J826, memory)
SEAT_BEHIND: Final = 0.57
NECK_BEHIND_EAR: Final = 0.028  # m, pivot of the neck: the cervical spine leans forward by some 2 cm (assumed)

JointName = Literal["neck", "shoulder", "elbow", "wrist", "fingertip", "hip", "knee", "ankle"]
HeightName = Literal[
    "vertex", "tragion", "chin", "sellion", "c7", "notch", "acromion", "axilla", "chest", "xiphoid", "tenth rib",
    "navel", "waist", "iliac crest", "buttock", "crotch", "knee", "ankle", "floor",
]  # fmt: skip
Joints = Mapping[JointName, Floats]
Heights = Mapping[HeightName, float]


@dataclass(frozen=True, eq=False)
class Skeleton:
    """Joints of the left side and the midline, and heights of landmarks.

    joints : (3,) [m], left side, y > 0;  heights : x [m] of the standing body above the hip joints
    measures : the measures it was made from [m];  sex : "male" or "female";  stature [m]
    """

    joints: Joints
    heights: Heights
    measures: Measures
    sex: str
    stature: float


def skeleton_of(sex: str, stature: float, measures: Mapping[str, float]) -> Skeleton:
    """Joints and landmark heights of a standing person; stature and measures in metres."""
    m = cast(Measures, measures)
    floor = m["trochanterionheight"] + HIP_ABOVE_TROCHANTERION * stature
    notch, navel = m["suprasternaleheight"] - floor, m["waistheightomphalion"] - floor
    c7 = m["cervicaleheight"] - floor
    vertex = stature - floor
    tragion = vertex - m["tragiontopofhead"]
    chin = tragion - 0.79 * m["mentonsellionlength"]  # menton below the ear hole (assumed)
    heights: Heights = {
        "vertex": vertex,
        "tragion": tragion,
        "chin": chin,
        "sellion": chin + m["mentonsellionlength"],
        "c7": c7,
        "notch": notch,
        "acromion": m["acromialheight"] - floor,
        "axilla": m["axillaheight"] - floor,
        "chest": m["chestheight"] - floor,
        "xiphoid": notch - XIPHOID[sex] * (notch - navel),
        "tenth rib": m["tenthribheight"] - floor,
        "navel": navel,
        # the natural waist, midway between lowest rib and hip bone (WHO 2008, waist circumference: its protocol);
        # on the survey's bodies the navel lies lower, level with the top of the hip bones
        "waist": 0.5 * (m["tenthribheight"] + m["iliocristaleheight"]) - floor,
        "iliac crest": m["iliocristaleheight"] - floor,
        "buttock": m["buttockheight"] - floor,
        "crotch": m["crotchheight"] - floor,
        "knee": m["lateralfemoralepicondyleheight"] - floor,
        "ankle": m["lateralmalleolusheight"] - floor,
        "floor": -floor,
    }
    upper, fore = UPPER_ARM[sex] * m["acromionradialelength"], FOREARM[sex] * m["radialestylionlength"]
    shoulder = heights["acromion"] - SHOULDER_BELOW_ACROMION * m["acromionradialelength"]
    out, side = SHOULDER_IN * 0.5 * m["biacromialbreadth"], HIP_SPACING * m["bicristalbreadth"]
    joints: Joints = {
        "neck": np.array([c7 + NECK_JOINT * (vertex - c7), 0.0, EAR_BEHIND + NECK_BEHIND_EAR]),
        "shoulder": np.array([shoulder, out, SHOULDER_BEHIND]),
        "elbow": np.array([shoulder - upper, out, SHOULDER_BEHIND]),
        "wrist": np.array([shoulder - upper - fore, out, SHOULDER_BEHIND]),
        "fingertip": np.array([shoulder - upper - fore - HAND * m["handlength"], out, SHOULDER_BEHIND]),
        "hip": np.array([0.0, side, 0.0]),
        "knee": np.array([heights["knee"], KNEES_IN * side, KNEE_BEHIND]),
        "ankle": np.array([heights["ankle"], ANKLES_IN * side, ANKLE_BEHIND]),
    }
    return Skeleton(joints, heights, dict(m), sex, stature)
