"""Every threshold of the answers on fit, with its source, or the word "assumed"."""

from __future__ import annotations

from typing import Final

from sim.said import word

# ---- where the rig sits on the back -------------------------------------------------------------------------------
STRAP_HALF_WIDTH: Final = 0.025  # m, webbing 50 mm wide (common practice)
# m by which webbing on the waist may lie over the hip bones or the lowest rib: they are felt, and webbing is set, to
# half a centimetre (assumed). That the whole webbing counts, not its middle, was chosen after the middle had let a
# usual plate pass on a woman of 176 cm with half her webbing on the hip bones, against common practice
STRAP_OVER_BONE: Final = 0.005
TURN_AT_SLOT: Final = 0.05  # m of webbing that each slot with its slide takes up (assumed)
TAIL: Final = 0.20  # m left at each end of the waist strap, for thicker clothing (common practice; length assumed)
CROTCH_LOOPS: Final = 0.30  # m for the crotch strap's loops at plate and buckle (assumed)
# m, radius of the ball of the shoulder joint (24 +- 2 mm of both sexes, Iannotti et al. 1992, J Bone Joint Surg Am
# 74:491, from memory). A strap's outer edge stays on the neck's side of it, or it works its way off (common
# practice). Chosen after an earlier rule, the strap's middle on the inner half of the shoulder, had let usual slots
# pass on narrow shoulders, against common practice: that fact is built in here, not predicted. Mechanics says why
# there is such a place, not where to a centimetre: a strap in an upright plane pulls sideways, over what presses it
# down, by the tangent of the shoulder's outward slope under it. The skin of this model is flattest 2 to 3 cm inside
# the ball (18 to 26 degrees: webbing stays where friction is over 0.3 to 0.5) and steeper on both sides, so that a
# strap which starts to slide outside that shelf does not stop
SHOULDER_BALL: Final = {"male": 0.0245, "female": 0.0215}
STRAP_OFF_NECK: Final = 0.0  # m between the strap's inner edge and the side of the neck (assumed: touching chafes)
PLATE_BELOW_C7: Final = 0.02  # m that the plate's top stays below C7, so that it does not bar the neck (assumed)
WIDER_THAN_BACK: Final = 0.0  # m that a plate may stand out beyond the flanks or the folds of the armpits (assumed)
PLATE_ABOVE_BUTTOCKS: Final = 0.05  # m that its lower end stays above the buttocks' fullest (assumed)
BUTTOCKS_GIVE: Final = (
    0.03  # m that suit and buttocks yield where cylinders rest on them (assumed; sitting takes more)
)
# Cylinders' shift on the plate, plus headward: with the bands as high as they go, their middle 2.5 cm below the
# cylinders' shoulders, half a band's width (common practice), and as low as they usually sit, 10 cm below (assumed)
BANDS_AT_ENDS: Final = (-0.025, 0.05)  # m

# ---- the carry ashore ---------------------------------------------------------------------------------------------
# Share of the rig's weight that the waist strap bears, least and greatest. Padded hip belts bore 30 % on eleven men
# walking with 14 to 41 kg (LaFiandra & Harman 2004, Med Sci Sports Exerc 36:460; from memory); 60 to 90 % is what
# outdoor guides claim, with no data. Off the hip bones nothing was measured: none to as much as was measured on them.
HIPS_SHARE_ON_WAIST: Final = (0.30, 0.90)
HIPS_SHARE_ELSEWHERE: Final = (0.0, 0.30)  # assumed
# Lever arms [m] of the muscles that hold the trunk at L5/S1, least and greatest (usual in such models; from memory)
BACK_MUSCLE_ARM: Final = (0.050, 0.060)
BELLY_MUSCLE_ARM: Final = (0.080, 0.120)
JOINT_DOUBT: Final = 0.01  # m, how far L5/S1 may lie further forward or back (assumed)
COLLARBONE_END: Final = 0.025  # m from the midline to the joint of collarbone and breastbone (assumed)
# Loads that people have been told to carry, as a share of body mass
LOAD_SHARES: Final = (
    (0.20, 0.25, word("hikers' rule of thumb (from memory)")),
    (
        0.30,
        0.33,
        word("fighting load that leaves a soldier agile (US Army ADP 3-90 and a Marine Corps study of 2003)"),
    ),
    (0.45, 0.45, word("soldiers' greatest marching load (from memory)")),
)
LIFTING_COMPRESSION: Final = 3400.0  # N at L5/S1, action limit for lifting at work (NIOSH 1981)

