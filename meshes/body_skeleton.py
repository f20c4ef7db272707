"""Where the joints and landmarks of a standing body are, from its measures.

Body axes: x up (to the head), y to the left, z to the back, origin midway between the hip joints. Standing upright,
arms hanging, palms to the thighs. Measures are ANSUR II names (Gordon et al. 2014, NATICK/TR-15/007) in metres.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

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


@dataclass(frozen=True, eq=False)
class Skeleton:
    """Joints of the left side and the midline, and heights of landmarks.

    joints : (3,) [m] by name: neck, shoulder, elbow, wrist, fingertip, hip, knee, ankle (left side, y > 0)
    heights : x [m] by name, of the standing body above the hip joints
    measures : the measures it was made from [m];  sex : "male" or "female";  stature [m]
    """

    joints: Mapping[str, Floats]
    heights: Mapping[str, float]
    measures: Mapping[str, float]
    sex: str
    stature: float


def skeleton_of(sex: str, stature: float, measures: Mapping[str, float]) -> Skeleton:
    """Joints and landmark heights of a standing person; stature and measures in metres."""
    m = measures
    floor = m["trochanterionheight"] + HIP_ABOVE_TROCHANTERION * stature
    notch, navel = m["suprasternaleheight"] - floor, m["waistheightomphalion"] - floor
    c7 = m["cervicaleheight"] - floor
    vertex = stature - floor
    tragion = vertex - m["tragiontopofhead"]
    chin = tragion - 0.79 * m["mentonsellionlength"]  # menton below the ear hole (assumed)
    heights = {
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
    joints = {
        "neck": np.array([c7 + NECK_JOINT * (vertex - c7), 0.0, 0.02]),
        "shoulder": np.array([shoulder, out, 0.005]),
        "elbow": np.array([shoulder - upper, out, 0.005]),
        "wrist": np.array([shoulder - upper - fore, out, 0.005]),
        "fingertip": np.array([shoulder - upper - fore - HAND * m["handlength"], out, 0.005]),
        "hip": np.array([0.0, side, 0.0]),
        "knee": np.array([heights["knee"], KNEES_IN * side, 0.0]),
        "ankle": np.array([heights["ankle"], ANKLES_IN * side, 0.005]),
    }
    return Skeleton(joints, heights, dict(measures), sex, stature)
