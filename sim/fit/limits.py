"""Every threshold of the answers on fit, with its source, or the word "assumed"."""

from __future__ import annotations

from typing import Final

# ---- where the rig sits on the back -------------------------------------------------------------------------------
STRAP_HALF_WIDTH: Final = 0.025  # m, webbing 50 mm wide (common practice)

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
    (0.20, 0.25, "hikers' rule of thumb (from memory)"),
    (0.30, 0.33, "fighting load that leaves a soldier agile (US Army ADP 3-90 and a Marine Corps study of 2003)"),
    (0.45, 0.45, "soldiers' greatest marching load (from memory)"),
)
LIFTING_COMPRESSION: Final = 3400.0  # N at L5/S1, action limit for lifting at work (NIOSH 1981)