# ---- joint ranges [degrees], (5, 50, 95 %) of people by sex -------------------------------------------------------
# Vairo et al. 2012 (SMARTT 4:33, Table 4): 548 men, 74 women, mean age 19, active, dominant arm
SHOULDER_FLEXION_DEG: Final = {"male": (153.0, 165.0, 179.0), "female": (155.0, 168.0, 180.0)}
OUTWARD_TURN_AT_SIDE_DEG: Final = {"male": (55.0, 77.0, 92.0), "female": (55.0, 80.0, 95.0)}
OUTWARD_TURN_RAISED_DEG: Final = {"male": (80.0, 100.0, 115.0), "female": (80.0, 101.0, 125.0)}
INWARD_TURN_RAISED_DEG: Final = {"male": (30.0, 55.0, 75.0), "female": (40.0, 55.0, 75.0)}
SHOULDER_EXTENSION_DEG: Final = 62.0  # Boone & Azen 1979 in Norkin & White 2016, Table A.1
ELBOW_FLEXION_DEG: Final = 143.0  # Boone & Azen 1979, the same
WRIST_BEND_DEG: Final = 65.0  # Green & Wolf, extension, the lesser of extension and flexion; the same
# Outward turn of people of 65 to 85 (Walker) / of 1 to 54 years (Boone & Azen); flexion hardly falls, 165 to 167
OLD_OUTWARD_TURN: Final = 81.0 / 104.0
OLD_FROM: Final = 55.0  # yr, from which that comes on, and
OLD_AT: Final = 75.0  # yr, at which it is whole (assumed: the middle of Walker's ages)

# ---- the arm on its way to a valve --------------------------------------------------------------------------------
# Of stature: what a full effort lifts the shoulder joint besides its rise with the arm (assumed). With it the chain
# meets ANSUR II's overhead reach within 1.5 %; there the trunk stretches too, which a plate hinders
SHRUG: Final = 0.030
# Of hand length, wrist joint to thumb tip against the fingers: assumed. ANSUR II's thumb-tip reach would take 0.78 to
# 0.80 if the shoulder blade stayed back against the wall, which it hardly does with the arm straight ahead
PINCH: Final = 0.72
PALM: Final = 0.45  # of hand length, wrist joint to a knob held in the palm (assumed)
FINGERTIP: Final = 0.98  # of hand length, wrist joint to fingertip, as the skeleton has it
OVER_SHOULDER_DEG: Final = 90.0  # the upper arm is at least level: hands come over the shoulder (common practice)
ACROSS_DEG: Final = 40.0  # how far the raised arm crosses inward of straight ahead (assumed; the head stops it first)
# How far the head gives way to the other side when the arm has to pass it: half of what the neck bends sideways (45
# degrees, AAOS, from memory). It brings the isolator up to 4 cm nearer; more than this brings nothing further
HEAD_ASIDE_DEG: Final = 22.5
PRESSED_FLESH: Final = 0.5  # of its half thickness that an arm keeps where it presses against the hood (assumed)
EASY_REACH: Final = 0.02  # m to spare from which a valve is turned, not only touched (assumed)

# ---- head, eyes, mask ---------------------------------------------------------------------------------------------
# AAOS neck extension 75.5 +- 8.5 (20 to 29 years), 70.5 +- 17.5 (30 to 49), 64.5 +- 7 (over 50), at their mid ages
NECK_EXTENSION_DEG: Final = ((25.0, 75.5), (40.0, 70.5), (60.0, 64.5))
# Lee et al. 2019 (Eye, doi 10.1038/s41433-019-0376-4), 261 people of 5 to 91 years: how far the eyes turn up
EYES_UP_DEG: Final = 27.9
EYES_UP_SD_DEG: Final = 7.6
EYES_UP_AGE_R: Final = -0.506  # correlation of that with age
EYES_AGE: Final = 45.0  # yr, mean age of those people and
EYES_AGE_SD: Final = 25.0  # yr, its SD: assumed, ages evenly spread
LENS_AHEAD: Final = 0.038  # m, the mask's lens before the bridge of the nose, and
LENS_ABOVE: Final = 0.0445  # m, its upper edge above the eyes, as the mask is drawn (meshes/gear/headgear.py)
PUPIL_BEHIND: Final = 0.010  # m, pupils behind the bridge of the nose (assumed)
SEA_INDEX: Final = 1.34  # refractive index of sea water (handbook: 1.339 to 1.341; fresh 1.333)
SEES_AHEAD_DEG: Final = -15.0  # line of sight, flat, against straight ahead, that still shows who is there (assumed)
ABOVE_BOTTOM: Final = 1.5  # m, height at which "so far ahead" is told (assumed)
CONTACT_SPACING: Final = 0.004  # m between points on what the head may meet
TRIMMED: Final = 2.0  # N m below which an attitude is held without anybody seeing an effort (assumed)
